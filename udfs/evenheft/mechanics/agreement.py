"""Agreement of two ways to measure the same thing, after Bland and Altman (Lancet 1986; i: 307-310).

Their limits, bias +- 1.96 sd, describe a large sample. What the next club keeps with 95 % must also reckon with a
bias and a standard deviation that a few clubs leave uncertain: the prediction interval bias +- t sqrt(1 + 1/n) sd with
n - 1 degrees of freedom, of any textbook of statistics.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import cos, fsum, pi, sin, sqrt, tan
from typing import NamedTuple

LIMIT_FACTOR = 1.96
"""Half-width of the limits of agreement in standard deviations: 95 % of a normal distribution [-]."""


class Agreement(NamedTuple):
    """How far the second way lies from the first, over several clubs."""

    bias: float
    """Mean of second less first [the values' unit]."""
    sd: float
    """Standard deviation of the differences, n - 1 degrees of freedom [the values' unit]."""
    lower: float
    """Lower limit of agreement, bias - 1.96 sd [the values' unit]."""
    upper: float
    """Upper limit of agreement, bias + 1.96 sd [the values' unit]."""
    clubs: int
    """How many clubs were compared [-]."""
    next_lower: float
    """Lower limit for the next club, bias - t sqrt(1 + 1/n) sd [the values' unit]."""
    next_upper: float
    """Upper limit for the next club, bias + t sqrt(1 + 1/n) sd [the values' unit]."""


def agree(first: Sequence[float], second: Sequence[float]) -> Agreement:
    """Compare two ways to measure.

    Args:
        first: values by the first way [any unit].
        second: values of the same clubs by the second way, as many [the same unit].

    Raises:
        ValueError: fewer than two clubs.

    >>> agree([30.0, 31.0, 32.0], [30.5, 31.0, 33.0]).bias
    0.5
    """
    differences = [s - f for f, s in zip(first, second, strict=True)]
    if len(differences) < 2:
        raise ValueError("needs at least two clubs")
    bias = fsum(differences) / len(differences)
    sd = sqrt(fsum((d - bias) ** 2 for d in differences) / (len(differences) - 1))
    count = len(differences)
    reach = student_t(count - 1) * sqrt(1 + 1 / count) * sd
    return Agreement(bias, sd, bias - LIMIT_FACTOR * sd, bias + LIMIT_FACTOR * sd, count, bias - reach, bias + reach)


@lru_cache(maxsize=256)
def student_t(freedom: int, share: float = 0.95) -> float:
    """Tell the t that so much of Student's distribution lies within, on both sides together [-].

    By the finite series for whole degrees of freedom (Abramowitz and Stegun, 26.7.3 and 26.7.4; from memory) and
    bisection.

    Args:
        freedom: degrees of freedom, at least 1 [-].
        share: how much of the distribution is to lie within [-].

    >>> round(student_t(2), 3), round(student_t(30), 3)
    (4.303, 2.042)
    """
    low, high = 0.0, pi / 2  # of the angle whose tangent is t / sqrt(freedom)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, freedom) < share else (low, middle)
    return tan((low + high) / 2) * sqrt(freedom)


def _within(angle: float, freedom: int) -> float:
    """How much of Student's distribution lies within t = tan(angle) sqrt(freedom), on both sides together [-]."""
    cosine, odd = cos(angle), freedom % 2
    term, total = (cosine, 0.0) if odd else (1.0, 0.0)
    for n in range(1 + odd, freedom, 2):
        total += term
        term *= cosine * cosine * n / (n + 1)
    return 2 / pi * (angle + sin(angle) * total) if odd else sin(angle) * total
