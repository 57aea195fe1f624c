"""Builds the template of the shop book from its layout, with openpyxl and nothing remembered from a file."""

from __future__ import annotations

from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from evenheft import __version__
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import refresh_all
from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, name_cell, paint_heading, paint_input
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import SHIPPED_USUAL
from evenheft.order.layout.grid import KIND_NAME, Column
from evenheft.shop.book import guide
from evenheft.shop.book.grid import BOOK_HEADING_ROW, BOOK_VERSION, FIRST_BOOK_ROW, KIND_OF_BOOK, ListSheet, in_row
from evenheft.shop.book.layout import BOOK_SETTINGS, BOOK_SHEETS, HEAD_LIST, SHOP_LIST, USUAL_LIST
from evenheft.shop.book.questions import ASK, draw_ask, draw_scale_over_time
from evenheft.shop.book.taught import SPREAD_LABEL

BOOK_TEMPLATE = "evenheft-shop"
SPREAD = "shop_spread"
"""The defined name of how far heads of one model differ [cm]."""
USUAL_SPREAD = 0.1
"""Its shipped value, common practice without a published source [cm]."""
_GUIDE = "Guide"


def build_book() -> Workbook:
    """Build the empty shop book."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name in (_GUIDE, ASK):
        book.create_sheet(name)
    for declared in BOOK_SHEETS.values():
        draw_list(book.create_sheet(declared.sheet), declared)
    _fill_shop(book[SHOP_LIST.sheet])
    _fill_usual(book[USUAL_LIST.sheet])
    _draw_spread(book, book[HEAD_LIST.sheet])
    draw_ask(book, book[ASK])
    draw_scale_over_time(book[BOOK_SHEETS["scale"].sheet])
    _draw_guide(book, book[_GUIDE])
    for sheet in book.worksheets:
        sheet.sheet_view.showGridLines = False
    book.calculation.fullCalcOnLoad = True
    book.properties.title = "Shop book"
    book.properties.creator = "Evenheft"
    return book


def write_book_template(folder: Path) -> Path:
    """Write the template of the shop book into a folder, and return its path."""
    path = folder / f"{BOOK_TEMPLATE}.xlsx"
    path.write_bytes(save_bytes(build_book()))
    refresh_all(path, Computed.open(path).value)
    return path


def draw_head(sheet: Worksheet, title: str, lead: str) -> None:
    """Write a sheet's title and the line under it."""
    sheet["A1"].value, sheet["A1"].font = title, looks.TITLE
    sheet["A2"].value, sheet["A2"].font, sheet["A2"].alignment = lead, looks.LEAD, looks.LEFT
    sheet.row_dimensions[1].height = 24


def draw_list(sheet: Worksheet, declared: ListSheet) -> None:
    """Draw a list: its headings, and the rows that are prepared."""
    draw_head(sheet, declared.sheet, declared.lead)
    last = FIRST_BOOK_ROW + declared.prepared - 1
    for number, column in enumerate(declared.columns, start=1):
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].width = column.width
        sheet.column_dimensions[letter].hidden = column.role == "work"
        paint_heading(sheet.cell(BOOK_HEADING_ROW, number, column.heading), working=column.role == "work")
        for row in range(FIRST_BOOK_ROW, last + 1):
            _draw_cell(sheet.cell(row, number), column, declared)
        if column.prompt or column.options:
            _tell(sheet, column, f"{letter}{FIRST_BOOK_ROW}:{letter}{last}")
    sheet.row_dimensions[BOOK_HEADING_ROW].height = 42
    sheet.freeze_panes = sheet.cell(FIRST_BOOK_ROW, 1 + len(declared.key[:2]))
    shown = [n for n, column in enumerate(declared.columns, start=1) if column.role != "work"]
    sheet.auto_filter.ref = f"A{BOOK_HEADING_ROW}:{get_column_letter(shown[-1])}{last}"
    mark_messages(sheet, f"A{FIRST_BOOK_ROW}:{get_column_letter(shown[-1])}{last}")
    _set_print(sheet)


def mark_messages(sheet: Worksheet, area: str) -> None:
    """Colour a message wherever it arises, and what is low or does not belong together."""
    first = area.split(":")[0]
    fill = PatternFill("solid", bgColor=looks.MESSAGE_FILL)
    sheet.conditional_formatting.add(area, FormulaRule(formula=[f'LEFT({first},2)="! "'], fill=fill))
    low = PatternFill("solid", bgColor=looks.VERDICT_FILLS["high"])
    sheet.conditional_formatting.add(area, FormulaRule(formula=[f'{first}="low"'], fill=low))


def _draw_cell(cell: Cell, column: Column, declared: ListSheet) -> None:
    if column.formula:
        cell.value = in_row(column.formula, declared, cell.row, BOOK_SHEETS)
    cell.number_format = column.number
    cell.font = looks.WORKING if column.role == "work" else looks.TEXT
    cell.alignment = looks.WRAPPED if column.wrap else looks.LEFT if column.width >= 12 else looks.CENTRED
    if column.role == "input":
        paint_input(cell)
    elif column.role != "work":
        cell.border = looks.RULE


def _tell(sheet: Worksheet, column: Column, area: str) -> None:
    """Say at the cell what belongs there."""
    check = DataValidation(type="list" if column.options else None, formula1=column.options or None, allow_blank=True)
    check.promptTitle, check.prompt = column.heading[:32], column.prompt
    check.showInputMessage, check.showErrorMessage = True, bool(column.options)
    check.errorTitle, check.error = "Please check", f"Choose one from the list for {column.heading.lower()}."
    check.add(area)
    sheet.add_data_validation(check)


def _fill_shop(sheet: Worksheet) -> None:
    """Write what an order template ships, for the shop to correct once."""
    for row, setting in enumerate(BOOK_SETTINGS, start=FIRST_BOOK_ROW):
        for key, held in (("setting", setting.label), ("value", setting.value), ("note", setting.note)):
            sheet.cell(row, SHOP_LIST.at[key]).value = held
        if setting.options:
            check = DataValidation(type="list", formula1=f'"{",".join(setting.options)}"', allow_blank=False)
            check.error, check.showErrorMessage = "Choose one from the list.", True
            check.add(sheet.cell(row, SHOP_LIST.at["value"]).coordinate)
            sheet.add_data_validation(check)


def _fill_usual(sheet: Worksheet) -> None:
    for row, (name, usual) in enumerate(SHIPPED_USUAL.items(), start=FIRST_BOOK_ROW):
        sheet.cell(row, USUAL_LIST.at["group"]).value = name
        for key, value in usual.items():
            sheet.cell(row, USUAL_LIST.at[key]).value = value


def _draw_spread(book: Workbook, sheet: Worksheet) -> None:
    sheet["A3"].value, sheet["A3"].font = SPREAD_LABEL, looks.TEXT
    cell = sheet["C3"]
    cell.value, cell.number_format, cell.font, cell.alignment = USUAL_SPREAD, "0.00", looks.TEXT, looks.CENTRED
    paint_input(cell)
    name_cell(book, SPREAD, sheet, absolute(cell))


def _draw_guide(book: Workbook, sheet: Worksheet) -> None:
    draw_head(sheet, "Shop book", "What your shop has measured, kept for the next order.")
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 16, 100
    row = 4
    for word, text in guide.LINES:
        head, body = sheet.cell(row, 1, word), sheet.cell(row, 2, text)
        head.font, head.alignment = looks.STRONG, looks.GUIDE
        body.font, body.alignment = looks.TEXT, looks.GUIDE
        sheet.row_dimensions[row].height = 13.5 * max(1, -(-len(text) // 100)) + 3
        row += 1
    for label, text in (("Workbook", f"{KIND_OF_BOOK} {BOOK_VERSION}"), ("Made by", f"Evenheft {__version__}")):
        row += 1
        sheet.cell(row, 1, label).font = looks.LEAD
        cell = sheet.cell(row, 2, text)
        cell.font = looks.LEAD
        if label == "Workbook":
            name_cell(book, KIND_NAME, sheet, absolute(cell))
    _set_print(sheet)


def _set_print(sheet: Worksheet) -> None:
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0
    sheet.page_setup.fitToWidth = 1
    sheet.print_title_rows = f"{BOOK_HEADING_ROW}:{BOOK_HEADING_ROW}"
    sheet.oddFooter.center.text = "&A, &P of &N"
