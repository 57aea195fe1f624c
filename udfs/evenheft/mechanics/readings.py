"""Several readings of one thing: their mean, their scatter, and what the mean can be trusted to.

JCGM 100:2008 (GUM): the mean of 4.2.1, the standard deviation of 4.2.2, of the mean 4.2.3, with Student's t
(G.3) because two or three readings tell little about their own scatter.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, sqrt

STUDENT_T = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
    2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
)  # fmt: skip
"""Student's t that 95 % lie within, for 1, 2, 3 ... degrees of freedom [-] (tables of any handbook of statistics)."""


def mean(readings: Sequence[float]) -> float:
    """Take the mean of readings [their unit].

    >>> round(mean([75.3, 75.4, 75.3]), 4)
    75.3333
    """
    return fsum(readings) / len(readings)


def scatter(readings: Sequence[float]) -> float:
    """Estimate the standard deviation of single readings, with n - 1 degrees of freedom; 0 for one [their unit].

    >>> round(scatter([75.3, 75.4, 75.3]), 4)
    0.0577
    """
    middle = mean(readings)
    if len(readings) < 2:
        return 0.0
    return sqrt(fsum((reading - middle) ** 2 for reading in readings) / (len(readings) - 1))


def largest_deviation(readings: Sequence[float]) -> float:
    """Find how far the reading that lies furthest from the mean is from it [their unit]."""
    middle = mean(readings)
    return max(abs(reading - middle) for reading in readings)


def is_explained(readings: Sequence[float], half_width: float) -> bool:
    """Tell whether an instrument that is right to plus or minus a half-width can show such readings of one thing [-].

    It can where no two of them are further apart than twice the half-width.

    Args:
        readings: what was read [any unit].
        half_width: what the instrument admits to [the same unit].

    >>> is_explained([75.3, 75.4], 0.05), is_explained([75.3, 75.5], 0.05)
    (True, False)
    """
    apart = max(readings) - min(readings)
    return apart <= 2 * half_width + 1e-9 * max(map(abs, readings))


def doubt_of_mean(readings: Sequence[float], half_width: float) -> float:
    """Tell how far the mean may be from the truth [the readings' unit].

    While the instrument explains the scatter, it is the instrument's half-width: reading again does not make
    a tape's zero truer. Where it does not, something else is at work, and the mean's own scatter comes on top:
    U = min(2 u, sum) with u of the half-width a / sqrt(3) and of the mean t s / (2 sqrt(n)).

    Args:
        readings: what was read [any unit].
        half_width: what the instrument admits to [the same unit].

    >>> doubt_of_mean([75.3, 75.4, 75.3], 0.1)
    0.1
    >>> round(doubt_of_mean([75.3, 76.2, 75.3], 0.1), 2)
    1.3
    """
    if is_explained(readings, half_width):
        return half_width
    count = len(readings)
    student = STUDENT_T[min(count - 1, len(STUDENT_T)) - 1]
    of_mean = student * scatter(readings) / sqrt(count)
    return min(sqrt(4 * half_width**2 / 3 + of_mean**2), half_width + of_mean)
