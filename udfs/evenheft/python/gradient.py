"""The line that a set follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, overload

from evenheft.mechanics import gradient as lines
from evenheft.mechanics.gradient import Gradient
from evenheft.python.numbers_or_arrays import answer, listed

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given


@overload
def target(first: float, increment: float, place: float) -> float: ...
@overload
def target(first: Given, increment: Given, place: Given) -> Array: ...
def target(first: Given, increment: Given, place: Given) -> float | Array:
    """Target value of the club at a place of a gradient [the unit of `first`].

    Args:
        first: value wanted at place 1 [any unit].
        increment: change from one place to the next [the same unit].
        place: place of the club in its set, 1, 2, 3 ... [-].

    Raises:
        ValueError: out of bounds.

    Source: a straight line.

    >>> target(first=32, increment=0.5, place=3)
    33.0
    """
    return answer("HEFT_TARGET", {"first": first, "increment": increment, "place": place}, lines.target)


@overload
def first(value: float, increment: float, place: float) -> float: ...
@overload
def first(value: Given, increment: Given, place: Given) -> Array: ...
def first(value: Given, increment: Given, place: Given) -> float | Array:
    """First value of the gradient that gives a club at a place its value [the value's unit].

    Args:
        value: value of the club at that place [any unit].
        increment: change from one place to the next [the same unit].
        place: place of the club in its set, 1, 2, 3 ... [-].

    Raises:
        ValueError: out of bounds.

    Source: a straight line.

    >>> first(33, increment=0.5, place=3)
    32.0
    """
    return answer("HEFT_FIRST", {"value": value, "increment": increment, "place": place}, lines.first)


def gradient(places: Sequence[float] | Array, values: Sequence[float] | Array) -> Gradient:
    """Fit the least-squares line through the values of a set.

    Args:
        places: place of each club in the set, 1, 2, 3 ... [-].
        values: value of each club, as many as places [any unit].

    Raises:
        ValueError: fewer than two clubs, or all at one place.

    Source: least squares, held against NIST StRD "Norris".

    >>> gradient([1, 2, 3], [30.0, 31.0, 32.0])
    Gradient(first=30.0, increment=1.0, scatter=0.0, worst=0.0)
    """
    return lines.fit(listed("places", places), listed("values", values))
