"""What to do about a moment of inertia: grams at a place, two places with the swingweight, another axis.

Plain statics and the parallel-axis theorem. Mass lies on the shaft's axis, so that a gram at a distance
of x from the butt is worth x squared there and nothing else.
"""

from __future__ import annotations

from evenheft.mechanics.bodies import Body, inertia_about_butt
from evenheft.mechanics.swingweight import FULCRUM, moment, moment_at
from evenheft.mechanics.units import G_CM2_PER_KG_CM2


def inertia_per_gram(position: float) -> float:
    """Tell what one gram at a place adds to the inertia about the butt [kg cm2/g].

    Args:
        position: distance from the butt to the place [cm].

    >>> inertia_per_gram(100.0)
    10.0
    """
    return position**2 / G_CM2_PER_KG_CM2


def grams_to_inertia(target: float, inertia: float, position: float) -> float:
    """Mass to add at a place to reach a moment of inertia about the butt; negative to remove [g].

    Args:
        target: inertia wanted [kg cm2].
        inertia: inertia of the club as it is [kg cm2].
        position: distance from the butt to the place [cm].

    Raises:
        ZeroDivisionError: the place is the butt, where no mass counts.

    >>> grams_to_inertia(2720.0, 2700.0, 100.0)
    2.0
    """
    return (target - inertia) / inertia_per_gram(position)


def independence(first: float, second: float, fulcrum: float = FULCRUM) -> float:
    """How far two places can do both: nothing where they add swingweight and inertia in one proportion [cm3].

    It is the determinant of the two equations: (x2 - x1) (x1 x2 - f (x1 + x2)). So one place may not
    be the other, nor the one at which the same gram does the same to both.

    Args:
        first: distance from the butt to the first place [cm].
        second: distance from the butt to the second place [cm].
        fulcrum: distance from the butt to the fulcrum [cm].
    """
    return (second - first) * (first * second - fulcrum * (first + second))


def two_weights_for_inertia(
    target: float, target_inertia: float, club: Body, first: float, second: float, fulcrum: float = FULCRUM
) -> tuple[float, float]:
    """Masses to add at two places to reach a swingweight and a moment of inertia together [g].

    Args:
        target: swingweight wanted [points].
        target_inertia: inertia wanted, about the butt [kg cm2].
        club: the club as it is [g, cm, g cm2].
        first: distance from the butt to the first place [cm].
        second: distance from the butt to the second place [cm].
        fulcrum: distance from the butt to the fulcrum [cm].

    Raises:
        ZeroDivisionError: the two places cannot do it, see `independence`.

    >>> club = Body(400.0, 75.0, 450000.0)
    >>> first, second = two_weights_for_inertia(30.0, 2720.0, club, first=110.0, second=5.0)
    >>> round(first * 110.0**2 + second * 5.0**2, 6)
    20000.0
    """
    lacking = moment_at(target) - moment(club.mass, club.centre, fulcrum)
    lacking_inertia = (target_inertia - inertia_about_butt(club)) * G_CM2_PER_KG_CM2
    both = independence(first, second, fulcrum)
    at_first = (lacking * second**2 - lacking_inertia * (second - fulcrum)) / both
    at_second = (lacking_inertia * (first - fulcrum) - lacking * first**2) / both
    return at_first, at_second


def inertia_about(inertia: float, mass: float, balance: float, new_axis: float, axis: float = 0.0) -> float:
    """Moment of inertia about another axis across the shaft [kg cm2].

    The parallel-axis theorem, twice: from the axis to the balance, and from there to the new one. From the
    butt it is I - 2 a m b + m a^2.

    Args:
        inertia: inertia about the axis [kg cm2].
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        new_axis: distance from the butt to the new axis, negative beyond the butt [cm].
        axis: distance from the butt to the axis that the inertia holds for [cm].

    >>> inertia_about(1000.0, mass=300.0, balance=50.0, new_axis=50.0)   # a uniform rod of 1 m: m L^2 / 12
    250.0
    """
    return inertia + mass * ((balance - new_axis) ** 2 - (balance - axis) ** 2) / G_CM2_PER_KG_CM2
