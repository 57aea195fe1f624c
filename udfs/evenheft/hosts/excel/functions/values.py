"""Values as Excel hands them over through COM, and answers as it takes them back."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from decimal import Decimal
from itertools import chain
from typing import Any

from evenheft.formulas.calling import Cell, Grid
from evenheft.ooxml.values import CellError


class _Missing:
    def __repr__(self) -> str:
        return "MISSING"


MISSING: Any = _Missing()
"""An argument that a formula leaves out; an empty cell is None."""

_FIRST_ERROR = -2146828288
"""The error codes' common part, 0x800A0000 as a signed number; Excel's own number of the error is added."""

ERROR_NUMBERS = {
    2000: "#NULL!", 2007: "#DIV/0!", 2015: "#VALUE!", 2023: "#REF!", 2029: "#NAME?", 2036: "#NUM!", 2042: "#N/A",
    2043: "#GETTING_DATA", 2045: "#SPILL!", 2046: "#CONNECT!", 2047: "#BLOCKED!", 2048: "#UNKNOWN!", 2049: "#FIELD!",
    2050: "#CALC!",
}  # fmt: skip
"""Excel's error values by their numbers (XlCVError; 2043 and those from 2046 on from memory)."""

_ERROR_RANGE = range(_FIRST_ERROR + 2000, _FIRST_ERROR + 2100)
_AS_THEY_ARE = {float, str, bool, type(None)}
_FIRST_DAY = datetime.date(1900, 1, 1)


def handed_over(given: Sequence[Any]) -> list[Any]:
    """Turn a call's arguments into what `formulas.call` expects, with what is left out at the end taken away."""
    count = len(given)
    while count and given[count - 1] is MISSING:
        count -= 1
    return [_argument(raw) for raw in given[:count]]


def handed_back(answer: Cell | Grid) -> Grid:
    """Lay out an answer as rows of cells; xlwings makes one cell of one row with one cell."""
    return answer if isinstance(answer, tuple) else ((answer,),)


def _argument(raw: Any) -> Any:
    if raw is MISSING:
        return None
    if not isinstance(raw, list | tuple):
        return _cell(raw)
    # A range comes as a tuple of rows, and so does {1;2}; {1,2}, one row, comes as a plain tuple.
    rows = raw if raw and isinstance(raw[0], list | tuple) else (raw,)
    if set(map(type, chain.from_iterable(rows))) <= _AS_THEY_ARE:
        return rows
    return [[_cell(cell) for cell in row] for row in rows]


def _cell(raw: Any) -> Any:
    if type(raw) in _AS_THEY_ARE:
        return raw
    if isinstance(raw, int):
        # Excel's numbers are floats: a whole number is an error value, or was written in VBA.
        return CellError(ERROR_NUMBERS.get(raw - _FIRST_ERROR, "#ERROR!")) if raw in _ERROR_RANGE else float(raw)
    if isinstance(raw, Decimal):  # a cell in a currency format
        return float(raw)
    if isinstance(raw, datetime.datetime):
        return _date_or_time(raw)
    return str(raw)


def _date_or_time(moment: datetime.datetime) -> datetime.date | datetime.time:
    """Show a date or time as a message does: without the zone that COM adds, and without a midnight or day nought."""
    plain = moment.replace(tzinfo=None)
    if plain.date() < _FIRST_DAY:
        return plain.time()
    return plain.date() if plain.time() == datetime.time() else plain
