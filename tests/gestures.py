"""What an order must say after a gesture: what a new order says into which everything typed was carried."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from calc_office import OpenBook
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.places import column_letter
from evenheft.order.carrying.into_new import carry
from evenheft.order.layout import CLUB_TABLES, HEADING_ROW, LAST_ROW, LOST_NAME

ShownValues = dict[tuple[str, int, str], object]
"""What is shown of each club, by sheet, club's number and column."""

MORE = 4
"""How many rows and columns gestures may have added to a sheet."""


def computed_values(computed: Computed) -> ShownValues:
    """What an order shows of each club whose tables stand where they were made."""
    found: ShownValues = {}
    for table in CLUB_TABLES.values():
        for row in range(table.first_row, table.last_row + 1):
            number = computed.value(table.sheet, row, table.at["number"])
            for column in table.columns:
                if isinstance(number, float) and column.role in ("computed", "label") and column.key != "number":
                    found[table.sheet, int(number), column.key] = computed.value(table.sheet, row, table.at[column.key])
    return found


def shown_in(book: OpenBook, headings: dict[str, list[object]]) -> ShownValues:
    """What Calc shows of each club, wherever a gesture has left its rows and columns.

    Args:
        book: the order [-].
        headings: by sheet, what stands over its columns where no gesture was made [-].
    """
    found: ShownValues = {}
    for table in CLUB_TABLES.values():
        seen = max(table.at[column.key] for column in table.columns if column.role != "work")
        rows = book.read(table.sheet, f"A1:{column_letter(seen + MORE)}{LAST_ROW + MORE}")
        top = next(n for n, row in enumerate(rows) if "No." in row[:2])
        own = [column for column in table.columns if column.role in ("computed", "label")]
        at = _columns(headings[table.sheet][:seen], rows[top])
        for row in rows[top + 1 :]:
            number = row[at[0]] if 0 in at else None
            for column in own:
                place = at.get(table.at[column.key] - 1)
                if isinstance(number, float) and column.key != "number" and place is not None:
                    found.setdefault((table.sheet, int(number), column.key), row[place])
    return found


def headings_of(computed: Computed) -> dict[str, list[object]]:
    """What stands over the columns of each sheet with clubs."""
    return {
        table.sheet: [computed.value(table.sheet, HEADING_ROW, n) for n in range(1, len(table.columns) + 1)]
        for table in CLUB_TABLES.values()
    }


def _columns(wanted: Sequence[object], found: Sequence[object]) -> dict[int, int]:
    """Where each column has got to: a heading is looked for from where the one before it was found."""
    places: dict[int, int] = {}
    at = 0
    for column, heading in enumerate(wanted):
        here = next((n for n in range(at, min(at + MORE, len(found))) if (found[n] or "") == (heading or "")), None)
        if here is not None:
            places[column], at = here, here + 1
    return places


def wanted_of(saved: Path, folder: Path) -> Computed:
    """A new order with all that was typed in another one, by club's number and heading."""
    fresh = folder / "fresh.xlsx"
    carry(saved, fresh)
    return Computed.open(fresh)


def line_in(book: OpenBook) -> object:
    """What Set says of what cannot be followed."""
    sheet, _, cell = book.names()[LOST_NAME].replace("$", "").replace("'", "").rpartition(".")
    return book.value(sheet, cell) or ""


def differences(found: ShownValues, wanted: ShownValues) -> dict[tuple[str, int, str], tuple[object, object]]:
    """Where something else is shown of a club with a name than should be."""
    clubs = {number for (_, number, key), value in wanted.items() if key == "club" and value}
    return {
        key: (found.get(key), value)
        for key, value in wanted.items()
        if key[1] in clubs and not _alike(found.get(key), value)
    }


def _alike(found: object, wanted: object) -> bool:
    if isinstance(found, float) and isinstance(wanted, float):
        return math.isclose(found, wanted, rel_tol=1e-9, abs_tol=1e-9)
    return found == wanted if isinstance(found, float) else (found or "") == (wanted or "")
