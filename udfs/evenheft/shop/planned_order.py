"""A plan typed into a new copy of its order: shafts on Parts, weights on Fix as a plan; the order stays as it was."""

from __future__ import annotations

from pathlib import Path

from evenheft.hosts.embedded import Computed
from evenheft.mechanics.pairing.plan import Plan, Planned
from evenheft.mechanics.pairing.problem import ClubToBuild, Shaft
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.replace import state_of
from evenheft.ooxml.values import Written
from evenheft.order.files import free_name, write_new
from evenheft.order.layout import BENCH, FIX, PARTS, Table
from evenheft.shop.plan_order import OrderToPlan, unnumbered

_DIGITS = 6
"""Decimals to which a mass or a length is typed [-]."""
DRAWN = ("points", "inertia")
"""What leads in the chart on Fix; a total mass or a frequency that counts beside them is not drawn."""


def planned_name(order: Path) -> Path:
    """Find a name for the planned order beside the order, which no file has yet."""
    return free_name(order.parent, f"{order.stem}-planned", order.suffix.lstrip("."))


def plan_edits(given: OrderToPlan, plan: Plan) -> dict[CellAt, Edit]:
    """List what a plan changes in its order: cells by sheet, row and column.

    Args:
        given: the order that was planned [-].
        plan: its plan [-].
    """
    shafts = {shaft.label: shaft for shaft in given.batch.shafts}
    found: dict[CellAt, Edit] = {}
    for number, club, planned, before in zip(
        given.numbers, given.batch.clubs, plan.clubs, plan.as_it_stands, strict=True
    ):
        _type_before(found, given, number, before)
        if club.decided == "club":
            continue
        if planned.shaft != club.laid_shaft:
            _type_shaft(found, given, number, shafts.get(planned.shaft or ""))
        _type_weights(found, given, number, club, planned)
    return found


def write_planned(given: OrderToPlan, edits: dict[CellAt, Edit], to: Path) -> None:
    """Write the planned order as a new workbook, with every result computed.

    Args:
        given: the order that was planned [-].
        edits: from `plan_edits` [-].
        to: the new file, which must not exist yet [-].

    Raises:
        Refused: the order has changed since it was read, or the file cannot be written.
    """
    order = given.order
    if state_of(order.path) != order.state:
        raise Refused(f"{order.path.name} was changed while it was planned: plan it again")
    typed = edited(order.package, edits)
    with CheckedPackage(typed, name=to.name) as package:
        content = refreshed(package, Computed(package).value)
    write_new(to, content)


def _put(found: dict[CellAt, Edit], given: OrderToPlan, table: Table, number: int, key: str, value: Written) -> None:
    row = given.cells.rows(table.name).get(number)
    if row is None or key not in table.at:
        return
    held = given.cells.raw(table.name, number, key)
    if value != held:
        found[table.sheet, row, table.at[key]] = Put(value)


def _type_shaft(found: dict[CellAt, Edit], given: OrderToPlan, number: int, shaft: Shaft | None) -> None:
    cells = given.cells
    nameless = {unnumbered(club.label) for club in given.batch.clubs}
    label = None if shaft is None or shaft.label in nameless else _as_typed(shaft.label)
    _put(found, given, PARTS, number, "shaft_number", label)
    measures = (
        ("shaft_mass", None if shaft is None else shaft.mass, cells.grams),
        ("shaft_length", None if shaft is None else shaft.length, cells.centimetres),
        ("shaft_balance", None if shaft is None else shaft.balance, cells.centimetres),
    )
    for key, value, unit in measures:
        _put(found, given, PARTS, number, key, None if value is None else round(value / unit, _DIGITS))


def _as_typed(label: str) -> Written:
    """Return a number as a number, which is how a person types it and the lists hold it."""
    number = float(label) if label.isdecimal() else None
    return number if number is not None and f"{number:.0f}" == label else label


def _type_weights(
    found: dict[CellAt, Edit], given: OrderToPlan, number: int, club: ClubToBuild, planned: Planned
) -> None:
    cells = given.cells
    head, butt = planned.added("head"), planned.added("butt")
    if head or any(piece.place == "head" for piece in club.laid_pieces):
        _put(found, given, FIX, number, "head_added", round(head / cells.grams, _DIGITS) if head else None)
    if not butt:
        return
    if "butt_added" in FIX.at:
        _put(found, given, FIX, number, "butt_added", round(butt / cells.grams, _DIGITS))
        return
    # The sheet Fix plans at the head alone: a weight in the butt is one of the club's parts, which a dry fit lacks.
    there = cells.mass("parts", number, "c_butt_weight") or 0.0
    _put(found, given, PARTS, number, "butt_weight", round((butt + there) / cells.grams, _DIGITS))
    if club.decided == "shaft" and not there:
        lacking = cells.text("bench", number, "dry_lacking")
        text = f"{lacking}, butt weight" if lacking and lacking.lower() != "none" else "butt weight"
        _put(found, given, BENCH, number, "dry_lacking", text)


def _type_before(found: dict[CellAt, Edit], given: OrderToPlan, number: int, before: Planned) -> None:
    """Keep how far a club was off before it was planned, in tolerances, for the chart of before and after."""
    shares = [one.deviation / one.tolerance for one in before.readings if one.leading in DRAWN]
    if shares:
        share = max(shares, key=lambda one: abs(one))
        _put(found, given, FIX, number, "before_plan", round(share, _DIGITS))
