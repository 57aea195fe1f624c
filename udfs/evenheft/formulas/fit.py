"""Answers made fit for a cell: numbers that are finite, texts of one line, and not more work than a sheet needs."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

from evenheft.formulas.wording import is_blank
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import is_fit, one_line
from evenheft.ooxml.values import CellRows

Cell: TypeAlias = float | str

MOST_LOOKED_AT = 50_000
"""So many cells that are no plain good numbers, and not blank, one call reads or answers one by one [-]."""


class LooksLeft:
    """How many cells of one call may still need a look of their own: no full column of them is to take minutes."""

    def __init__(self) -> None:
        """Begin with all."""
        self._left = MOST_LOOKED_AT

    def one_more(self) -> None:
        """Count a cell; raises Refused where it is one too many."""
        self._left -= 1
        if self._left < 0:
            raise Refused(f"more than {MOST_LOOKED_AT} cells hold texts or are refused: name fewer of them at once")


def too_many_filled(rows: CellRows, most: int) -> int:
    """Count the rows that hold anything where they are more than so many, else return 0.

    Args:
        rows: the cells of each row [-].
        most: how many may be filled [-].
    """
    if len(rows) <= most:
        return 0
    filled = sum(any(not is_blank(cell) for cell in row) for row in rows)
    return filled if filled > most else 0


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
