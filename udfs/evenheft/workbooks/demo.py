"""An invented order: nine clubs for a made-up customer, one light, one heavy, one borderline.

Every name and number here is invented. The measures come from a made-up set of true parts,
read off with the instruments' doubt that the order states.
"""

from __future__ import annotations

import datetime
from typing import NamedTuple

from openpyxl import Workbook

from evenheft.workbooks.layout import BENCH, FIRST_ROW, ORDER, QUANTITIES, TARGET_COLUMN, TARGET_PARTS, TARGET_ROW
from evenheft.workbooks.template import build_order


class DemoClub(NamedTuple):
    """One invented club, as measured: g, cm, s, degrees."""

    name: str
    group: str
    mass: float
    balance: float
    period: float
    length: float | str
    loft: float
    lie: float


CLUBS = (
    DemoClub("Driver", "Driver", 316.1, 85.45, 2.061, "45 in", 10.5, 58.5),
    DemoClub("5-iron", "Irons", 419.6, 72.80, 1.880, "38 in", 26.0, 61.0),
    DemoClub("6-iron", "Irons", 421.9, 72.00, 1.868, "37 1/2 in", 29.5, 61.5),
    DemoClub("7-iron", "Irons", 433.2, 71.65, 1.858, "37 in", 33.0, 62.0),
    DemoClub("8-iron", "Irons", 439.8, 71.05, 1.846, "36 1/2 in", 37.0, 62.5),
    DemoClub("9-iron", "Irons", 452.0, 70.65, 1.835, "36 in", 41.0, 63.0),
    DemoClub("Pitching wedge", "Wedges", 455.1, 70.15, 1.828, "35 3/4 in", 46.0, 63.5),
    DemoClub("Gap wedge", "Wedges", 463.3, 69.95, 1.823, "35 1/2 in", 50.0, 64.0),
    DemoClub("Sand wedge", "Wedges", 469.3, 69.65, 1.817, "35 1/4 in", 54.0, 64.0),
)

PLANTED = {"6-iron": "swingweight low", "9-iron": "swingweight high", "Gap wedge": "swingweight re-measure"}
"""The clubs that are out on purpose, and what the Set sheet says of them."""

TARGETS: dict[str, dict[str, tuple[float | str, float, float]]] = {
    "Driver": {"swingweight": ("D3", 0, 0.5), "inertia": (2850, 0, 40), "length": (114.3, 0, 0.4)},
    "Irons": {
        "swingweight": ("D2", 0, 0.5),
        "inertia": (2685, -10, 60),
        "length": (96.52, -1.27, 0.4),
        "lie": (61, 0.5, 0.75),
    },
    "Wedges": {"swingweight": ("D3", 1, 0.5), "inertia": (2655, 15, 40), "length": (90.8, -0.635, 0.4)},
}
"""First value, increment and tolerance of each judged quantity in each group."""

NOTE = "Invented for the demo: no such customer, no such clubs."


def build_demo() -> Workbook:
    """Build the order workbook filled with the invented order."""
    book = build_order()
    order, bench = book["Order"], book["Bench"]
    for name, value in {
        "order_number": "DEMO-1",
        "order_customer": "Invented customer",
        "order_date": datetime.date(2026, 11, 25),
        "order_builder": "You",
        "order_note": NOTE,
    }.items():
        order[book.defined_names[name].attr_text.split("!")[1].replace("$", "")].value = value
    for row, club in enumerate(CLUBS, start=FIRST_ROW):
        order.cell(row, ORDER.at["club"]).value = club.name
        order.cell(row, ORDER.at["group"]).value = club.group
        measured = {
            "done_mass": club.mass,
            "done_balance": club.balance,
            "period": club.period,
            "length": club.length,
            "loft": club.loft,
            "lie": club.lie,
        }
        for key, value in measured.items():
            bench.cell(row, BENCH.at[key]).value = value
    _fill_targets(book)
    return book


def _fill_targets(book: Workbook) -> None:
    sheet = book["Order"]
    groups = [sheet[cell].value for cell in _group_cells(book)]
    for number, quantity in enumerate(QUANTITIES):
        for place, group in enumerate(groups):
            wanted = TARGETS.get(str(group), {}).get(quantity.key)
            for part, value in enumerate(wanted or ()):
                column = TARGET_COLUMN + place * len(TARGET_PARTS) + part
                sheet.cell(TARGET_ROW + number, column).value = value


def _group_cells(book: Workbook) -> list[str]:
    area = book.defined_names["order_groups"].attr_text.split("!")[1].replace("$", "")
    first, last = area.split(":")
    return [f"{first[0]}{row}" for row in range(int(first[1:]), int(last[1:]) + 1)]
