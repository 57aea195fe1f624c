"""What each sheet says of gestures that its formulas cannot follow, and what Set says of them all in one line."""

from __future__ import annotations

from collections.abc import Iterator

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, name_cell
from evenheft.order.layout import (
    CARD,
    CLUB_TABLES,
    LOST_AT,
    LOST_NAME,
    ORDER,
    PARTS,
    READ,
    SET,
    SETTINGS,
    SLOT_ROW,
    TARGET,
    TYPED_ON_ORDER,
    USUAL,
    Table,
    kind_of_error,
    not_followed,
    told_of_deleted,
)

_AT_ONCE = 6
"""How many named cells one formula looks at, so that it can be read."""
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
    """Say at the top what is wrong with the numbers by which the sheet's rows are found; of Card, Set says it first."""
    if table is CARD:
        return
    cell = sheet[_roll_at(table)]
    cell.value = _roll(table).replace(f"{table.sheet}!", "")
    cell.font = looks.WORKING if table.name == "set" else looks.WARNING


def _roll(table: Table) -> str:
    """Write the formula of what is wrong with a sheet's numbers."""
    typed = [c.key for c in table.columns if c.role == "input" and c.key != "number"] or ["club"]
    arguments = [table.framed("number"), _from_to(table, typed[0], typed[-1]), f'"{table.sheet}"']
    if table.name == "order":
        once = (f'HEFT_TWICE({ORDER.framed("club")},"club")', f'HEFT_TWICE({TARGET.framed("group")},"group")')
        return _in_one_line(f"HEFT_ROLL({','.join(arguments)})", *once)
    return f"=HEFT_ROLL({','.join([*arguments, _from_to(ORDER, 'number', 'club')])})"


def _watched() -> Iterator[str]:
    """Give what must be no error: what Set gathers, the settings, and the rows of each sheet.

    Card is for paper: a person may do without the sheet.
    """
    yield f"${SET.letter('no_name')}${SLOT_ROW}"
    typed = [f"{name}{READ}" for name in (*(s.name for s in SETTINGS if not s.computed), *TYPED_ON_ORDER)]
    names = [s.name for s in SETTINGS if s.computed] + typed
    for at in range(0, len(names), _AT_ONCE):
        yield f"SUM({','.join(names[at : at + _AT_ONCE])})"
    yield from (f"SUM({_seen(table)})" for table in CLUB_TABLES.values() if table is not CARD)


def _seen(table: Table) -> str:
    """Return the range of a sheet's rows that a person sees; SUM passes over their texts, not over an error."""
    seen = [column.key for column in table.columns if column.role != "work"]
    first, last = table.whole(seen[0]), table.whole(seen[-1])
    return f"{first.partition(':')[0]}:{last.rpartition(':')[2]}".removeprefix("Set!")


def tell_on_set(book: Workbook) -> None:
    """Gather in one cell of Set what cannot be followed on any sheet."""
    sheet = book[SET.sheet]
    keys = ("too_long", "renamed", "card_lost", "no_name")
    places, groups, card, gathered = (sheet.cell(SLOT_ROW, SET.at[key]) for key in keys)
    groups.value = f'=HEFT_TWICE({USUAL.framed("group")},"group on Shop")'
    places.value = _in_one_line(
        f'HEFT_TWICE({_from_to(SET, "group", "place").removeprefix("Set!")},"place")',
        f'HEFT_TWICE({PARTS.framed("shaft_number")},"shaft")',
        absolute(groups),
    )
    card.value = f'=IFERROR({_roll(CARD)[1:]},"")'
    cells = [
        f"{table.sheet}!{absolute(book[table.sheet][_roll_at(table)])}"
        for table in CLUB_TABLES.values()
        if table is not CARD
    ]
    cells += [absolute(cell) for cell in (places, card)]
    gathered.value = _in_one_line(*cells).replace("Set!", "")
    watched = [sheet.cell(SLOT_ROW, SET.at[f"watched{n}"], f"={what}") for n, what in enumerate(_watched(), start=1)]
    kinds = [
        sheet.cell(SLOT_ROW, SET.at[f"error{n}"], kind_of_error(cell.coordinate))
        for n, cell in enumerate(watched, start=1)
    ]
    of_kinds = f"{absolute(kinds[0])}:{absolute(kinds[-1])}"
    lost, deleted = sheet[LOST_AT.replace("$", "")], sheet.cell(SLOT_ROW, SET.at["deleted"])
    deleted.value = told_of_deleted(absolute(gathered), of_kinds)
    lost.value = not_followed(absolute(deleted), of_kinds)
    for cell in (places, groups, card, gathered, deleted, lost, *watched, *kinds):
        cell.font = looks.WORKING
    _say_on_card(book[CARD.sheet], f"{SET.sheet}!{absolute(card)}")
    name_cell(book, LOST_NAME, sheet, LOST_AT)


def _say_on_card(sheet: Worksheet, lost: str) -> None:
    """Say in the lead's place that a club has no row on the page."""
    sheet["A2"].value = f'=IF({lost}="","{CARD.lead}",{lost})'
    sheet.conditional_formatting.add("A2", FormulaRule(formula=['LEFT($A$2,2)="! "'], font=looks.WARNING))
