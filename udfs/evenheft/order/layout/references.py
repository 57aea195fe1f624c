"""From a declared formula to the one that a cell holds, and the hidden columns that fetch what it reads.

A declared formula names what it reads in braces: `{bench.period}`. What can be typed, and what stands on another
sheet, is fetched once per row into a hidden column of the sheet that reads it, by the club's number (or its group's
name) and the column; formulas read that. So no cut, sort, inserted or deleted row gives a club another's value.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from evenheft.order.layout.bench_sheet import BENCH
from evenheft.order.layout.card_sheet import CARD
from evenheft.order.layout.fix_sheet import FIX, FIX_RUNS
from evenheft.order.layout.grid import HEADING_ROW, Column, Table, literally
from evenheft.order.layout.lines import GROUP_LINES
from evenheft.order.layout.order_sheet import ORDER, TARGET
from evenheft.order.layout.parts_sheet import PARTS, PARTS_RUNS
from evenheft.order.layout.quantities import QUANTITIES
from evenheft.order.layout.scale_sheet import SCALE
from evenheft.order.layout.set_sheet import OTHERS, SET, SET_RUNS, SLOT_ROW, SLOTS
from evenheft.order.layout.shop_sheet import EVERY_GROUP, GRIPS, SHAFTS, USUAL, read_locked
from evenheft.order.layout.supplier_sheet import SUPPLIER

_DECLARED = {
    table.name: table
    for table in (ORDER, PARTS, CARD, BENCH, SET, FIX, SUPPLIER, SCALE, TARGET, GROUP_LINES, USUAL, SHAFTS, GRIPS)
}
_BRACED = re.compile(r"\{(\w+)\.(\w+)\}")

_BY_GROUP = {"target": "target", "line": "line", "usual": "usual", "every": "usual"}
"""Tables that are found by the club's group, and the table that they are."""
_BY_PART = {
    "shafts": ("shaft_sought", "shaft_otherwise", "shaft_unlisted"),
    "grips": ("grip_sought", "grip_otherwise", "grip_unlisted"),
}
"""Lists of the Shop sheet that Parts finds by what is typed there; its place otherwise; what is said of no place."""


def _names_in(formula: str) -> Iterator[tuple[str, str]]:
    for found in _BRACED.finditer(formula):
        yield found[1], found[2]


def _run(first: str, last: str) -> tuple[Callable[[Table, int], str], Callable[[Table, int], str]]:
    """Return a run of columns: its headings, and its cells in a row."""

    def headings(table: Table, row: int) -> str:  # noqa: ARG001  the headings stand in one row for all
        return f"{table.sheet}!${table.letter(first)}${HEADING_ROW}:${table.letter(last)}${HEADING_ROW}"

    def cells(table: Table, row: int) -> str:
        return f"{table.sheet}!${table.letter(first)}{row}:${table.letter(last)}{row}"

    return headings, cells


def _slot(number: int) -> Callable[[Table, int], str]:
    return lambda table, _: f"{table.sheet}!${table.letter(f'slot{number}_value')}${SLOT_ROW}"


_RANGES: dict[str, Callable[[Table, int], str]] = {
    "all_groups": lambda table, _: table.framed("group"),
    "all_names": lambda table, _: table.framed(table.columns[0].key),
    "all_places": lambda table, _: table.framed("place"),
    "all_models": lambda table, _: table.whole(fetched("parts", "model")),
    "all_learned": lambda table, _: table.whole("learned"),
    "quantity_names": _run(f"{QUANTITIES[0].key}_goal", f"{QUANTITIES[-1].key}_goal")[0],
    "others_run": _run(*OTHERS)[1],
    "all_head_needs": lambda table, _: table.framed("head_needs"),
    "all_butt_needs": lambda table, _: table.framed("butt_needs"),
    "tried_names": _run(*FIX_RUNS["wanted"])[0],
    **{f"{run}_run": _run(*ends)[1] for run, ends in FIX_RUNS.items()},
    **{f"{run}_run": _run(f"{QUANTITIES[0].key}_{run}", f"{QUANTITIES[-1].key}_{run}")[1] for run in SET_RUNS},
    **{f"slot{number}": _slot(number) for number in range(1, SLOTS + 1)},
    **{
        f"{name}_{part}": made
        for name, ends in PARTS_RUNS.items()
        for part, made in zip(("headings", "row"), _run(*ends), strict=True)
    },
}
"""What names in braces may stand for besides a column's own cell."""


def fetched(name: str, key: str) -> str:
    """Return the key of the hidden column that holds what was fetched from another place."""
    return f"{name}.{key}"


def _is_fetched(table: Table, name: str, key: str) -> bool:
    """Whether a table reads a column through a hidden one: of another sheet, or where it can be typed and moved."""
    if name in ("row", "sought"):
        return True
    if key in _RANGES:
        return False
    return name != table.name or table.column(key).role == "input"


def _finder(table: Table, name: str) -> Column:
    """Return the hidden column that holds in which row of another table a club stands."""
    source = _DECLARED[_BY_GROUP.get(name, name)]
    if name == "every":
        formula = f'=MATCH("{EVERY_GROUP}",{source.framed("group")},0)'
    elif name in _BY_PART:
        typed, other, unlisted = (f"{{parts.{key}}}" for key in _BY_PART[name])
        first = source.framed(source.columns[0].key)
        # A number finds the same number listed as a text, and the other way round.
        formula = f'=IF({typed}="","",IFERROR(MATCH({typed},{first},0),IF({other}="",{unlisted},{other})))'
    elif name in _BY_GROUP:
        formula = f'=IF({{sought.group}}="","",IFERROR(MATCH({{sought.group}},{source.framed("group")},0),""))'
    else:
        lost = f'"! club "&{{{table.name}.number}}&" has lost its row on {source.sheet}"'
        formula = f"=IFERROR(MATCH({{{table.name}.number}},{source.framed('number')},0),{lost})"
    return Column(fetched("row", name), f"Row on {source.title}", 7, "work", formula, band="Rows")


_SOUGHT = Column(fetched("sought", "group"), "Group as it is looked up", 9, "work",
                 f"={literally('{order.group}')}", band="Rows")  # fmt: skip
"""The hidden column that holds what a club's group is looked up by."""


def _fetching(name: str, key: str) -> Column:
    """Return the hidden column that fetches a value; a blank stays blank, and a lost row is told in its place."""
    source = _DECLARED[_BY_GROUP.get(name, name)]
    row, cell = f"{{row.{name}}}", f"INDEX({source.framed(key)},{{row.{name}}})"
    return Column(
        fetched(name, key), f"{source.title}: {source.column(key).key.replace('_', ' ')}", 9, "work",
        f'=IF(ISTEXT({row}),{row},IF({cell}="","",{cell}))', band="Fetched",
    )  # fmt: skip


def _completed(table: Table) -> Table:
    """Return a table with the hidden columns that its formulas read through."""
    found: dict[str, Column] = {}
    waiting = [column.formula for column in table.columns]
    while waiting:
        for name, key in _names_in(waiting.pop()):
            if not _is_fetched(table, name, key) or fetched(name, key) in found:
                continue
            column = _SOUGHT if name == "sought" else _finder(table, key) if name == "row" else _fetching(name, key)
            found[column.key] = column
            waiting.append(column.formula)
    return replace(table, columns=(*table.columns, *sorted(found.values(), key=lambda c: (c.band != "Rows", c.key))))


TABLES: dict[str, Table] = {name: _completed(table) for name, table in _DECLARED.items()}
"""Every table by the name that formulas use in braces, with its hidden columns."""
CLUB_TABLES: dict[str, Table] = {
    name: TABLES[name] for name in ("order", "parts", "card", "bench", "set", "fix", "supplier", "scale")
}
"""The sheets with one row per club, in the order of the work."""


def in_row(formula: str, row: int, table: Table) -> str:
    """Return a column's formula as a cell of one row holds it.

    Args:
        formula: the formula with names in braces [-].
        row: the row [-].
        table: the table that the cell is in; its own sheet's cells are written without the sheet's name [-].

    Raises:
        KeyError: a name in braces is no column.
    """

    def cell(found: re.Match[str]) -> str:
        name, key = found[1], found[2]
        if key in _RANGES and name != "row":
            address = _RANGES[key](TABLES[name], row)
        else:
            address = table.cell(fetched(name, key) if _is_fetched(table, name, key) else key, row)
        return address.removeprefix(f"{table.sheet}!")

    return _BRACED.sub(cell, read_locked(formula)).replace(f"{table.sheet}!", "")
