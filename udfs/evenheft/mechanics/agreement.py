"""Agreement of two ways to measure the same thing, after Bland and Altman (Lancet 1986; i: 307-310)."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, sqrt
from typing import NamedTuple

LIMITS = 1.96
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
    return Agreement(bias, sd, bias - LIMITS * sd, bias + LIMITS * sd)
