"""What all sheets share: the grid, and how a sheet with one row per club or per group is declared."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from evenheft.formulas.arguments import CLUB_LENGTH, CLUB_MASS
from evenheft.ooxml.places import column_letter

KIND_OF_WORKBOOK = "evenheft order"
LAYOUT_VERSION = 5
KIND_NAME = "evenheft_workbook"
"""The defined name of the cell that tells the workbook's kind and layout version."""

FIRST_ROW = 8
CLUB_ROWS = 24
LAST_ROW = FIRST_ROW + CLUB_ROWS - 1
BAND_ROW = 6
HEADING_ROW = 7


Role = Literal["label", "input", "computed", "work"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

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
    """A custom validation formula with `{cell}` and, for the whole column, `{column}`, for an input."""
    refusal: str = "This lies outside what a club can be. Is it in the order's units?"
    """What is said where the check does not hold."""
    options: str = ""
    """A list validation's source, for an input."""
    band: str = ""
    """The heading above a run of columns."""
    wrap: bool = False


@dataclass(frozen=True)
class Table:
    """A sheet's table with one row per club, found by its number, or one per group, found by its name.

    A cell of it that can be cut, sorted or moved is never referred to by its place: other formulas ask for it by
    row, which is looked up, and column. The column's range reaches from the locked heading above the first row to
    the locked cell below the last, so that no gesture with typed cells can move the range itself.
    """

    sheet: str
    title: str
    lead: str
    """One line under the title that says what to do here."""
    columns: tuple[Column, ...]
    name: str = ""
    """What formulas call it in braces; the sheet's name in small letters where it is not told."""
    first_column: int = 1
    first_row: int = FIRST_ROW
    rows: int = CLUB_ROWS
    at: dict[str, int] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        if not self.name:
            object.__setattr__(self, "name", self.sheet.lower())
        self.at.update({column.key: n for n, column in enumerate(self.columns, start=self.first_column)})

    @property
    def last_row(self) -> int:
        """The last row of the table."""
        return self.first_row + self.rows - 1

    def column(self, key: str) -> Column:
        """Return the column of a key."""
        return self.columns[self.at[key] - self.first_column]

    def letter(self, key: str) -> str:
        """Return the letter of a column, e.g. "C"."""
        return column_letter(self.at[key])

    def cell(self, key: str, row: int) -> str:
        """Return a cell of this table for a formula on any sheet, e.g. "Bench!$C8"."""
        return f"{self.sheet}!${self.letter(key)}{row}"

    def whole(self, key: str) -> str:
        """All rows' cells of a column, e.g. "Bench!$C$8:$C$31"."""
        letter = self.letter(key)
        return f"{self.sheet}!${letter}${self.first_row}:${letter}${self.last_row}"

    def framed(self, key: str) -> str:
        """Return a column from the heading to the cell under the last row, both locked, e.g. "Bench!$C$7:$C$32"."""
        letter = self.letter(key)
        return f"{self.sheet}!${letter}${self.first_row - 1}:${letter}${self.last_row + 1}"


@dataclass(frozen=True, slots=True)
class Setting:
    """One named cell of the Shop sheet that holds for the whole order."""

    name: str
    label: str
    value: object
    note: str = ""
    computed: bool = False
    options: tuple[str, ...] = ()


def unit_heading(text: str, unit: str) -> str:
    """Return a heading with the order's unit, as a formula.

    Args:
        text: the heading's words [-].
        unit: the defined name of the cell that holds the unit, "unit_mass" or "unit_length" [-].
    """
    return f'="{text} ("&{unit}&")"'


def literally(cell: str) -> str:
    """Write what a lookup is to find so that no sign in a typed name is taken for a wildcard; a number stays one.

    >>> literally("A1")
    'IF(ISTEXT(A1),SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(A1,"~","~~"),"*","~*"),"?","~?"),A1)'
    """
    return f'IF(ISTEXT({cell}),SUBSTITUTE(SUBSTITUTE(SUBSTITUTE({cell},"~","~~"),"*","~*"),"?","~?"),{cell})'


def identity(name_width: float = 9.4) -> tuple[Column, ...]:
    """Return the columns that every club sheet but Order begins with:
    the club's number, which is its key, and its name.

    Args:
        name_width: of the name's column; 9.4 where it may take two lines [digits].
    """
    return (
        Column("number", "No.", 4, "label"),
        Column("club", "Club", name_width, "label", "={order.club}", wrap=True),
    )


# Text passes: it may carry its own unit, and the formulas refuse what they cannot read.
MASS_CHECK = (
    f"=OR(ISTEXT({{cell}}),AND({{cell}}*unit_grams>={CLUB_MASS.low:g},{{cell}}*unit_grams<={CLUB_MASS.high:g}))"
)
"""Validation of a club's mass."""
LENGTH_CHECK = f"=OR(ISTEXT({{cell}}),AND({{cell}}>{CLUB_LENGTH.low:g},{{cell}}*unit_cm<{CLUB_LENGTH.high:g}))"
"""Validation of a length."""


def number_check(low: float, high: float) -> str:
    """Make the validation of a plain number within bounds, or of a text that a formula will read."""
    return f"=OR(ISTEXT({{cell}}),AND({{cell}}>={low:g},{{cell}}<={high:g}))"
