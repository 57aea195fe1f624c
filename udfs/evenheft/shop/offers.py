"""What can be computed from a shop's table: each offer is one formula over the cells that the table holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from evenheft.formulas.headed.columns import NEEDED_PARTS as FORECAST_NEEDS
from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.formulas.wording import PASSED_ON
from evenheft.mechanics import units
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.text import plain_text
from evenheft.shop.calls import (
    AddedCell,
    Answers,
    Call,
    Given,
    Headings,
    MeasureCell,
    Node,
    SettingCell,
    Shown,
    WholeRow,
    is_answer,
)
from evenheft.shop.earlier import MARK, NONE_EARLIER, PLACE_HEADING, Earlier
from evenheft.shop.table import ShopColumn, ShopTable
from evenheft.shop.wishes import OPTIONS, Wishes

USUAL_OFFERS = ("balance", "swingweight", "inertia", "verdict", "forecast")
"""What is added where a builder does not choose."""
NEEDED_BY: dict[str, tuple[str, ...]] = {"verdict": ("place", "target")}
"""Columns that come along with another."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A column that could be added."""

    key: str
    heading: str
    decimals: int | None
    """How many decimals its numbers are shown with; None for words."""
    node: Node | None = None
    """Its formula; None where it cannot be computed, and for places, which are typed."""
    sources: tuple[str, ...] = ()
    """What it is computed from, in words."""
    lacking: tuple[str, ...] = ()
    """Why it cannot be computed; empty where it can."""
    answers: Sequence[Shown] = ()
    """Each club's, in the order of the table's clubs."""
    there: str = ""
    """What it is called by where it was added before: a column's letter, a row's number, a cell."""
    asks: ShopColumn | None = None
    """The column whose meaning must be told before this one can be computed."""
    settings: frozenset[str] = field(default=frozenset())
    """The cells for the builder to change that its formula reads."""

    @property
    def possible(self) -> bool:
        """Whether it can be computed and is not there yet."""
        return not self.lacking and not self.there

    @property
    def answered(self) -> int:
        """For how many clubs it has a value that is no message."""
        return sum(is_answer(value) and not is_message(value) for value in self.answers)

    def messages(self, table: ShopTable) -> list[tuple[int, str]]:
        """Return the clubs whose value is a message, and the message."""
        answered = zip(table.rows, self.answers, strict=False)
        return [(club, plain_text(value)) for club, value in answered if is_message(value)]


def is_message(value: Shown) -> bool:
    """Whether a value is a line that tells what is wrong."""
    return isinstance(value, str) and value.startswith(PASSED_ON)


class _LackingError(Exception):
    """A column cannot be computed; the text says what is missing."""

    def __init__(self, text: str, asks: ShopColumn | None = None) -> None:
        super().__init__(text)
        self.asks = asks


def offers_of(
    content: SheetContent, table: ShopTable, wishes: Wishes, earlier: Earlier = NONE_EARLIER
) -> tuple[Offer, ...]:
    """Find what can be computed, and compute it; what cannot be is there too, with the reason.

    Args:
        content: the sheet [-].
        table: a table of it [-].
        wishes: what the builder tells beside the sheet [-].
        earlier: what was added to this table before [-].
    """
    return _Offering(content, table, wishes, earlier).offers()


class _Offering:
    def __init__(self, content: SheetContent, table: ShopTable, wishes: Wishes, earlier: Earlier) -> None:
        self._content = content
        self._table = table
        self._wishes = wishes
        self._earlier = earlier
        self._offers: dict[str, Offer] = {}
        self._sources: list[str] = []
        self._settings: set[str] = set()
        self._unit_of_balance = ""

    def offers(self) -> tuple[Offer, ...]:
        made: tuple[tuple[str, str, int | None, Callable[[], Node | None]], ...] = (
            ("balance", self._heading_of_balance(), 2, self._balance_from_reading),
            ("swingweight", "Swingweight", None, lambda: Call("HEFT_SWINGWEIGHT", self._weighed())),
            ("points", "Swingweight points", 1, lambda: Call("HEFT_POINTS", self._weighed())),
            ("moment", "Moment g cm", 0, lambda: Call("HEFT_MOMENT", self._weighed())),
            ("inertia", "Inertia kg cm2", 0, self._inertia),
            ("doubt", "Doubt points", 2, self._doubt),
            ("place", "Place", 0, self._place),
            ("target", "Target points", 1, self._target),
            ("verdict", "Verdict", None, self._verdict),
            ("forecast", "Forecast swingweight", None, self._forecast),
            ("length", "Length rule", None, self._length_rule),
        )
        for key, heading, decimals, node in made:
            self._offer(key, f"{heading} {MARK}", decimals, node)
        return tuple(self._offers.values())

    def _offer(self, key: str, heading: str, decimals: int | None, node: Callable[[], Node | None]) -> None:
        self._sources, self._settings = [], set()
        offer = Offer(key, heading, decimals, there=self._earlier.called(heading))
        try:
            shown = node()
            offer = replace(
                offer,
                node=shown,
                sources=tuple(dict.fromkeys(self._sources)),
                settings=frozenset(self._settings),
                answers=self._places() if shown is None else self._answers(shown),
            )
        except _LackingError as lacking:
            offer = replace(offer, lacking=(str(lacking),), asks=lacking.asks)
        self._offers[key] = offer

    def _answers(self, node: Node) -> list[Shown]:
        added = {key: offer.answers for key, offer in self._offers.items() if not offer.lacking}
        groups = dict.fromkeys(self._table.groups.values()) or {"": None}
        values = {(k, g): v for k in OPTIONS for g in groups if (v := self._setting_value(k, g)) is not None}
        return Answers(self._content, self._table, added, values).of(node)

    def _setting_value(self, key: str, group: str) -> float | str | None:
        if (key, group) in self._earlier.settings:
            held = self._content.values.get(self._earlier.settings[key, group])
            return held if isinstance(held, float | str) else None
        return self._wishes.setting(key)

    # ------------------------------------------------------------------ formulas

    def _weighed(self) -> tuple[Node, ...]:
        """Arguments mass, balance and units."""
        mass, length = self._pair()
        return self._cell("mass", mass), self._balance(length), Given(f"{mass} {length}")

    def _inertia(self) -> Node:
        mass, length = self._pair()
        pivot = (self._cell("pivot", length),) if self._table.holding("pivot") else ()
        weighed = self._cell("mass", mass), self._balance(length), self._cell("period")
        return Call("HEFT_INERTIA", (*weighed, Given(f"{mass} {length}"), *pivot))

    def _doubt(self) -> Node:
        mass, length = self._pair()
        doubts = self._given_or_cell("mass_doubt", mass), self._given_or_cell("balance_doubt", length)
        weighed = self._cell("mass", mass), self._balance(length)
        return Call("HEFT_DOUBT", (*weighed, *doubts, Given(f"{mass} {length}")))

    def _place(self) -> None:
        """Type the places of the clubs in their set, for the builder to change."""
        if self._wished("target") is None:
            raise _LackingError("it counts where a target leads from club to club: give --target")
        if self._table.holding("place") is not None:
            raise _LackingError("the table has its own column of places")

    def _places(self) -> list[Shown]:
        """Each club's place in its group: what stands in the sheet already, else one after another."""
        counted: dict[str, float] = {}
        places: list[Shown] = []
        for club in self._table.rows:
            group = self._table.groups.get(club, "")
            held = self._earlier.held(self._content, PLACE_HEADING, club)
            counted[group] = held if isinstance(held, float) else counted.get(group, 0.0) + 1.0
            places.append(counted[group])
        return places

    def _target(self) -> Node:
        if self._wished("target") is None:
            raise _LackingError("give --target")
        place = self._cell("place") if self._table.holding("place") else AddedCell("place")
        self._settings |= {"target", "increment"}
        self._sources.append(self._given_setting("target"))
        return Call("HEFT_TARGET", (SettingCell("target"), SettingCell("increment"), place))

    def _verdict(self) -> Node:
        target = AddedCell("target") if self._wished("target") is not None else self._given_or_cell("target", None)
        tolerance = self._given_or_cell("tolerance", None)
        points, doubt, line = self._offers["points"], self._offers["doubt"], self._offers["target"]
        if points.lacking:
            raise _LackingError(points.lacking[0], points.asks)
        used = [points, *([] if doubt.lacking else [doubt]), *([line] if isinstance(target, AddedCell) else [])]
        for offer in used:
            self._sources += offer.sources
            self._settings |= offer.settings
        more = () if doubt.lacking else (AddedCell("doubt"),)
        return Call("HEFT_VERDICT", (AddedCell("points"), target, tolerance, *more))

    def _forecast(self) -> Node:
        for quantity in FORECAST_NEEDS:
            self._need(quantity)
        mapped = any(column.mapped for column in self._table.columns)
        if self._table.layout != "rows" or len(self._table.heading_rows) > 1 or mapped:
            raise _LackingError("HEFT_CLUB reads headings from one row, each with its unit: write them so")
        self._sources += [f"{column.letter} {column.heading}" for column in self._table.columns if _is_part(column)]
        return Call("HEFT_CLUB", (Headings(), WholeRow(), Given("swingweight")))

    def _length_rule(self) -> Node:
        unit = self._need("club_length").unit or "cm"
        length = unit if f"g {unit}" in units.UNIT_PAIRS else "cm"
        return Call("HEFT_LENGTH_LIMIT", (self._cell("club_length", length), Given("other"), Given(f"g {length}")))

    def _balance_from_reading(self) -> Node:
        if self._table.holding("balance") is not None:
            raise _LackingError("it is measured already")
        mass, length = _known_pair(self._need("mass").unit, self._need("span").unit)
        offset: Node = self._cell("offset", length) if self._table.holding("offset") else Given(0)
        self._unit_of_balance = length
        measured = self._cell("reading", mass), self._cell("span", length), self._cell("mass", mass)
        return Call("HEFT_BALANCE", (*measured, offset, Given(f"{mass} {length}")))

    def _heading_of_balance(self) -> str:
        span = self._table.holding("span")
        return f"Balance ({span.unit})" if span is not None and span.unit else "Balance"

    # ------------------------------------------------------------------ cells

    def _pair(self) -> tuple[str, str]:
        """Return the units that a formula is to speak in: those of the sheet, where a formula knows them together."""
        balance = self._table.holding("balance")
        length = balance.unit if balance is not None else self._unit_of_balance or None
        return _known_pair(self._need("mass").unit, length)

    def _balance(self, length: str) -> Node:
        if self._table.holding("balance") is not None:
            return self._cell("balance", length)
        offer = self._offers["balance"]
        if offer.lacking:
            raise self._missing("balance")
        self._sources += offer.sources
        return AddedCell("balance")

    def _cell(self, quantity: str, unit: str | None = None) -> Node:
        """Return a cell of a column, in the unit that the formula speaks in."""
        column = self._need(quantity)
        self._sources.append(f"{column.letter} {column.heading}")
        if unit is None or column.unit is None or column.unit == unit:
            return MeasureCell(column.at)
        return Call("HEFT_CONVERT", (MeasureCell(column.at), Given(column.unit), Given(unit)))

    def _given_or_cell(self, key: str, unit: str | None) -> Node:
        if self._wished(key) is not None:
            self._sources.append(self._given_setting(key))
            self._settings.add(key)
            return SettingCell(key)
        column = self._table.holding(key)
        if column is None:
            missing = self._missing(key)
            raise _LackingError(f"{missing}, or give {OPTIONS[key]}", missing.asks)
        if key == "tolerance" and column.unit not in (None, "points"):
            raise _LackingError(f"{column.letter} tells a tolerance in {column.unit}: give --tolerance in points")
        return self._cell(key, unit)

    def _wished(self, key: str) -> float | str | None:
        """Tell what a setting holds in the sheet or is told with an option."""
        groups = dict.fromkeys(self._table.groups.values()) or {"": None}
        return next((v for group in groups if (v := self._setting_value(key, group)) is not None), None)

    def _given_setting(self, key: str) -> str:
        return f"{OPTIONS[key]} {self._wished(key)}"

    def _need(self, quantity: str) -> ShopColumn:
        column = self._table.holding(quantity)
        if column is None:
            raise self._missing(quantity)
        return column

    def _missing(self, quantity: str) -> _LackingError:
        name = VOCABULARY[quantity].words[0]
        quoted = f'"{name}"'.casefold()
        for column in self._table.columns:
            if column.unsure and (column.reading.quantity == quantity or quoted in column.unsure.casefold()):
                return _LackingError(f'{column.letter} "{column.heading}": {column.unsure}', column)
            if column.reading.quantity is None and quoted in (column.reading.problem or "").casefold():
                return _LackingError(f'{column.letter} "{column.heading}": {column.reading.problem}', column)
        return _LackingError(f"no column is headed {name}")


def _is_part(column: ShopColumn) -> bool:
    return column.quantity is not None and VOCABULARY[column.quantity].part


def _known_pair(mass: str | None, length: str | None) -> tuple[str, str]:
    """Two units that the `units` argument knows together, as near to the sheet's own as can be."""
    mass = mass if mass in ("g", "oz") else "g"
    length = length if f"{mass} {length}" in units.UNIT_PAIRS else "cm"
    return mass, length or "cm"


def resolved(node: Node, offers: Mapping[str, Offer], kept: Sequence[str]) -> Node:
    """Return a formula in which the cells of columns that are not added are written out.

    Args:
        node: the formula [-].
        offers: every offer of the table, by its key [-].
        kept: the keys of the columns that are added, or there already [-].
    """
    if isinstance(node, AddedCell) and node.key not in kept:
        inner = offers[node.key].node
        return node if inner is None else resolved(inner, offers, kept)
    if isinstance(node, Call):
        return Call(node.name, tuple(resolved(argument, offers, kept) for argument in node.arguments))
    return node
