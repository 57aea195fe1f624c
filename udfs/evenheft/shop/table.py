"""A table on a shop's own sheet, however it is laid out: clubs in rows, clubs in columns, or job cards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from evenheft.formulas.headed.headings import HeadingReading, label_of
from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.ooxml.places import Area, Place, column_letter, reference

Layout: TypeAlias = Literal["rows", "columns", "cards"]
"""Whether each club has a row, a column, or a card of labels with their values."""


@dataclass(frozen=True, slots=True)
class ShopColumn:
    """One column of a shop's table; of clubs in columns, one of its rows; of cards, one label."""

    at: int
    """Its column's number, or its row's, or its place among the labels."""
    heading: str
    """Its heading as one text, a band above and a unit below included."""
    reading: HeadingReading
    hidden: bool = False
    filled: int = 0
    """For how many of the table's clubs something stands here."""
    unsure: str = ""
    """Why the heading's meaning is doubtful, or ""."""
    mapped: bool = False
    """Whether the builder told what it is."""
    letter: str = ""
    """What it is called by: a column's letter, a row's number, or the first card's cell."""

    @property
    def quantity(self) -> str | None:
        """What it certainly holds, a key of `VOCABULARY`, or None."""
        return self.reading.quantity if self.reading.problem is None and not self.unsure else None

    @property
    def unit(self) -> str | None:
        """The unit of its plain numbers, None where neither heading nor quantity tells."""
        if self.reading.unit is None and self.quantity is not None and VOCABULARY[self.quantity].dimension == "mass":
            return "g"  # ounces would lie outside what a club's masses can be
        return self.reading.unit

    @property
    def label(self) -> str:
        """What was understood, in words."""
        if self.unsure:
            return f"unsure: {self.unsure}"
        return label_of(self.reading).removeprefix("! ")


@dataclass(frozen=True, slots=True)
class Skipped:
    """Rows, or columns, inside a table that hold no club, and why."""

    at: int
    why: str


@dataclass(frozen=True, slots=True)
class ShopTable:
    """A table on a shop's sheet."""

    layout: Layout
    heading_rows: tuple[int, ...]
    """Of clubs in columns, the columns in which the headings stand; of cards, none."""
    columns: tuple[ShopColumn, ...]
    rows: tuple[int, ...]
    """What holds a club: rows, or columns, or cards by their number."""
    skipped: tuple[Skipped, ...]
    area: Area
    title: str = ""
    """What stands over it, or ""."""
    names: Mapping[int, str] = field(default_factory=dict)
    """How each club is called, where the table tells."""
    groups: Mapping[int, str] = field(default_factory=dict)
    """The group of each club, where the table has two or more."""
    card_places: Mapping[tuple[int, int], Place] = field(default_factory=dict)
    """Where each card holds the value of each label."""
    card_areas: Mapping[int, Area] = field(default_factory=dict)
    named_at: int | None = None
    """The column, row or label that names the clubs."""

    @property
    def heading_row(self) -> int:
        """The row (of clubs in columns, the column) in which a new heading stands."""
        return self.heading_rows[-1]

    @property
    def called(self) -> str:
        """The table's range, e.g. "A1:H9"."""
        return called(self.area)

    @property
    def one(self) -> str:
        """What holds one club, as messages call it."""
        return {"rows": "row", "columns": "column", "cards": "card"}[self.layout]

    def place(self, club: int, at: int) -> Place | None:
        """Where a club's value under a heading stands; None where its card has no such label."""
        if self.layout == "rows":
            return club, at
        return (at, club) if self.layout == "columns" else self.card_places.get((club, at))

    def club_at(self, club: int) -> str:
        """How messages call a club's row, column or card."""
        return column_letter(club) if self.layout == "columns" else str(club)

    def holding(self, quantity: str) -> ShopColumn | None:
        """Return the column of a quantity, or None."""
        return next((column for column in self.columns if column.quantity == quantity), None)

    @property
    def recognised(self) -> int:
        """How many columns hold a quantity, or are asked about."""
        return sum(column.quantity is not None or bool(column.unsure) for column in self.columns)

    @property
    def understood(self) -> int:
        """How many quantities it certainly holds."""
        return sum(column.quantity is not None for column in self.columns)


def called(area: Area) -> str:
    """Return a range as a spreadsheet calls it, e.g. "A1:H9"."""
    return f"{reference(area.top, area.left)}:{reference(area.bottom, area.right)}"


def overlap(one: Area, other: Area) -> bool:
    """Whether two rectangles share a cell."""
    return one.top <= other.bottom and one.bottom >= other.top and one.left <= other.right and one.right >= other.left
