"""An invented order: nine clubs for a made-up customer, one light, one heavy, one borderline.

Every name and number here is invented. The measures come from a made-up set of true parts,
read off with the instruments' doubt that the order states: the driver arrived assembled, the 5-iron
is finished, the others are dry fits that still lack epoxy, ferrule or the grip itself.
"""

from __future__ import annotations

import datetime
from typing import NamedTuple

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing.template import build_order
from evenheft.order.layout import (
    BENCH,
    FIRST_ROW,
    ORDER,
    PARTS,
    SUPPLIER,
    TARGET,
    TARGET_PARTS,
    Table,
)


class DemoParts(NamedTuple):
    """Loose parts of an invented club, as weighed [g] and measured."""

    model: str
    head: float
    shaft: float
    shaft_length: str
    shaft_balance: float
    grip: float
    ferrule: float | None
    cut_grip: float | None


class DemoClub(NamedTuple):
    """An invented club, as measured: g, cm, s for `DEMO_SWINGS` swings, degrees."""

    name: str
    group: str
    length: str
    loft: float
    lie: float
    mass: float
    balance: float
    period: float
    lacking: str | None
    """What the dry fit lacks; None for a club that is finished."""
    parts: DemoParts | None
    """Loose parts, or None for a club that arrived assembled."""
    hooked: str | None = None


def _iron(head: float, shaft: float, grip: float) -> DemoParts:
    return DemoParts("Iron set A", head, shaft, "39 in", 48.0, grip, 1.1, None)


def _wedge(head: float, shaft: float, grip: float) -> DemoParts:
    return DemoParts("Wedge set B", head, shaft, "37 in", 45.6, grip, 1.1, 46.0)


DEMO_CLUBS = (
    DemoClub("Driver", "Driver", "45 in", 10.5, 58.5, 316.1, 85.45, 61.83, None, None),
    DemoClub("5-iron", "Irons", "38 in", 26.0, 61.0, 415.5, 73.15, 56.61, None, _iron(259.6, 108.9, 49.8)),
    DemoClub("6-iron", "Irons", "37 1/2 in", 29.5, 61.5, 414.0, 72.20, 56.22, "epoxy, ferrule",
             _iron(262.4, 109.1, 50.4)),
    DemoClub("7-iron", "Irons", "37 in", 33.0, 62.0, 424.8, 71.95, 55.92, "epoxy, ferrule",
             _iron(274.3, 109.9, 50.1)),
    DemoClub("8-iron", "Irons", "36 1/2 in", 37.0, 62.5, 429.9, 71.45, 55.59, "epoxy, ferrule",
             _iron(280.8, 110.5, 49.6)),
    DemoClub("9-iron", "Irons", "36 in", 41.0, 63.0, 443.0, 70.95, 55.23, "epoxy, ferrule",
             _iron(293.0, 112.4, 50.3)),
    DemoClub("Pitching wedge", "Wedges", "35 3/4 in", 46.0, 63.5, 452.7, 70.30, 54.87, "epoxy, cut grip",
             _wedge(292.9, 121.3, 50.2)),
    DemoClub("Gap wedge", "Wedges", "35 1/2 in", 50.0, 64.0, 460.6, 70.10, 54.69, "epoxy, cut grip",
             _wedge(300.5, 122.5, 49.9)),
    DemoClub("Sand wedge", "Wedges", "35 1/4 in", 54.0, 64.0, 465.8, 69.45, 54.54, "epoxy, cut grip",
             _wedge(305.9, 123.3, 50.5), "shaft end"),
)  # fmt: skip
DEMO_READINGS = {
    "Driver": "D3.3",
    "5-iron": "D2",
    "6-iron": "C8.5",
    "7-iron": "D0.9",
    "9-iron": "D2.6",
    "Pitching wedge": "D3.0",
    "Sand wedge": "D5.0",
}
"""What the swingweight scale showed of some of them, as they were measured."""
BORE_TO_GROUND, TAPE, EPOXY = 3.6, 1.4, 2.5
"""The same on all of its irons and wedges [cm, g, g]."""

DEMO_SWINGS = 30
"""Swings that its builder counts [-]."""
BENCH_OF_ITS_OWN: dict[str, object] = {
    "doubt_balance": "0.05 cm",
    "shop_swings": DEMO_SWINGS,
    "doubt_length": "0.1 cm",
    "doubt_pivot": "0.05 cm",
    "doubt_gravity": 0.1,
    "doubt_epoxy": "0.2 g",
    "doubt_grip_balance": "0.2 cm",
}
"""Its instruments, by the names of their settings: finer than those that a new order ships with."""

PLANTED = {"6-iron": "swingweight low", "9-iron": "swingweight high", "Gap wedge": "swingweight re-measure"}
"""The clubs that are out on purpose, and what the Set sheet says of them."""

DEMO_TARGETS: dict[str, dict[str, tuple[float | str, float, float]]] = {
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

NOTE = (
    "Invented: no such customer, no such clubs. Its bench is finer than a new order's: thirty swings, balance on a "
    "rule's edge, both ways."
)


def build_demo() -> Workbook:
    """Build the order workbook filled with the invented order."""
    book = build_order()
    order, parts, bench, supplier = (book[name] for name in ("Order", "Parts", "Bench", "Supplier"))
    for name, value in {
        "order_number": "DEMO-1",
        "order_customer": "Invented customer",
        "order_date": datetime.date(2026, 11, 25),
        "order_builder": "You",
        "order_note": NOTE,
    }.items():
        _fill_named(book, name, value)
    for name, value in BENCH_OF_ITS_OWN.items():
        _fill_named(book, name, value)
    for row, club in enumerate(DEMO_CLUBS, start=FIRST_ROW):
        _fill(order, ORDER, row, {"club": club.name, "group": club.group})
        _fill(bench, BENCH, row, _bench_cells(club))
        if club.parts is not None:
            _fill(parts, PARTS, row, _parts_cells(club, club.parts))
            _fill(supplier, SUPPLIER, row, {"wanted": club.parts.head, "tolerance": 2, "loft": club.loft,
                                            "lie": club.lie, "quantity": 1})  # fmt: skip
    _fill_targets(book)
    return book


def _fill_named(book: Workbook, name: str, value: object) -> None:
    sheet, _, cell = book.defined_names[name].attr_text.partition("!")
    book[sheet][cell.replace("$", "")].value = value


def _bench_cells(club: DemoClub) -> dict[str, object]:
    stage = "done" if club.lacking is None else "dry"
    return {
        f"{stage}_mass": club.mass,
        f"{stage}_balance": club.balance,
        f"{stage}_hooked": club.hooked,
        "dry_lacking": club.lacking,
        "period": club.period,
        "reading": DEMO_READINGS.get(club.name),
        "length": club.length,
        "loft": club.loft,
        "lie": club.lie,
    }


def _parts_cells(club: DemoClub, parts: DemoParts) -> dict[str, object]:
    return {
        "model": parts.model,
        "head_mass": parts.head,
        "bore_to_ground": BORE_TO_GROUND,
        "club_length": club.length,
        "shaft_mass": parts.shaft,
        "shaft_length": parts.shaft_length,
        "shaft_balance": parts.shaft_balance,
        "grip_mass": parts.grip,
        "tape": TAPE,
        "ferrule": parts.ferrule,
        "epoxy": EPOXY,
        "cut_grip_mass": parts.cut_grip,
    }


def _fill(sheet: Worksheet, table: Table, row: int, values: dict[str, object]) -> None:
    for key, value in values.items():
        sheet.cell(row, table.at[key]).value = value


def _fill_targets(book: Workbook) -> None:
    sheet = book[TARGET.sheet]
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        wanted = DEMO_TARGETS.get(str(sheet.cell(row, TARGET.at["group"]).value), {})
        for quantity, parts in wanted.items():
            for part, value in zip(TARGET_PARTS, parts, strict=True):
                sheet.cell(row, TARGET.at[f"{quantity}_{part}"]).value = value
