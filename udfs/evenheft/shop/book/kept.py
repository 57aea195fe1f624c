"""What an order has to give to the shop book, whatever the order's own layout: rows by list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from evenheft.ooxml.values import Held

KeptRow = Mapping[str, Held | None]


@dataclass(frozen=True)
class KeptOrder:
    """An order's rows for the lists of the book, values in g, cm and points, days as a spreadsheet counts them."""

    number: str
    orders: tuple[KeptRow, ...] = ()
    fits: tuple[KeptRow, ...] = ()
    used: tuple[KeptRow, ...] = ()
    scale: tuple[KeptRow, ...] = ()
    notes: tuple[str, ...] = field(default=())
    """What could not be kept, and why."""

    def rows(self, name: str) -> tuple[KeptRow, ...]:
        """Return the rows for a list, by its name in small letters."""
        found: tuple[KeptRow, ...] = getattr(self, name)
        return found
