"""What a builder should hear about a table before it is trusted; each line only where it is true."""

from __future__ import annotations

from collections.abc import Collection

from evenheft.formulas.headed.columns import column_under
from evenheft.formulas.headed.headings import LONGEST_HEADING
from evenheft.formulas.wording import is_blank
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import reference
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.text import plain_text
from evenheft.shop.clubs import skipped_notes
from evenheft.shop.table import ShopColumn, ShopTable

Wrong = tuple[int, str]


def notes_on(content: SheetContent, table: ShopTable, used: Collection[str]) -> list[str]:
    """Find what is odd about a table.

    Args:
        content: the sheet [-].
        table: a table of it [-].
        used: the quantities that some formula reads; of others nothing is wanted [-].
    """
    notes = []
    hidden = [column.letter for column in table.columns if column.hidden and column.quantity is not None]
    if hidden:
        line = "column" if table.layout == "rows" else "row"
        notes.append(f"{line} {' and '.join(hidden)} is hidden, and read all the same")
    notes += skipped_notes(table.skipped, table.one, table.club_at)
    for column in table.columns:
        if column.quantity is None or column.quantity not in used:
            continue
        wrong = unreadable(content, table, column)
        if wrong:
            club, why = wrong[0]
            more = f" (and {len(wrong) - 1} more)" if len(wrong) > 1 else ""
            notes.append(f"{_cell(table, club, column)}: {why}{more}")
        stale = [club for club in table.rows if _is_unstored(content, table, club, column)]
        if stale:
            notes.append(
                f"{_cell(table, stale[0], column)}: a formula without a stored result, save the workbook once in your "
                "spreadsheet program"
            )
    return notes


def unreadable(content: SheetContent, table: ShopTable, column: ShopColumn) -> list[Wrong]:
    """Return the clubs whose cell in a column is no such quantity, and the line that says so, as the formula will too.

    Args:
        content: the sheet [-].
        table: its table [-].
        column: a column of it whose quantity is certain [-].
    """
    if column.quantity is None:
        return []
    reader = column_under(0, column.heading, column.reading._replace(unit=column.unit))
    wrong = []
    for club in table.rows:
        place = table.place(club, column.at)
        value = None if place is None else content.values.get(place)
        if is_blank(value):
            continue
        try:
            reader.read(plain_text(value[: LONGEST_HEADING + 1]) if isinstance(value, str) else value)
        except Refused as refused:
            wrong.append((club, str(refused)))
    return wrong


def _is_unstored(content: SheetContent, table: ShopTable, club: int, column: ShopColumn) -> bool:
    place = table.place(club, column.at)
    return place is not None and place in content.formulas and place not in content.values


def _cell(table: ShopTable, club: int, column: ShopColumn) -> str:
    place = table.place(club, column.at)
    return column.letter if place is None else reference(*place)
