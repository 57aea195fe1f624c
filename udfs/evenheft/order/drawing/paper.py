"""How the sheets fit on paper, A4 and Letter alike."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.layout import LAST_ROW, SUMMARY, TARGET, USUAL, Table

MARGIN = 0.2
"""White around a page [in]: what common printers leave."""


def set_print(sheet: Worksheet, table: Table) -> None:
    """Fit a club sheet on one page, A4 and Letter alike: landscape, all that is shown, no working column."""
    printed = [n for n, column in enumerate(table.columns, start=1) if column.role != "work"]
    last = max(printed[-1], max(TARGET.at.values()) if table.name == "order" else 0)
    bottom = {"scale": LAST_ROW + 3 + len(SUMMARY)}.get(table.name, LAST_ROW)
    fit(sheet, f"A1:{get_column_letter(last)}{bottom}")


def print_shop(sheet: Worksheet) -> None:
    """Fit the Shop sheet on one page."""
    fit(sheet, f"A1:{get_column_letter(len(USUAL.columns))}{USUAL.last_row}")


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
