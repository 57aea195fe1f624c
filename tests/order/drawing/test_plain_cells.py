"""Every cell of the template against published practice for workbooks.

FAST Standard 3.03 (formula simplicity) and 3.04 (formula clarity): no formula longer than a thumb, no nested IFs beyond
what can be read at a glance, no embedded constants. ICAEW, Twenty principles for good spreadsheet practice, 10 to 15:
one formula per column, inputs apart, computed once, no embedded constants. (Both from memory: numbers as the project's
list of outside checks names them.)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from evenheft.mechanics import units
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.ooxml.places import column_number
from evenheft.order.drawing.template import build_order
from evenheft.order.layout import CLUB_TABLES, FIRST_ROW, LAST_ROW, ORDER, SLOT_ROW, TABLES

LONGEST = 150
DEEPEST = 2
MAY_BE_LONGER = {
    (
        "Set",
        f"{TABLES['set'].letter('swingweight_verdict')}{SLOT_ROW}",
    ): "one line of words",
    ("Set", "C1"): "the line over the table counts three times; it stands once on the sheet",
    **{
        ("Set", f"{CLUB_TABLES['set'].letter('inertia_needs')}{row}"): "one formula with every doubt of a swing"
        for row in range(FIRST_ROW, LAST_ROW + 1)
    },
    **{
        ("Fix", f"{CLUB_TABLES['fix'].letter(key)}{row}"): "one formula of the registry with all its arguments, no rule"
        for key in ("planned_balance", "planned_points", "planned_inertia", "advised")
        for row in range(FIRST_ROW, LAST_ROW + 1)
    },
}
"""Cells whose formula may be longer, and why."""
MAY_HOLD = {
    "0": "nothing, or an exact match, or no decimals",
    "1": "one: the first, or a conversion of one unit",
    "-1": "asks for a swingweight's label",
    "2": "decimals of an ounce, two readings at least, or a square",
    "9": "the rest of a text",
    "10": "the character that begins a new line",
    "3": "the third place",
    **{str(n): "the number of a place on Set" for n in range(4, 8)},
}
"""Numbers that a formula may hold, and why: none of them is a number of the trade."""


@pytest.fixture(scope="module")
def cells() -> list[tuple[str, str, str]]:
    book = build_order()
    return [
        (sheet.title, cell.coordinate, cell.value)
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.startswith("=")
    ]


def without_texts(formula: str) -> str:
    return re.sub(r'"[^"]*"', '""', formula)


def depth_of_ifs(formula: str) -> int:
    """How many IFs stand inside one another at most."""
    deepest, opened = 0, []
    for found in re.finditer(r"([A-Z_0-9.]*)\(|\)", without_texts(formula)):
        if found[0] == ")":
            opened.pop()
        else:
            opened.append(found[1])
            deepest = max(deepest, opened.count("IF"))
    return deepest


def numbers_in(formula: str) -> Iterator[str]:
    code = without_texts(formula)
    code = re.sub(r"\$?[A-Z]{1,3}\$?\d+", "", code)  # references
    code = re.sub(r"HEFT_\w+", "", code)
    for found in re.finditer(r"(?<![\w.])-?\d+(?:\.\d+)?", code):
        yield found[0]


def test_the_tools_of_this_test_see_what_they_should() -> None:
    assert depth_of_ifs('=IF(A1="IF(",IF(B1,OR(C1),IF(D1,1,2)),0)') == 3
    assert list(numbers_in('=IF(A10>161,B2*1.75,"2 g")+HEFT_X2(C3,-1)')) == ["161", "1.75", "-1"]


def test_no_formula_is_longer_than_a_builder_reads(cells: list[tuple[str, str, str]]) -> None:
    """FAST 3.03: no calculation longer than a thumb or over one line."""
    long = {(s, c): f for s, c, f in cells if len(f) > LONGEST}
    assert set(long) <= set(MAY_BE_LONGER), long
    lasting = {(s, re.sub(r"\d", "", c)) for s, c in long}
    assert {(s, re.sub(r"\d", "", c)) for s, c in MAY_BE_LONGER} == lasting  # some row of each column needs it


def test_ifs_nest_at_most_twice(cells: list[tuple[str, str, str]]) -> None:
    """FAST 3.03: do not write nested IFs."""
    assert {(s, c): f for s, c, f in cells if depth_of_ifs(f) > DEEPEST} == {}


def test_no_number_of_the_trade_stands_in_a_cell(cells: list[tuple[str, str, str]]) -> None:
    """FAST 3.03-07, ICAEW 12: no embedded constants."""
    held = {n for _, _, f in cells for n in numbers_in(f)}
    assert held <= set(MAY_HOLD), held - set(MAY_HOLD)
    trade = {units.BY_SYMBOL["oz"].factor, units.BY_SYMBOL["in"].factor, FULCRUM, 161.0, 1.75}
    assert not {float(n) for n in MAY_HOLD} & trade


def test_a_column_has_one_formula(cells: list[tuple[str, str, str]]) -> None:
    """FAST 3.03, ICAEW 11: one formula per column; it differs by its own row only."""
    found = {(sheet, cell): formula for sheet, cell, formula in cells}
    for table in TABLES.values():
        for column in table.columns:
            letter = table.letter(column.key)
            rows = range(table.first_row, table.last_row + 1)
            alike = {re.sub(rf"(?<=[A-Z]){row}\b", "#", found.get((table.sheet, f"{letter}{row}"), "")) for row in rows}
            assert len(alike) == 1, f"{table.sheet} {column.key}"


def test_what_can_be_typed_is_read_in_one_hidden_column_and_by_row(cells: list[tuple[str, str, str]]) -> None:
    """ICAEW 15, computed once; and no gesture with typed cells moves a reference: none names a cell of a club's row.

    A formula on a club sheet names cells of its own row that are locked, whole framed columns, or cells above the rows.
    """
    locked = {
        table.sheet: {table.letter(column.key) for column in table.columns if column.role != "input"}
        for table in CLUB_TABLES.values()
    }
    for table in CLUB_TABLES.values():
        for sheet, cell, formula in cells:
            row, column = int(re.sub(r"\D", "", cell)), column_number(re.sub(r"\d", "", cell))
            if sheet != table.sheet or not FIRST_ROW <= row <= LAST_ROW or column not in table.at.values():
                continue
            code = re.sub(r"(\w+!)?\$[A-Z]+\$\d+:\$[A-Z]+\$\d+", "", without_texts(formula))
            for other, letter, mark, at in re.findall(r"(\w+!)?\$?([A-Z]{1,3})(\$?)(\d+)\b", code):
                assert not other, f"{sheet}!{cell} names a cell of another sheet: {formula}"
                assert (int(at) < FIRST_ROW and mark) or (int(at) == row and letter in locked[sheet]), formula
    for table in CLUB_TABLES.values():
        fetching = [c.formula for c in table.columns if c.band == "Fetched"]
        assert len(fetching) == len(set(fetching))


def test_what_stands_beside_the_clubs_on_order_names_locked_cells_alone(cells: list[tuple[str, str, str]]) -> None:
    """Targets, reference clubs and offered lines are typed and may be cut: a range is taken from end to locked end."""
    book = build_order()
    seen = 0
    for sheet, cell, formula in cells:
        if sheet != ORDER.sheet or column_number(re.sub(r"\d", "", cell)) in ORDER.at.values():
            continue
        for letter, row in re.findall(r"(?<![!\w])\$?([A-Z]{1,3})\$?(\d+)\b", without_texts(formula)):
            assert book[sheet][f"{letter}{row}"].protection.locked, (cell, formula)
            seen += 1
    assert seen > 500
