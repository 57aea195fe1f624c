"""What a supplier's workbook brings back into an order: masses, as values, for the clubs that were asked for."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from evenheft.formulas.wording import is_blank
from evenheft.hosts.embedded import Computed
from evenheft.mechanics.doubt import Verdict, verdict
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.order.files import write_new
from evenheft.order.layout import SUPPLIER
from evenheft.order.supplier.book import ReturnedHead, ReturnedHeads
from evenheft.order.supplier.out import HeadsOrder, SupplierOrder, Wanted, heads_wanted, read_mass

SAME = 1e-9
"""Relative difference below which two masses are one [-]."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """What came back for one head that was asked for."""

    wanted: Wanted
    old: float | None
    """The mass that the order holds now [g]."""
    new: float | None
    """The mass that came back [g]."""
    verdict: Verdict | None
    problem: str
    """Why there is no new mass, or ""."""
    remark: str
    """The supplier's note, to be read; it is not written into the order."""

    @property
    def changes(self) -> bool:
        """Whether the order would hold another mass than now."""
        if self.new is None:
            return False
        return self.old is None or abs(self.new - self.old) > SAME * self.new

    @property
    def flagged(self) -> bool:
        """Whether a builder must look at it."""
        return self.verdict != "in" or bool(self.problem)


def arrivals(order: SupplierOrder, returned: ReturnedHeads) -> tuple[Arrival, ...]:
    """Match what came back with what was asked for.

    Raises:
        Refused: the file answers another order, or its clubs are not this order's.
    """
    heads = heads_wanted(order)
    _need_same_order(heads, returned, order.name)
    by_number = {head.number: head for head in returned.heads}
    return tuple(_arrival(order, wanted, by_number.get(wanted.number)) for wanted in heads.heads)


def written(order: SupplierOrder, found: tuple[Arrival, ...], to: Path) -> int:
    """Write a new workbook: the order with the masses that came back, and every formula's result refreshed.

    Args:
        order: the order that is received into [-].
        found: what came back [-].
        to: the new workbook, which must not exist yet [-].

    Returns:
        How many masses it holds that the order did not; with none, nothing is written [-].

    Raises:
        Refused: the new workbook cannot be written.
    """
    edits = _edits(order, found)
    if not edits:
        return 0
    with CheckedPackage(edited(order.package, edits), name=to.name) as received:
        content = refreshed(received, Computed(received).value)
    write_new(to, content)  # whole and last: what fails before it leaves no file
    return len(edits)


def _edits(order: SupplierOrder, found: tuple[Arrival, ...]) -> dict[CellAt, Edit]:
    factor = order.scale.mass.factor
    column = SUPPLIER.at["received"]
    return {
        (SUPPLIER.sheet, order.rows[arrival.wanted.number], column): Put(arrival.new / factor)
        for arrival in found
        if arrival.changes and arrival.new is not None
    }


def _need_same_order(heads: HeadsOrder, returned: ReturnedHeads, name: str) -> None:
    if returned.order_number != heads.number:
        answered = f"order {returned.order_number}" if returned.order_number else "an order without a number"
        raise Refused(f"{returned.name} answers {answered}, but {name} is order {heads.number}: nothing was taken")
    asked = {head.number: head for head in heads.heads}
    for head in returned.heads:
        if head.number not in asked:
            raise Refused(f"{returned.name} holds club {head.number} ({head.club}), which {name} does not ask for")
        if head.club != asked[head.number].club:
            raise Refused(
                f'{returned.name} calls club {head.number} "{head.club}", but it is "{asked[head.number].club}" '
                f"in {name}: nothing was taken"
            )


def _arrival(order: SupplierOrder, wanted: Wanted, head: ReturnedHead | None) -> Arrival:
    old = _held(order, wanted)
    if head is None:
        return Arrival(wanted, old, None, None, "its row is missing in what came back", "")
    problem = head.problem
    if head.mass is None and not problem:
        problem = "no mass was filled in"
    judged = None if head.mass is None else verdict(head.mass, wanted.mass, wanted.tolerance)
    if not problem and (_differs(head.wanted, wanted.mass) or _differs(head.tolerance, wanted.tolerance)):
        problem = "what was wanted has been changed since it was sent; judged by what the order says"
    return Arrival(wanted, old, head.mass, judged, problem, head.remark)


def _differs(found: float | None, sent: float) -> bool:
    return found is None or abs(found - sent) > SAME * max(1.0, sent)


def _held(order: SupplierOrder, wanted: Wanted) -> float | None:
    raw = order.cell("received", order.rows[wanted.number])
    if is_blank(raw):
        return None
    try:
        return read_mass(raw, order.scale, "the mass received")
    except ValueError:
        return None  # what cannot be read is replaced by what came back
