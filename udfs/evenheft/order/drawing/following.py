"""What each sheet says of gestures that its formulas cannot follow, and what Set says of them all in one line."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, name_cell
from evenheft.order.layout import (
    CARD,
    CLUB_TABLES,
    LOST_AT,
    LOST_NAME,
    ORDER,
    SET,
    SLOT_ROW,
    TARGET,
    USUAL,
    Table,
    not_followed,
)

_ROLL_AT = {"order": "A5", "set": f"{SET.letter('out')}{SLOT_ROW}"}
"""The cell in which a sheet says what is wrong with its numbers, where that is not A4."""


def _roll_at(table: Table) -> str:
    return _ROLL_AT.get(table.name, "A4")


def _from_to(table: Table, first: str, last: str) -> str:
    """Return the range of several columns from the heading to the cell under the last row."""
    return f"{table.framed(first).rpartition(':')[0]}:{table.framed(last).rpartition(':')[2]}"


def _in_one_line(*messages: str) -> str:
    """Write the formula that joins messages, each of which may be blank, and leaves one "! " in front of them all."""
    joined = '&" "&'.join(messages)
    return f'=SUBSTITUTE(TRIM({joined})," ! ","; ")'


def tell_roll(sheet: Worksheet, table: Table) -> None:
    """Say at the top what is wrong with the numbers by which the sheet's rows are found; Card is for paper only."""
    if table is CARD:
        return
    typed = [c.key for c in table.columns if c.role == "input" and c.key != "number"] or ["club"]
    arguments = [table.framed("number"), _from_to(table, typed[0], typed[-1]), f'"{table.sheet}"']
    if table.name == "order":
        once = (f'HEFT_TWICE({ORDER.framed("club")},"club")', f'HEFT_TWICE({TARGET.framed("group")},"group")')
        formula = _in_one_line(f"HEFT_ROLL({','.join(arguments)})", *once)
    else:
        formula = f"=HEFT_ROLL({','.join([*arguments, _from_to(ORDER, 'number', 'club')])})"
    cell = sheet[_roll_at(table)]
    cell.value = formula.replace(f"{table.sheet}!", "")
    cell.font = looks.WORKING if table.name == "set" else looks.WARNING


def tell_on_set(book: Workbook) -> None:
    """Gather in one cell of Set what cannot be followed on any sheet."""
    sheet = book[SET.sheet]
    places, groups, gathered = (sheet.cell(SLOT_ROW, SET.at[key]) for key in ("too_long", "renamed", "no_name"))
    places.value = f'=HEFT_TWICE({_from_to(SET, "group", "place").removeprefix("Set!")},"place")'
    groups.value = f'=HEFT_TWICE({USUAL.framed("group")},"group on Shop")'
    cells = [
        f"{table.sheet}!{absolute(book[table.sheet][_roll_at(table)])}"
        for table in CLUB_TABLES.values()
        if table is not CARD
    ]
    cells += [absolute(places), absolute(groups)]
    gathered.value = _in_one_line(*cells).replace("Set!", "")
    lost = sheet[LOST_AT.replace("$", "")]
    lost.value = not_followed(absolute(gathered), SET.whole("flags").removeprefix("Set!"))
    for cell in (places, groups, gathered, lost):
        cell.font = looks.WORKING
    name_cell(book, LOST_NAME, sheet, LOST_AT)
