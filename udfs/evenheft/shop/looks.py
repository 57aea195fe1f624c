"""How new cells look: as their neighbours do, with as many decimals as their numbers can bear."""

from __future__ import annotations

from dataclasses import dataclass

from evenheft.ooxml.places import Place
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.styles import StylesText
from evenheft.shop.table import ShopTable

_NARROWEST, _WIDEST = 9.0, 26.0
"""Widths that a new column is given [characters]."""


def width_for(heading: str) -> float:
    """Return the width of a column for its heading [characters]."""
    return min(max(len(heading) + 2.0, _NARROWEST), _WIDEST)


@dataclass
class Looks:
    """The formats of new cells of one table, by those of its masses, which are numbers."""

    content: SheetContent
    table: ShopTable
    styles: StylesText | None
    """The workbook's list of looks, None where it has none."""

    def __post_init__(self) -> None:
        self._model = self.table.holding("mass") or self.table.columns[-1]
        self._known: dict[tuple[int | None, int | None], int] = {}

    def heading(self) -> int | None:
        """Return the format of a new heading."""
        return next((style for place in self._heading_places() if (style := self._style_at(place)) is not None), None)

    def cell(self, club: int, decimals: int | None) -> int | None:
        """Return the format of a club's new cell, whose numbers are shown to some decimals."""
        place = self.table.place(club, self._model.at)
        return self._with(None if place is None else self._style_at(place), decimals)

    def setting(self, club: int, decimals: int | None) -> int | None:
        """Return the format of a cell that the builder can change: as the club's, whose input it is."""
        return self.cell(club, decimals)

    def _with(self, style: int | None, decimals: int | None) -> int | None:
        if self.styles is None:
            return style
        if (style, decimals) not in self._known:
            self._known[style, decimals] = self.styles.with_decimals(style, decimals)
        return self._known[style, decimals]

    def _style_at(self, place: Place) -> int | None:
        return self.content.styles.get(place)

    def _heading_places(self) -> list[Place]:
        at, rows = self._model.at, self.table.heading_rows
        if self.table.layout == "rows":
            return [(self.table.heading_row, at), (rows[0], at)]
        if self.table.layout == "columns":
            return [(at, self.table.heading_row), (at, rows[0])]
        first = self.table.card_places.get((self.table.rows[0], at))
        return [] if first is None else [(first[0], first[1] - 1)]
