"""The blocks of the Order sheet around its clubs: who it is for, and the targets of each group."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, merge_input, name_cell
from evenheft.order.drawing.line_blocks import draw_lines
from evenheft.order.drawing.tables import draw_table
from evenheft.order.layout import (
    GROUP_LINES,
    GROUP_NAMES,
    HEADER_FIELDS,
    QUANTITIES,
    REFERRED,
    TARGET,
    shipped_tolerance,
)

_FIELDS = {
    "order_number": (3, (1, 2), (3, 5)),
    "order_customer": (3, (8, 9), (10, 15)),
    "order_date": (4, (1, 2), (3, 5)),
    "order_builder": (4, (8, 9), (10, 15)),
    "order_note": (3, (17, 18), (19, 30)),
}
"""Row, columns of the label and of the value of each field of the head."""


_NOTE_ROWS = 2
"""A note takes two lines."""
_GAP = 1.2
"""Width between the clubs and the targets."""


def complete_order(book: Workbook) -> None:
    """Write all that stands on the Order sheet besides its table of clubs."""
    sheet = book["Order"]
    _write_header_fields(book, sheet)
    draw_table(sheet, TARGET)
    sheet.column_dimensions[get_column_letter(TARGET.first_column - 1)].width = _GAP
    for row, name in enumerate(GROUP_NAMES, start=TARGET.first_row):
        sheet.cell(row, TARGET.at["group"]).value = name
        for quantity in QUANTITIES:
            sheet.cell(row, TARGET.at[f"{quantity.key}_tolerance"]).value = shipped_tolerance(name, quantity.key)
    name_cell(book, "order_groups", sheet, TARGET.whole("group").removeprefix("Order!"))
    _warn_missing_tolerances(sheet)
    draw_lines(book)
    notice = sheet.cell(TARGET.last_row + 1, TARGET.first_column)
    notice.value = (
        "Targets: the first club's value, the change from club to club, and the deviation you accept. A first value "
        "left blank is not judged, or as a reference club has it."
    )
    notice.font, notice.alignment = looks.LEAD, looks.LEFT


def _write_header_fields(book: Workbook, sheet: Worksheet) -> None:
    """Write who the order is for: two lines above the tables."""
    for name, label in HEADER_FIELDS:
        row, label_at, value_at = _FIELDS[name]
        label_cell = sheet.cell(row, label_at[0])
        label_cell.value, label_cell.font, label_cell.alignment = label, looks.STRONG, looks.LEFT
        cell = merge_input(sheet, row, value_at, rows=_NOTE_ROWS if name == "order_note" else 1)
        if name == "order_date":
            cell.number_format = "yyyy-mm-dd"
        name_cell(book, name, sheet, absolute(cell))


def _warn_missing_tolerances(sheet: Worksheet) -> None:
    """Mark the tolerance cell that is blank beside a first value: nothing is judged without it."""
    fill = PatternFill("solid", bgColor=looks.MESSAGE_FILL)
    row = TARGET.first_row
    for quantity in QUANTITIES:
        tolerance = TARGET.letter(f"{quantity.key}_tolerance")
        first = (GROUP_LINES if quantity in REFERRED else TARGET).letter(f"{quantity.key}_first")
        rule = FormulaRule(formula=[f'AND({first}{row}<>"",{tolerance}{row}="")'], fill=fill)
        sheet.conditional_formatting.add(f"{tolerance}{row}:{tolerance}{TARGET.last_row}", rule)
