"""Where results go: beside their own table, never on other cells, under a chart, or beside a neighbour's table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import SHEET_COLUMNS, SHEET_ROWS, Area, Place, column_letter, reference
from evenheft.shop.surroundings import Surroundings
from evenheft.shop.table import ShopTable, called, overlap

CLUB_NAMES = "club"
"""The key of the column that names the clubs where results stand apart from them."""
_FARTHEST = 30
"""How many columns away from its table a result is still beside it [-]."""
_MOST_CARDS = 200
"""More job cards than these have their results in one list [-]."""
_LOWEST = 2_000
"""How many rows below its table a place for a block of results is looked for [-]."""


@dataclass(frozen=True)
class Placement:
    """Where each result stands."""

    headings: Mapping[str, tuple[Place, ...]]
    """The cells that name each column of results, by its key; of cards, one on each card."""
    cells: Mapping[str, Mapping[int, Place]]
    """The cell of each club, by the result's key."""
    areas: tuple[Area, ...]
    apart: bool = False
    """Whether the results stand in a block of their own, not in the clubs' rows or columns."""

    def called(self, key: str) -> str:
        """Tell what a column of results is called by: its letter, its row's number, or its first cell."""
        top, left = self.headings[key][0]
        places = list(self.cells[key].values())
        if len(self.headings[key]) > 1 or self.apart:
            return reference(top, left)
        return column_letter(left) if places and places[0][0] != top else str(top)


@dataclass
class Placing:
    """Places the results of one table after another on one sheet."""

    around: Surroundings
    tables: Sequence[ShopTable]
    """Every table of the sheet."""
    taken: list[Area] = field(default_factory=list)
    """What other results of this run will fill."""

    def place(self, table: ShopTable, keys: Sequence[str], at: Place | None = None) -> Placement:
        """Find a place for some results of a table, and keep it.

        Args:
            table: one of the tables [-].
            keys: what is to be added, in this order [-].
            at: where the builder wants the first heading; left out, the best place beside the table [-].

        Raises:
            Refused: something stands where the builder wants them.
        """
        if at is not None:
            found = self._asked(table, keys, at)
        elif table.layout == "cards":
            found = self._by_cards(table, keys) or self._block(table, keys)
        else:
            found = self._beside(table, keys) or self._block(table, keys)
        self.taken += found.areas
        return found

    def settings(self, table: ShopTable, results: Placement, width: int, height: int) -> Place:
        """Find a place for the cells that the builder can change, above the results or beside them, and keep it.

        Args:
            table: the table [-].
            results: where its results go [-].
            width: columns of cells [-].
            height: rows of cells, their headings included [-].
        """
        first = results.areas[0]
        corners = [] if table.layout != "rows" or results.apart else [
            (table.heading_rows[0] - height - gap, first.left) for gap in (1, 0)
        ]  # fmt: skip
        corners += [(first.top, first.right + 2 + more) for more in range(_FARTHEST)]
        for top, left in corners:
            area = Area(top, left, top + height - 1, left + width - 1)
            if top >= 1 and self._is_free(table, area):
                break
        else:
            top = max((row for row, _ in self._places()), default=0) + 3 + sum(a.bottom - a.top for a in self.taken)
            area = Area(top, table.area.left, top + height - 1, table.area.left + width - 1)
        self.taken.append(area)
        return area.top, area.left

    def notes(self, placement: Placement) -> Iterator[str]:
        """Tell what a builder should hear of a place."""
        printed = self.around.printed
        outside = [area for area in placement.areas if printed and not any(_holds(p, area) for p in printed)]
        if outside:
            areas = ", ".join(map(called, printed))
            yield f"{called(outside[0])} lies outside the print area ({areas}): set it anew in your program to print it"

    # ------------------------------------------------------------------ beside the table

    def _beside(self, table: ShopTable, keys: Sequence[str]) -> Placement | None:
        if table.layout == "columns":
            return self._below(table, keys)
        top, bottom = table.area.top, table.area.bottom
        limit = min((o.area.left for o in self._others(table) if o.area.left > table.area.right
                     and o.area.top <= bottom and o.area.bottom >= top), default=SHEET_COLUMNS + 2)  # fmt: skip
        used = [column for row, column in self._places() if top <= row <= bottom and column < limit]
        used += [a.right for a in self.around.content.merged if a.top <= bottom and a.bottom >= top and a.left < limit]
        first = max([*used, table.area.right]) + 1
        for left in range(first, first + _FARTHEST):
            right = left + len(keys) - 1
            if right + 1 >= limit:
                return None
            if self._is_free(table, Area(top, left, bottom, right)):
                return _in_rows(table, keys, left)
        return None

    def _below(self, table: ShopTable, keys: Sequence[str]) -> Placement | None:
        """Rows of results below clubs that stand in columns."""
        for top in range(table.area.bottom + 1, table.area.bottom + _FARTHEST):
            area = Area(top, table.area.left, top + len(keys) - 1, table.area.right)
            if self._is_free(table, area):
                return _in_columns(table, keys, top)
        return None

    def _by_cards(self, table: ShopTable, keys: Sequence[str]) -> Placement | None:
        """Labels and results beside each card, or below it."""
        if len(table.card_areas) > _MOST_CARDS:
            return None
        found: dict[int, tuple[Place, Area]] = {}
        placed: list[Area] = []
        for club, card in table.card_areas.items():
            label, value = self._columns_of_card(table, club)
            beside = Area(card.top, card.right + 1, card.top + len(keys) - 1, card.right + 4)
            below = Area(card.bottom + 1, label, card.bottom + len(keys) + 1, value)
            if self._is_free(table, beside, placed):
                found[club] = ((card.top, card.right + 2), beside)
            elif self._is_free(table, below, placed):
                found[club] = ((card.bottom + 1, value - 1), below)
            else:
                return None
            placed.append(found[club][1])
        starts = {club: start for club, (start, _) in found.items()}
        areas = tuple(Area(r, c, r + len(keys) - 1, c + 1) for r, c in starts.values())
        headings = {key: tuple((r + n, c) for r, c in starts.values()) for n, key in enumerate(keys)}
        cells = {key: {club: (r + n, c + 1) for club, (r, c) in starts.items()} for n, key in enumerate(keys)}
        return Placement(headings, cells, areas)

    def _columns_of_card(self, table: ShopTable, club: int) -> tuple[int, int]:
        card = table.card_areas[club]
        values = sorted(place[1] for (number, _), place in table.card_places.items() if number == club)
        return card.left, values[0]

    # ------------------------------------------------------------------ apart from it

    def _block(self, table: ShopTable, keys: Sequence[str]) -> Placement:
        """Return a list of clubs with their results, below everything that the table's columns hold nearby."""
        columns = [CLUB_NAMES, *keys]
        left = table.area.left
        if len(table.card_areas) > _MOST_CARDS:
            return _listed(table, columns, self._lowest(table) + 2, left)
        for top in range(table.area.bottom + 2, table.area.bottom + _LOWEST):
            area = Area(top - 1, left, top + len(table.rows) + 1, left + len(columns) - 1)
            if self._is_free(table, area):
                return _listed(table, columns, top, left)
        return _listed(table, columns, self._lowest(table) + 2, left)

    def _lowest(self, table: ShopTable) -> int:
        """Return the last row in which anything stands, or over which anything lies."""
        lowest = max((row for row, _ in self._places()), default=0)
        areas = [*self.around.drawn, *self.around.framed, *self.around.content.merged, *self.taken]
        return max([lowest, table.area.bottom, *(area.bottom for area in areas if area.bottom < SHEET_ROWS)])

    def _asked(self, table: ShopTable, keys: Sequence[str], at: Place) -> Placement:
        row, column = at
        if table.layout == "rows" and row == table.heading_row:
            found = _in_rows(table, keys, column)
        elif table.layout == "columns" and column == table.heading_row:
            found = _in_columns(table, keys, row)
        else:
            found = _listed(table, [CLUB_NAMES, *keys], row, column)
        for area in found.areas:
            if area.right > SHEET_COLUMNS:
                raise Refused(f"--at {reference(*at)}: there are not so many columns to its right")
            for what, others in (
                ("a chart or picture", self.around.drawn),
                ("a table of your program", self.around.framed),
                ("merged cells", self.around.content.merged),
                ("another table", [other.area for other in self._others(table)]),
                ("other results", self.taken),
            ):
                if any(overlap(area, other) for other in others):
                    raise Refused(f"--at {reference(*at)}: {what} would lie over {called(area)}")
            if self.around.used(area):
                raise Refused(f"--at {reference(*at)}: something stands in {called(area)} already")
        return found

    # ------------------------------------------------------------------ what is free

    def _others(self, table: ShopTable) -> list[ShopTable]:
        return [other for other in self.tables if other is not table]

    def _is_free(self, table: ShopTable, area: Area, more: Sequence[Area] = ()) -> bool:
        neighbours = [*(other.area for other in self._others(table)), *self.taken, *more]
        neighbours += [card for card in table.card_areas.values() if not _touches(card, area)]
        return self.around.is_free(area, tuple(side for other in neighbours for side in _with_margin(other)))

    def _places(self) -> Iterator[Place]:
        yield from self.around.content.values
        yield from self.around.content.formulas


def _in_rows(table: ShopTable, keys: Sequence[str], left: int) -> Placement:
    headings = {key: ((table.heading_row, left + n),) for n, key in enumerate(keys)}
    cells = {key: {row: (row, left + n) for row in table.rows} for n, key in enumerate(keys)}
    return Placement(headings, cells, (Area(table.heading_row, left, table.rows[-1], left + len(keys) - 1),))


def _in_columns(table: ShopTable, keys: Sequence[str], top: int) -> Placement:
    headings = {key: ((top + n, table.heading_row),) for n, key in enumerate(keys)}
    cells = {key: {club: (top + n, club) for club in table.rows} for n, key in enumerate(keys)}
    return Placement(headings, cells, (Area(top, table.heading_row, top + len(keys) - 1, table.rows[-1]),))


def _listed(table: ShopTable, keys: Sequence[str], top: int, left: int) -> Placement:
    headings = {key: ((top, left + n),) for n, key in enumerate(keys)}
    cells = {
        key: {club: (top + at, left + n) for at, club in enumerate(table.rows, start=1)} for n, key in enumerate(keys)
    }
    area = Area(top, left, top + len(table.rows), left + len(keys) - 1)
    return Placement(headings, cells, (area,), apart=True)


def _with_margin(area: Area) -> tuple[Area, Area]:
    """Return a table's area with the cells beside, over and below it: what stands there seems to belong to it."""
    return (
        Area(area.top, max(area.left - 1, 1), area.bottom, area.right + 1),
        Area(max(area.top - 1, 1), area.left, area.bottom + 1, area.right),
    )


def _touches(card: Area, area: Area) -> bool:
    """Whether an area begins right beside a card or right below it, as that card's own results do."""
    return (card.right + 1, card.top) == (area.left, area.top) or (card.bottom + 1, card.left) == (area.top, area.left)


def _holds(outer: Area, inner: Area) -> bool:
    return (outer.top <= inner.top and outer.bottom >= inner.bottom
            and outer.left <= inner.left and outer.right >= inner.right)  # fmt: skip
