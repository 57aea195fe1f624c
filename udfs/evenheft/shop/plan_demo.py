"""An invented order whose plan brings in clubs that no correction of one club by itself could, and its shop book.

Every name and number is invented. Swingweight and inertia lead, and the length is ordered to the millimetre. Shafts of
one model differ by some grams, and lie beside the heads by chance. Three of eight clubs have too much inertia: whatever
is added anywhere adds to it, cutting leaves the length, a grip sits too near the butt to matter, and each shaft that is
free misses for want of a weight at the head. What lacks mass can be put right by stock weights alone.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from evenheft.hosts.embedded import Computed
from evenheft.mechanics.pairing.plan import Plan, outline, plan_set
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.values import Written
from evenheft.order.files import template_file, write_new
from evenheft.order.layout import FIRST_ROW, ORDER, PARTS, TARGET
from evenheft.order.report import open_order
from evenheft.shop.book.finding import BOOK_NAME
from evenheft.shop.book.grid import FIRST_BOOK_ROW
from evenheft.shop.book.layout import GRIP_LIST, SHAFT_LIST, WEIGHT_LIST
from evenheft.shop.plan_order import OrderToPlan, order_to_plan

_DAY = datetime.date(2026, 11, 25)
GRIP = "Invented cord"
BATCH_CLUBS: tuple[tuple[str, float, str], ...] = (
    ("4-iron", 256.9, "S1"), ("5-iron", 264.0, "S2"), ("6-iron", 270.6, "S3"), ("7-iron", 277.4, "S4"),
    ("8-iron", 283.4, "S5"), ("9-iron", 293.2, "S6"), ("Pitching wedge", 301.8, "S7"), ("Gap wedge", 311.6, "S8"),
)  # fmt: skip
"""Club, its head [g], and the shaft that lies beside it."""
_STOCK: tuple[tuple[str, float, float], ...] = (
    ("S1", 108.8, 48.9), ("S2", 107.1, 48.8), ("S3", 99.9, 48.6), ("S4", 99.7, 48.0), ("S5", 100.6, 48.3),
    ("S6", 102.1, 48.5), ("S7", 102.1, 48.1), ("S8", 108.2, 48.8), ("S9", 97.7, 48.3), ("S10", 95.8, 48.5),
    ("S11", 95.9, 48.2), ("S12", 95.3, 48.4),
)  # fmt: skip
"""Shafts by number: mass [g] and balance from the butt end [cm]."""
PIECES: tuple[tuple[float, str, int], ...] = (
    (2, "head", 4), (3, "head", 2), (4, "head", 2), (4, "butt", 2), (8, "butt", 1),
)  # fmt: skip
"""Stock weights: size [g], where, how many."""
OTHER_GRIPS = (("Invented light", 45.0), ("Invented heavy", 54.0))
"""Grips that are in the book besides: model and mass [g]."""
AIMS: dict[str, Written] = {
    "leads": "both",
    "swingweight_first": "D2", "swingweight_change": None, "swingweight_tolerance": 0.5,
    "inertia_first": 2702, "inertia_change": -12.4, "inertia_tolerance": 6,
    "length_first": "38.5 in", "length_change": "-0.5 in", "length_tolerance": "1 mm",
}  # fmt: skip
"""What is asked for, by the columns of the targets on Order: the length too, so that no club may be cut to fit."""


@dataclass(frozen=True)
class PlanDemo:
    """The files of the demo, and what correcting each club by itself could reach at best."""

    order: Path
    book: Path
    clubs: int
    as_it_stands: int
    """Clubs that are in as they lie there."""
    corrected: int
    """Clubs that are in once every club has got the best weights for the shaft beside it."""


def write_plan_demo(folder: Path) -> PlanDemo:
    """Write the order and its shop book into a folder.

    Args:
        folder: an empty folder [-].

    Raises:
        Refused: a file cannot be written.
    """
    from evenheft.shop.book.into_order import fill_edits, filled, numbers_of_book
    from evenheft.shop.book.reading import open_book

    book, order = folder / BOOK_NAME, folder / "demo-plan.xlsx"
    write_new(book, _typed(template_file("xlsx", "evenheft-shop").read_bytes(), _of_book()))
    numbers = numbers_of_book(open_book(book))
    content = filled(
        template_file("xlsx").read_bytes(),
        lambda computed: {**fill_edits(computed, numbers, book.name, _DAY), **_of_order(), **_named(computed)},
    )
    write_new(order, content)
    given = order_to_plan(open_order(order), None)
    plan = corrected_only(given)
    return PlanDemo(
        order, book, len(BATCH_CLUBS), outline(plan.as_it_stands).inside, outline(plan.clubs).inside
    )  # fmt: skip


def corrected_only(given: OrderToPlan) -> Plan:
    """Plan the best weights for every club with the shaft that lies beside it, the stock shared out at its best.

    Args:
        given: an order read for a plan [-].
    """
    batch = given.batch
    return plan_set(replace(batch, clubs=tuple(replace(club, decided="shaft") for club in batch.clubs)))


def _typed(template: bytes, edits: Mapping[CellAt, Edit]) -> bytes:
    with CheckedPackage(template, name="the template") as package:
        typed = edited(package, edits)
    with CheckedPackage(typed, name="the book") as package:
        return refreshed(package, Computed(package).value)


def _of_book() -> dict[CellAt, Edit]:
    """List what the book says of the stock."""
    found: dict[CellAt, Edit] = {}
    for row, (number, mass, balance) in enumerate(_STOCK, start=FIRST_BOOK_ROW):
        values: dict[str, Written] = {"number": number, "mass": mass, "length": "39 in", "balance": balance}
        found |= {(SHAFT_LIST.sheet, row, SHAFT_LIST.at[key]): Put(value) for key, value in values.items()}
    for row, (size, where, count) in enumerate(PIECES, start=FIRST_BOOK_ROW):
        values = {"size": size, "where": where, "counted": float(count), "on": _DAY}
        found |= {(WEIGHT_LIST.sheet, row, WEIGHT_LIST.at[key]): Put(value) for key, value in values.items()}
    for row, (model, mass) in enumerate(((GRIP, 50.0), *OTHER_GRIPS), start=FIRST_BOOK_ROW):
        values = {"model": model, "mass": mass, "balance": 11.0}
        found |= {(GRIP_LIST.sheet, row, GRIP_LIST.at[key]): Put(value) for key, value in values.items()}
    return found


def _of_order() -> dict[CellAt, Edit]:
    """List what is typed in the order: heads as weighed, shafts and grips by what names them in the book."""
    found: dict[CellAt, Edit] = {}
    for at, (name, head, shaft) in enumerate(BATCH_CLUBS):
        row = FIRST_ROW + at
        laid: dict[str, Written] = {"number": at + 1.0, "club": name, "group": "Irons"}
        found |= {(ORDER.sheet, row, ORDER.at[key]): Put(value) for key, value in laid.items()}
        parts: dict[str, Written] = {
            "model": "Invented blade", "head_mass": head, "club_length": f"{38.5 - at / 2:g} in", "shaft_number": shaft,
            "grip_model": GRIP, "tape": 1.4, "ferrule": 1.1, "epoxy": 2.5, "rise_known": "1.5 cm",
        }  # fmt: skip
        found |= {(PARTS.sheet, row, PARTS.at[key]): Put(value) for key, value in parts.items()}
    aim: dict[str, Written] = {"group": "Irons", **AIMS}
    found |= {(TARGET.sheet, TARGET.first_row + n, TARGET.at["group"]): Put(None) for n in range(1, TARGET.rows)}
    return found | {(TARGET.sheet, TARGET.first_row, TARGET.at[key]): Put(value) for key, value in aim.items()}


def _named(computed: Computed) -> dict[CellAt, Edit]:
    values: dict[str, Written] = {
        "order_number": "PLAN-1",
        "order_customer": "Invented customer",
        "order_date": _DAY,
        "order_note": "Invented for the demo: no such customer, no such clubs.",
    }
    areas = {name: computed.named_area(name) for name in values}
    return {area[:3]: Put(values[name]) for name, area in areas.items() if area is not None}
