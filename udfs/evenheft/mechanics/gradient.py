"""The gradient of a set: a first value and an increment per club."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, sqrt
from typing import NamedTuple


class Gradient(NamedTuple):
    """A straight line through a set's values, and how far the clubs lie from it."""

    first: float
    """The line's value at place 1 [the values' unit]."""
    increment: float
    """The change from one place to the next [the values' unit]."""
    scatter: float | None
    """Residual standard deviation with n - 2 degrees of freedom, None for two clubs [the values' unit]."""
    worst: float
    """The deviation of the club that lies furthest from the line, with its sign [the values' unit]."""


def target(first: float, increment: float, place: float) -> float:
    """Target value of the club at a place of a gradient [the unit of `first`].

    Args:
        first: value wanted at place 1 [any unit].
        increment: change from one place to the next [the same unit].
        place: place of the club in its set, 1, 2, 3 ... [-].

    >>> target(32.0, 0.5, 3)
    33.0
    """
    return first + increment * (place - 1)


def first(value: float, increment: float, place: float) -> float:
    """Find the first value of the gradient that gives a club at a place its value [the value's unit].

    Args:
        value: value of the club [any unit].
        increment: change from one place to the next [the same unit].
        place: place of the club in its set, 1, 2, 3 ... [-].

    >>> target(first(32.0, 0.5, 3), 0.5, 3)
    32.0
    """
    return value - increment * (place - 1)


def fit(places: Sequence[float], values: Sequence[float]) -> Gradient:
    """Fit the least-squares line through the values of a set.

    Args:
        places: place of each club in the set, 1, 2, 3 ... [-].
        values: value of each club, as many as places [any unit].

    Raises:
        ValueError: fewer than two clubs, or all at one place.

    >>> fit([1, 2, 3], [30.0, 31.0, 32.0])
    Gradient(first=30.0, increment=1.0, scatter=0.0, worst=0.0)
    """
    count = len(values)
    if count < 2 or len(set(places)) < 2:
        raise ValueError("needs at least two clubs at different places")
    middle = fsum(places) / count
    mean = fsum(values) / count
    spread = fsum((p - middle) ** 2 for p in places)
    increment = fsum((p - middle) * (v - mean) for p, v in zip(places, values, strict=True)) / spread
    first = mean + increment * (1 - middle)
    residuals = [v - target(first, increment, p) for p, v in zip(places, values, strict=True)]
    scatter = sqrt(fsum(r * r for r in residuals) / (count - 2)) if count > 2 else None
    return Gradient(first, increment, scatter, max(residuals, key=abs))
