"""The bench card of an order by itself: its sheet with values in place of formulas, for paper."""

from __future__ import annotations

from typing import Literal

from openpyxl.worksheet.worksheet import Worksheet

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import plain_text
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import CARD, FIRST_ROW, LAST_ROW
from evenheft.order.report import OpenedOrder

Paper = Literal["a4", "letter"]


def card_of(opened: OpenedOrder, paper: Paper) -> bytes:
    """Make a workbook of the card alone: the template's own sheet, with what the order computes.

    Args:
        opened: the order [-].
        paper: what it is printed on [-].

    Raises:
        Refused: the order has no card, or no club has a name.
    """
    computed = opened.computed
    if CARD.sheet not in computed.sheet_names:
        raise Refused(
            f"{opened.path.name} was made before there was a bench card: carry it into a new order with "
            f"evenheft new NEW.xlsx --from {opened.path.name}"
        )
    book = build_order()
    sheet: Worksheet = book[CARD.sheet]
    for row in sheet.iter_rows():
        for cell in row:
            if isinstance(cell.value, str) and cell.value.startswith("="):
                value = computed.value(CARD.sheet, cell.row, cell.column)
                cell.value = value if isinstance(value, (int, float)) else _lines(value)
                if isinstance(cell.value, str):
                    cell.data_type = "s"  # what a stranger's order computes is never a formula here
    club = CARD.at["club"]
    if not any(sheet.cell(row, club).value for row in range(FIRST_ROW, LAST_ROW + 1)):
        raise Refused(f"{opened.path.name} names no club yet: write them on Order first")
    for other in book.sheetnames:
        if other != CARD.sheet:
            del book[other]
    book.defined_names.clear()
    book.calculation.fullCalcOnLoad = False
    sheet.page_setup.paperSize = sheet.PAPERSIZE_LETTER if paper == "letter" else sheet.PAPERSIZE_A4
    return save_bytes(book)


def _lines(value: object) -> str:
    """Return a text without characters that a program would obey; its lines stay."""
    return "\n".join(plain_text(line) for line in value.split("\n")) if isinstance(value, str) else plain_text(value)
