"""How a list of the shop book is declared: one row per thing, found by its headings."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from evenheft.ooxml.places import column_letter
from evenheft.order.layout.grid import Column

KIND_OF_BOOK = "evenheft shop book"
BOOK_VERSION = 1

BOOK_HEADING_ROW = 5
FIRST_BOOK_ROW = 6
MOST_ROWS = 40_000
"""How many rows a list can hold: two thousand orders of ten clubs are half of it."""
LAST_BOOK_ROW = FIRST_BOOK_ROW + MOST_ROWS - 1

_BRACED = re.compile(r"\{(?:(\w+)\.)?(\w+)\}")


@dataclass(frozen=True)
class ListSheet:
    """A sheet with one row per head model, shaft, finished club ...

    Columns of role "input" are the shop's to type. "label" are kept from orders, and open to the shop as well;
    "computed" and "work" are formulas, prepared in the first rows.
    """

    sheet: str
    lead: str
    """One line under the title that says what the list is for."""
    columns: tuple[Column, ...]
    prepared: int
    """Rows that the template formats and gives their formulas."""
    key: tuple[str, ...]
    """Columns that tell a row from every other."""
    kept: bool = False
    """Whether its rows come from orders and each knows which."""
    at: dict[str, int] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.at.update({column.key: n for n, column in enumerate(self.columns, start=1)})

    def column(self, key: str) -> Column:
        """Look up the column of a key."""
        return self.columns[self.at[key] - 1]

    def letter(self, key: str) -> str:
        """Look up the letter of a column, e.g. "C"."""
        return column_letter(self.at[key])

    def whole(self, key: str) -> str:
        """Refer to every row of a column, from any sheet, e.g. "Fits!$G$6:$G$40005"."""
        letter = self.letter(key)
        return f"{self.sheet}!${letter}${FIRST_BOOK_ROW}:${letter}${LAST_BOOK_ROW}"

    @property
    def typed(self) -> tuple[str, ...]:
        """Columns that hold values rather than formulas."""
        return tuple(column.key for column in self.columns if not column.formula)


def in_row(formula: str, sheet: ListSheet, row: int, sheets: Mapping[str, ListSheet]) -> str:
    """Write a declared formula as a cell of one row holds it.

    Args:
        formula: the formula; `{rise}` is the row's own cell, `{fits.rise}` a whole column of another list [-].
        sheet: the list that the cell is in [-].
        row: its row [-].
        sheets: every list, by its name in small letters [-].

    Raises:
        KeyError: a name in braces is no column.
    """

    def cell(found: re.Match[str]) -> str:
        if found[1] is None:
            return f"${sheet.letter(found[2])}{row}"
        return sheets[found[1]].whole(found[2])

    return _BRACED.sub(cell, formula)
