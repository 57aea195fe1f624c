"""What a tolerance asks of the instruments, and what these can support: the doubt turned round."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from statistics import fmean
from typing import Literal, NamedTuple

from evenheft.mechanics.doubt import combined_doubt, verdict

MOST_OF_TOLERANCE = 2 / 3
"""The share of a tolerance that a doubt may take, so that a third is left in which a club is judged in [-].

Our own rule: at a whole tolerance only a club that reads its target exactly could be in.
"""


def least_tolerance(doubt: float) -> float:
    """Tell the smallest tolerance that a doubt supports [the doubt's unit].

    Args:
        doubt: expanded doubt U of the value [any unit].

    >>> least_tolerance(0.5)
    0.75
    """
    return doubt / MOST_OF_TOLERANCE


def most_doubt(tolerance: float) -> float:
    """Tell the largest doubt that a tolerance allows: the inverse of `least_tolerance` [the tolerance's unit]."""
    return tolerance * MOST_OF_TOLERANCE


def room_for(wanted: float, *others: float) -> float | None:
    """How large one more half-width may be for a doubt that is wanted, None where there is no room [the same unit].

    U = min(2 u, sum) is at most what is wanted where either of the two is.

    Args:
        wanted: the expanded doubt wanted [any unit].
        others: the half-widths that are there anyhow, with their leverage [the same unit].

    >>> room_for(1.0), room_for(1.0, 0.4), room_for(1.0, 1.2)
    (1.0, 0.7681145747868608, None)
    """
    by_sum = wanted - sum(map(abs, others))
    left = 3 * wanted**2 / 4 - sum(other**2 for other in others)
    room = max(by_sum, left**0.5 if left > 0 else 0.0)
    return room if room > 0 and combined_doubt(*others) < wanted else None


def swings_for(wanted: float, of_one_swing: float, *others: float) -> int | None:
    """How many swings to count for a doubt of the inertia that is wanted, None where no number would do [-].

    Args:
        wanted: the expanded doubt wanted [kg cm2].
        of_one_swing: what the stopwatch's half-width does to the inertia where one swing is timed [kg cm2].
        others: what the other half-widths do [kg cm2].

    >>> swings_for(30.0, 280.0, 7.0), swings_for(5.0, 280.0, 7.0)
    (12, None)
    """
    room = room_for(wanted, *others)
    if room is None:
        return None
    hair = 1e-9
    return max(1, ceil(abs(of_one_swing) / room - hair))


class Alike(NamedTuple):
    """How a set lies about its own mean deviation."""

    verdict: Literal["in", "out", "re-measure"]
    """"out" where any club is, "re-measure" where any cannot be told, else "in" [-]."""
    worst: float
    """The deviation from the mean that is furthest from nothing [the deviations' unit]."""
    offset: float
    """The mean of the deviations, which all clubs share [the deviations' unit]."""


def alike(deviations: Sequence[float], wanted: float, doubts: Sequence[float]) -> Alike:
    """Judge whether the clubs of a set deviate alike, by guarded acceptance.

    A club's difference from the mean of n clubs holds (n - 1) / n of its own doubt and 1 / n of each other's; what
    shifts every club alike cancels and is no part of it.

    Args:
        deviations: each club's value less its target [any unit].
        wanted: how far from the mean a club may lie [the same unit].
        doubts: each club's individual doubt U [the same unit].

    >>> alike([1.1, 1.3, 0.9], 0.5, [0.1, 0.1, 0.1]).verdict
    'in'
    """
    count, offset = len(deviations), fmean(deviations)
    apart = [deviation - offset for deviation in deviations]
    words = set()
    for at, off in enumerate(apart):
        leverages = ((count - 1) / count if n == at else 1 / count for n in range(count))
        doubt = combined_doubt(expanded=[lever * own for lever, own in zip(leverages, doubts, strict=True)])
        words.add(verdict(off, target=0.0, tolerance=wanted, doubt=doubt))
    word: Literal["in", "out", "re-measure"] = (
        "out" if words & {"low", "high"} else "re-measure" if "re-measure" in words else "in"
    )
    return Alike(word, max(apart, key=abs), offset)
