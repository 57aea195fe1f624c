"""An order read for the shop book: what its bench taught, what was built, what went into it, what the scale read."""

from __future__ import annotations

import datetime
from pathlib import Path

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.kinds import finite_number
from evenheft.formulas.stages import STAGES
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import Held
from evenheft.order.cells import OrderCells
from evenheft.order.report import open_order
from evenheft.shop.book.kept import KeptOrder, KeptRow

_FINISHED = STAGES[1:]
"""The stages at which a club is finished."""
_EPOCH = datetime.datetime(1899, 12, 30)
_DAY = 86_400


def order_to_keep(path: Path) -> KeptOrder:
    """Read what an order has to give to the book.

    Raises:
        Refused: it is no order, or cannot be read.
        EngineError: it cannot be computed.
    """
    computed = open_order(path).computed
    order = OrderCells(computed)
    day = _day(computed.named_cell("order_date"))
    customer = plain_text(computed.named_cell("order_customer")) or None
    fits: list[KeptRow] = []
    orders: list[KeptRow] = []
    used: list[KeptRow] = []
    scale: list[KeptRow] = []
    notes: list[str] = []
    for row in order.numbers:
        club = order.text("order", row, "club")
        if club is None:
            continue
        number = float(row)
        own: KeptRow = {"number": number, "date": day, "club": club}
        if (fit := _fit(order, row, own)) is not None:
            fits.append(fit)
        elif order.number("parts", row, "learned") is not None:
            notes.append(f"{club} taught a head rise, but has no head model on Parts: it is not kept")
        if order.text("bench", row, "stage") in _FINISHED:
            orders.append({**own, "customer": customer, **_finished(order, row)})
            used += _used(order, row, number)
        if (reading := _reading(order, row)) is not None:
            scale.append({**own, **reading})
    return KeptOrder(plain_text(computed.named_cell("order_number")), tuple(orders), tuple(fits), tuple(used),
                     tuple(scale), tuple(notes))  # fmt: skip


def number_in(path: Path) -> str:
    """Read an order's number.

    Raises:
        Refused: as `order_to_keep`.
    """
    return plain_text(open_order(path).computed.named_cell("order_number"))


def _fit(order: OrderCells, row: int, own: KeptRow) -> KeptRow | None:
    """Return what the bench taught about a club's head, None where it taught nothing or the head has no model."""
    rise, head = order.length("parts", row, "learned"), order.mass("parts", row, "c_head_mass")
    model, doubt = order.text("parts", row, "model"), _doubt_of_rise(order, row)
    if rise is None or model is None or not head or doubt is None:
        return None
    return {**own, "model": model, "head_mass": head, "rise": rise, "doubt": round(doubt, 4), "counts": 1.0}


def _doubt_of_rise(order: OrderCells, row: int) -> float | None:
    """How far the rise that the bench taught may be off, as HEFT_HEAD_RISE_DOUBT tells it [cm]."""
    mass, balance = order.mass("parts", row, "taught_mass"), order.length("parts", row, "taught_balance")
    headings, cells = order.run(row, "bare")
    lacking = order.raw("parts", row, "taught_lacking")
    found = call(
        REGISTRY["HEFT_HEAD_RISE_DOUBT"], ([headings], [cells], mass, balance, lacking, None, order.instruments)
    )
    return found if isinstance(found, float) else None


def _finished(order: OrderCells, row: int) -> KeptRow:
    return {
        "group": order.text("order", row, "group"),
        "model": order.text("parts", row, "model"),
        "head_mass": order.mass("parts", row, "c_head_mass"),
        "shaft": order.value("parts", row, "shaft_number"),
        "grip": order.value("parts", row, "grip_model"),
        "length": order.length("bench", row, "length"),
        "mass": order.mass("bench", row, "mass_used"),
        "balance": order.length("bench", row, "balance_used"),
        "target": order.value("set", row, "swingweight_goal"),
        "reads": order.value("set", row, "swingweight_number"),
        "inertia_target": order.number("set", row, "inertia_goal", 1),
        "inertia": order.number("set", row, "inertia_number", 1),
        "verdict": order.text("set", row, "flags_in_full"),
    }


def _used(order: OrderCells, row: int, number: float) -> list[KeptRow]:
    """List the stock that went into a club: its shaft and grip, and each weight, one part a row."""
    first: dict[str, Held | None] = {
        "shaft": order.value("parts", row, "shaft_number"),
        "grip": order.value("parts", row, "grip_model"),
    }
    weights: list[dict[str, Held | None]] = [
        {"size": size, "where": where, "count": 1.0}
        for key, where in (("tip_weight", "head"), ("butt_weight", "butt"))
        if (size := order.mass("parts", row, key))
    ]
    if any(first.values()):
        weights = [{**first, **(weights[0] if weights else {})}, *weights[1:]]
    now = _today()
    return [{"number": number, "part": float(part), "kept": now, **row} for part, row in enumerate(weights, start=1)]


def _reading(order: OrderCells, row: int) -> KeptRow | None:
    calculated, reading = order.number("scale", row, "calculated"), order.number("scale", row, "scale")
    if calculated is None or reading is None:
        return None
    return {"calculated": calculated, "reading": reading, "difference": round(reading - calculated, 2) + 0.0}


def _day(value: object) -> float | None:
    """Count a day as a spreadsheet does, None where a cell holds none [days]."""
    if isinstance(value, datetime.date):  # a moment of that day too
        return float((datetime.date(value.year, value.month, value.day) - _EPOCH.date()).days)
    return finite_number(value)


def _today() -> float:
    """Tell the moment as a spreadsheet counts it, to the minute [days]."""
    seconds = (datetime.datetime.now().replace(second=0, microsecond=0) - _EPOCH).total_seconds()
    return round(seconds / _DAY, 6)
