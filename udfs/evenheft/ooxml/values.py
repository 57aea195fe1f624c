"""What a cell can hold, as it is stored, computed or written."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class CellError:
    """An error value in a cell, e.g. `CellError("#N/A")`."""

    code: str


MOST_DIGITS = 9
"""Of a whole number that a workbook counts or names something by; a longer one is none of ours to believe."""


def whole_number(text: str | None, otherwise: int = 0) -> int:
    """Read a whole number as a workbook writes it; another one where it is none.

    >>> whole_number("12"), whole_number("²"), whole_number(None, 7), whole_number("9" * 5000)
    (12, 0, 7, 0)
    """
    return int(text) if text and len(text) <= MOST_DIGITS and text.isascii() and text.isdigit() else otherwise


Held: TypeAlias = float | str | bool | CellError
"""What a cell that is not empty holds."""
Value: TypeAlias = Held | None
"""What a computed cell can hold."""
Written: TypeAlias = Value | datetime.date | datetime.time | datetime.timedelta
"""What a cell can be given to hold."""
CellRow: TypeAlias = Sequence[object]
"""The cells of a row as somebody else hands them over: nobody has looked yet what they hold."""
CellRows: TypeAlias = Sequence[CellRow]
"""A range, the cells of each row."""
