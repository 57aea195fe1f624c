"""Long tables of a shop's own sheet, read column by column into numpy arrays where numpy can be had.

What is not good for an array, a blank row or a bad one, is left to `rows.read_row`.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from typing import Any

from evenheft.formulas.fit import LooksLeft
from evenheft.formulas.headed.columns import BALANCES, NEEDED_PARTS, STAND_IN, PartColumn, RowPlan
from evenheft.formulas.headed.rows import from_butt, may_be_a_number
from evenheft.formulas.kinds import Quantity
from evenheft.formulas.wording import is_blank
from evenheft.mechanics.club import DEFAULTS, SHAFT_SHARE, TAPE_READING, Parts, butt_trim, shaft_balance
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

try:
    import numpy as np
except ImportError:  # the Python that comes with a spreadsheet program need not have it
    np = None  # type: ignore[assignment]

_BLANK = -1.5e300
"""Stands for a blank among numbers while they are an array: no cell holds it, and no bound lets it pass."""
_FEWEST_FOR_ARRAYS = 16
"""Below so many rows, setting arrays up costs more than it saves [-]."""


def read_table(plan: RowPlan, rows: CellRows) -> tuple[Parts, Any] | None:
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
            sound &= [not may_be_a_number(cell) for cell in table[at]]
    given = dict(plan.given)
    if all(name in given for name in NEEDED_PARTS):
        return None  # then a blank row could not be told from a club
    for column in plan.doubt_columns:
        sound &= [is_blank(row[column.at]) or _is_good(column, row[column.at]) for row in rows]
    values: dict[str, Any] = dict(given)
    with np.errstate(all="ignore"):  # rows that are not sound may hold anything
        for column in plan.columns:
            read, blank, bad = _read_column(column, table[column.at])
            if bad is not None:
                sound &= ~bad
            if blank is not None and not column.headed.name.startswith(BALANCES):
                default = given.get(column.key, DEFAULTS.get(column.key))
                if column.headed.name in NEEDED_PARTS and default is None:
                    sound &= ~blank
                elif default is not None and (column.key != "other_from_butt" or column.key in given):
                    read = np.where(blank, default, read)
            values[column.key] = read
        for name in STAND_IN:
            values.pop(name, None)
        parts = _parts_of_arrays(values, given, sound)
        sound &= _is_possible(parts) & (butt_trim(parts) >= -TAPE_READING)
    return parts, sound


def _is_good(column: PartColumn, cell: object) -> bool:
    try:
        column.read(cell)
    except Refused:
        return False
    return True


def _read_column(column: PartColumn, cells: Sequence[object]) -> tuple[Any, Any, Any]:
    """Read a column's cells: values, nan where blank or bad; which are blank and which bad, None where none is."""
    kind = column.headed.kind
    if column.plain_factor is not None and isinstance(kind, Quantity):
        factor = column.plain_factor
        numbers = _numbers(cells)
        if (
            numbers is not None
            and not kind.least
            and kind.low <= numbers.min() * factor
            and numbers.max() * factor <= kind.high
        ):
            return numbers * factor, None, None
        if numbers is None:
            numbers = _numbers([_BLANK if cell is None else cell for cell in cells])
        if numbers is None:
            numbers = _numbers([_BLANK if is_blank(cell) else cell for cell in cells])
        if numbers is not None:
            blank, values = numbers == _BLANK, numbers * factor
            good = (kind.low <= values) & (values <= kind.high) & ((values <= 0) | (values >= kind.least)) | blank
            return np.where(blank, np.nan, values), blank, None if good.all() else ~good
    looks = LooksLeft()
    values = np.full(len(cells), np.nan)
    bad = np.zeros(len(cells), dtype=bool)
    for n, cell in enumerate(cells):
        if not is_blank(cell):
            if isinstance(cell, str):
                looks.one_more()
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
    for key in [key for key in values if key.startswith(BALANCES)]:
        places = values.pop(key)
        if key in given and not isinstance(places, np.ndarray):
            shop_balance = from_butt(key, places, length)
            continue
        places = from_butt(key, places, length)
        sound &= np.isnan(balance) | np.isnan(places)
        balance = np.where(np.isnan(balance), places, balance)
        if key in given:
            shop_balance = from_butt(key, given[key], length)
    values["shaft_balance"] = np.where(np.isnan(balance), shop_balance, balance)
    if isinstance(lead := values.get("lead_tape_rise"), np.ndarray):
        head_rise: Any = values.get("head_rise", DEFAULTS["head_rise"])
        values["lead_tape_rise"] = np.where(np.isnan(lead), head_rise, lead)
    place = values.get("other_from_butt", np.nan)
    sound &= ~((values.get("other_mass", 0.0) > 0) & np.isnan(place))
    values["other_from_butt"] = np.nan_to_num(place)
    return Parts(**values)


def _is_possible(parts: Parts) -> Any:
    """Which rows' shafts a straight line of density allows: `bodies.is_possible_shaft` for arrays."""
    length, balance = parts.shaft_length, shaft_balance(parts)
    return (length / 3 <= balance) & (balance <= 2 * length / 3)
