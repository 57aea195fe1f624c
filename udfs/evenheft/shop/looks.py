"""How new cells look: as their neighbours do."""

from __future__ import annotations

from dataclasses import dataclass

from evenheft.ooxml.places import Place
from evenheft.ooxml.reading import SheetContent
from evenheft.shop.table import ShopTable


@dataclass
class Looks:
    """The formats of new cells of one table, by those of its masses, which are numbers."""

    content: SheetContent
    table: ShopTable

    def __post_init__(self) -> None:
        model = self.table.holding("mass") or self.table.columns[-1]
        self._model = model

    def heading(self) -> int | None:
        """The format of a new heading."""
        for place in self._heading_places():
            if (style := self.content.styles.get(place)) is not None:
                return style
        return None

    def cell(self, club: int, decimals: int | None) -> int | None:  # noqa: ARG002
        """The format of a club's new cell."""
        place = self.table.place(club, self._model.at)
        return None if place is None else self.content.styles.get(place)

    def name(self, club: int) -> int | None:
        """The format of a club's name in a list of its own."""
        return self.cell(club, None)

    def setting(self) -> int | None:
        """The format of a cell that the builder can change."""
        return None

    def _heading_places(self) -> list[Place]:
        at, rows = self._model.at, self.table.heading_rows
        if self.table.layout == "rows":
            return [(self.table.heading_row, at), (rows[0], at)]
        if self.table.layout == "columns":
            return [(at, self.table.heading_row), (at, rows[0])]
        first = self.table.card_places.get((self.table.rows[0], at))
        return [] if first is None else [(first[0], first[1] - 1)]
