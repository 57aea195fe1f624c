"""Columns of a shop's own sheet, understood once by their headings: which part each holds, how its cells are read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain

from evenheft.formulas.headed.headings import HeadingReading, needs_unit, read_headings
from evenheft.formulas.headed.vocabulary import VOCABULARY, Headed
from evenheft.formulas.kinds import Number, Quantity, finite_number
from evenheft.formulas.wording import DEFAULT_SCALE, PASSED_ON, HeldDimension, Scale, is_blank, show, what_is_wrong
from evenheft.mechanics import units
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

NEEDED_PARTS = ("head_mass", "club_length", "shaft_mass", "shaft_length")
"""What no forecast can do without; everything else is absent, or has a shop default."""
DOUBTS = {
    "mass_doubt": "mass", "balance_doubt": "balance", "length_doubt": "length", "head_rise_doubt": "head_rise",
    "shaft_balance_doubt": "shaft_balance", "epoxy_doubt": "epoxy", "grip_balance_doubt": "grip_balance",
    "place_doubt": "place", "common_balance_doubt": "common_balance",
}  # fmt: skip
"""Half-widths that a row or the shop's defaults may give, and their names in `Doubts`."""
STAND_IN = ("cut_grip_mass", "cut_grip_balance")
"""Quantities of a stand-in for a part, which no finished club carries."""
BALANCES = ("shaft_balance", "shaft_balance_from_tip")
_SHARE = Number(30, 70, "%")
_HEAD_INERTIA = "head_own"


@dataclass(frozen=True, slots=True)
class PartColumn:
    """A column that holds one of the quantities of a club's parts."""

    at: int
    heading: str
    headed: Headed
    scale: Scale
    """The unit of the heading."""
    unit: str | None
    plain_factor: float | None
    """What a plain number is multiplied with to be in g, cm or g cm2; None where a number needs a look."""
    plain_span: tuple[float, float] | None
    """From where to where [g or cm] such a number needs no further look."""

    def read(self, raw: object) -> float:
        """Read a cell that is not blank [g, cm, g cm2, or a share of the shaft's length].

        Raises:
            Refused: the cell holds no such quantity, or it is out of bounds.
        """
        if type(raw) is float and self.plain_factor is not None and self.plain_span is not None:
            plain = raw * self.plain_factor
            if self.plain_span[0] <= plain <= self.plain_span[1]:
                return plain
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
            unit = units.BY_SYMBOL[self.unit or "kg cm2"]
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
class RowPlan:
    """How the rows under some headings are read."""

    width: int
    columns: tuple[PartColumn, ...]
    doubtful: tuple[tuple[int, str], ...]
    """Columns that may hold a part which was not understood, and why: a number there is not dropped."""
    given: tuple[tuple[str, float], ...]
    """What the shop's changed defaults give, by `PartColumn.key` [g, cm, g cm2, share]."""
    doubt_columns: tuple[PartColumn, ...]
    """Columns that hold half-widths."""
    given_doubts: tuple[tuple[str, float], ...]
    """Half-widths that the shop's defaults give, by their keys [g, cm]."""

    def scale_of(self, name: str) -> Scale:
        """Look up the units of a quantity's heading, for messages about it."""
        return next((column.scale for column in self.columns if column.headed.name == name), DEFAULT_SCALE)


def plan_for(headers: CellRows, defaults: CellRows | None, *, unknown: str | None = None) -> RowPlan:
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
def _plan(headers: tuple[object, ...], defaults: tuple[object, ...], unknown: str | None) -> RowPlan:
    texts = [_heading_text(cell) for cell in headers]
    columns: list[PartColumn] = []
    doubt_columns: list[PartColumn] = []
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
    elif not wrong and (lacking := [name for name in NEEDED_PARTS if name not in known and name != unknown]):
        wrong.append("headers lack " + listed_with_and([f'"{_example(name)}"' for name in lacking]))
    if wrong:
        raise Refused("; ".join(wrong))
    return RowPlan(
        len(headers), tuple(columns), tuple(doubtful), tuple(given.items()), tuple(doubt_columns), given_doubts
    )


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


def column_under(at: int, text: str, reading: HeadingReading) -> PartColumn:
    """Describe the column under a heading that names a quantity.

    Args:
        at: the column's place among the headings, from 0 [-].
        text: the heading [-].
        reading: what it was understood to be [-].
    """
    assert reading.quantity is not None
    headed = VOCABULARY[reading.quantity]
    unit = units.BY_SYMBOL.get(reading.unit or "")
    mass = unit if unit is not None and unit.dimension == "mass" else units.BY_SYMBOL["g"]
    length = unit if unit is not None and unit.dimension == "length" else units.BY_SYMBOL["cm"]
    scale = Scale(mass, length)
    factor: float | None = None
    if headed.dimension in ("mass", "length") and reading.unit != "%" and not needs_unit(reading):
        held: HeldDimension = headed.dimension
        factor = scale.unit(held).factor
    span = headed.kind.plain_span if factor is not None and isinstance(headed.kind, Quantity) else None
    return PartColumn(at, _named(text), headed, scale, reading.unit, factor, span)


def _heading_text(cell: object) -> str:
    return "" if is_blank(cell) else cell if isinstance(cell, str) else show(cell)


def _named(text: str) -> str:
    return show(text)


def _example(name: str) -> str:
    headed = VOCABULARY[name]
    return f"{headed.words[0].capitalize()} ({'g' if headed.dimension == 'mass' else 'in'})"


def listed_with_and(words: Sequence[str]) -> str:
    """Write words one after another, "and" before the last."""
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
