"""Rows of a shop's own sheet, read by their headings into a club's parts.

The headings are understood once (`plan_for`, remembered between calls), then each row is read
by that plan. A long table is read column by column into numpy arrays where numpy can be had;
rows that hold anything but plain good numbers, and all rows where it cannot, are read one by one.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain
from typing import Any

from evenheft.formulas.headed.headings import HeadingReading, needs_unit, read_headings
from evenheft.formulas.headed.vocabulary import VOCABULARY, Headed
from evenheft.formulas.kinds import (
    DEFAULT_SCALE,
    PASSED_ON,
    HeldDimension,
    Number,
    Quantity,
    Scale,
    finite_number,
    is_blank,
    show,
    what_is_wrong,
)
from evenheft.mechanics import units
from evenheft.mechanics.bodies import is_possible_shaft
from evenheft.mechanics.club import DEFAULTS, SHAFT_SHARE, TAPE_READING, Parts, butt_trim, cut_length, shaft_balance
from evenheft.mechanics.forecast_doubt import Doubts, Taught
from evenheft.ooxml.errors import Refused

try:
    import numpy as np
except ImportError:  # the Python that comes with a spreadsheet program need not have it
    np = None  # type: ignore[assignment]

Cells = Sequence[object]
Table = Sequence[Cells]

REQUIRED = ("head_mass", "club_length", "shaft_mass", "shaft_length")
"""What no forecast can do without; everything else is absent, or has a shop default."""
DOUBTS = {
    "mass_doubt": "mass", "balance_doubt": "balance", "length_doubt": "length", "head_rise_doubt": "head_rise",
    "shaft_balance_doubt": "shaft_balance", "epoxy_doubt": "epoxy", "grip_balance_doubt": "grip_balance",
    "place_doubt": "place", "common_balance_doubt": "common_balance",
}  # fmt: skip
"""Half-widths that a row or the shop's defaults may give, and their names in `Doubts`."""
STAND_IN = ("cut_grip_mass", "cut_grip_balance")
"""Quantities of a stand-in for a part, which no finished club carries."""
_BALANCES = ("shaft_balance", "shaft_balance_from_tip")
_SHARE = Number(30, 70, "%")
_HEAD_INERTIA = "head_own"
_BLANK = -1.5e300
"""Stands for a blank among numbers while they are an array: no cell holds it, and no bound lets it pass."""
_FEWEST_FOR_ARRAYS = 16
"""Below so many rows, setting arrays up costs more than it saves [-]."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column that holds one of the quantities of a club's parts."""

    at: int
    heading: str
    headed: Headed
    scale: Scale
    """The unit of the heading."""
    unit: str | None
    plain_factor: float | None
    """What a plain number is multiplied with to be in g, cm or g cm2; None where a number needs a look."""

    def read(self, raw: object) -> float:
        """Read a cell that is not blank [g, cm, g cm2, or a share of the shaft's length].

        Raises:
            Refused: the cell holds no such quantity, or it is out of bounds.
        """
        if isinstance(raw, str) and raw.startswith(PASSED_ON):
            raise Refused(raw.removeprefix(PASSED_ON))
        try:
            return self._read(raw)
        except ValueError as error:
            raise Refused(what_is_wrong(self.heading, raw, error)) from None

    def _read(self, raw: object) -> float:
        kind = self.headed.kind
        if self.unit == "%":
            number = finite_number(raw)
            # A cell in per cent format holds 0.52 and shows 52 %.
            percent = raw if number is None else number * 100 if 0 < number < 1 else number
            share: float = _SHARE.read(percent, self.scale)
            return share / 100
        if self.headed.dimension == "inertia":
            unit = units.UNITS[self.unit or "kg cm2"]
            number = finite_number(raw)
            if number is not None:
                inertia = number * unit.factor
            else:  # what is no text is read as none, which tells what is wanted
                inertia = units.read_quantity(raw if isinstance(raw, str) else "", "inertia", unit)
            held: float = kind.read(inertia / units.G_CM2_PER_KG_CM2, self.scale)
            return held * units.G_CM2_PER_KG_CM2
        if self.plain_factor is None and self.headed.dimension == "length":
            if not isinstance(raw, str):
                raise ValueError(f'must have its unit in the heading, e.g. "{self.heading} (in)"')
            _need_own_unit(raw, self.heading)
        value: float = kind.read(raw, self.scale)
        return value

    @property
    def key(self) -> str:
        """The quantity; where a shaft balances as a share of its length is another one than in cm."""
        return f"{self.headed.name} share" if self.unit == "%" else self.headed.name


def _need_own_unit(raw: str, heading: str) -> None:
    """Refuse a length that has its unit neither in the heading nor in the cell."""
    nameless = units.Unit("", "length", float("nan"), "")
    length = units.read_quantity(raw, "length", nameless)
    if length != length:
        raise ValueError(f'must have its unit in the heading, e.g. "{heading} (in)"')


@dataclass(frozen=True, slots=True)
class Plan:
    """How the rows under some headings are read."""

    width: int
    columns: tuple[Column, ...]
    doubtful: tuple[tuple[int, str], ...]
    """Columns that may hold a part which was not understood, and why: a number there is not dropped."""
    given: tuple[tuple[str, float], ...]
    """What the shop's changed defaults give, by `Column.key` [g, cm, g cm2, share]."""
    doubt_columns: tuple[Column, ...]
    """Columns that hold half-widths."""
    given_doubts: tuple[tuple[str, float], ...]
    """Half-widths that the shop's defaults give, by their keys [g, cm]."""

    def scale_of(self, name: str) -> Scale:
        """Look up the units of a quantity's heading, for messages about it."""
        return next((column.scale for column in self.columns if column.headed.name == name), DEFAULT_SCALE)


@dataclass(frozen=True, slots=True)
class Row:
    """A club's parts as its row gives them, with what only a dry fit needs."""

    parts: Parts
    masses: frozenset[str]
    """Names of the masses that the row or the shop's defaults give."""
    cut_grip_mass: float | None
    cut_grip_balance: float
    known: frozenset[str]
    """Names in `Parts` of what the row itself gives, not the defaults."""
    doubts: Doubts
    """How far its parts may be off."""
    taught: Taught | None
    """How well its head rise is known; None where the row gives none and it is a guess."""


def plan_for(headers: Table, defaults: Table | None, *, unknown: str | None = None) -> Plan:
    """Understand the headings, and the defaults that a shop has changed.

    Args:
        headers: one row of headings [-].
        defaults: rows of a heading and its value, or None [-].
        unknown: a mass that is asked for, so that no heading need name it [-].

    Raises:
        Refused: they are not laid out so, name a part twice, in a wrong unit, or lack what no club is without.
    """
    if len(headers) != 1:
        raise Refused(f"headers must be one row of cells, got {len(headers)} rows")
    changed = tuple(chain.from_iterable(defaults or ()))
    if any(len(row) != 2 for row in defaults or ()):
        raise Refused("defaults must be a range of two columns, a heading and its value in each row")
    return _plan(tuple(headers[0]), changed, unknown)


@lru_cache(maxsize=64)
def _plan(headers: tuple[object, ...], defaults: tuple[object, ...], unknown: str | None) -> Plan:
    texts = [_heading_text(cell) for cell in headers]
    columns: list[Column] = []
    doubt_columns: list[Column] = []
    doubtful: list[tuple[int, str]] = []
    wrong: list[str] = []
    for at, (text, reading) in enumerate(zip(texts, read_headings(texts), strict=True)):
        if reading.quantity is None:
            if reading.problem is not None:
                doubtful.append((at, f"{_named(text)}: {reading.problem}"))
        elif VOCABULARY[reading.quantity].part:
            if reading.problem is not None:
                wrong.append(f"{_named(text)}: {reading.problem}")
            else:
                columns.append(column_under(at, text, reading))
        elif reading.quantity in DOUBTS and reading.problem is None:
            doubt_columns.append(column_under(at, text, reading))
    all_given = _given(defaults, wrong)
    given = {key: value for key, value in all_given.items() if key not in DOUBTS}
    given_doubts = tuple((key, value) for key, value in all_given.items() if key in DOUBTS)
    known = {column.headed.name for column in columns} | set(given)
    if not columns:
        wrong.append("headers must name a club's parts, e.g. Head mass (g)")
    elif not wrong and (lacking := [name for name in REQUIRED if name not in known and name != unknown]):
        wrong.append("headers lack " + _and([f'"{_example(name)}"' for name in lacking]))
    if wrong:
        raise Refused("; ".join(wrong))
    return Plan(len(headers), tuple(columns), tuple(doubtful), tuple(given.items()), tuple(doubt_columns), given_doubts)


def _given(defaults: tuple[object, ...], wrong: list[str]) -> dict[str, float]:
    """Read the changed defaults by their keys; what is wrong with one is added to the list."""
    filled = [
        (_heading_text(heading), value)
        for heading, value in zip(defaults[::2], defaults[1::2], strict=True)
        if not (is_blank(heading) or is_blank(value))
    ]
    readings = read_headings([text for text, _ in filled])
    given: dict[str, float] = {}
    for (text, value), reading in zip(filled, readings, strict=True):
        if reading.problem is None and not (_is_part(reading) or reading.quantity in DOUBTS):
            reading = reading._replace(problem="is no part or place of a club")
        if reading.problem is not None:
            wrong.append(f"defaults: {_named(text)}: {reading.problem}")
            continue
        column = column_under(0, text, reading)
        try:
            given[column.key] = column.read(value)
        except Refused as refused:
            wrong.append(f"defaults: {refused}")
    return given


def _is_part(reading: HeadingReading) -> bool:
    return reading.quantity is not None and VOCABULARY[reading.quantity].part


def column_under(at: int, text: str, reading: HeadingReading) -> Column:
    """Describe the column under a heading that names a quantity.

    Args:
        at: the column's place among the headings, from 0 [-].
        text: the heading [-].
        reading: what it was understood to be [-].
    """
    assert reading.quantity is not None
    headed = VOCABULARY[reading.quantity]
    unit = units.UNITS.get(reading.unit or "")
    mass = unit if unit is not None and unit.dimension == "mass" else units.UNITS["g"]
    length = unit if unit is not None and unit.dimension == "length" else units.UNITS["cm"]
    scale = Scale(mass, length)
    factor: float | None = None
    if headed.dimension in ("mass", "length") and reading.unit != "%" and not needs_unit(reading):
        held: HeldDimension = headed.dimension
        factor = scale.unit(held).factor
    return Column(at, _named(text), headed, scale, reading.unit, factor)


def _heading_text(cell: object) -> str:
    return "" if is_blank(cell) else cell if isinstance(cell, str) else show(cell)


def _named(text: str) -> str:
    return show(text)


def _example(name: str) -> str:
    headed = VOCABULARY[name]
    return f"{headed.words[0].capitalize()} ({'g' if headed.dimension == 'mass' else 'in'})"


def _and(words: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def read_row(plan: Plan, cells: Cells, *, unknown: str | None = None) -> Row | None:
    """Read one row.

    Args:
        plan: from `plan_for` [-].
        cells: as many as there are headings [-].
        unknown: a mass that is asked for, so that the row need not give it and 0 is taken [-].

    Returns:
        The club's parts [g, cm], or None where the row is blank under every heading of a part.

    Raises:
        Refused: something is missing, out of bounds, given twice or not understood; all of it is told.
    """
    need_width(plan, cells)
    values: dict[str, float] = {}
    wrong: list[str] = []
    for column in plan.columns:
        raw = cells[column.at]
        if column.key != unknown and not is_blank(raw):
            try:
                values[column.key] = column.read(raw)
            except Refused as refused:
                wrong.append(str(refused))
    wrong += [f"{problem}" for at, problem in plan.doubtful if _may_be_a_number(cells[at])]
    if not values and not wrong:
        return None
    if wrong:
        raise Refused("; ".join(dict.fromkeys(wrong)))
    doubts, taught = _doubts(plan, cells, has_rise="head_rise" in values)
    known = frozenset("shaft_balance" if key.startswith(_BALANCES) else key for key in values)
    own_balance = any(key.startswith(_BALANCES) for key in values)
    for key, value in plan.given:
        if not (own_balance and key.startswith(_BALANCES)):
            values.setdefault(key, value)
    if unknown is not None:
        values[unknown] = 0.0
    lacking = [VOCABULARY[name].words[0] for name in REQUIRED if name not in values]
    if lacking:
        raise Refused(f"the row lacks {_and(lacking)}")
    masses = frozenset(name for name in values if name.endswith("_mass"))
    cut_grip_mass = values.pop("cut_grip_mass", None)
    grip_balance = values.get("grip_balance", DEFAULTS["grip_balance"])
    assert grip_balance is not None
    cut_grip_balance = values.pop("cut_grip_balance", grip_balance)
    parts = _parts(values)
    need_sound(parts, plan.scale_of("shaft_length"), other_placed="other_from_butt" in values)
    return Row(parts, masses, cut_grip_mass, cut_grip_balance, known, doubts, taught)


def _doubts(plan: Plan, cells: Cells, *, has_rise: bool) -> tuple[Doubts, Taught | None]:
    """Read a row's half-widths, and how well a head rise is known that the row gives.

    A half-width of the rise among the shop's defaults is that of its guess; one in the row, of the row's own rise.
    """
    own = {c.headed.name: c.read(cells[c.at]) for c in plan.doubt_columns if not is_blank(cells[c.at])}
    given = {DOUBTS[key]: value for key, value in (dict(plan.given_doubts) | own).items()}
    return Doubts(**given), Taught(own.get("head_rise_doubt")) if has_rise else None


def row_by_row(plan: Plan, rows: Table, answer: Callable[[Row], float | str]) -> list[float | str]:
    """Answer each row of a table by itself: blank where the row is, and what is wrong with it in its place.

    Args:
        plan: from `plan_for` [-].
        rows: the table's rows [-].
        answer: what is asked of a row that can be read [-].
    """
    answers: list[float | str] = []
    for cells in rows:
        try:
            row = read_row(plan, cells)
            answers.append("" if row is None else answer(row))
        except Refused as refused:
            answers.append(f"{PASSED_ON}{refused}")
    return answers


def need_width(plan: Plan, cells: Cells) -> None:
    """Refuse a row that is not as wide as the headings."""
    if len(cells) != plan.width:
        raise Refused(f"row must be as wide as headers, {plan.width} cells, got {len(cells)}")


def _may_be_a_number(raw: object) -> bool:
    """Whether a cell may hold a mass or a length: a number, or a text that begins with one."""
    return finite_number(raw) is not None or (isinstance(raw, str) and raw.strip()[:1].isdigit())


def _parts(values: dict[str, Any]) -> Parts:
    """Parts from values by `Column.key`; of the ways to tell where a shaft balances exactly one may be used."""
    length = values["shaft_length"]
    balances = [key for key in values if key.startswith(_BALANCES)]
    if len(balances) > 1:
        raise Refused("shaft balance is given twice, from butt and from tip: keep one of them")
    fields = {key: value for key, value in values.items() if key not in balances}
    for key in balances:
        fields["shaft_balance"] = _from_butt(key, values[key], length)
    return Parts(**fields)


def need_sound(parts: Parts, scale: Scale, *, other_placed: bool = True) -> None:
    """Refuse parts that do not make a club, saying which number is odd.

    Args:
        parts: the club's parts [g, cm].
        scale: the units that a message speaks in [-].
        other_placed: whether the place of anything else was given [-].
    """
    wrong: list[str] = []
    length = parts.shaft_length
    balance = shaft_balance(parts)
    if not is_possible_shaft(length, balance):
        low, high, got, whole = (_length_text(x, scale) for x in (length / 3, 2 * length / 3, balance, length))
        wrong.append(f"shaft balance must be from {low} to {high} from the butt of a {whole} shaft, got {got}")
    short = -butt_trim(parts)
    if short > TAPE_READING:
        needed, lack = (_length_text(x, scale) for x in (cut_length(parts) + parts.tip_trim, short))
        wrong.append(
            f"the shaft is too short by {lack}: it must be at least {needed}, got {_length_text(length, scale)}"
        )
    if parts.other_mass > 0 and not other_placed:
        wrong.append("other mass needs its place: add Other from butt (cm)")
    if wrong:
        raise Refused("; ".join(wrong))


def _length_text(length: float, scale: Scale) -> str:
    """Write a length [cm] in the unit of a heading, to what a tape can show."""
    return f"{show(round(length / scale.length.factor, 2))} {scale.length.symbol}"


def read_table(plan: Plan, rows: Table) -> tuple[Parts, Any] | None:
    """Read a long table at once, into parts that hold an array each.

    Args:
        plan: from `plan_for` [-].
        rows: the table's rows, each as wide as the headings [-].

    Returns:
        The parts [g, cm] and which rows they are good for; the others are for `read_row`. None
        where arrays do not pay or cannot be had.
    """
    if np is None or len(rows) < _FEWEST_FOR_ARRAYS:
        return None
    try:
        table = list(zip(*rows, strict=True))
    except ValueError:  # a ragged table
        return None
    sound = np.ones(len(rows), dtype=bool)
    for at, _ in plan.doubtful:
        if any(not is_blank(cell) for cell in table[at]):
            sound &= [not _may_be_a_number(cell) for cell in table[at]]
    given = dict(plan.given)
    if all(name in given for name in REQUIRED):
        return None  # then a blank row could not be told from a club
    for column in plan.doubt_columns:
        sound &= [is_blank(row[column.at]) or _is_good(column, row[column.at]) for row in rows]
    values: dict[str, Any] = dict(given)
    with np.errstate(all="ignore"):  # rows that are not sound may hold anything
        for column in plan.columns:
            read, blank, bad = _read_column(column, table[column.at])
            if bad is not None:
                sound &= ~bad
            if blank is not None and not column.headed.name.startswith(_BALANCES):
                default = given.get(column.key, DEFAULTS.get(column.key))
                if column.headed.name in REQUIRED and default is None:
                    sound &= ~blank
                elif default is not None and (column.key != "other_from_butt" or column.key in given):
                    read = np.where(blank, default, read)
            values[column.key] = read
        for name in STAND_IN:
            values.pop(name, None)
        parts = _parts_of_arrays(values, given, sound)
        sound &= _is_possible(parts) & (butt_trim(parts) >= -TAPE_READING)
    return parts, sound


def _is_good(column: Column, cell: object) -> bool:
    try:
        column.read(cell)
    except Refused:
        return False
    return True


def _read_column(column: Column, cells: Sequence[object]) -> tuple[Any, Any, Any]:
    """Read a column's cells: values, nan where blank or bad; which are blank and which bad, None where none is."""
    kind = column.headed.kind
    if column.plain_factor is not None and isinstance(kind, Quantity):
        factor = column.plain_factor
        numbers = _numbers(cells)
        if numbers is not None and kind.low <= numbers.min() * factor and numbers.max() * factor <= kind.high:
            return numbers * factor, None, None
        if numbers is None:
            numbers = _numbers([_BLANK if cell is None else cell for cell in cells])
        if numbers is None:
            numbers = _numbers([_BLANK if is_blank(cell) else cell for cell in cells])
        if numbers is not None:
            blank, values = numbers == _BLANK, numbers * factor
            good = (kind.low <= values) & (values <= kind.high) | blank
            return np.where(blank, np.nan, values), blank, None if good.all() else ~good
    values = np.full(len(cells), np.nan)
    bad = np.zeros(len(cells), dtype=bool)
    for n, cell in enumerate(cells):
        if not is_blank(cell):
            try:
                values[n] = column.read(cell)
            except Refused:
                bad[n] = True
    return values, np.isnan(values) & ~bad, bad


def _numbers(cells: Sequence[object]) -> Any:
    """Cells that are all numbers as an array, None where any is none; TRUE and FALSE are none."""
    try:
        numbers = np.frombuffer(array("d", cells))  # type: ignore[type-var]  # what is no number raises
    except TypeError:
        return None
    # Only a 0 or a 1 can have been a TRUE or FALSE: few columns need the slow look.
    if ((numbers == 0) | (numbers == 1)).any() and bool in set(map(type, cells)):
        return None
    return numbers


def _parts_of_arrays(values: dict[str, Any], given: dict[str, float], sound: Any) -> Parts:
    """Parts that hold arrays; rows that are told in two ways, or not at all, are struck off `sound`."""
    length = values["shaft_length"]
    balance = np.full(len(sound), np.nan)
    shop_balance = SHAFT_SHARE * length
    for key in [key for key in values if key.startswith(_BALANCES)]:
        places = values.pop(key)
        if key in given and not isinstance(places, np.ndarray):
            shop_balance = _from_butt(key, places, length)
            continue
        places = _from_butt(key, places, length)
        sound &= np.isnan(balance) | np.isnan(places)
        balance = np.where(np.isnan(balance), places, balance)
        if key in given:
            shop_balance = _from_butt(key, given[key], length)
    values["shaft_balance"] = np.where(np.isnan(balance), shop_balance, balance)
    if isinstance(lead := values.get("lead_tape_rise"), np.ndarray):
        head_rise: Any = values.get("head_rise", DEFAULTS["head_rise"])
        values["lead_tape_rise"] = np.where(np.isnan(lead), head_rise, lead)
    place = values.get("other_from_butt", np.nan)
    sound &= ~((values.get("other_mass", 0.0) > 0) & np.isnan(place))
    values["other_from_butt"] = np.nan_to_num(place)
    return Parts(**values)


def _from_butt(key: str, place: Any, length: Any) -> Any:
    """Where a shaft balances from its butt end [cm], its place given in one of the ways of `Column.key`."""
    balance = place * length if key.endswith("share") else place
    return length - balance if key.startswith("shaft_balance_from_tip") else balance


def _is_possible(parts: Parts) -> Any:
    """Which rows' shafts a straight line of density allows: `bodies.is_possible_shaft` for arrays."""
    length, balance = parts.shaft_length, shaft_balance(parts)
    return (length / 3 <= balance) & (balance <= 2 * length / 3)
