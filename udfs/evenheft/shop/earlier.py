"""What was added to a sheet before: found by its headings, told apart from the shop's own, and tied to its clubs."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from evenheft.ooxml.places import Place, column_letter, column_number
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.values import Held
from evenheft.shop.table import ShopTable

MARK = "(Evenheft)"
"""Stands in each heading that was added, so that a second run knows it."""
CLUB_HEADING = f"Club {MARK}"
PLACE_HEADING = f"Place {MARK}"
GROUP_HEADING = f"Group {MARK}"
SETTING_HEADINGS = {
    "target": f"Target {MARK}",
    "increment": f"Increment {MARK}",
    "tolerance": f"Tolerance {MARK}",
    "mass_doubt": f"Scale +/- {MARK}",
    "balance_doubt": f"Balance +/- {MARK}",
}
"""Over each cell that the builder can change."""
_KEY_OF = {heading: key for key, heading in SETTING_HEADINGS.items()}
_LONGEST = 60
_CELL = re.compile(r"(?<![\w!'])\$?([A-Za-z]{1,3})\$?([0-9]{1,7})(?![\w(!])")


@dataclass(frozen=True, slots=True)
class Own:
    """A heading that was added, and its cells, which lie below it or to its right."""

    heading: str
    place: Place
    cells: tuple[Place, ...]


@dataclass(frozen=True)
class Earlier:
    """What was added to one table before."""

    columns: Mapping[str, Mapping[int, Place]] = field(default_factory=dict)
    """The cell of each club, by the heading that was added."""
    headings: Mapping[str, Place] = field(default_factory=dict)
    settings: Mapping[tuple[str, str], Place] = field(default_factory=dict)
    """The cell of each setting, by its key and the group."""

    def called(self, heading: str) -> str:
        """Tell what a heading that is there is called by: its column's letter, its row's number; "" where it is not."""
        if heading not in self.headings:
            return ""
        top, left = self.headings[heading]
        places = self.columns[heading].values()
        beside = any(place[0] == top for place in places)
        return str(top) if beside else column_letter(left)

    def held(self, content: SheetContent, heading: str, club: int) -> Held | None:
        """Tell what a club's cell under a heading that was added holds."""
        place = self.columns.get(heading, {}).get(club)
        return None if place is None else content.values.get(place)


NONE_EARLIER = Earlier()


def find_own(content: SheetContent) -> list[Own]:
    """Find every heading that was added to a sheet, and the cells that came with it."""
    marked = {
        place: value
        for place, value in content.values.items()
        if isinstance(value, str) and len(value) <= _LONGEST and value.endswith(MARK)
    }
    if not marked:
        return []
    by_column: dict[int, list[int]] = {}
    columns = {column for _, column in marked}
    for row, column in sorted({*content.values, *content.formulas}):
        if column in columns:
            by_column.setdefault(column, []).append(row)
    shared = {group for p, group in content.shared.items() if "HEFT_" in content.formulas.get(p, "").upper()}
    finding = _Finding(content, marked, by_column, shared)
    found = [Own(text, place, tuple(finding.cells(place, text))) for place, text in marked.items()]
    lines = {place[0] for own in found for place in own.cells if own.heading != GROUP_HEADING}
    return [_with_places(content, own, lines) if own.heading == PLACE_HEADING else own for own in found]


@dataclass(frozen=True, slots=True)
class _Finding:
    """Finds the cells that came with a heading."""

    content: SheetContent
    marked: Mapping[Place, str]
    by_column: Mapping[int, list[int]]
    """The rows in which something stands, of each column that holds a marked heading."""
    shared: Collection[str]
    """Groups of formulas that share one text, which is ours."""

    def cells(self, place: Place, text: str) -> Iterator[Place]:
        row, column = place
        if text in _KEY_OF or text == GROUP_HEADING:
            below = row + 1
            while (below, column) in self.content.values and (below, column) not in self.marked:
                yield below, column
                below += 1
        elif self._is_ours((row, column + 1), text):
            while self._is_ours((row, column + 1), text):
                column += 1
                yield row, column
        else:
            yield from self._below(place, text)

    def _below(self, place: Place, text: str) -> Iterator[Place]:
        row, column = place
        for below in self.by_column[column]:
            if below > row and self._is_ours((below, column), text):
                yield below, column
            elif below > row and ((below, column) in self.marked or text != PLACE_HEADING):
                return

    def _is_ours(self, place: Place, heading: str) -> bool:
        text = self.content.formulas.get(place)
        if text is None:
            return False
        if not text:
            return self.content.shared.get(place) in self.shared
        return "HEFT_" in text.upper() or heading == CLUB_HEADING


def _with_places(content: SheetContent, own: Own, lines: set[int]) -> Own:
    """Find the typed places of clubs: they stand in the rows in which something else was added."""
    row, column = own.place
    if isinstance(content.values.get((row, column + 1)), float) and (row + 1, column) not in content.values:
        cells = []
        while isinstance(content.values.get((row, column + 1)), float):
            column += 1
            cells.append((row, column))
        return Own(own.heading, own.place, tuple(cells))
    typed = [(line, column) for line in sorted(lines) if line > row]
    return Own(own.heading, own.place, tuple(p for p in typed if isinstance(content.values.get(p), float)))


def places_of(own: Sequence[Own]) -> set[Place]:
    """Every cell that was added."""
    return {place for one in own for place in (one.place, *one.cells)}


def earlier_of(content: SheetContent, table: ShopTable, own: Sequence[Own]) -> Earlier:
    """Tell what was added to one table before: the formulas whose cells are its own.

    Args:
        content: the sheet [-].
        table: one of its tables, found with what was added left out [-].
        own: from `find_own` [-].
    """
    if not own:
        return NONE_EARLIER
    clubs = _clubs_by_place(table)
    anchors = _anchors(own)
    lines: dict[tuple[Place, int], int] = {}
    keys = {place: key for one in own if (key := _KEY_OF.get(one.heading)) for place in one.cells}
    for one in own:
        for place in one.cells:
            referred = _referred(content.formulas.get(place, ""))
            club = next((clubs[other] for other in referred if other in clubs), None)
            if club is not None:
                lines[anchors[one.place], place[place[0] == one.place[0]]] = club
    columns: dict[str, dict[int, Place]] = {}
    headings: dict[str, Place] = {}
    settings: dict[tuple[str, str], Place] = {}
    for one in own:
        if one.heading in _KEY_OF or one.heading == GROUP_HEADING:
            continue
        for place in one.cells:
            club = lines.get((anchors[one.place], place[place[0] == one.place[0]]))
            if club is None:
                continue
            columns.setdefault(one.heading, {})[club] = place
            headings.setdefault(one.heading, one.place)
            for other in _referred(content.formulas.get(place, "")):
                if other in keys:
                    settings[keys[other], table.groups.get(club, "")] = other
    return Earlier(columns, headings, settings)


def _anchors(own: Sequence[Own]) -> dict[Place, Place]:
    """Return the first heading of the block that each heading is one of:
    they stand side by side, or below each other.
    """
    places = {one.place: any(place[0] == one.place[0] for place in one.cells) for one in own}
    anchors = {}
    for (row, column), across in places.items():
        up, left = (1, 0) if across else (0, 1)
        first = (row, column)
        while (first[0] - up, first[1] - left) in places:
            first = (first[0] - up, first[1] - left)
        anchors[row, column] = first
    return anchors


def _clubs_by_place(table: ShopTable) -> dict[Place, int]:
    return {
        place: club
        for column in table.columns
        for club in table.rows
        if (place := table.place(club, column.at)) is not None
    }


def _referred(formula: str) -> list[Place]:
    """Return the single cells that a formula names, in the order of its text."""
    return [(int(row), column_number(letters.upper())) for letters, row in _CELL.findall(formula)]
