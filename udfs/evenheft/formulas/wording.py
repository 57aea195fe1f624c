"""How messages are worded: values in the units of the call, what a cell holds quoted, one line each."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from evenheft.mechanics import units
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import one_line
from evenheft.ooxml.values import CellError

HeldDimension = Literal["mass", "length"]
LONGEST_QUOTED = 40
"""Of what a cell holds, in a message [characters]."""
PASSED_ON = "! "
"""How an answer begins that is a message; it passes through further formulas unchanged."""


@dataclass(frozen=True, slots=True)
class Scale:
    """The units of mass and length that a call speaks in."""

    mass: units.Unit
    length: units.Unit

    def unit(self, dimension: HeldDimension) -> units.Unit:
        """Pick the unit for a dimension."""
        return self.mass if dimension == "mass" else self.length


@lru_cache(maxsize=64)
def scale_named(text: str) -> Scale:
    """Find the scale that a `units` argument names; raises ValueError as `units.find_unit_pair` does."""
    return Scale(*units.find_unit_pair(text))


DEFAULT_SCALE = scale_named(units.DEFAULT_UNITS)


@dataclass(frozen=True, slots=True)
class Measured:
    """A mass or length inside a message, told in the units of the call."""

    value: float
    """The value [g or cm]."""
    dimension: HeldDimension

    def label(self, scale: Scale) -> str:
        """Write the value with its unit, e.g. "35.56 cm"."""
        unit = scale.unit(self.dimension)
        return f"{show(self.value / unit.factor)} {unit.symbol}"

    def __str__(self) -> str:
        return self.label(DEFAULT_SCALE)

    def bare(self, scale: Scale) -> str:
        """Write the value without its unit."""
        return show(self.value / scale.unit(self.dimension).factor)


@dataclass(frozen=True, slots=True)
class Rough(Measured):
    """A mass or length as finely as a builder can use it: 0.1 g or 0.01 oz, a millimetre or 0.05 in."""

    def label(self, scale: Scale) -> str:
        """Return the value with its unit, rounded, e.g. "4.6 g"."""
        unit = scale.unit(self.dimension)
        step = _ROUGHLY.get(unit.symbol, 0.1)
        return f"{show(round(round(self.value / unit.factor / step) * step, 4))} {unit.symbol}"


_ROUGHLY = {"oz": 0.01, "in": 0.05, "mm": 1.0}
"""The step of a rough value, by the unit's symbol; 0.1 elsewhere."""


class Line:
    """One line for a builder in which masses and lengths are told in the call's units; no refusal."""

    def __init__(self, text: str, *measured: Measured) -> None:
        """Make a line.

        Args:
            text: the line, with {0}, {1} ... where measured values stand [-].
            measured: masses and lengths, told in the call's units [g, cm].
        """
        self.text = text
        self.measured = measured

    def message(self, scale: Scale) -> str:
        """Return the line, with its values in the units of the call."""
        return self.text.format(*(m.label(scale) for m in self.measured))


def message_of(refused: Refused, scale: Scale) -> str:
    """Write a refusal's line with its values in the units of a call, and a hint where a unit was likely slipped.

    Args:
        refused: what is refused: its values may be `Measured` [-].
        scale: the units of the call [-].
    """
    line = refused.text
    if refused.values:
        line = line.format(*(value.label(scale) if isinstance(value, Measured) else value for value in refused.values))
    if refused.suspect is not None:
        value, kind = refused.suspect
        line += kind.hint(value.value / scale.unit(value.dimension).factor, scale)
    return line


def is_blank(raw: object) -> bool:
    """Whether a cell counts as not filled in."""
    return raw is None or (isinstance(raw, str) and (not raw or raw.isspace()))  # strip would copy a long text


def show(raw: object) -> str:
    """Quote a cell's content for a message: on one line, not too long, with nothing that a terminal would obey."""
    if isinstance(raw, bool):
        return "TRUE" if raw else "FALSE"
    if isinstance(raw, int | float):
        raw += 0.0 if raw == 0 else 0  # no -0
        return f"{raw:.6g}" if abs(raw - round(raw, 4)) > 1e-9 * abs(raw) else f"{round(raw, 4):.10g}"
    if isinstance(raw, CellError):
        return one_line(raw.code, longest=LONGEST_QUOTED)
    if isinstance(raw, datetime.date | datetime.time | datetime.timedelta):
        return f"the date or time {raw}"
    return one_line(str(raw), longest=LONGEST_QUOTED)


def what_is_wrong(name: str, raw: object, error: ValueError) -> str:
    """Tell why a kind could not read a cell, in a line with what was given and a hint where there is one.

    Args:
        name: what the builder knows the cell by: an argument, a heading [-].
        raw: what the cell holds [-].
        error: as `Kind.read` raised it [-].

    >>> what_is_wrong("mass", 0, ValueError("must be from 50 g to 2000 g"))
    'mass must be from 50 g to 2000 g, got 0'
    >>> what_is_wrong("mass", "1,130", ValueError("1,130 may be 1.130 or 1130: write one of them"))
    'mass: 1,130 may be 1.130 or 1130: write one of them'
    """
    line, _, hint = str(error).partition("\n")
    return f"{name} {line}, got {show(raw)}{hint}" if line.startswith("must") else f"{name}: {line}"
