"""From a declared formula to the one that a cell holds."""

from __future__ import annotations

import re
from collections.abc import Callable

from evenheft.order.layout.bench_sheet import BENCH
from evenheft.order.layout.fix_sheet import FIX
from evenheft.order.layout.grid import FIRST_ROW, HEADING_ROW, Table
from evenheft.order.layout.order_sheet import ORDER
from evenheft.order.layout.parts_sheet import PARTS
from evenheft.order.layout.scale_sheet import SCALE
from evenheft.order.layout.set_sheet import SET
from evenheft.order.layout.supplier_sheet import SUPPLIER

TABLES: dict[str, Table] = {table.sheet.lower(): table for table in (ORDER, PARTS, BENCH, SET, FIX, SUPPLIER, SCALE)}
"""The sheets with one row per club, by the name that formulas use in braces."""

_BRACED = re.compile(r"\{(\w+)\.(\w+)\}")


def _run(first: str, last: str) -> tuple[Callable[[Table, int], str], Callable[[Table, int], str]]:
    """Make the references of a run of columns: to its headings, and to its cells in a club's row."""

    def headings(table: Table, row: int) -> str:  # noqa: ARG001  the headings stand in one row for all
        return f"{table.sheet}!${table.letter(first)}${HEADING_ROW}:${table.letter(last)}${HEADING_ROW}"

    def cells(table: Table, row: int) -> str:
        return f"{table.sheet}!${table.letter(first)}{row}:${table.letter(last)}{row}"

    return headings, cells


def _so_far(table: Table, row: int) -> str:
    letter = table.letter("group")
    return f"{table.sheet}!${letter}${FIRST_ROW}:${letter}${row}"


_RANGES: dict[str, Callable[[Table, int], str]] = {
    "group_so_far": _so_far,
    "all_models": lambda table, _: table.whole("model"),
    "all_learned": lambda table, _: table.whole("learned"),
    **{
        f"{name}_{part}": made
        for name, (first, last) in {
            "known": ("rise_known", "cut_grip_mass"),
            "parts": ("head_mass", "cut_grip_mass"),
            "used": ("head_mass", "rise_used"),
        }.items()
        for part, made in zip(("headings", "row"), _run(first, last), strict=True)
    },
}
"""What names in braces may stand for besides a column's own cell."""


def in_row(formula: str, row: int, sheet: str) -> str:
    """Write a column's formula as a cell of one club row holds it.

    Args:
        formula: the formula with names in braces [-].
        row: the club's row [-].
        sheet: the sheet that the cell is on; its own cells are written without the sheet's name [-].

    Raises:
        KeyError: a name in braces is no column.
    """

    def cell(found: re.Match[str]) -> str:
        table, key = TABLES[found[1]], found[2]
        address = _RANGES[key](table, row) if key in _RANGES else table.cell(key, row)
        return address.removeprefix(f"{sheet}!")

    return _BRACED.sub(cell, formula)
