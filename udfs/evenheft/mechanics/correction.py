"""What to do about a swingweight: grams at a place, two places with the total mass.

A change of length is in `length`, a moment of inertia in `inertia_correction`, stock weights in `stock`.
"""

from __future__ import annotations

from evenheft.mechanics.bodies import Body
from evenheft.mechanics.swingweight import FULCRUM, POINT, moment, moment_at


def points_per_gram(position: float, fulcrum: float = FULCRUM) -> float:
    """Compute what one gram at a place adds to the swingweight [points/g].

    Args:
        position: distance from the butt to the place [cm].
        fulcrum: distance from the butt to the fulcrum [cm].

    >>> points_per_gram(FULCRUM)
    0.0
    """
    return (position - fulcrum) / POINT


def grams_to(target: float, mass: float, balance: float, position: float, fulcrum: float = FULCRUM) -> float:
    """Mass to add at a place to reach a swingweight; negative to remove [g].

    Args:
        target: swingweight wanted [points].
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        position: distance from the butt to the place [cm].
        fulcrum: distance from the butt to the fulcrum [cm].

    Raises:
        ZeroDivisionError: the place is the fulcrum, where no mass counts.
    """
    return (moment_at(target) - moment(mass, balance, fulcrum)) / (position - fulcrum)


def two_weights(
    target: float, target_mass: float, club: Body, first: float, second: float, fulcrum: float = FULCRUM
) -> tuple[float, float]:
    """Masses to add at two places to reach a swingweight and a total mass together [g].

    Args:
        target: swingweight wanted [points].
        target_mass: mass wanted of the whole club [g].
        club: the club as it is; its own inertia is not used [g, cm].
        first: distance from the butt to the first place [cm].
        second: distance from the butt to the second place [cm].
        fulcrum: distance from the butt to the fulcrum [cm].

    Raises:
        ZeroDivisionError: the two places are one.

    >>> first, second = two_weights(30.0, 420.0, Body(400.0, 75.0), first=110.0, second=5.0)
    >>> round(first + second, 9)
    20.0
    """
    added = target_mass - club.mass
    lacking = moment_at(target) - moment(club.mass, club.centre, fulcrum)
    at_first = (lacking - added * (second - fulcrum)) / (first - second)
    return at_first, added - at_first
