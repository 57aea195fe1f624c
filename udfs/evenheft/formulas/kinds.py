"""Kinds of argument: how what a cell holds becomes a bounded value in g and cm, or a refusal.

A kind reads one cell (`read`) and, where it can, a whole column of plain numbers at once
(`read_plain`), which is what makes a formula over a long range fast.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol, TypeAlias

from evenheft.formulas.wording import DEFAULT_SCALE, HeldDimension, Measured, Scale, is_blank, scale_named, show
from evenheft.mechanics import swingweight, units
from evenheft.mechanics.readings import mean
from evenheft.mechanics.typed_readings import SECONDS, alike, read_numbers, read_quantities
from evenheft.ooxml.values import CellError as CellError
from evenheft.ooxml.values import CellRows

_Span: TypeAlias = tuple[float, float]


class Kind(Protocol):
    """What an argument may be."""

    @property
    def wanted(self) -> str:
        """What is accepted, in a few words, for the reference."""

    def read(self, raw: object, scale: Scale) -> Any:
        """Return the value of a cell that is not blank.

        Raises:
            ValueError: it is none of this kind; "must ..." or another line, and after a line break a hint (see
                `what_is_wrong`, which makes one line of it).
        """

    def read_plain(self, column: Sequence[object], scale: Scale) -> list[float] | None:
        """Return the values of a column of plain good numbers, or None where any cell needs `read`."""

    @property
    def plain_span(self) -> _Span | None:
        """The lowest and highest plain number that `read` returns unchanged at the default scale, or None."""


def finite_number(raw: object) -> float | None:
    """Read a cell's number, or None where it holds none (a boolean is none)."""
    if isinstance(raw, int | float) and not isinstance(raw, bool) and math.isfinite(raw):
        return float(raw)
    return None


def all_blank(rows: CellRows) -> bool:
    """Whether no cell of a range is filled in."""
    return all(is_blank(cell) for row in rows for cell in row)


def _plain_floats(column: Sequence[object]) -> Sequence[float] | None:
    """Return the column itself where it holds nothing but finite numbers."""
    if not set(map(type, column)) <= {float, int}:
        return None
    numbers: Sequence[float] = column  # type: ignore[assignment]  # just seen to be so
    try:
        return numbers if math.isfinite(sum(numbers)) else None
    except OverflowError:
        return None


def _read_one(text: str, dimension: HeldDimension, default: units.Unit) -> list[float]:
    return [units.read_quantity(text, dimension, default)]


def need_alike(readings: Sequence[float], unit: str, least: float = 0.0) -> None:
    """Refuse readings that cannot be of one thing, because one of them is a slip or two things share a cell.

    Args:
        readings: what was read [unit].
        unit: its symbol, for the message [-].
        least: a difference that is always good enough [unit].
    """
    if not alike(readings, least):
        low, high = f"{show(min(readings))} {unit}".rstrip(), f"{show(max(readings))} {unit}".rstrip()
        raise ValueError(f"must be one value, or readings of one thing that are alike, not from {low} to {high}")


_OR_READINGS = ", or several readings"
TOO_FINE_TO_SHARE = 0.5
"""Two weighings of a little epoxy may be this far apart, however large a share of it that is [g or cm]."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A mass or a length within what a club can be, as a number or as text with its own unit."""

    dimension: HeldDimension
    low: float
    """Lower bound [g or cm]."""
    high: float
    """Upper bound [g or cm]."""
    open_ends: bool = False
    """Whether the bounds themselves are refused."""
    typical: tuple[float, float] | None = None
    """Where such values usually lie; an outlier that another unit brings there is asked about [g or cm]."""
    measured: bool = False
    """Whether a cell may hold several readings, whose mean counts."""
    least: float = 0.0
    """Where 0 stands for none: the least of what is there, so that no grip of 1.8 g (ounces) is taken [g or cm]."""

    @property
    def wanted(self) -> str:
        """What is accepted, for the reference."""
        return f"{self.dimension}, {self._bounds(DEFAULT_SCALE)}{_OR_READINGS * self.measured}"

    def read(self, raw: object, scale: Scale) -> float:
        """Return the value [g or cm]; see `Kind.read`."""
        unit = scale.unit(self.dimension)
        number = finite_number(raw)
        if number is not None:
            readings = [number * unit.factor]
        else:  # what is no text is read as none, which tells what is wanted
            read = read_quantities if self.measured else _read_one
            readings = read(raw if isinstance(raw, str) else "", self.dimension, unit)
        if len(readings) > 1:
            need_alike([reading / unit.factor for reading in readings], unit.symbol, TOO_FINE_TO_SHARE / unit.factor)
        for value in readings:
            if not self._holds(value):
                slipped = "" if self._names_unit(raw) else self.hint(value / unit.factor, scale)
                raise ValueError(f"must be {self._bounds(scale)}\n{slipped}")
        return readings[0] if len(readings) == 1 else mean(readings)

    def _names_unit(self, raw: object) -> bool:
        """Whether a text says its unit itself, so that another one was not meant."""
        return isinstance(raw, str) and raw.rstrip(" .")[-1:] not in "0123456789"

    def read_plain(self, column: Sequence[object], scale: Scale) -> list[float] | None:
        """See `Kind.read_plain`."""
        numbers = _plain_floats(column)
        factor = scale.unit(self.dimension).factor
        if numbers is None or not (self._holds(min(numbers) * factor) and self._holds(max(numbers) * factor)):
            return None
        if min(numbers) * factor < self.least and any(0 < n * factor < self.least for n in numbers):
            return None
        return [n * factor for n in numbers] if factor != 1.0 else list(numbers)

    @property
    def plain_span(self) -> _Span | None:
        """See `Kind.plain_span`."""
        if self.open_ends:
            return math.nextafter(self.low, math.inf), math.nextafter(self.high, -math.inf)
        return self.least or self.low, self.high

    def hint(self, number: float, scale: Scale) -> str:
        """Ask about the unit that would make a number typical, e.g. ": inches?", or say nothing."""
        meant = scale.unit(self.dimension)
        if self.typical is not None:
            for unit in units.BY_SYMBOL.values():
                if unit.dimension == self.dimension and unit is not meant:
                    value = number * unit.factor
                    if self.typical[0] <= value <= self.typical[1]:
                        return f": {unit.plural}?"
        return ""

    def _holds(self, value: float) -> bool:
        if 0 < value < self.least:
            return False
        return self.low < value < self.high if self.open_ends else self.low <= value <= self.high

    def _bounds(self, scale: Scale) -> str:
        if self.least:
            least, most = (Measured(bound, self.dimension) for bound in (self.least, self.high))
            return f"0, or from {least.label(scale)} to {most.label(scale)}"
        low, high = (Measured(bound, self.dimension) for bound in (self.low, self.high))
        if self.open_ends:
            return f"more than {low.label(scale)} and less than {high.label(scale)}"
        return f"from {low.label(scale)} to {high.label(scale)}"


@dataclass(frozen=True, slots=True)
class Number:
    """A number within bounds; text that holds a number is read."""

    low: float
    high: float
    unit: str = ""
    above_low: bool = False
    whole: bool = False
    measured: bool = False
    """Whether a cell may hold several readings, whose mean counts."""

    @property
    def wanted(self) -> str:
        """What is accepted, for the reference."""
        return f"{'whole number' if self.whole else 'number'}, {self._bounds()}{_OR_READINGS * self.measured}"

    def read(self, raw: object, scale: Scale) -> float:  # noqa: ARG002  one signature for all kinds
        """Return the number; see `Kind.read`."""
        number = finite_number(raw)
        if number is not None:
            readings = [number]
        elif not isinstance(raw, str):
            raise ValueError("must be a number")
        else:
            readings = (
                read_numbers(raw, SECONDS if self.unit == SECONDS[0] else ())
                if self.measured
                else [units.read_number(raw)]
            )
        if len(readings) > 1:
            need_alike(readings, self.unit)
        if not all(map(self._holds, readings)):
            raise ValueError(f"must be {'a whole number ' if self.whole else ''}{self._bounds()}")
        return readings[0] if len(readings) == 1 else mean(readings)

    def read_plain(self, column: Sequence[object], scale: Scale) -> list[float] | None:  # noqa: ARG002
        """See `Kind.read_plain`."""
        numbers = _plain_floats(column)
        if numbers is None or not (self._holds(min(numbers)) and self._holds(max(numbers))):
            return None
        if self.whole and not all(n == int(n) for n in numbers):
            return None
        return list(numbers)

    @property
    def plain_span(self) -> _Span | None:
        """See `Kind.plain_span`."""
        if self.whole:
            return None
        return math.nextafter(self.low, math.inf) if self.above_low else self.low, self.high

    def _holds(self, value: float) -> bool:
        inside = (self.low < value if self.above_low else self.low <= value) and value <= self.high
        return inside and (not self.whole or value == int(value))

    def _bounds(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        if self.above_low:
            return f"more than {show(self.low)}{unit} and at most {show(self.high)}{unit}"
        return f"from {show(self.low)} to {show(self.high)}{unit}"


@dataclass(frozen=True, slots=True)
class Level:
    """A number, or a swingweight label such as "D2", which stands for its points."""

    number: Number

    @property
    def wanted(self) -> str:
        """What is accepted, for the reference."""
        return 'number, or a swingweight label such as "D2"'

    def read(self, raw: object, scale: Scale) -> float:
        """Return the number, or the points of the label; see `Kind.read`."""
        if isinstance(raw, str) and raw.strip()[:1].isalpha():
            try:
                return swingweight.points_from_label(raw)
            except ValueError:
                raise ValueError('must be a number, or a label like "D2" from A0 to G9.9') from None
        return self.number.read(raw, scale)

    def read_plain(self, column: Sequence[object], scale: Scale) -> list[float] | None:
        """See `Kind.read_plain`."""
        return self.number.read_plain(column, scale)

    @property
    def plain_span(self) -> _Span | None:
        """See `Kind.plain_span`."""
        return self.number.plain_span


class _TextKind:
    """What the kinds that read text share: no column of them is plain numbers."""

    __slots__ = ()

    def read_plain(self, column: Sequence[object], scale: Scale) -> list[float] | None:  # noqa: ARG002
        """See `Kind.read_plain`: never plain."""
        return None

    @property
    def plain_span(self) -> _Span | None:
        """See `Kind.plain_span`: none."""
        return None


@dataclass(frozen=True, slots=True)
class Label(_TextKind):
    """A swingweight label such as "D2.5"."""

    wanted: str = 'swingweight label from A0 to G9.9, e.g. "D2"'

    def read(self, raw: object, scale: Scale) -> float:  # noqa: ARG002
        """Return the label's points; see `Kind.read`."""
        return swingweight.points_from_label(raw if isinstance(raw, str) else "")


@dataclass(frozen=True, slots=True)
class Choice(_TextKind):
    """One word out of a few, in any case."""

    options: tuple[str, ...]

    @property
    def wanted(self) -> str:
        """What is accepted, for the reference."""
        return ", ".join(f'"{option}"' for option in self.options)

    def read(self, raw: object, scale: Scale) -> str:  # noqa: ARG002
        """Return the option as the registry spells it; see `Kind.read`."""
        text = " ".join(raw.split()).lower() if isinstance(raw, str) else ""
        for option in self.options:
            if text == option.lower():
                return option
        raise ValueError(f"must be {' or '.join((', '.join(self.options[:-1]), self.options[-1]))}")


@dataclass(frozen=True, slots=True)
class UnitPair(_TextKind):
    """The `units` argument: a unit of mass and a unit of length."""

    @property
    def wanted(self) -> str:
        """What is accepted, for the reference."""
        return ", ".join(f'"{pair}"' for pair in units.UNIT_PAIRS)

    def read(self, raw: object, scale: Scale) -> Scale:  # noqa: ARG002
        """Return the scale; see `Kind.read`."""
        return scale_named(raw if isinstance(raw, str) else show(raw))


@dataclass(frozen=True, slots=True)
class Typed(_TextKind):
    """A number or a text, as it was typed; the formula itself reads it."""

    wanted: str = "number or text"

    def read(self, raw: object, scale: Scale) -> float | str:  # noqa: ARG002
        """Return the number or the text; see `Kind.read`."""
        number = finite_number(raw)
        if number is not None:
            return number
        if isinstance(raw, str):
            return raw
        raise ValueError("must be a number or a text")


@dataclass(frozen=True, slots=True)
class Cells(_TextKind):
    """Cells as they are, for a formula that reads a row or a table of a shop's sheet itself."""

    wanted: str = "range"

    def read(self, raw: object, scale: Scale) -> object:  # noqa: ARG002
        """Return what the cell holds."""
        return raw
