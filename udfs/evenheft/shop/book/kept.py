"""What an order has to give to the shop book, whatever the order's own layout: rows by list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from evenheft.ooxml.values import Held

Row = Mapping[str, Held | None]


@dataclass(frozen=True)
class KeptOrder:
    """An order's rows for the lists of the book, values in g, cm and points, days as a spreadsheet counts them."""

    number: str
    orders: tuple[Row, ...] = ()
    fits: tuple[Row, ...] = ()
    used: tuple[Row, ...] = ()
    scale: tuple[Row, ...] = ()
    notes: tuple[str, ...] = field(default=())
    """What could not be kept, and why."""

    def rows(self, name: str) -> tuple[Row, ...]:
        """Return the rows for a list, by its name in small letters."""
        found: tuple[Row, ...] = getattr(self, name)
        return found
