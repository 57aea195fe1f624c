"""What stands on Order under the targets: reference clubs, and the line that heads in hand reach with least mass."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.formatting.rule import FormulaRule
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, fetch_typed, merge_input, name_cell, section
from evenheft.order.drawing.tables import draw_table, point_at_messages
from evenheft.order.layout import (
    BENCH,
    GROUP_LINES,
    LINE_RANGES,
    OFFER_CHANGE,
    REFERENCE_PARTS,
    REFERENCE_RANGES,
    REFERENCES,
    SET,
    TARGET,
    TARGET_PARTS,
    read_locked,
    reference_range,
)
from evenheft.order.layout.grid import unit_heading

_TITLE_ROW = TARGET.last_row + 2
_FIRST_ROW = _TITLE_ROW + 1
_READINGS_ROW = _FIRST_ROW + len(REFERENCE_PARTS)
_LABEL = TARGET.first_column
_WIDE = len(TARGET_PARTS)
_CLUBS = _LABEL + 2
"""The first column of the first reference club; each takes the width of a quantity's targets."""
_OFFER = _CLUBS + REFERENCES * _WIDE + 1
"""Where the offered lines stand: the group, then the line."""
_LAST = max(TARGET.at.values())
_OFFER_ROW = _FIRST_ROW + TARGET.rows + 1
_HIDDEN = GROUP_LINES.first_column
REFERENCES_TITLE = "Like a club that is there: its readings fill first values left blank"
OFFERS_TITLE = "Heads in hand: the line that needs the least added mass"

POINTER_BELOW = "! below"

_INPUTS: dict[str, tuple[str, str, str]] = {
    "group": ("Its group", "General", "The group that is to be like this club, an old 7-iron, say."),
    "place": ("Its place in the group", "General", "Its place, or what it would be: 1, 2, 3 ...; 1 where blank."),
    "mass": (unit_heading("Mass", "unit_mass"), "0.0", "What the gram scale shows of the whole club."),
    "balance": (unit_heading("Balance", "unit_length"), "0.00", "From the butt to where the club balances."),
    "period": (BENCH.column("period").heading, "0.0##",
               "What the stopwatch read, timed as on Bench. Blank: its inertia is not wanted."),
}  # fmt: skip
"""Label, number format and prompt of what is typed of a reference club."""
_READINGS: dict[str, tuple[str, str, str]] = {
    "points": ("Reads: swingweight", "General", "=HEFT_POINTS({mass},{balance},shop_units)"),
    "mass": (unit_heading("Reads: mass", "unit_mass"), "0.0", "=HEFT_CONVERT({mass},unit_mass,unit_mass)"),
    "inertia": ("Reads: inertia (kg cm2)", "0",
                "=HEFT_INERTIA({mass},{balance},{period},shop_units,shop_pivot,shop_gravity,shop_angle,shop_swings,,"
                "doubt_watch)"),
}  # fmt: skip


def draw_lines(book: Workbook) -> None:
    """Write the reference clubs and the offered lines, and the hidden cells that work them out."""
    sheet = book[TARGET.sheet]
    draw_table(sheet, GROUP_LINES)
    for name, key in LINE_RANGES.items():
        name_cell(book, name, book[SET.sheet], SET.whole(key).removeprefix(f"{SET.sheet}!"))
    section(sheet, _TITLE_ROW, (_LABEL, _CLUBS + REFERENCES * _WIDE - 1), REFERENCES_TITLE)
    for row, (part, (label, number, prompt)) in enumerate(_INPUTS.items(), start=_FIRST_ROW):
        _label(sheet, row, label)
        for club in range(1, REFERENCES + 1):
            _draw_input(book, sheet, row, club, part, number, prompt)
    for row, (part, (label, number, formula)) in enumerate(_READINGS.items(), start=_READINGS_ROW):
        _label(sheet, row, label)
        for club in range(1, REFERENCES + 1):
            _draw_reading(sheet, row, club, part, number, formula)
    _tell_messages(sheet)
    _name_ranges(book, sheet)
    _draw_offers(book, sheet)


def _label(sheet: Worksheet, row: int, text: str, column: int = _LABEL) -> None:
    cell = sheet.cell(row, column, text)
    cell.font, cell.alignment = looks.TEXT, looks.LEFT


def _columns(club: int) -> tuple[int, int]:
    first = _CLUBS + (club - 1) * _WIDE
    return first, first + _WIDE - 1


def _draw_input(book: Workbook, sheet: Worksheet, row: int, club: int, part: str, number: str, prompt: str) -> None:
    """Draw one typed cell of a reference club, and let formulas read it by locked cells."""
    cell = merge_input(sheet, row, _columns(club))
    cell.alignment, cell.number_format = looks.CENTRED, number
    _ask(sheet, cell, prompt, "=order_groups" if part == "group" else "")
    _name_typed(book, sheet, f"reference{club}_{part}", cell, (_LABEL, _OFFER - 1), _HIDDEN + club - 1)


def _name_typed(book: Workbook, sheet: Worksheet, name: str, cell: Cell, between: tuple[int, int], hidden: int) -> None:
    """Name a typed cell, and fetch it by the locked cells to its left and right, which no gesture moves."""
    name_cell(book, name, sheet, absolute(cell))
    first, last = (get_column_letter(column) for column in between)
    row = cell.row
    found = f"INDEX(${first}{row}:${last}{row},COLUMNS(${first}$1:${cell.column_letter}$1))"
    fetch_typed(book, sheet, name, {row: found}, hidden)


def _ask(sheet: Worksheet, cell: Cell, prompt: str, options: str) -> None:
    check = DataValidation(type="list", formula1=options, allow_blank=True) if options else DataValidation()
    check.prompt, check.showInputMessage = prompt, True
    if options:
        check.error, check.errorStyle, check.showErrorMessage = "Choose one from the list.", "warning", True
    check.add(cell.coordinate)
    sheet.add_data_validation(check)


def _draw_reading(sheet: Worksheet, row: int, club: int, part: str, number: str, formula: str) -> None:
    """Work out what a reference club reads in a hidden cell, and show it."""
    typed = {name: f"reference{club}_{name}" for name in REFERENCE_PARTS}
    hidden = sheet.cell(row, _HIDDEN + club - 1, read_locked(formula.format(**typed)))
    hidden.font = looks.WORKING
    first, last = _columns(club)
    for column in range(first, last + 1):
        sheet.cell(row, column).border = looks.RULE
    cell = sheet.cell(row, (first + last) // 2)  # no computed cell is merged
    at = f"${hidden.column_letter}{row}"
    cell.value = f"=HEFT_LABEL({at})" if part == "points" else f"={at}"
    cell.number_format, cell.font, cell.alignment = number, looks.TEXT, looks.CENTRED


def _tell_messages(sheet: Worksheet) -> None:
    """Say under the reference clubs what is wrong with one, and in the narrow cell that it is said there."""
    last = _READINGS_ROW + len(_READINGS) - 1
    shown = (_columns(1)[0], _columns(REFERENCES)[1])
    names, read = (
        f"${get_column_letter(one)}${_READINGS_ROW}:${get_column_letter(other)}${last}"
        for one, other in ((_LABEL, _LABEL), (_HIDDEN, _HIDDEN + REFERENCES - 1))
    )
    line = sheet.cell(last + 1, _LABEL, f"=HEFT_MESSAGES({names},{read})")
    line.font, line.alignment = looks.WARNING, looks.LEFT
    for letter in (get_column_letter(column) for column in range(shown[0], shown[1] + 1)):
        point_at_messages(sheet, f"{letter}{_READINGS_ROW}:{letter}{last}", POINTER_BELOW)


def _name_ranges(book: Workbook, sheet: Worksheet) -> None:
    """Name what formulas look up of all reference clubs, side by side."""
    rows = {part: row for row, part in enumerate(REFERENCE_PARTS, start=_FIRST_ROW)}
    rows |= {part: row for row, part in enumerate(_READINGS, start=_READINGS_ROW)}
    first, last = (get_column_letter(_HIDDEN + n) for n in (0, REFERENCES - 1))
    for part in REFERENCE_RANGES:
        name_cell(book, reference_range(part), sheet, f"${first}${rows[part]}:${last}${rows[part]}")


def _draw_offers(book: Workbook, sheet: Worksheet) -> None:
    """Write a line for each group, and the cell that asks for the change too."""
    section(sheet, _TITLE_ROW, (_OFFER, _LAST), OFFERS_TITLE)
    for n in range(TARGET.rows):
        row, source = _FIRST_ROW + n, GROUP_LINES.first_row + n
        group, offer = (f"${GROUP_LINES.letter(key)}{source}" for key in ("group", "offer"))
        name, line = sheet.cell(row, _OFFER), sheet.cell(row, _OFFER + 2)
        name.value, line.value = f'=IF({offer}="","",{group})', f"={offer}"
        name.font, line.font = looks.STRONG, looks.TEXT
        name.alignment = line.alignment = looks.LEFT
        rule = FormulaRule(formula=[f'LEFT({line.column_letter}{row},2)="! "'], font=looks.WARNING)
        sheet.conditional_formatting.add(line.coordinate, rule)
    _label(sheet, _OFFER_ROW, "Offer the change from club to club too", _OFFER)
    cell = merge_input(sheet, _OFFER_ROW, (_LAST - 2, _LAST - 1))
    cell.alignment = looks.CENTRED
    _ask(sheet, cell, "yes: the line may rise or fall along the set as it likes best. Blank: the change above is kept.",
         '"yes"')  # fmt: skip
    _name_typed(book, sheet, OFFER_CHANGE, cell, (_OFFER, _LAST), _HIDDEN)
