"""Small pieces of a sheet: a heading, an input, a run of merged cells, a section, a defined name."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.layout import READ


def paint_heading(cell: Cell, *, working: bool = False) -> None:
    """Give a cell the look of a heading, or of one over working columns."""
    cell.alignment = looks.CENTRED
    cell.border = looks.FRAME
    cell.font = looks.WORKING if working else looks.ON_DARK
    cell.fill = looks.BAND_FILL if working else looks.DARK_FILL


def paint_input(cell: Cell) -> None:
    """Give a cell the look of an input and take its lock off."""
    cell.fill, cell.border, cell.protection = looks.INPUT_FILL, looks.FRAME, looks.OPEN


def merge(sheet: Worksheet, row: int, columns: tuple[int, int], rows: int = 1) -> Cell:
    """Merge a run of cells in a row, or in several, and return the cell that holds the value."""
    sheet.merge_cells(start_row=row, end_row=row + rows - 1, start_column=columns[0], end_column=columns[1])
    cell: Cell = sheet.cell(row, columns[0])
    return cell


def merge_input(sheet: Worksheet, row: int, columns: tuple[int, int], rows: int = 1) -> Cell:
    """Merge a run of cells into one input and return the cell that holds the value."""
    cell = merge(sheet, row, columns, rows)
    for line in range(row, row + rows):
        for number in range(columns[0], columns[1] + 1):
            paint_input(sheet.cell(line, number))
    cell.font, cell.alignment = looks.TEXT, looks.WRAPPED if rows > 1 else looks.LEFT
    return cell


def section(sheet: Worksheet, row: int, columns: tuple[int, int], title: str) -> None:
    """Write the title of a block over its columns: not merged, as no label is, so that a screen reader finds cells."""
    cell = sheet.cell(row, columns[0])
    for number in range(columns[0], columns[1] + 1):
        sheet.cell(row, number).fill = looks.DARK_FILL
    cell.value, cell.font, cell.alignment = title, looks.ON_DARK, looks.LEFT


def name_cell(book: Workbook, name: str, sheet: Worksheet, address: str) -> None:
    """Let a defined name stand for a cell or a range of a sheet."""
    book.defined_names[name] = DefinedName(name, attr_text=f"{sheet.title}!{address}")


def absolute(cell: Cell) -> str:
    """Address of a cell with both its marks, e.g. "$C$4"."""
    return f"${cell.column_letter}${cell.row}"


def fetch_typed(book: Workbook, sheet: Worksheet, name: str, found: dict[int, str], column: int) -> None:
    """Fetch typed cells into hidden locked ones, which formulas read.

    Args:
        book: the workbook [-].
        sheet: the sheet of the typed cells [-].
        name: the name of the typed cells [-].
        found: by row, what finds a typed cell by locked ones: they stay whatever is cut or moved [-].
        column: the hidden column [-].
    """
    for row, reference in found.items():
        cell = sheet.cell(row, column, f'=IF({reference}="","",{reference})')
        cell.font = looks.WORKING
    letter = get_column_letter(column)
    sheet.column_dimensions[letter].hidden = True
    ends = dict.fromkeys((min(found), max(found)))
    name_cell(book, f"{name}{READ}", sheet, ":".join(f"${letter}${row}" for row in ends))
