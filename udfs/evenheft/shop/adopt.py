"""What Evenheft can compute from a shop's own sheet, and the columns it adds there."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from evenheft.formulas.headed.headings import VOCABULARY
from evenheft.formulas.headed.rows import REQUIRED as FORECAST_NEEDS
from evenheft.formulas.kinds import PASSED_ON, show, what_is_wrong
from evenheft.hosts.embedded import compute_beside
from evenheft.mechanics import units
from evenheft.mechanics.swingweight import points_from_label
from evenheft.ooxml.checking import local_name
from evenheft.ooxml.edit import CellAt, edit_cells
from evenheft.ooxml.edits import Edit, NewFormula, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package, open_package
from evenheft.ooxml.places import column_letter
from evenheft.ooxml.reading import SheetContent, drawn_over, read_sheet
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import CellError, Value
from evenheft.shop.table import ShopColumn, ShopTable, find_table, unreadable

MARK = "(Evenheft)"
"""Stands in each heading that was added, so that a second run knows it."""
_TEXT_FORMAT = 49
"""The built-in number format that makes a cell's content text."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a builder tells beside the sheet."""

    mapped: Mapping[str, str] = field(default_factory=dict)
    """What columns hold, by letter or heading."""
    target: str = ""
    """The swingweight wanted of every club, e.g. "D2", where no column tells."""
    tolerance: float | None = None
    """The deviation in points that is accepted, where no column tells."""
    mass_doubt: str = ""
    """The scale's plus or minus, e.g. "0.5 g"."""
    balance_doubt: str = ""
    """The balance point's plus or minus, e.g. "1 mm"."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A column that could be added."""

    key: str
    heading: str
    sources: tuple[str, ...]
    """What it is computed from, in words."""
    lacking: tuple[str, ...]
    """Why it cannot be computed; empty where it can."""
    formulas: Mapping[int, str]
    """The formula of each club's row, without its equals sign."""
    values: Mapping[int, Value] = field(default_factory=dict)
    there: str = ""
    """The column's letter where it was added before."""
    asks: ShopColumn | None = None
    """The column whose meaning must be told before this one can be computed."""

    @property
    def possible(self) -> bool:
        """Whether it can be computed and is not there yet."""
        return not self.lacking and not self.there

    @property
    def messages(self) -> list[tuple[int, str]]:
        """The rows whose value is a message, and the message."""
        told = ((row, plain_text(value)) for row, value in self.values.items())
        return [(row, text) for row, text in told if text.startswith(PASSED_ON)]

    @property
    def answered(self) -> int:
        """How many rows have a value that is no message."""
        return sum(v not in ("", None) and not isinstance(v, CellError) for v in self.values.values()) - len(
            self.messages
        )


@dataclass(frozen=True)
class Adoption:
    """A shop's sheet, understood."""

    sheet: str
    table: ShopTable
    content: SheetContent
    offers: tuple[Offer, ...]
    first_free: int
    """The column in which the first new one would stand."""
    notes: tuple[str, ...]
    text_styles: frozenset[int]
    """Cell formats that would turn a formula into text."""

    @property
    def asks(self) -> tuple[Offer, ...]:
        """The usual offers that wait for a column's meaning to be told."""
        return tuple(offer for offer in self.offers if offer.asks is not None and offer.key in USUAL)


def understand(path: Path, sheet: str, wishes: Wishes) -> Adoption:
    """Read a shop's sheet and find what can be computed from it; the file is only read.

    Args:
        path: the shop's workbook [-].
        sheet: the sheet's name [-].
        wishes: what the builder tells beside it [-].

    Raises:
        Refused: the workbook cannot be read, or no table is understood on the sheet.
    """
    _check_wishes(wishes)
    with open_package(path) as package:
        name = package.sheet(sheet).name
        content = read_sheet(package, name)
        warnings = package.warnings
        text_styles = _text_styles(package)
        drawings = drawn_over(package, name)
    table = find_table(content, f'{path.name}, sheet "{name}",', wishes.mapped)
    offers = _Offering(content, table, wishes).offers()
    free = _first_free(content, table)
    notes = [*warnings, *_notes(content, table)]
    if any(d.right >= free and d.top <= table.rows[-1] and d.bottom >= table.heading_rows[0] for d in drawings):
        notes.append(
            f"a chart or picture lies over column {column_letter(free)} or right of it: new columns go under it"
        )
    return Adoption(name, table, content, offers, free, tuple(notes), text_styles)


def chosen(adoption: Adoption, keys: tuple[str, ...]) -> tuple[Offer, ...]:
    """Choose the offers to add: those named, or the usual ones that are possible.

    Raises:
        Refused: a named one is unknown, cannot be computed, or waits for an unsure column.
    """
    offers = {offer.key: offer for offer in adoption.offers}
    for key in keys:
        if key not in offers:
            raise Refused(f'there is no column "{key}" to add: choose from {", ".join(offers)}')
        if offers[key].lacking:
            raise Refused(f"{key} cannot be computed: {'; '.join(offers[key].lacking)}")
    return tuple(offer for offer in adoption.offers if offer.possible and offer.key in (keys or USUAL))


def add_columns(path: Path, adoption: Adoption, offers: tuple[Offer, ...], to: Path) -> dict[str, str]:
    """Write a copy of the workbook with columns added to the right of the table, and nothing else touched.

    Args:
        path: the shop's workbook, which is only read [-].
        adoption: what `understand` found in it [-].
        offers: the columns to add, from `chosen` [-].
        to: the copy, which must not exist yet [-].

    Returns:
        The letter of each added column, by the offer's key [-].

    Raises:
        Refused: the safe hand cannot add them without breaking something.
    """
    places = {offer.key: adoption.first_free + n for n, offer in enumerate(offers)}
    moved = _moved(adoption, offers, places)
    values = compute_beside(
        adoption.content.values,
        {(row, places[o.key]): text for o in offers for row, text in moved[o.key].items()},
    )
    edits: dict[CellAt, Edit] = {}
    heading_style, styles = _styles(adoption)
    for offer in offers:
        column = places[offer.key]
        edits[adoption.sheet, adoption.table.heading_row, column] = Put(offer.heading, heading_style)
        for row, text in moved[offer.key].items():
            edits[adoption.sheet, row, column] = NewFormula(text, values[row, column], styles.get(row))
    edit_cells(path, edits, to=to)
    return {key: column_letter(column) for key, column in places.items()}


# ---------------------------------------------------------------------- what can be computed

USUAL = ("balance", "swingweight", "inertia", "verdict", "forecast")
"""What is added where a builder does not choose."""
_PLACEHOLDER = "\0{}\0"


class _LackingError(Exception):
    """A column cannot be computed; the text says what is missing."""

    def __init__(self, text: str, asks: ShopColumn | None = None) -> None:
        super().__init__(text)
        self.asks = asks


class _Offering:
    """Builds the offers for one table. A cell of a column that is yet to be added is written as a placeholder."""

    def __init__(self, content: SheetContent, table: ShopTable, wishes: Wishes) -> None:
        self._content = content
        self._table = table
        self._wishes = wishes
        self._offers: dict[str, Offer] = {}
        self._sources: list[str] = []
        self._unit_of_balance = ""

    def offers(self) -> tuple[Offer, ...]:
        """Every offer, those that cannot be computed included."""
        made: tuple[tuple[str, str, Callable[[int], str]], ...] = (
            ("balance", "Balance", self._balance_from_reading),
            ("swingweight", "Swingweight", lambda row: f"HEFT_SWINGWEIGHT({self._weighed(row)})"),
            ("points", "Swingweight points", lambda row: f"HEFT_POINTS({self._weighed(row)})"),
            ("moment", "Moment g cm", lambda row: f"HEFT_MOMENT({self._weighed(row)})"),
            ("inertia", "Inertia kg cm2", self._inertia),
            ("doubt", "Doubt points", self._doubt),
            ("verdict", "Verdict", self._verdict),
            ("forecast", "Forecast swingweight", self._forecast),
            ("length", "Length rule", self._length_rule),
        )
        for key, heading, formula in made:
            self._offer(key, heading, formula)
        return self._tried()

    def _offer(self, key: str, heading: str, formula: Callable[[int], str]) -> None:
        heading = f"{self._headed(key, heading)} {MARK}"
        there = next((c.letter for c in self._table.columns if c.heading.endswith(heading)), "")
        self._sources = []
        try:
            formulas = {row: formula(row) for row in self._table.rows}
        except _LackingError as lacking:
            self._offers[key] = Offer(key, heading, (), (str(lacking),), {}, there=there, asks=lacking.asks)
            return
        sources = tuple(dict.fromkeys(self._sources))
        self._offers[key] = Offer(key, heading, sources, (), formulas, there=there)

    def _headed(self, key: str, heading: str) -> str:
        if key == "balance":
            span = self._table.holding("span")
            return f"{heading} ({span.unit})" if span is not None and span.unit else heading
        return heading

    def _tried(self) -> tuple[Offer, ...]:
        """Try the offers, for what their formulas answer on this sheet, in columns far to the right."""
        at = {name: self._content.last_column + 2 + n for n, name in enumerate(self._offers)}
        formulas = {
            (row, at[name]): _placed(text, row, at)
            for name, offer in self._offers.items()
            for row, text in offer.formulas.items()
        }
        values = compute_beside(self._content.values, formulas)
        return tuple(
            replace(offer, values={row: values[row, at[name]] for row in offer.formulas})
            for name, offer in self._offers.items()
        )

    # ------------------------------------------------------------------ formulas of one row

    def _weighed(self, row: int) -> str:
        """Arguments mass, balance and units."""
        mass, length = self._pair()
        return f'{self._cell("mass", row, mass)},{self._balance(row, length)},"{mass} {length}"'

    def _inertia(self, row: int) -> str:
        mass, length = self._pair()
        more = f",{self._cell('pivot', row, length)}" if self._table.holding("pivot") else ""
        period = self._cell("period", row)
        weighed = f"{self._cell('mass', row, mass)},{self._balance(row, length)}"
        return f'HEFT_INERTIA({weighed},{period},"{mass} {length}"{more})'

    def _doubt(self, row: int) -> str:
        mass, length = self._pair()
        doubts = (
            self._told_or_cell("mass_doubt", self._wishes.mass_doubt, row, mass, "--mass-doubt"),
            self._told_or_cell("balance_doubt", self._wishes.balance_doubt, row, length, "--balance-doubt"),
        )
        weighed = f"{self._cell('mass', row, mass)},{self._balance(row, length)}"
        return f'HEFT_DOUBT({weighed},{",".join(doubts)},"{mass} {length}")'

    def _verdict(self, row: int) -> str:
        target = self._told_or_cell("target", self._wishes.target, row, None, "--target")
        tolerance = self._told_or_cell("tolerance", self._wishes.tolerance, row, None, "--tolerance")
        points, doubt = self._offers["points"], self._offers["doubt"]
        if points.lacking:
            raise _LackingError(points.lacking[0], points.asks)
        self._sources += [*points.sources]
        more = ""
        if not doubt.lacking:
            self._sources += [*doubt.sources]
            more = f",{_PLACEHOLDER.format('doubt')}"
        return f"HEFT_VERDICT({_PLACEHOLDER.format('points')},{target},{tolerance}{more})"

    def _forecast(self, row: int) -> str:
        rows = self._table.heading_rows
        for quantity in FORECAST_NEEDS:
            self._need(quantity)
        if len(rows) > 1 or any(column.mapped for column in self._table.columns):
            raise _LackingError("HEFT_CLUB reads headings from one row, each with its unit: write them so")
        first, last = self._table.columns[0].letter, self._table.columns[-1].letter
        self._sources += [f"{column.letter} {column.heading}" for column in self._table.columns if _is_part(column)]
        return f'HEFT_CLUB(${first}${rows[0]}:${last}${rows[0]},${first}{row}:${last}{row},"swingweight")'

    def _length_rule(self, row: int) -> str:
        column = self._need("club_length")
        unit = column.unit or "cm"
        length = unit if f"g {unit}" in units.UNIT_PAIRS else "cm"
        return f'HEFT_LENGTH_LIMIT({self._cell("club_length", row, length)},"other","g {length}")'

    def _balance_from_reading(self, row: int) -> str:
        if self._table.holding("balance") is not None:
            raise _LackingError("it is measured already")
        mass, length = self._need("mass").unit, self._need("span").unit
        mass, length = _known_pair(mass, length)
        offset = self._cell("offset", row, length) if self._table.holding("offset") else "0"
        self._unit_of_balance = length
        cells = ",".join(
            (self._cell("reading", row, mass), self._cell("span", row, length), self._cell("mass", row, mass))
        )
        return f'HEFT_BALANCE({cells},{offset},"{mass} {length}")'

    # ------------------------------------------------------------------ cells

    def _pair(self) -> tuple[str, str]:
        """Choose the units that a formula is to speak in: those of the sheet, where a formula knows them together."""
        balance = self._table.holding("balance")
        length = balance.unit if balance is not None else self._unit_of_balance or None
        return _known_pair(self._need("mass").unit, length)

    def _balance(self, row: int, length: str) -> str:
        if self._table.holding("balance") is not None:
            return self._cell("balance", row, length)
        offer = self._offers["balance"]
        if offer.lacking:
            raise self._missing("balance")
        self._sources += offer.sources
        return offer.there + str(row) if offer.there else _PLACEHOLDER.format("balance")

    def _cell(self, quantity: str, row: int, unit: str | None = None) -> str:
        """Refer to a cell of a column, in the unit that the formula speaks in."""
        column = self._need(quantity)
        self._sources.append(f"{column.letter} {column.heading}")
        cell = f"{column.letter}{row}"
        if unit is None or column.unit is None or column.unit == unit:
            return cell
        return f'HEFT_CONVERT({cell},"{column.unit}","{unit}")'

    def _told_or_cell(self, quantity: str, told: str | float | None, row: int, unit: str | None, option: str) -> str:
        if told is not None and told != "":
            self._sources.append(f"{option} {told}")
            return f'"{told}"' if isinstance(told, str) else repr(told)
        if self._table.holding(quantity) is None:
            missing = self._missing(quantity)
            raise _LackingError(f"{missing}, or give {option}", missing.asks)
        return self._cell(quantity, row, unit)

    def _need(self, quantity: str) -> ShopColumn:
        column = self._table.holding(quantity)
        if column is None:
            raise self._missing(quantity)
        return column

    def _missing(self, quantity: str) -> _LackingError:
        name = VOCABULARY[quantity].words[0]
        for column in self._table.columns:
            if column.unsure and column.reading.quantity == quantity:
                return _LackingError(f'{column.letter} "{column.heading}": {column.unsure}', column)
            if column.reading.quantity is None and f'"{name}"'.casefold() in (column.reading.problem or "").casefold():
                return _LackingError(f'{column.letter} "{column.heading}": {column.reading.problem}', column)
        return _LackingError(f"no column is headed {name}")


def _is_part(column: ShopColumn) -> bool:
    return column.quantity is not None and VOCABULARY[column.quantity].part


def _known_pair(mass: str | None, length: str | None) -> tuple[str, str]:
    """Two units that the `units` argument knows together, as near to the sheet's own as can be."""
    mass = mass if mass in ("g", "oz") else "g"
    length = length if f"{mass} {length}" in units.UNIT_PAIRS else "cm"
    return mass, length or "cm"


def _placed(text: str, row: int, places: Mapping[str, int]) -> str:
    """Put the cells of new columns into a formula."""
    for key, column in places.items():
        text = text.replace(_PLACEHOLDER.format(key), f"{column_letter(column)}{row}")
    return text


def _moved(adoption: Adoption, offers: tuple[Offer, ...], places: Mapping[str, int]) -> dict[str, dict[int, str]]:
    """Each offer's formulas with the new columns in their place; one that is not added is written out."""
    all_offers = {offer.key: offer for offer in adoption.offers}

    def put(text: str, row: int) -> str:
        for key, offer in all_offers.items():
            mark = _PLACEHOLDER.format(key)
            if mark in text:
                if key in places:
                    cell = f"{column_letter(places[key])}{row}"
                else:
                    cell = f"{offer.there}{row}" if offer.there else put(offer.formulas[row], row)
                text = text.replace(mark, cell)
        return text

    return {offer.key: {row: put(text, row) for row, text in offer.formulas.items()} for offer in offers}


# ---------------------------------------------------------------------- where and how it is written


def _first_free(content: SheetContent, table: ShopTable) -> int:
    """Find the first column to the right of all that stands beside the table."""
    top, bottom = table.heading_rows[0], table.rows[-1]
    used = [column for row, column in (*content.values, *content.formulas) if top <= row <= bottom]
    used += [area.right for area in content.merged if area.top <= bottom and area.bottom >= top]
    return max(used) + 1


def _styles(adoption: Adoption) -> tuple[int | None, dict[int, int]]:
    """Choose the formats of a new heading and of each row's new cells: those of the masses, which are numbers."""
    table, content = adoption.table, adoption.content
    model = table.holding("mass") or table.columns[-1]
    heading = content.styles.get((table.heading_row, model.at)) or content.styles.get((table.heading_rows[0], model.at))
    found = {row: content.styles.get((row, model.at)) for row in table.rows}
    return heading, {r: style for r, style in found.items() if style is not None and style not in adoption.text_styles}


def _text_styles(package: Package) -> frozenset[int]:
    """Find the cell formats by which whatever is typed stays text."""
    links = package.relationships(package.workbook_part).values()
    part = next((link.target for link in links if link.kind == "styles" and link.target in package.entries), "")
    found: list[int] = []
    inside, count = False, 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal inside, count
        if local_name(tag) == "cellXfs":
            inside = True
        elif inside and local_name(tag) == "xf":
            if attributes.get("numFmtId") == str(_TEXT_FORMAT):
                found.append(count)
            count += 1

    def end(tag: str) -> None:
        nonlocal inside
        inside = inside and local_name(tag) != "cellXfs"

    if part:
        package.walk(part, start, end)
    return frozenset(found)


def _notes(content: SheetContent, table: ShopTable) -> list[str]:
    notes = []
    if content.is_protected:
        notes.append("the sheet is protected: new cells stand in it locked or open as their neighbours do")
    hidden = [column.letter for column in table.columns if column.hidden and column.quantity is not None]
    if hidden:
        notes.append(f"column {' and '.join(hidden)} is hidden, and read all the same")
    for column in table.columns:
        wrong = unreadable(content, table, column)
        if wrong:
            row, why = wrong[0]
            more = f" (and {len(wrong) - 1} more)" if len(wrong) > 1 else ""
            notes.append(f"{column.letter}{row}: {why}{more}")
        stale = [row for row in table.rows if _is_unstored(content, row, column)]
        if stale:
            notes.append(
                f"{column.letter}{stale[0]}: a formula without a stored result, save the workbook once in your "
                "spreadsheet program"
            )
    return notes


def _is_unstored(content: SheetContent, row: int, column: ShopColumn) -> bool:
    place = (row, column.at)
    return column.quantity is not None and place in content.formulas and place not in content.values


def _check_wishes(wishes: Wishes) -> None:
    """Refuse what the options tell wrongly, before the sheet is read."""
    for option, text, symbol in (
        ("--mass-doubt", wishes.mass_doubt, "g"),
        ("--balance-doubt", wishes.balance_doubt, "cm"),
    ):
        if text:
            try:
                units.read_quantity(text, units.UNITS[symbol].dimension, units.UNITS[symbol])
            except ValueError as error:
                raise Refused(what_is_wrong(option, text, error)) from None
    if wishes.target:
        try:
            points_from_label(wishes.target)
        except ValueError as error:
            raise Refused(what_is_wrong("--target", wishes.target, error)) from None
    if wishes.tolerance is not None and wishes.tolerance < 0:
        raise Refused(f"--tolerance must be 0 or more, got {show(wishes.tolerance)}")
