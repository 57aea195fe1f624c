"""What the Card sheet has besides its table: whose it is, what to tick and mind, and rows high enough to write in."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import merge
from evenheft.order.drawing.paper import CARD_SCALE
from evenheft.order.layout import BLANKS, CARD, CAUTION, FIRST_ROW, HEADING_ROW, LAST_ROW, SIGNED, TICKED

ROW_MM = 8.2
"""How high a row is on paper [mm]: enough to write in; programs round it down a little."""
_POINTS_IN_MM = 72 / 25.4
_CAUTION_HEIGHT, _TICKED_HEIGHT, _HEADINGS = 27.0, 18.0, 40.0


def complete_card(sheet: Worksheet) -> None:
    """Write all that stands on the Card sheet besides its rows."""
    last = CARD.at[CARD.columns[-1].key]
    visible = [n for n, column in enumerate(CARD.columns, start=1) if column.role != "work"]
    right = visible[-1]
    assert right <= last
    order = sheet.cell(1, 6)
    order.value = '=IF(order_number="","","Order "&order_number)'
    order.font, order.alignment = looks.STRONG, looks.LEFT
    ticked, signed = sheet.cell(3, 1), sheet.cell(3, 11)
    ticked.value, signed.value = TICKED, SIGNED
    caution = merge(sheet, 4, (1, right))  # two lines need the width of all columns
    caution.value, caution.alignment = CAUTION, looks.WRAPPED
    for cell in (ticked, signed, caution):
        cell.font = looks.STRONG
    sheet.row_dimensions[3].height, sheet.row_dimensions[4].height = _TICKED_HEIGHT, _CAUTION_HEIGHT
    sheet.row_dimensions[HEADING_ROW].height = _HEADINGS
    for row in range(FIRST_ROW, LAST_ROW + 1):
        sheet.row_dimensions[row].height = ROW_MM * _POINTS_IN_MM / CARD_SCALE * 100
        for column in visible:
            sheet.cell(row, column).border = looks.FRAME
            if CARD.columns[column - 1].key.endswith("_wanted"):
                sheet.cell(row, column).font = looks.TEXT
    for key in BLANKS:
        sheet.cell(HEADING_ROW, CARD.at[key]).alignment = looks.CENTRED
