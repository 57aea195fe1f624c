"""Answers made fit for a cell: numbers that are finite, texts of one line, and not more work than a sheet needs."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import is_fit, one_line

Cell: TypeAlias = float | str

MOST_LOOKED_AT = 50_000
"""So many cells that are no plain good numbers, and not blank, one call reads or answers one by one [-]."""


class LooksLeft:
    """Counts the cells of one call that need a look of their own, so that no full column of them takes minutes."""

    def __init__(self) -> None:
        """Begin with none."""
        self.count = 0

    def one_more(self) -> None:
        """Count a cell; raises Refused where it is one too many."""
        self.count += 1
        if self.count > MOST_LOOKED_AT:
            raise Refused(f"more than {MOST_LOOKED_AT} cells hold texts or are refused: name fewer of them at once")


def all_cells(answers: list[Any]) -> bool:
    """Whether all are finite numbers, or all are fit texts, and so can stand in cells as they are."""
    kinds = set(map(type, answers))
    if kinds == {str}:
        return all(map(is_fit, answers))
    return kinds == {float} and math.isfinite(sum(answers))


def safe(value: Any) -> Cell:
    """Return an answer as a cell can show it; raises ArithmeticError for nan and inf."""
    if isinstance(value, str):
        return value if is_fit(value) else one_line(value)  # a cell's text, handed on, may be a stranger's
    number = float(value)
    if not math.isfinite(number):
        raise ArithmeticError("not a finite number")
    return number + 0.0  # a zero has no sign in a cell


def unsigned_zeros(column: list[Any]) -> list[Any]:
    """Return a column of numbers, or of texts, without -0.0, which some programs show as it is."""
    if column and type(column[0]) is float and 0.0 in column:
        return [number + 0.0 for number in column]
    return column
