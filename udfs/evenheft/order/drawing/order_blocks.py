"""The blocks of the Order sheet around its table of clubs: settings, groups, stock, targets, defaults."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, merge, merge_input, name_cell, paint_heading, paint_input, section
from evenheft.order.layout import (
    DEFAULT_ROW,
    DEFAULT_TITLE_ROW,
    DEFAULTS,
    FIRST_ROW,
    FIXING,
    GROUP_NAMES,
    GROUPS,
    HEADER_FIELDS,
    HEADING_ROW,
    LAST_ROW,
    QUANTITIES,
    SETTING_ROW,
    SETTINGS,
    STOCK_ROW,
    STOCKS,
    TABLES,
    TARGET_COLUMN,
    TARGET_GROUP_ROW,
    TARGET_PART_ROW,
    TARGET_PARTS,
    TARGET_ROW,
    TARGET_TITLE_ROW,
    Setting,
)


def complete_order(book: Workbook) -> None:
    """Write all that stands on the Order sheet besides its table of clubs."""
    sheet = book["Order"]
    for number in range(len(TABLES["order"].columns) + 1, TARGET_COLUMN + GROUPS * len(TARGET_PARTS)):
        sheet.column_dimensions[get_column_letter(number)].width = 9
    _write_header_fields(book, sheet)
    section(sheet, HEADING_ROW, (_SETTING_COLUMNS[0][0], _SETTING_COLUMNS[2][1]), "Units and instruments")
    _write_settings(book, sheet, SETTINGS, SETTING_ROW, _SETTING_COLUMNS)
    _write_groups(book, sheet)
    _write_stock(book, sheet)
    _write_targets(book, sheet)
    _write_defaults(book, sheet)
    section(sheet, DEFAULT_TITLE_ROW, (_FIXING_COLUMNS[0][0], _FIXING_COLUMNS[2][1]), "Where weights go")
    _write_settings(book, sheet, FIXING, DEFAULT_ROW, _FIXING_COLUMNS)


_Block = tuple[tuple[int, int], tuple[int, int], tuple[int, int]]
"""Columns of a block of settings: label, value and note."""
_SETTING_COLUMNS: _Block = ((6, 9), (10, 11), (12, 14))
_FIXING_COLUMNS: _Block = ((8, 11), (12, 13), (14, 17))
_GROUP_COLUMNS = (15, 17)
_DEFAULT_NOTE = (4, 7)


def _write_header_fields(book: Workbook, sheet: Worksheet) -> None:
    """Who the order is for: two lines above the club table."""
    places = {
        "order_number": (3, (1, 2), (3, 4)),
        "order_customer": (3, (6, 7), (8, 11)),
        "order_date": (4, (1, 2), (3, 4)),
        "order_builder": (4, (6, 7), (8, 11)),
        "order_note": (5, (1, 2), (3, 17)),
    }
    for name, label in HEADER_FIELDS:
        row, label_at, value_at = places[name]
        told = merge(sheet, row, label_at)
        told.value, told.font, told.alignment = label, looks.STRONG, looks.LEFT
        cell = merge_input(sheet, row, value_at)
        if name == "order_date":
            cell.number_format = "yyyy-mm-dd"
        name_cell(book, name, sheet, absolute(cell))


def _write_settings(
    book: Workbook, sheet: Worksheet, settings: tuple[Setting, ...], first_row: int, block: _Block
) -> None:
    """Write a block of named settings, one under the other."""
    label_at, value_at, note_at = block
    for row, setting in enumerate(settings, start=first_row):
        label = merge(sheet, row, label_at)
        label.value, label.font, label.alignment = setting.label, looks.TEXT, looks.LEFT
        if setting.computed:
            cell = merge(sheet, row, value_at)
            cell.font, cell.alignment = looks.WORKING, looks.LEFT
        else:
            cell = merge_input(sheet, row, value_at)
        cell.value = setting.value
        note = merge(sheet, row, note_at)
        note.value, note.font, note.alignment = setting.note, looks.LEAD, looks.LEFT
        if setting.options:
            check = DataValidation(type="list", formula1=f'"{",".join(setting.options)}"', allow_blank=False)
            check.error, check.showErrorMessage = "Choose one from the list.", True
            check.add(cell.coordinate)
            sheet.add_data_validation(check)
        name_cell(book, setting.name, sheet, absolute(cell))


def _write_groups(book: Workbook, sheet: Worksheet) -> None:
    section(sheet, HEADING_ROW, _GROUP_COLUMNS, "Groups of clubs")
    for number, name in enumerate(GROUP_NAMES):
        merge_input(sheet, FIRST_ROW + number, _GROUP_COLUMNS).value = name
    letter = get_column_letter(_GROUP_COLUMNS[0])
    name_cell(book, "order_groups", sheet, f"${letter}${FIRST_ROW}:${letter}${FIRST_ROW + GROUPS - 1}")


def _write_stock(book: Workbook, sheet: Worksheet) -> None:
    """Write the lists of stock weights, one column each."""
    section(sheet, STOCK_ROW - 2, _GROUP_COLUMNS, "Stock weights (g)")
    for place, (name, title, sizes) in enumerate(STOCKS):
        column = _GROUP_COLUMNS[0] + place
        heading = sheet.cell(STOCK_ROW - 1, column, title)
        heading.font, heading.alignment, heading.fill = looks.STRONG, looks.CENTRED, looks.BAND_FILL
        for row in range(STOCK_ROW, LAST_ROW + 1):
            cell = sheet.cell(row, column)
            paint_input(cell)
            cell.font, cell.alignment = looks.TEXT, looks.CENTRED
            cell.value = sizes[row - STOCK_ROW] if row - STOCK_ROW < len(sizes) else None
        letter = get_column_letter(column)
        name_cell(book, name, sheet, f"${letter}${STOCK_ROW}:${letter}${LAST_ROW}")


def _write_defaults(book: Workbook, sheet: Worksheet) -> None:
    """Write the shop's defaults for loose parts: headings that HEFT_CLUB reads, beside their values."""
    section(sheet, DEFAULT_TITLE_ROW, (1, _DEFAULT_NOTE[1]), "Shop defaults for loose parts, used where Parts is blank")
    for row, (heading, value, note) in enumerate(DEFAULTS, start=DEFAULT_ROW):
        label = sheet.cell(row, 2, heading)
        label.font, label.alignment = looks.TEXT, looks.LEFT
        cell = sheet.cell(row, 3, value)
        cell.font, cell.alignment = looks.TEXT, looks.CENTRED
        if isinstance(value, str):
            cell.font = looks.WORKING
        else:
            paint_input(cell)
        told = sheet.cell(row, 4, note)
        told.font, told.alignment = looks.LEAD, looks.LEFT
    name_cell(book, "shop_defaults", sheet, f"$B${DEFAULT_ROW}:$C${DEFAULT_ROW + len(DEFAULTS) - 1}")


def _write_targets(book: Workbook, sheet: Worksheet) -> None:
    """Draw the table of targets: a row for each quantity, three columns for each group."""
    last = TARGET_COLUMN + GROUPS * len(TARGET_PARTS) - 1
    section(sheet, TARGET_TITLE_ROW, (1, last),
             "Targets: the first club's value, the change from club to club, and the deviation you accept. "
             "Leave a first value blank where a quantity is not judged.")  # fmt: skip
    for group in range(GROUPS):
        start = TARGET_COLUMN + group * len(TARGET_PARTS)
        cell = merge(sheet, TARGET_GROUP_ROW, (start, start + len(TARGET_PARTS) - 1))
        cell.value = f'=IF({get_column_letter(_GROUP_COLUMNS[0])}{FIRST_ROW + group}="","",' \
                     f"{get_column_letter(_GROUP_COLUMNS[0])}{FIRST_ROW + group})"  # fmt: skip
        cell.font, cell.alignment = looks.STRONG, looks.CENTRED
        for part, word in enumerate(TARGET_PARTS):
            sheet.cell(TARGET_GROUP_ROW, start + part).fill = looks.BAND_FILL
            paint_heading(sheet.cell(TARGET_PART_ROW, start + part, word.capitalize()))
    for number, quantity in enumerate(QUANTITIES):
        row = TARGET_ROW + number
        unit = quantity.unit
        label = merge(sheet, row, (1, 2))
        label.value = f'="{quantity.name} ("&{unit}&")"' if unit.startswith("unit_") else f"{quantity.name} ({unit})"
        if quantity.key == "swingweight":
            label.value = "Swingweight (D2 or points)"
        label.font, label.alignment = looks.STRONG, looks.LEFT
        for column in range(TARGET_COLUMN, last + 1):
            cell = sheet.cell(row, column)
            paint_input(cell)
            cell.font, cell.alignment = looks.TEXT, looks.CENTRED
        name_cell(book, f"target_{quantity.key}", sheet,
              f"${get_column_letter(TARGET_COLUMN)}${row}:${get_column_letter(last)}${row}")  # fmt: skip
    _warn_missing_tolerances(sheet, last)


def _warn_missing_tolerances(sheet: Worksheet, last: int) -> None:
    """Mark the tolerance cell that is blank beside a first value: nothing is judged without it."""
    rows = (TARGET_ROW, TARGET_ROW + len(QUANTITIES) - 1)
    fill = PatternFill("solid", bgColor=looks.MESSAGE_FILL)
    for start in range(TARGET_COLUMN, last, len(TARGET_PARTS)):
        first, tolerance = get_column_letter(start), get_column_letter(start + 2)
        sheet.conditional_formatting.add(
            f"{tolerance}{rows[0]}:{tolerance}{rows[1]}",
            FormulaRule(formula=[f'AND({first}{rows[0]}<>"",{tolerance}{rows[0]}="")'], fill=fill),
        )
