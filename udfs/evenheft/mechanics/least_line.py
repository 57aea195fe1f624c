"""Where a set should lie: the straight line that heads in hand reach with the least added mass.

A head can be made heavier and not lighter. So a line may lie nowhere more than the tolerance below a
club; where it lies more than the tolerance above one, mass is added up to the tolerance's edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from evenheft.mechanics.doubt import HAIR


class ClubInLine(NamedTuple):
    """A club that waits for its target."""

    place: float
    """Its place in the set, 1, 2, 3 ... [-]."""
    value: float
    """What it reads without added mass [any unit]."""
    grams: float
    """What must be added to it for one unit more, above nothing [g per unit]."""


class LeastLine(NamedTuple):
    """A target line and what it costs."""

    first: float
    """Its value at place 1 [the values' unit]."""
    increment: float
    """Its change from one place to the next [the values' unit]."""
    added: tuple[float, ...]
    """Mass to be added to each club, so that it is just within the tolerance [g]."""


def added_to(club: ClubInLine, target: float, tolerance: float) -> float:
    """Mass that brings a club up to the tolerance's edge; nothing where it is within [g].

    Args:
        club: the club [-, any unit, g per unit].
        target: what is wanted of it [the same unit].
        tolerance: what is still accepted [the same unit].
    """
    lacking = target - tolerance - club.value
    return club.grams * lacking if lacking > HAIR * max(1.0, abs(club.value)) else 0.0


def line_with(clubs: Sequence[ClubInLine], tolerance: float, increment: float) -> LeastLine:
    """Find the line of a given increment that needs the least added mass.

    The lower it lies the less is added, so it lies as low as the heaviest club lets it. Where nothing
    at all has to be added, it lies in the middle of the clubs.

    Args:
        clubs: the clubs of the set, at least one [-, any unit, g per unit].
        tolerance: the deviation that is still accepted [the same unit].
        increment: change from one place to the next [the same unit].

    >>> line_with([ClubInLine(1, 31.0, 2.0), ClubInLine(2, 33.0, 2.0)], tolerance=0.5, increment=0.0)
    LeastLine(first=32.5, increment=0.0, added=(2.0, 0.0))
    """
    levels = [club.value - increment * (club.place - 1) for club in clubs]
    lowest, highest = max(levels) - tolerance, min(levels) + tolerance
    first = lowest if lowest > highest else (lowest + highest) / 2
    added = tuple(added_to(club, first + increment * (club.place - 1), tolerance) for club in clubs)
    return LeastLine(first, increment, added)


def least_line(
    clubs: Sequence[ClubInLine], tolerance: float, lowest: float, highest: float, wished: float = 0.0
) -> LeastLine:
    """Find the line, its increment within bounds, that needs the least added mass.

    The mass is a convex, piecewise straight function of the increment, so that its least stands at one of its
    corners or at a bound: where two clubs hold the line up together, or where a club begins to need mass. All
    of them are tried. Among equally good ones the increment nearest to the wished one wins; as the good ones
    lie in one piece, that is the wish itself or the corner next to it.

    Args:
        clubs: the clubs of the set, at least one [-, any unit, g per unit].
        tolerance: the deviation that is still accepted [the same unit].
        lowest: the least increment that serves [the same unit].
        highest: the greatest increment that serves [the same unit].
        wished: the increment that is taken where it costs nothing [the same unit].

    >>> clubs = [ClubInLine(1, 30.0, 2.0), ClubInLine(2, 31.0, 2.0), ClubInLine(3, 32.0, 2.0)]
    >>> least_line(clubs, 0.0, lowest=-2.0, highest=2.0)
    LeastLine(first=30.0, increment=1.0, added=(0.0, 0.0, 0.0))
    """
    corners = {min(max(corner, lowest), highest) for corner in (wished, *_corners(clubs, tolerance))}
    lines = [line_with(clubs, tolerance, corner) for corner in corners | {lowest, highest}]
    return min(lines, key=lambda line: (round(sum(line.added), 7), abs(line.increment - wished), line.increment))


def _corners(clubs: Sequence[ClubInLine], tolerance: float) -> Iterator[float]:
    """Return the increments at which something changes:
    two clubs level, or one at the tolerance's far edge of the other.
    """
    for one, other in combinations(clubs, 2):
        if one.place != other.place:
            apart, places = one.value - other.value, one.place - other.place
            yield apart / places
            yield (apart - 2 * tolerance) / places
            yield (apart + 2 * tolerance) / places
