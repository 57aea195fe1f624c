"""Places on a sheet: columns by letter and number, cells by name, rectangles of cells."""

from __future__ import annotations

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

    def __contains__(self, place: Place) -> bool:
        return self.top <= place[0] <= self.bottom and self.left <= place[1] <= self.right
