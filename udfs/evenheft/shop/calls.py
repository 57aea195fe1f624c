"""Formulas as trees: one tree is written into the cells of each club, and answered for all clubs at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import call
from evenheft.formulas.wording import is_blank
from evenheft.ooxml.places import Place, column_letter, reference
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.values import CellError, Held
from evenheft.shop.table import ShopTable

Shown: TypeAlias = float | str | bool | CellError | None


@dataclass(frozen=True, slots=True)
class Given:
    """A number or a text that is written out, such as a unit."""

    value: float | str


@dataclass(frozen=True, slots=True)
class MeasureCell:
    """A club's cell under a heading of the shop's own."""

    at: int


@dataclass(frozen=True, slots=True)
class AddedCell:
    """A club's cell under a heading that is added, or was added before."""

    key: str


@dataclass(frozen=True, slots=True)
class SettingCell:
    """A cell that the builder can change, one for each group of clubs."""

    key: str


@dataclass(frozen=True, slots=True)
class Headings:
    """The table's row of headings."""


@dataclass(frozen=True, slots=True)
class WholeRow:
    """A club's row as wide as the headings."""


@dataclass(frozen=True, slots=True)
class Call:
    """A formula of Evenheft with its arguments."""

    name: str
    arguments: tuple[Node, ...] = field(default=())


Node: TypeAlias = Given | MeasureCell | AddedCell | SettingCell | Headings | WholeRow | Call
AddedPlace: TypeAlias = Callable[[str, int], Place]
"""Where the cell of an added column, by its key, stands for a club."""


@dataclass(frozen=True)
class CellsOfCalls:
    """Where the cells that formulas refer to stand."""

    table: ShopTable
    added: AddedPlace
    settings: Mapping[tuple[str, str], Place]
    """The cell of each setting, by its key and the group."""
    aligned: bool = False
    """Whether all of a club's cells stand in its own row."""

    def texts(self, node: Node) -> dict[int, str]:
        """Each club's formula without its equals sign; a club that lacks a cell for it has none."""
        if not self.aligned:
            texts = ((club, self._text(node, club, None)) for club in self.table.rows)
            return {club: text for club, text in texts if text is not None}
        # All rows of a group have one formula but for the row's number: it is put together once.
        patterns: dict[str, str] = {}
        found: dict[int, str] = {}
        for club in self.table.rows:
            group = self.table.groups.get(club, "")
            if group not in patterns:
                patterns[group] = self._text(node, club, _ROW) or ""
            found[club] = patterns[group].replace(_ROW, str(club))
        return found

    def _text(self, node: Node, club: int, row: str | None) -> str | None:
        """Return a formula's text, None where the club has no such cell;
        `row` stands for the number of the club's row.
        """
        table = self.table
        if isinstance(node, Given):
            return f'"{node.value}"' if isinstance(node.value, str) else f"{node.value:.12g}"
        if isinstance(node, MeasureCell):
            place = table.place(club, node.at)
            return None if place is None else _cell(place, row)
        if isinstance(node, AddedCell):
            return _cell(self.added(node.key, club), row)
        if isinstance(node, SettingCell):
            top, left = self.settings[node.key, table.groups.get(club, "")]
            return f"${column_letter(left)}${top}"
        if isinstance(node, Headings | WholeRow):
            first, last = (column_letter(table.columns[at].at) for at in (0, -1))
            if isinstance(node, Headings):
                return f"${first}${table.heading_row}:${last}${table.heading_row}"
            return f"{first}{row or club}:{last}{row or club}"
        texts = [self._text(argument, club, row) for argument in node.arguments]
        return None if None in texts else f"{node.name}({','.join(filter(None, texts))})"


_ROW = "\0"


def _cell(place: Place, row: str | None) -> str:
    return reference(*place) if row is None else f"{column_letter(place[1])}{row}"


@dataclass(frozen=True)
class Answers:
    """What the cells hold that formulas refer to."""

    content: SheetContent
    table: ShopTable
    added: Mapping[str, Sequence[Shown]]
    """The answers of added columns, in the order of the table's clubs."""
    settings: Mapping[tuple[str, str], float | str]

    def of(self, node: Node) -> list[Shown]:
        """Each club's answer, in the order of the table's clubs."""
        held = self._held(node)
        return list(held) if isinstance(held, list) else [held] * len(self.table.rows)

    def _held(self, node: Node) -> Shown | list[Shown]:
        table, values = self.table, self.content.values
        if isinstance(node, Given):
            return node.value
        if isinstance(node, MeasureCell):
            places = [table.place(club, node.at) for club in table.rows]
            return [None if place is None else _for_formula(values.get(place)) for place in places]
        if isinstance(node, AddedCell):
            return list(self.added[node.key])
        if isinstance(node, SettingCell):
            if not table.groups:
                return self.settings.get((node.key, ""))
            return [self.settings.get((node.key, table.groups.get(club, ""))) for club in table.rows]
        assert isinstance(node, Call)
        if any(isinstance(argument, WholeRow) for argument in node.arguments):
            return self._of_rows(node)
        given = [self._held(argument) for argument in node.arguments]
        answered = call(REGISTRY[node.name], [_as_range(held) for held in given])
        if not any(isinstance(held, list) for held in given):
            return answered if not isinstance(answered, tuple) else answered[0][0]
        return [row[0] for row in answered] if isinstance(answered, tuple) else [answered] * len(table.rows)

    def _of_rows(self, node: Call) -> list[Shown]:
        """Return the answer to a formula that takes the headings and a club's whole row."""
        columns = range(self.table.columns[0].at, self.table.columns[-1].at + 1)
        values = self.content.values
        headings = [[values.get((self.table.heading_row, at)) for at in columns]]
        rows = [[_for_formula(values.get((club, at))) for at in columns] for club in self.table.rows]
        rest = [argument.value for argument in node.arguments if isinstance(argument, Given)]
        answered = call(REGISTRY[node.name], [headings, rows, *rest])
        return [row[0] for row in answered] if isinstance(answered, tuple) else [answered] * len(rows)


_MOST_CHARACTERS = 255
"""What a formula is given of a text: no quantity is longer, and a message quotes less [-]."""


def _for_formula(held: Held | None) -> Held | None:
    return held[:_MOST_CHARACTERS] if isinstance(held, str) else held


def _as_range(held: Shown | list[Shown]) -> object:
    return [[cell] for cell in held] if isinstance(held, list) else held


def is_answer(value: Shown) -> bool:
    """Whether a value is neither blank nor an error."""
    return not is_blank(value) and not isinstance(value, CellError)
