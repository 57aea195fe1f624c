"""What can be done to a cell: a value put, a result refreshed, a formula written or replaced."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from evenheft.ooxml.values import Written


@dataclass(frozen=True, slots=True)
class Put:
    """A value to stand in a cell that holds no formula; None empties it."""

    value: Written
    style: int | None = None
    """The cell format's number; left out, the cell keeps its own, or takes its row's or column's."""


@dataclass(frozen=True, slots=True)
class Cached:
    """A computed value to stand beside the formula that the cell holds."""

    value: Written


@dataclass(frozen=True, slots=True)
class NewFormula:
    """A formula, without its equals sign, to stand with its value in a cell that was empty."""

    text: str
    value: Written
    style: int | None = None


@dataclass(frozen=True, slots=True)
class InPlaceOfFormula:
    """A formula, without its equals sign, or with none a value, to stand where another formula stood."""

    text: str
    value: Written


@dataclass(frozen=True, slots=True)
class Emptied:
    """Nothing, whether a value or a formula stood there; the cell's look goes too."""

    value: None = None


@dataclass(frozen=True, slots=True)
class Relooked:
    """Another look for a cell that is there; what it holds stays as it is written."""

    style: int
    """The cell format's number."""
    value: None = None


Edit: TypeAlias = Put | Cached | NewFormula | InPlaceOfFormula | Emptied | Relooked
