"""What the Parts sheet has besides its table: where on paper the columns are that a page has no room for."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.layout import LISTED, PARTS

NOT_ON_THE_PAGE = f"What was taken {LISTED[0].lower()}{LISTED[1:]} stands to the right, not on the printed page."


def complete_parts(sheet: Worksheet) -> None:
    """Say beside the title that shafts or grips were taken from the lists, whose columns are not printed."""
    typed = [column.key for column in PARTS.columns if column.band == LISTED and column.role == "input"]
    counts = "+".join(f"COUNTA({PARTS.whole(key).removeprefix('Parts!')})" for key in typed)
    cell = sheet.cell(1, PARTS.at["model"])
    cell.value = f'=IF({counts}=0,"","{NOT_ON_THE_PAGE}")'
    cell.font, cell.alignment = looks.STRONG, looks.LEFT
