"""How the sheets fit on paper, A4 and Letter alike."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.pagebreak import Break, ColBreak
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.layout import DEFAULT_ROW, DEFAULTS, GROUPS, LAST_ROW, SUMMARY, TARGET_COLUMN, TARGET_PARTS, Table

SECOND_PAGE_AFTER = {"Set": "inertia_verdict", "Parts": "cut_grip_mass", "Fix": "head_inertia"}
"""The last column of the first page, on the sheets that are too wide for one."""


def set_print(sheet: Worksheet, table: Table) -> None:
    """Fit A4 and Letter alike: landscape, one page high, the clubs' names on every page."""
    printed = [n for n, column in enumerate(table.columns, start=1) if column.role != "work"]
    last = max(printed[-1], TARGET_COLUMN + GROUPS * len(TARGET_PARTS) - 1 if table.sheet == "Order" else 0)
    bottom = {"Order": DEFAULT_ROW + len(DEFAULTS), "Set": LAST_ROW + 20, "Scale": LAST_ROW + 2 + len(SUMMARY)}.get(
        table.sheet, LAST_ROW
    )
    sheet.print_area = f"A1:{get_column_letter(last)}{bottom}"
    sheet.print_title_cols = "A:B"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 1
    sheet.page_setup.fitToWidth = 1
    if table.sheet in SECOND_PAGE_AFTER:
        after = table.at[SECOND_PAGE_AFTER[table.sheet]]
        # Programs that fit a sheet to its pages break it where the paper ends, not where they are told.
        sheet.sheet_properties.pageSetUpPr.fitToPage = False
        sheet.page_setup.scale = _scale(table, (after, last), bottom, sheet)
        sheet.col_breaks = ColBreak(brk=[Break(id=after)])
    for side in ("left", "right", "top", "bottom"):
        setattr(sheet.page_margins, side, 0.4)
    sheet.oddFooter.left.text = "&F"
    sheet.oddFooter.center.text = "&A"
    sheet.oddFooter.right.text = "&P of &N"


_WIDEST, _HIGHEST = 10.2, 7.4
"""What A4 and Letter both hold between margins of 0.4 in, in inches."""


def _scale(table: Table, page_ends: tuple[int, int], bottom: int, sheet: Worksheet) -> int:
    """How small a sheet must be printed so that both its pages fit, in percent."""
    repeated = 2

    def inches(first: int, last: int) -> float:
        # Excel takes 7.4 dots a character; LibreOffice without Excel's font up to 9.4.
        return sum(column.width * 9.4 for column in table.columns[first:last]) / 96

    first_page = inches(0, page_ends[0])
    second_page = inches(0, repeated) + inches(page_ends[0], page_ends[1])
    high = sum(sheet.row_dimensions[row].height or 15 for row in range(1, bottom + 1)) / 72
    return int(99 * min(_WIDEST / max(first_page, second_page), _HIGHEST / high, 1))
