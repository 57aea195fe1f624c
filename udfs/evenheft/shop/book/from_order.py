"""An order read for the shop book: what its bench taught, what was built, what went into it, what the scale read."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path

from evenheft.formulas.kinds import finite_number
from evenheft.hosts.embedded import Computed
from evenheft.mechanics import units
from evenheft.mechanics.doubt import combined_doubt
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import CellError, Held
from evenheft.order.layout import FIRST_ROW, LAST_ROW, TABLES
from evenheft.order.report import open_order
from evenheft.shop.book.kept import KeptOrder, Row

_EPOCH = datetime.datetime(1899, 12, 30)
_DAY = 86_400
_MESSAGE = "! "


@dataclass(frozen=True, slots=True)
class _Order:
    """A computed order, whose masses and lengths come out in g and cm."""

    computed: Computed
    grams: float
    """Grams in the order's unit of mass."""
    centimetres: float
    """Centimetres in its unit of length."""

    def value(self, table: str, row: int, key: str) -> Held | None:
        """Look up a cell of a club, None where the layout has no such column or the cell holds a message."""
        declared = TABLES[table]
        if key not in declared.at:
            return None
        found = self.computed.value(declared.sheet, row, declared.at[key])
        is_message = isinstance(found, CellError) or (isinstance(found, str) and found.startswith(_MESSAGE))
        return None if is_message or found == "" else found

    def text(self, table: str, row: int, key: str) -> str | None:
        """Look up a text, None where there is none."""
        return plain_text(self.value(table, row, key)) or None

    def number(self, table: str, row: int, key: str, digits: int = 3) -> float | None:
        """Look up a number, None where there is none."""
        found = finite_number(self.value(table, row, key))
        return None if found is None else round(found, digits)

    def mass(self, table: str, row: int, key: str) -> float | None:
        """Look up a mass [g]."""
        return self._in(self.value(table, row, key), "mass", self.grams)

    def length(self, table: str, row: int, key: str) -> float | None:
        """Look up a length [cm]."""
        return self._in(self.value(table, row, key), "length", self.centimetres)

    def named_doubt(self, name: str) -> float:
        """Look up an instrument's plus or minus by its cell's name [g or cm]."""
        dimension, factor = ("mass", self.grams) if name == "doubt_mass" else ("length", self.centimetres)
        return self._in(self.computed.named_cell(name), dimension, factor) or 0.0

    def _in(self, value: Held | None, dimension: str, factor: float) -> float | None:
        if isinstance(value, str):
            symbol = "g" if dimension == "mass" else "cm"
            try:
                return round(units.read_quantity(value, units.UNITS[symbol].dimension, units.UNITS[symbol]), 4)
            except ValueError:
                return None
        number = finite_number(value)
        return None if number is None else round(number * factor, 4)


def order_to_keep(path: Path) -> KeptOrder:
    """Read what an order has to give to the book.

    Raises:
        Refused: it is no order, or cannot be read.
        EngineError: it cannot be computed.
    """
    computed = open_order(path).computed
    order = _Order(computed, _factor(computed, "unit_mass", "g"), _factor(computed, "unit_length", "cm"))
    day = _day(computed.named_cell("order_date"))
    customer = plain_text(computed.named_cell("order_customer")) or None
    fits: list[Row] = []
    orders: list[Row] = []
    used: list[Row] = []
    scale: list[Row] = []
    notes: list[str] = []
    for row in range(FIRST_ROW, LAST_ROW + 1):
        club = order.text("order", row, "club")
        number = order.number("order", row, "number")
        if club is None or number is None:
            continue
        own: Row = {"number": number, "date": day, "club": club}
        if (fit := _fit(order, row, own)) is not None:
            fits.append(fit)
        elif order.number("parts", row, "learned") is not None:
            notes.append(f"{club} taught a head rise, but has no head model on Parts: it is not kept")
        if (order.text("bench", row, "stage") or "").startswith("finished"):
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


def _factor(computed: Computed, name: str, standard: str) -> float:
    unit = units.UNITS.get(plain_text(computed.named_cell(name)))
    return unit.factor if unit is not None else units.UNITS[standard].factor


def _fit(order: _Order, row: int, own: Row) -> Row | None:
    """Return what the bench taught about a club's head, None where it taught nothing or the head has no model."""
    rise, head = order.length("parts", row, "learned"), order.mass("parts", row, "head_mass")
    model = order.text("parts", row, "model")
    mass = order.mass("parts", row, "taught_mass")
    balance = order.length("parts", row, "taught_balance")
    if rise is None or model is None or not head or mass is None or balance is None:
        return None
    # The rise is club length - fulcrum - (mass x balance - the other parts' moments) / head mass.
    doubt = combined_doubt(
        mass / head * order.named_doubt("doubt_balance"),
        balance / head * order.named_doubt("doubt_mass"),
        order.named_doubt("doubt_length"),
    )
    return {**own, "model": model, "head_mass": head, "rise": rise, "doubt": round(doubt, 4), "counts": 1.0}


def _finished(order: _Order, row: int) -> Row:
    return {
        "group": order.text("order", row, "group"),
        "model": order.text("parts", row, "model"),
        "head_mass": order.mass("parts", row, "head_mass"),
        "shaft": order.text("parts", row, "shaft_number"),
        "grip": order.text("parts", row, "grip_model"),
        "length": order.length("bench", row, "length"),
        "mass": order.mass("bench", row, "mass_used"),
        "balance": order.length("bench", row, "balance_used"),
        "target": order.value("set", row, "swingweight_target"),
        "reads": order.value("set", row, "swingweight_value"),
        "inertia_target": order.number("set", row, "inertia_target", 1),
        "inertia": order.number("set", row, "inertia_value", 1),
        "verdict": order.text("set", row, "flags"),
    }


def _used(order: _Order, row: int, number: float) -> list[Row]:
    """List the stock that went into a club: its shaft and grip, and each weight, one part a row."""
    first: dict[str, Held | None] = {
        "shaft": order.text("parts", row, "shaft_number"),
        "grip": order.text("parts", row, "grip_model"),
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


def _reading(order: _Order, row: int) -> Row | None:
    calculated, reading = order.number("scale", row, "calculated"), order.number("scale", row, "scale")
    if calculated is None or reading is None:
        return None
    return {"calculated": calculated, "reading": reading, "difference": round(reading - calculated, 3)}


def _day(value: object) -> float | None:
    """Count a day as a spreadsheet does, None where a cell holds none [days]."""
    if isinstance(value, datetime.date):  # a moment of that day too
        return float((datetime.date(value.year, value.month, value.day) - _EPOCH.date()).days)
    return finite_number(value)


def _today() -> float:
    """Tell the moment as a spreadsheet counts it, to the minute [days]."""
    seconds = (datetime.datetime.now().replace(second=0, microsecond=0) - _EPOCH).total_seconds()
    return round(seconds / _DAY, 6)
