"""What all sheets share: the grid, and how a sheet with one row per club is declared."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from evenheft.ooxml.places import column_letter

KIND_OF_WORKBOOK = "evenheft order"
LAYOUT_VERSION = 1
KIND_NAME = "evenheft_workbook"
"""The defined name of the cell that tells the workbook's kind and layout version."""

FIRST_ROW = 8
CLUBS = 18
LAST_ROW = FIRST_ROW + CLUBS - 1
BAND_ROW = 6
HEADING_ROW = 7


Role = Literal["label", "input", "computed", "work"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a club table."""

    key: str
    heading: str
    """The heading's text, or a formula beginning with "=" where it carries the order's unit."""
    width: float
    role: Role = "computed"
    formula: str = ""
    number: str = "General"
    prompt: str = ""
    """What the cell tells when it is chosen, for an input."""
    check: str = ""
    """A custom validation formula with `{cell}`, for an input."""
    options: str = ""
    """A list validation's source, for an input."""
    band: str = ""
    """The heading above a run of columns."""
    wrap: bool = False


@dataclass(frozen=True)
class Table:
    """A sheet with one row per club."""

    sheet: str
    title: str
    lead: str
    """One line under the title that says what to do here."""
    columns: tuple[Column, ...]
    at: dict[str, int] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.at.update({column.key: n for n, column in enumerate(self.columns, start=1)})

    def column(self, key: str) -> Column:
        """Look up the column of a key."""
        return self.columns[self.at[key] - 1]

    def letter(self, key: str) -> str:
        """Look up the letter of a column, e.g. "C"."""
        return column_letter(self.at[key])

    def cell(self, key: str, row: int) -> str:
        """Refer to a cell of this table, for a formula on any sheet, e.g. "Bench!$C8"."""
        return f"{self.sheet}!${self.letter(key)}{row}"

    def whole(self, key: str) -> str:
        """All clubs' cells of a column, e.g. "Bench!$C$8:$C$25"."""
        letter = self.letter(key)
        return f"{self.sheet}!${letter}${FIRST_ROW}:${letter}${LAST_ROW}"


@dataclass(frozen=True, slots=True)
class Setting:
    """One named cell of the Order sheet that holds for the whole order."""

    name: str
    label: str
    value: object
    note: str = ""
    computed: bool = False
    options: tuple[str, ...] = ()


def unit_heading(text: str, unit: str) -> str:
    """Write a heading with the order's unit, as a formula.

    Args:
        text: the heading's words [-].
        unit: the defined name of the cell that holds the unit, "unit_mass" or "unit_length" [-].
    """
    return f'="{text} ("&{unit}&")"'


def identity() -> tuple[Column, ...]:
    """Make the columns that every club sheet but Order begins with: the club's number and name."""
    return (
        Column("number", "No.", 5, "label", "={order.number}"),
        Column("club", "Club", 15, "label", '=IF({order.club}="","",{order.club})'),
    )


# Text passes: it may carry its own unit, and the formulas refuse what they cannot read.
MASS_CHECK = "=OR(ISTEXT({cell}),AND({cell}*unit_grams>=50,{cell}*unit_grams<=2000))"
"""Validation of a club's mass."""
LENGTH_CHECK = "=OR(ISTEXT({cell}),AND({cell}>0,{cell}*unit_cm<200))"
"""Validation of a length."""


def number_check(low: float, high: float) -> str:
    """Write the validation of a plain number within bounds."""
    return f"=AND(ISNUMBER({{cell}}),{{cell}}>={low},{{cell}}<={high})"
