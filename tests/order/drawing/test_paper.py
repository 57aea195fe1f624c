"""Each sheet is one landscape page, whole in both directions: no row and no column is left for a second."""

from __future__ import annotations

import openpyxl
import pytest
from openpyxl.utils.cell import range_boundaries

from evenheft.order.drawing.template import build_order
from evenheft.order.layout import BAND_ROW, LAST_ROW, LISTED, PRINTED, SLOTS, TABLES

BEYOND = tuple(f"slot{number}_" for number in range(PRINTED + 1, SLOTS + 1))
"""Places on Set that a page has no room for; it says so where they are filled, as Parts does of what is LISTED."""


@pytest.fixture(scope="module")
def book() -> openpyxl.Workbook:
    return build_order()


def printed(sheet: openpyxl.worksheet.worksheet.Worksheet) -> tuple[int, int, int, int]:
    """What is on a sheet's page; of one that is printed when asked, the page that has a name."""
    named = sheet.parent.defined_names.get(f"{sheet.title.lower()}_page")
    if named is not None:
        return range_boundaries(named.attr_text.split("!")[-1].replace("$", ""))
    return range_boundaries(sheet.print_area.split("!")[-1].replace("$", ""))


def test_a_page_holds_a_sheet_in_its_height_and_in_its_width(book: openpyxl.Workbook) -> None:
    for sheet in book.worksheets:
        if sheet.title in ("Guide", "Card"):
            continue  # the guide is read, over as many pages as it takes; the card's rows have a height of their own
        assert sheet.sheet_properties.pageSetUpPr.fitToPage, sheet.title
        assert (sheet.page_setup.fitToHeight, sheet.page_setup.fitToWidth) == (1, 1), sheet.title
        assert not sheet.row_breaks.brk, sheet.title
        assert not sheet.col_breaks.brk, sheet.title


def test_every_club_and_every_column_that_is_shown_is_on_it(book: openpyxl.Workbook) -> None:
    for table in TABLES.values():
        left, top, right, bottom = printed(book[table.sheet])
        shown = [n for n, column in enumerate(table.columns, start=table.first_column)
                 if column.role != "work" and not column.key.startswith(BEYOND) and column.band != LISTED]  # fmt: skip
        assert (left, top) == (1, BAND_ROW if table.sheet == "Set" else 1)  # its charts are for the screen
        assert right >= max(shown, default=0), table.sheet
        assert bottom >= (LAST_ROW if table.rows > 8 else table.last_row), table.sheet


def test_guide_and_shop_print_nothing_but_an_empty_cell_until_they_are_asked_for(book: openpyxl.Workbook) -> None:
    for title in ("Guide", "Shop"):
        sheet = book[title]
        area = sheet.print_area.split("!")[-1].replace("$", "")
        assert sheet[area].value is None
        assert f"{title.lower()}_page" in {text for row in book["Guide"].iter_rows(values_only=True)
                                           for cell in row if cell for text in str(cell).split()}  # fmt: skip
