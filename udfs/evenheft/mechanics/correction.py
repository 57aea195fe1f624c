"""What to do about a difference: grams at a place, a change at the butt, stock weights, two places at once."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from evenheft.mechanics.bodies import Body, combine, moved, without
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


def lengthened(club: Body, grip: Body, change: float, shaft_density: float = 0.0) -> Body:
    """Cut or extend a club at the butt end: the grip keeps its place there, the rest moves by the change.

    Args:
        club: the club as it is [g, cm, g cm2].
        grip: its grip, with all that moves with it [g, cm, g cm2].
        change: by how much the club becomes longer; negative for a cut [cm].
        shaft_density: mass of the shaft's butt end per length, 0 to leave the piece itself out [g/cm].

    >>> lengthened(Body(400.0, 75.0), Body(50.0, 11.0), 2.54).centre
    77.2225
    """
    rest = moved(without(club, grip), change)
    # The piece lies between the new butt and the old; when cut off its mass is negative and so is its place.
    piece = shaft_density * change
    return combine([rest, grip, Body(piece, change / 2, piece * change**2 / 12)])


class Picked(NamedTuple):
    """Stock weights that come closest to what is wanted."""

    pieces: tuple[float, ...]
    """The chosen weights, heaviest first [g]."""
    total: float
    """Their sum [g]."""


MOST_PIECES = 4
"""More pieces than this have no room at one place of a club [-]."""


def pick(grams: float, stock: Iterable[float], most: int = 1) -> Picked:
    """Choose stock weights whose sum comes closest to what is wanted; a size may be used more than once.

    Among equally close ones the fewest pieces win, then the lighter sum. Two halves of the
    choice are looked up in each other, which is as exact as trying every combination.

    Args:
        grams: mass wanted; nothing is picked where it is not positive [g].
        stock: the sizes at hand [g].
        most: pieces at most, up to `MOST_PIECES` [-].

    >>> pick(9.0, [2.0, 4.0, 6.0], most=2)
    Picked(pieces=(4.0, 4.0), total=8.0)
    """
    sizes = tuple(sorted(set(stock)))
    half, rest = _sums(sizes, (most + 1) // 2), _sums(sizes, most // 2)
    totals = [total for total, _ in rest]
    best: tuple[float, int, float, tuple[float, ...]] | None = None
    for total, pieces in half:
        at = bisect_left(totals, grams - total)
        for other, others in rest[max(at - 1, 0) : at + 1]:
            whole = total + other
            both = tuple(sorted(pieces + others, reverse=True))
            chosen = (round(abs(grams - whole), 9), len(both), whole, both)
            if best is None or chosen < best:
                best = chosen
    assert best is not None  # choosing nothing is always among the halves
    return Picked(best[3], best[2])


@lru_cache(maxsize=64)
def _sums(sizes: tuple[float, ...], most: int) -> list[tuple[float, tuple[float, ...]]]:
    """Every sum of at most so many pieces, with the fewest pieces that make it, in rising order."""
    found: dict[float, tuple[float, ...]] = {0.0: ()}
    newest = dict(found)
    for _ in range(most):
        newest = {
            total: (*pieces, size)
            for before, pieces in newest.items()
            for size in sizes
            if (total := round(before + size, 9)) not in found
        }
        found |= newest
    return sorted(found.items())
