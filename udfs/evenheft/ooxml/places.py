"""Places on a sheet: columns by letter and number, cells by name, rectangles of cells."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

SHEET_ROWS, SHEET_COLUMNS = 1_048_576, 16_384
"""What a sheet of this file format can hold."""

Place: TypeAlias = tuple[int, int]
"""Row and column of a cell, from 1."""


def column_letter(number: int) -> str:
    """Write a column's number as its letters, 1 as A.

    >>> column_letter(1), column_letter(28)
    ('A', 'AB')
    """
    before, last = divmod(number - 1, 26)
    return (column_letter(before) if before else "") + chr(ord("A") + last)


def column_number(letters: str) -> int:
    """Read a column's number, from 1, from its letters.

    >>> column_number("A"), column_number("AB")
    (1, 28)
    """
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def reference(row: int, column: int) -> str:
    """Write a cell's name, e.g. "B7"."""
    return f"{column_letter(column)}{row}"


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of cells."""

    top: int
    left: int
    bottom: int
    right: int

    @property
    def cells(self) -> int:
        """How many cells it has."""
        return (self.bottom - self.top + 1) * (self.right - self.left + 1)

    def __contains__(self, place: Place) -> bool:
        return self.top <= place[0] <= self.bottom and self.left <= place[1] <= self.right


class AreasByRow:
    """Areas, found by a row in which they lie without looking at all of them."""

    _LOW = 64
    """Up to which height an area is noted for each of its rows [-]."""

    def __init__(self, areas: Iterable[Area]) -> None:
        """Note where the areas lie."""
        self._low: dict[int, list[Area]] = {}
        self._high: list[Area] = []
        for area in areas:
            if area.bottom - area.top >= self._LOW:
                self._high.append(area)
            else:
                for row in range(area.top, area.bottom + 1):
                    self._low.setdefault(row, []).append(area)

    def at(self, row: int) -> list[Area]:
        """Return the areas that lie in a row."""
        return [*self._low.get(row, ()), *(area for area in self._high if area.top <= row <= area.bottom)]

    def holding(self, row: int, column: int) -> Area | None:
        """Return the area that holds a cell, None where there is none."""
        return next((area for area in self.at(row) if area.left <= column <= area.right), None)


_END = re.compile(r"\$?([A-Z]{1,3})?\$?([1-9][0-9]{0,6})?")


def area_of(text: str) -> Area | None:
    """Read the name of a range: cells, whole columns or whole rows; None where it names none.

    >>> area_of("B2:C4"), area_of("$A$1")
    (Area(top=2, left=2, bottom=4, right=3), Area(top=1, left=1, bottom=1, right=1))
    >>> area_of("A:B") == Area(1, 1, SHEET_ROWS, 2)
    True
    """
    ends = [_END.fullmatch(piece) for piece in text.split(":")]
    first, last = ends[0], ends[-1]
    if len(ends) > 2 or first is None or last is None or any(bool(first[n]) != bool(last[n]) for n in (1, 2)):
        return None
    if not first[1] and not first[2]:
        return None
    if len(ends) == 1 and not (first[1] and first[2]):
        return None
    rows = sorted((int(first[2]), int(last[2]))) if first[2] else [1, SHEET_ROWS]
    columns = sorted((column_number(first[1]), column_number(last[1]))) if first[1] else [1, SHEET_COLUMNS]
    if rows[1] > SHEET_ROWS or columns[1] > SHEET_COLUMNS:
        return None
    return Area(rows[0], columns[0], rows[1], columns[1])
