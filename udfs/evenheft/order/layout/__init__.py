"""The layout of the order workbook: which cell holds what, told once.

The template is built from it, `check` reads by it, and the other commands find their
columns in it. A formula is written with names in braces: `{bench.period}` is the value of that
column for the same club, and a plain name such as `shop_units` is a defined name of the
workbook, which a builder can read in the cell as well.
"""

from __future__ import annotations

from evenheft.order.layout.card_sheet import BLANKS, CAUTION, SIGNED, TICKED
from evenheft.order.layout.grid import (
    BAND_ROW,
    CLUB_ROWS,
    FIRST_ROW,
    HEADING_ROW,
    KIND_NAME,
    KIND_OF_WORKBOOK,
    LAST_ROW,
    LAYOUT_VERSION,
    Column,
    Setting,
    Table,
)
from evenheft.order.layout.lines import RANGES as LINE_RANGES
from evenheft.order.layout.lines import REFERENCE_RANGES, REFERRED, reference_range
from evenheft.order.layout.order_sheet import (
    GROUP_HEADS,
    GROUP_NAMES,
    GROUPS,
    HEADER_FIELDS,
    OFFER_CHANGE,
    REFERENCE_PARTS,
    REFERENCES,
    TYPED_ON_ORDER,
    shipped_tolerance,
)
from evenheft.order.layout.parts_sheet import LISTED
from evenheft.order.layout.quantities import QUANTITIES, TARGET_PARTS, JudgedColumns, JudgedQuantity, judged
from evenheft.order.layout.references import CLUB_TABLES, TABLES, in_row
from evenheft.order.layout.scale_sheet import SUMMARY, SUMMARY_LINE
from evenheft.order.layout.set_sheet import (
    ALIKE,
    CHARTED,
    COUNTED,
    LOST_AT,
    LOST_NAME,
    NEEDS,
    NOTICES,
    PRINTED,
    ROOMS,
    SLOT_PARTS,
    SLOT_ROW,
    SLOTS,
    kind_of_error,
    not_followed,
    summary,
    told_of_deleted,
)
from evenheft.order.layout.shop_sheet import (
    EVERY_GROUP,
    FIXING,
    FORECAST_DOUBTS,
    INSTRUMENTS,
    READ,
    SETTINGS,
    SHIPPED_USUAL,
    STOCK_ROWS,
    STOCKS,
    UNIT_SETTINGS,
    USUALLY,
    read_locked,
)

ORDER, PARTS, CARD, BENCH, SET, FIX, SUPPLIER, SCALE = CLUB_TABLES.values()
TARGET, GROUP_LINES, USUAL, SHAFTS, GRIPS = (TABLES[name] for name in ("target", "line", "usual", "shafts", "grips"))

__all__ = [
    "ALIKE",
    "BAND_ROW",
    "BENCH",
    "BLANKS",
    "CARD",
    "CAUTION",
    "CHARTED",
    "CLUB_ROWS",
    "CLUB_TABLES",
    "COUNTED",
    "EVERY_GROUP",
    "FIRST_ROW",
    "FIX",
    "FIXING",
    "FORECAST_DOUBTS",
    "GRIPS",
    "GROUPS",
    "GROUP_HEADS",
    "GROUP_LINES",
    "GROUP_NAMES",
    "HEADER_FIELDS",
    "HEADING_ROW",
    "INSTRUMENTS",
    "KIND_NAME",
    "KIND_OF_WORKBOOK",
    "LAST_ROW",
    "LAYOUT_VERSION",
    "LINE_RANGES",
    "LISTED",
    "LOST_AT",
    "LOST_NAME",
    "NEEDS",
    "NOTICES",
    "OFFER_CHANGE",
    "ORDER",
    "PARTS",
    "PRINTED",
    "QUANTITIES",
    "READ",
    "REFERENCES",
    "REFERENCE_PARTS",
    "REFERENCE_RANGES",
    "REFERRED",
    "ROOMS",
    "SCALE",
    "SET",
    "SETTINGS",
    "SHAFTS",
    "SHIPPED_USUAL",
    "SIGNED",
    "SLOTS",
    "SLOT_PARTS",
    "SLOT_ROW",
    "STOCKS",
    "STOCK_ROWS",
    "SUMMARY",
    "SUMMARY_LINE",
    "SUPPLIER",
    "TABLES",
    "TARGET",
    "TARGET_PARTS",
    "TICKED",
    "TYPED_ON_ORDER",
    "UNIT_SETTINGS",
    "USUAL",
    "USUALLY",
    "Column",
    "JudgedColumns",
    "JudgedQuantity",
    "Setting",
    "Table",
    "in_row",
    "judged",
    "kind_of_error",
    "not_followed",
    "read_locked",
    "reference_range",
    "shipped_tolerance",
    "summary",
    "told_of_deleted",
]
