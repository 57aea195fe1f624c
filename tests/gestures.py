"""What an order must say after a gesture: what a new order says into which everything typed was carried."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from calc_office import Book
from evenheft.formulas.wording import PASSED_ON
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import column_letter
from evenheft.ooxml.values import CellError
from evenheft.order.carrying.into_new import carry
from evenheft.order.carrying.typed import words
from evenheft.order.layout import CLUB_TABLES, FIRST_ROW, HEADING_ROW, LAST_ROW, Table

Values = dict[tuple[str, int, str], object]
"""What is shown of each club, by sheet, club's number and column."""

MORE = 4
"""How many rows and columns gestures may have added to a sheet."""


@dataclass(frozen=True)
class Shown:
    """What a reader sees of every club, and what the order says of itself."""

    values: Values
    line: object
    """What Set says over its table of what cannot be followed."""


def shown_in(book: Book) -> Values:
    """What Calc shows of each club, wherever gestures have left its rows and columns."""
    found: Values = {}
    for table in CLUB_TABLES.values():
        width = len(table.columns) + MORE
        rows = book.read(table.sheet, f"A1:{column_letter(width)}{LAST_ROW + MORE}")
        found |= _by_number(table, rows)
    return found


def wanted_of(saved: Path, folder: Path) -> Values:
    """What a new order says into which all that was typed was carried, by club's number and heading."""
    fresh = folder / "fresh.xlsx"
    carry(saved, fresh)
    computed = Computed.open(fresh)
    found: Values = {}
    for table in CLUB_TABLES.values():
        rows = [
            [computed.value(table.sheet, row, column) for column in range(1, len(table.columns) + 1)]
            for row in range(1, LAST_ROW + 1)
        ]
        found |= _by_number(table, rows)
    return found


def _by_number(table: Table, rows: list[list[object]]) -> Values:
    """The computed cells that can be seen, found by the headings of their columns, which keep their order."""
    at = next(n for n, row in enumerate(rows) if row[0] == "No." or row[1] == "No.")
    headings = rows[at]
    found: Values = {}
    column = 0
    for declared in table.columns:
        if column < len(headings) and headings[column] in (None, "") and declared.heading and not declared.band.startswith("slot"):
            column += 1
        if declared.role in ("computed", "label") and declared.key != "number":
            for row in rows[at + 1 :]:
                number = row[0]
                if isinstance(number, float):
                    found.setdefault((table.sheet, int(number), declared.key), row[column] if column < len(row) else None)
        column += 1
    return found


def differences(found: Values, wanted: Values) -> dict[tuple[str, int, str], tuple[object, object]]:
    """Where Calc shows something else of a club than it should."""
    clubs = {number for (sheet, number, key), value in wanted.items() if key == "club" and value}
    return {
        key: (found.get(key), value)
        for key, value in wanted.items()
        if key[1] in clubs and not _alike(found.get(key), value)
    }


def _alike(found: object, wanted: object) -> bool:
    if isinstance(found, float) and isinstance(wanted, float):
        return math.isclose(found, wanted, rel_tol=1e-9, abs_tol=1e-9)
    return (found or "") == (wanted or "") if not isinstance(found, float) else found == wanted
