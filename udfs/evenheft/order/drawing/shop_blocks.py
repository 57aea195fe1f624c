"""The Shop sheet drawn from its declaration: units and instruments, stock, and what is usual by group."""

from __future__ import annotations

from collections.abc import Iterable

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, fetch_typed, name_cell, paint_input, section
from evenheft.order.drawing.tables import draw_table
from evenheft.order.layout import (
    FIRST_ROW,
    FIXING,
    FORECAST_DOUBTS,
    GRIPS,
    INSTRUMENTS,
    SHAFTS,
    SHIPPED_USUAL,
    STOCK_ROWS,
    STOCKS,
    UNIT_SETTINGS,
    USUAL,
    Setting,
    read_locked,
)
from evenheft.order.layout.grid import unit_heading

_SHEET = "Shop"
_STOCK_COLUMN = 8
_LEFT, _RIGHT = ((1, 1), 2, (3, 6)), ((8, 10), 11, (12, 14))
"""Columns of a setting's label, of its cell, and of its note: on the left, and under the stock."""
_DOUBTS_COLUMN = len(USUAL.columns) + 2
_READ_COLUMN = _DOUBTS_COLUMN + 3
"""Where hidden cells fetch what is typed: settings first, then each column of the stock."""


def draw_shop(book: Workbook) -> None:
    """Draw the Shop sheet."""
    sheet = book[_SHEET]
    row = _draw_settings(book, sheet, "Units", UNIT_SETTINGS, FIRST_ROW - 2)
    _draw_settings(book, sheet, "Instruments: their plus or minus", INSTRUMENTS, row)
    _draw_settings(book, sheet, "Weights", FIXING, FIRST_ROW + STOCK_ROWS + 1, _RIGHT)
    _draw_stock(book, sheet)
    _list_forecast_doubts(book, sheet)
    draw_table(sheet, USUAL)
    section(sheet, USUAL.first_row - 2, (1, len(USUAL.columns)),
            "What is usual, where Parts says nothing: for every group, and for a group of its own")  # fmt: skip
    for row, (name, usual) in enumerate(SHIPPED_USUAL.items(), start=USUAL.first_row):
        sheet.cell(row, USUAL.at["group"]).value = name
        for key, value in usual.items():
            sheet.cell(row, USUAL.at[key]).value = value
    sheet.cell(USUAL.first_row, USUAL.at["group"]).protection = looks.LOCKED
    sheet.cell(USUAL.first_row, USUAL.at["group"]).fill = looks.BAND_FILL
    sheet.row_dimensions[USUAL.first_row - 1].height = 40
    _draw_lists(sheet)


def _draw_lists(sheet: Worksheet) -> None:
    """Write the lists of shafts and grips that Parts finds by number and model: below what is printed."""
    for table, title in ((SHAFTS, "Shafts to choose from, by number"), (GRIPS, "Grips, by model")):
        draw_table(sheet, table)
        section(sheet, table.first_row - 2, (table.first_column, table.first_column + len(table.columns) - 1), title)
    sheet.row_dimensions[SHAFTS.first_row - 1].height = 40


def _draw_settings(book: Workbook, sheet: Worksheet, title: str, settings: Iterable[Setting], row: int,
                   columns: tuple[tuple[int, int], int, tuple[int, int]] = _LEFT) -> int:  # fmt: skip
    """Write a block of named settings, one under the other, and return the row after it."""
    label_at, cell_at, note_at = columns
    section(sheet, row, (label_at[0], note_at[1]), title)
    for setting in settings:
        row += 1
        label, cell, note = sheet.cell(row, label_at[0]), sheet.cell(row, cell_at), sheet.cell(row, note_at[0])
        label.value = setting.label
        label.font, label.alignment = looks.TEXT, looks.LEFT
        value = setting.value
        cell.value = read_locked(value) if setting.computed and isinstance(value, str) else value
        cell.alignment = looks.CENTRED
        cell.font = looks.LEAD if setting.computed else looks.TEXT
        if not setting.computed:
            paint_input(cell)
        note.value, note.font, note.alignment = setting.note, looks.LEAD, looks.LEFT
        if setting.options:
            check = DataValidation(type="list", formula1=f'"{",".join(setting.options)}"', allow_blank=False)
            check.error, check.showErrorMessage = "Choose one from the list.", True
            check.add(cell.coordinate)
            sheet.add_data_validation(check)
        name_cell(book, setting.name, sheet, absolute(cell))
        if not setting.computed:
            first, at, last = (get_column_letter(n) for n in (label_at[0], cell_at, note_at[0]))
            found = {row: f"INDEX(${first}{row}:${last}{row},COLUMNS(${first}$1:${at}$1))"}
            fetch_typed(
                book,
                sheet,
                setting.name,
                found,
                _READ_COLUMN if columns is _LEFT else _READ_COLUMN + 2 * len(STOCKS) + 1,
            )
    return row + 1


def _list_forecast_doubts(book: Workbook, sheet: Worksheet) -> None:
    """Write, in hidden columns, what forecasts read of the instruments: headings with their units, and values."""
    first, last = FIRST_ROW, FIRST_ROW + len(FORECAST_DOUBTS) - 1
    for row, (heading, unit, name) in enumerate(FORECAST_DOUBTS, start=first):
        for column, value in (
            (_DOUBTS_COLUMN, unit_heading(heading, unit)),
            (_DOUBTS_COLUMN + 1, read_locked(f"={name}")),
        ):
            cell = sheet.cell(row, column, value)
            cell.font = looks.WORKING
    letters = [get_column_letter(_DOUBTS_COLUMN + n) for n in (0, 1)]
    for letter in letters:
        sheet.column_dimensions[letter].hidden = True
    name_cell(book, "shop_doubts", sheet, f"${letters[0]}${first}:${letters[1]}${last}")


def _draw_stock(book: Workbook, sheet: Worksheet) -> None:
    """Write the lists of stock weights: sizes, and how many of each are there."""
    first = FIRST_ROW
    section(sheet, first - 2, (_STOCK_COLUMN, _STOCK_COLUMN + 2 * len(STOCKS) - 1), "Stock weights (g), and how many")
    for place, (sizes, counts, title, content) in enumerate(STOCKS):
        for part, (name, heading) in enumerate(((sizes, f"{title} (g)"), (counts, "How many"))):
            column = _STOCK_COLUMN + 2 * place + part
            head = sheet.cell(first - 1, column, heading)
            head.font, head.alignment, head.fill = looks.STRONG, looks.CENTRED, looks.BAND_FILL
            for row in range(first, first + STOCK_ROWS):
                cell = sheet.cell(row, column)
                paint_input(cell)
                cell.font, cell.alignment = looks.TEXT, looks.CENTRED
                at = row - first
                cell.value = content[at] if part == 0 and at < len(content) else None
            letter = head.column_letter
            last = first + STOCK_ROWS - 1
            name_cell(book, name, sheet, f"${letter}${first}:${letter}${last}")
            framed = f"${letter}${first - 1}:${letter}${last + 1}"
            found = dict.fromkeys(range(first, last + 1), f"INDEX({framed},ROW()-ROW(${letter}${first - 1})+1)")
            fetch_typed(book, sheet, name, found, _READ_COLUMN + column - _STOCK_COLUMN + 1)
