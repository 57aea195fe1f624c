"""How the sheets fit on paper, A4 and Letter alike."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.utils.cell import range_boundaries
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing.blocks import name_cell
from evenheft.order.layout import (
    BAND_ROW,
    CARD,
    LAST_ROW,
    LISTED,
    PRINTED,
    SET,
    SLOT_PARTS,
    SUMMARY,
    TARGET,
    USUAL,
    Table,
)

MARGIN = 0.2
"""White around a page [in]: what common printers leave."""
HEADER = 0.28
"""Room for the line over a page [in]."""
GUIDE_MARGIN = 0.45
CARD_SCALE = 90
"""What the card is printed at [%], on A4 and Letter alike."""


def set_print(sheet: Worksheet, table: Table) -> None:
    """Fit a club sheet on one page, A4 and Letter alike: landscape, all that is shown, no working column."""
    if table.name in _OF_THEIR_OWN:
        _OF_THEIR_OWN[table.name](sheet)
        return
    printed = [n for n, c in enumerate(table.columns, start=1) if c.role != "work" and c.band != LISTED]
    last = max(printed[-1], max(TARGET.at.values()) if table.name == "order" else 0)
    bottom = {"scale": LAST_ROW + 3 + len(SUMMARY)}.get(table.name, LAST_ROW)
    fit(sheet, f"A1:{get_column_letter(last)}{bottom}")


def _print_set(sheet: Worksheet) -> None:
    """Fit the Set sheet's table on one page, without the charts: with them type would be too small to read."""
    last = SET.letter(f"slot{PRINTED}_{SLOT_PARTS[-1][0]}")
    fit(sheet, f"A{BAND_ROW}:{last}{LAST_ROW + 4}")
    sheet.page_margins.top = MARGIN + HEADER
    sheet.oddHeader.left.text, sheet.oddHeader.left.size = "&A, &F", 12


def _print_card(sheet: Worksheet) -> None:
    """Print the card upright and at its own scale, so that its rows are as high as they are meant to be."""
    last = max(n for n, column in enumerate(CARD.columns, start=1) if column.role != "work")
    fit(sheet, f"A1:{get_column_letter(last)}{LAST_ROW}")
    sheet.page_setup.orientation = "portrait"
    sheet.sheet_properties.pageSetUpPr.fitToPage = False
    sheet.page_setup.fitToHeight = sheet.page_setup.fitToWidth = None
    sheet.page_setup.scale = CARD_SCALE


_OF_THEIR_OWN = {"set": _print_set, "card": _print_card}
"""Sheets that are printed in a way of their own."""


def print_guide(book: Workbook, bottom: int) -> None:
    """Fit the Guide on the width of a page, when asked; it is read, over as many pages as it takes."""
    sheet = book["Guide"]
    fit(sheet, f"A1:B{bottom}")
    sheet.page_setup.orientation = "portrait"
    sheet.page_setup.fitToHeight = 0
    for side in ("left", "right", "top", "bottom"):
        setattr(sheet.page_margins, side, GUIDE_MARGIN)
    sheet.oddFooter.center.text = "&A"
    _print_when_asked(book, sheet)


def print_shop(book: Workbook) -> None:
    """Fit the Shop sheet on one page, when asked."""
    sheet = book["Shop"]
    fit(sheet, f"A1:{get_column_letter(len(USUAL.columns))}{USUAL.last_row}")
    _print_when_asked(book, sheet)


def _print_when_asked(book: Workbook, sheet: Worksheet) -> None:
    """Leave a sheet off the paper when the order is printed: its page has a name, by which it is chosen and printed.

    The printed area is one cell that stays empty, beside the page; a page without content does not come out.
    """
    area = sheet.print_area.rpartition("!")[2]
    name_cell(book, f"{sheet.title.lower()}_page", sheet, area)
    sheet.print_area = f"{get_column_letter(range_boundaries(area)[2] + 1)}1"


def fit(sheet: Worksheet, area: str) -> None:
    """Print an area on one landscape page."""
    sheet.print_area = area
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = sheet.page_setup.fitToWidth = 1
    for side in ("left", "right", "top", "bottom", "header", "footer"):
        setattr(sheet.page_margins, side, MARGIN)
    sheet.print_options.horizontalCentered = True
