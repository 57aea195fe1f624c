"""Calc answers as `formulas.call` does: one table of cases, computed in cells of a real LibreOffice.

What Calc itself loses on the way to any add-in is told in one place, `as_calc_hands_over`, and in docs/calc.md.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from itertools import accumulate

import pytest
from openpyxl.utils import get_column_letter

from calc_office import Calc, office_has_scipy
from evenheft.formulas import REGISTRY
from evenheft.formulas.serving import server
from evenheft.formulas.wording import DEFAULT_SCALE
from evenheft.hosts.calc import HOST
from evenheft.ooxml.values import CellError
from pairing_tables import without_scipy
from parity_cases import CASES, Arguments, Case

MAKES_ERROR = {"#N/A": "=NA()", "#DIV/0!": "=1/0"}
"""A formula that puts each error of the table into a cell."""
TOO_MANY = CellError("Err:504")
NO_RANGE = CellError("Err:504")
"""What Calc's ROWS and COLUMNS say of a single value."""
ERROR_IN_A_RANGE = CellError("Err:504")


@dataclass(frozen=True)
class ParityFound:
    """What a case's formula computed in Calc: its size as Calc counts it, and its cells."""

    rows: object
    columns: object
    cells: tuple[tuple[object, ...], ...]


def as_calc_hands_over(case: Case) -> Arguments | CellError:
    """A case's arguments as Calc hands them to an add-in, or the error that Calc shows without asking."""
    arguments = REGISTRY[case.formula].arguments
    if len(case.args) > len(arguments):
        return TOO_MANY
    handed: list[object] = []
    for argument, given in zip(arguments, case.args, strict=False):
        rows = given if isinstance(given, tuple) else ((given,),)
        alone = len(rows) == len(rows[0]) == 1
        errors = [cell for row in rows for cell in row if isinstance(cell, CellError)]
        if errors:
            return errors[0] if alone else ERROR_IN_A_RANGE
        plain = tuple(tuple(float(cell) if isinstance(cell, bool) else cell for cell in row) for row in rows)
        if not alone:
            handed.append(plain)
        elif plain[0][0] not in (None, 0.0):
            handed.append(plain[0][0])
        else:  # an empty cell arrives as 0, and 0 is read as empty only where it cannot be meant
            handed.append(0.0 if zero_can_be_meant(argument.kind) else None)
    return tuple(handed)


def zero_can_be_meant(kind: object) -> bool:
    try:
        kind.read(0.0, DEFAULT_SCALE)  # type: ignore[attr-defined]
    except ValueError:
        return False
    return True


def expected(case: Case) -> object:
    handed = as_calc_hands_over(case)
    if isinstance(handed, CellError):
        return handed
    with nullcontext() if case.formula != "HEFT_PLAN" or office_has_scipy() else without_scipy():
        return server(REGISTRY[case.formula], HOST)(*handed)


def as_rows(answer: object) -> tuple[tuple[object, ...], ...]:
    return answer if isinstance(answer, tuple) else ((answer,),)


COUNTS, ANSWERS, GIVEN = 1, 4, 40
"""Columns of the workbook in which all cases stand below each other: counted size, answers, arguments."""


def area(column: int, row: int, rows: int, columns: int) -> str:
    """The address of an area, a single cell's where it is one."""
    first = f"{get_column_letter(column)}{row}"
    if rows == columns == 1:
        return first
    return f"{first}:{get_column_letter(column + columns - 1)}{row + rows - 1}"


@pytest.fixture(scope="module")
def computed(calc: Calc) -> Iterator[list[ParityFound]]:
    """Every case's answer: all arguments stand in cells of one workbook, below each other."""
    given: list[list[object]] = []
    calls = []
    for case in CASES:
        references = []
        for argument in case.args:
            rows = argument if isinstance(argument, tuple) else ((argument,),)
            references.append(area(GIVEN, len(given) + 1, len(rows), len(rows[0])))
            given += [[in_cell(cell) for cell in row] for row in rows]
        calls.append(f"{case.formula}({';'.join(references)})")
    width = max(map(len, given))
    sizes = [(len(as_rows(expected(case))), len(as_rows(expected(case))[0])) for case in CASES]
    tops = list(accumulate((rows + 1 for rows, _ in sizes), initial=1))
    with calc.open() as book:
        book.automatic(False)
        book.put("Sheet1", area(GIVEN, 1, len(given), width), [row + [None] * (width - len(row)) for row in given])
        for call, top, (rows, columns) in zip(calls, tops, sizes, strict=False):
            book.put("Sheet1", area(COUNTS, top, 1, 2), [[f"=ROWS({call})", f"=COLUMNS({call})"]])
            if rows == columns == 1:
                book.put("Sheet1", area(ANSWERS, top, 1, 1), [[f"={call}"]])
            else:
                book.put_array("Sheet1", area(ANSWERS, top, rows, columns), f"={call}")
        book.calculate()
        found = book.read("Sheet1", area(COUNTS, 1, tops[-1], GIVEN - 1))
    yield [
        ParityFound(found[top - 1][0], found[top - 1][1], tuple(
            tuple(row[ANSWERS - 1 : ANSWERS - 1 + columns]) for row in found[top - 1 : top - 1 + rows]
        ))
        for top, (rows, columns) in zip(tops, sizes, strict=False)
    ]  # fmt: skip


def in_cell(cell: object) -> object:
    if isinstance(cell, CellError):
        return MAKES_ERROR[cell.code]
    if isinstance(cell, bool):
        return "=TRUE()" if cell else "=FALSE()"
    return cell


@pytest.mark.parametrize("number", range(len(CASES)), ids=lambda number: str(CASES[number]))
def test_answers_as_the_plain_call_does(number: int, computed: list[ParityFound]) -> None:
    found, answer = computed[number], expected(CASES[number])
    if not isinstance(answer, CellError):
        size = (len(as_rows(answer)), len(as_rows(answer)[0]))
        assert (found.rows, found.columns) == ((NO_RANGE, NO_RANGE) if size == (1, 1) else size)
    for found_row, row in zip(found.cells, as_rows(answer), strict=True):
        for found_cell, cell in zip(found_row, row, strict=True):
            if isinstance(cell, float):
                assert isinstance(found_cell, float)
                assert found_cell == pytest.approx(cell, rel=1e-12, abs=1e-12)
            else:
                assert found_cell == cell
