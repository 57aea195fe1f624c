"""The best value of several measurements of one thing, each with its own doubt.

The mean is weighted by the inverse variances: W. T. Eadie et al., "Statistical Methods in Experimental Physics",
and any textbook, e.g. J. R. Taylor, "An Introduction to Error Analysis", chapter 7. Where the values lie further
apart than their doubts explain (chi-square above its degrees of freedom) its doubt is widened as the Particle Data
Group does (Review of Particle Physics, Introduction, "Unconstrained averaging": S = sqrt(chi2 / (n - 1))). What is
left over is how far the things themselves differ, and the next one of their kind is known no better than that.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erfc, exp, fsum, pi, sqrt
from typing import NamedTuple

UNLIKELY = 0.05
"""Below this probability of so large a chi-square, the values do not belong together [-]."""


class Sums(NamedTuple):
    """All that a weighted mean needs to know of its values: they may be gathered by a spreadsheet's own SUMIFS."""

    number: float
    """How many values [-]."""
    weights: float
    """Sum of the weights 1 / u^2 [1 / the values' unit squared]."""
    weighted: float
    """Sum of weight x value [1 / the values' unit]."""
    squares: float
    """Sum of weight x value squared [-]."""


class BestValue(NamedTuple):
    """A weighted mean, and how far it is to be trusted."""

    mean: float
    """The weighted mean [the values' unit]."""
    doubt: float
    """Its standard uncertainty, widened where the values scatter more than theirs explain [the values' unit]."""
    next_doubt: float
    """Standard uncertainty of the next thing of the kind, which differs as these do [the values' unit]."""
    scatter: float
    """Weighted standard deviation of the values, n - 1 degrees of freedom; 0 of one value [the values' unit]."""
    chi_square: float
    """Sum of the squared deviations in units of their standard uncertainties [-]."""
    probability: float
    """How often chance alone makes the chi-square as large; 1 of one value [-]."""


def weight(uncertainty: float) -> float:
    """Weigh a value by its standard uncertainty [1 / the value's unit squared].

    Raises:
        ZeroDivisionError: it claims to be known without any doubt.
    """
    return 1 / uncertainty**2


def sums_of(values: Sequence[float], uncertainties: Sequence[float]) -> Sums:
    """Gather the sums of a weighted mean.

    Args:
        values: what was measured [any unit].
        uncertainties: the standard uncertainty of each, more than 0 [the same unit].
    """
    weights = [weight(u) for u in uncertainties]
    pairs = list(zip(weights, values, strict=True))
    return Sums(len(values), fsum(weights), fsum(w * v for w, v in pairs), fsum(w * v * v for w, v in pairs))


def best_value(sums: Sums, spread: float = 0.0) -> BestValue:
    """Compute the weighted mean of at least one value.

    Args:
        sums: from `sums_of`, or gathered elsewhere [as there].
        spread: standard uncertainty by which things of the kind differ at least, known beforehand [the values' unit].

    >>> best_value(sums_of([11, 12, 10], [1, 1, 3])).mean
    11.421
    """
    mean = sums.weighted / sums.weights
    # A difference of two nearly equal sums: what rounding leaves of it is no scatter.
    chi_square = max(sums.squares - sums.weighted * mean, 0.0)
    if chi_square < 1e-12 * abs(sums.squares):
        chi_square = 0.0
    own = 1 / sums.weights
    typical = sums.number * own  # the variance of one value, where all are alike
    freedom = sums.number - 1
    known = 1 + spread**2 / typical
    if freedom < 1:
        return BestValue(mean, sqrt(own * known), sqrt(own * known + spread**2), 0.0, 0.0, 1.0)
    ratio = chi_square / freedom
    doubt = own * max(ratio, known)
    next_doubt = sqrt(doubt + typical * (max(ratio, known) - 1))
    probability = chance(chi_square, round(freedom))
    return BestValue(mean, sqrt(doubt), next_doubt, sqrt(ratio * typical), chi_square, probability)


def chance(chi_square: float, freedom: int) -> float:
    """Compute how often chance alone makes a chi-square at least this large [-].

    The closed forms for whole degrees of freedom: Abramowitz and Stegun, 26.4.4 and 26.4.5.

    Args:
        chi_square: the sum [-].
        freedom: degrees of freedom, at least 1 [-].

    >>> chance(3.841, 1), chance(5.991, 2)
    (0.0500, 0.0500)
    """
    half = chi_square / 2
    if freedom % 2:
        total, term, first = erfc(sqrt(half)), 2 * sqrt(half / pi) * exp(-half), 3
    else:
        total, term, first = exp(-half), half * exp(-half), 4
    for reached in range(first, freedom + 1, 2):
        total += term
        term *= chi_square / reached
    return min(total, 1.0)
