"""The layout of the order workbook: which cell holds what, told once.

The template is built from it, `check` reads by it, and the other commands find their
columns in it. A formula is written with names in braces: `{bench.mass}` is the cell of that
column in the same club row, and a plain name such as `shop_units` is a defined name of the
workbook, which a builder can read in the cell as well.
"""

from __future__ import annotations

from evenheft.order.layout.bench_sheet import (
    BENCH,
)
from evenheft.order.layout.fix_sheet import (
    FIX,
)
from evenheft.order.layout.grid import (
    BAND_ROW,
    CLUBS,
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
from evenheft.order.layout.order_sheet import (
    DEFAULT_ROW,
    DEFAULT_TITLE_ROW,
    DEFAULTS,
    FIXING,
    GROUP_NAMES,
    GROUPS,
    HEADER_FIELDS,
    ORDER,
    SETTING_ROW,
    SETTINGS,
    STOCK_ROW,
    STOCKS,
    TARGET_COLUMN,
    TARGET_GROUP_ROW,
    TARGET_PART_ROW,
    TARGET_PARTS,
    TARGET_ROW,
    TARGET_TITLE_ROW,
)
from evenheft.order.layout.parts_sheet import (
    PARTS,
)
from evenheft.order.layout.quantities import (
    CHARTED,
    QUANTITIES,
    Judged,
    Quantity,
    judged,
)
from evenheft.order.layout.references import (
    TABLES,
    in_row,
)
from evenheft.order.layout.scale_sheet import SCALE, SUMMARY
from evenheft.order.layout.set_sheet import (
    SET,
)
from evenheft.order.layout.supplier_sheet import (
    SUPPLIER,
)

__all__ = [
    "BAND_ROW",
    "BENCH",
    "CHARTED",
    "CLUBS",
    "DEFAULTS",
    "DEFAULT_ROW",
    "DEFAULT_TITLE_ROW",
    "FIRST_ROW",
    "FIX",
    "FIXING",
    "GROUPS",
    "GROUP_NAMES",
    "HEADER_FIELDS",
    "HEADING_ROW",
    "KIND_NAME",
    "KIND_OF_WORKBOOK",
    "LAST_ROW",
    "LAYOUT_VERSION",
    "ORDER",
    "PARTS",
    "QUANTITIES",
    "SCALE",
    "SET",
    "SETTINGS",
    "SETTING_ROW",
    "STOCKS",
    "STOCK_ROW",
    "SUMMARY",
    "SUPPLIER",
    "TABLES",
    "TARGET_COLUMN",
    "TARGET_GROUP_ROW",
    "TARGET_PARTS",
    "TARGET_PART_ROW",
    "TARGET_ROW",
    "TARGET_TITLE_ROW",
    "Column",
    "Judged",
    "Quantity",
    "Setting",
    "Table",
    "in_row",
    "judged",
]
