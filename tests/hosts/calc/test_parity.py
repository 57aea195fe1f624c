"""Calc answers as `formulas.call` does: one table of cases, computed in cells of a real LibreOffice.

What Calc itself loses on the way to any add-in is told in one place, `as_calc_hands_over`, and in docs/calc.md.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from calc_office import Calc
from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import server
from evenheft.formulas.kinds import DEFAULT_SCALE, CellError
from evenheft.hosts.calc import HOST
from parity_cases import CASES, Arguments, Case

MAKES_ERROR = {"#N/A": "=NA()", "#DIV/0!": "=1/0"}
"""A formula that puts each error of the table into a cell."""
TOO_MANY = CellError("Err:504")
ERROR_IN_A_RANGE = CellError("Err:504")


@dataclass(frozen=True)
class Found:
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
    return server(REGISTRY[case.formula], HOST)(*handed)


def as_rows(answer: object) -> tuple[tuple[object, ...], ...]:
    return answer if isinstance(answer, tuple) else ((answer,),)


@pytest.fixture(scope="module")
def computed(calc: Calc) -> Iterator[list[Found]]:
    """Every case's answer: all arguments stand in cells of one workbook, below each other."""
    with calc.open() as book:
        cells: list[list[object]] = []
        entered: list[tuple[Case, str, str]] = []
        top = 1
        for case in CASES:
            references = []
            for given in case.args:
                rows = given if isinstance(given, tuple) else ((given,),)
                at = len(cells) + 1
                cells += [[in_cell(cell) for cell in row] + [None] * (6 - len(row)) for row in rows]
                last = f"{'ABCDEF'[len(rows[0]) - 1]}{at + len(rows) - 1}"
                references.append(f"A{at}" if last == f"A{at}" else f"A{at}:{last}")
            call = f"{case.formula}({';'.join(references)})"
            size = as_rows(expected(case))
            right = chr(ord("K") + len(size[0]) - 1)
            entered.append((case, call, f"K{top}:{right}{top + len(size) - 1}"))
            top += len(size) + 1
        book.automatic(False)
        book.put("Sheet1", f"A1:F{len(cells)}", cells)
        found = []
        for case, call, at in entered:
            size = as_rows(expected(case))
            first = at.partition(":")[0]
            top = int(first[1:])
            one = len(size) == len(size[0]) == 1
            book.put("Sheet1", f"H{top}:K{top}", [[f"=ROWS({call})", f"=COLUMNS({call})", None, f"={call}" if one else None]])
            if not one:
                book.put_array("Sheet1", at, f"={call}")
        book.calculate()
        sheet = book.read("Sheet1", f"H1:P{top}")
        for case, _, at in entered:
            top = int(at.partition(":")[0][1:]) - 1
            size = as_rows(expected(case))
            block = tuple(tuple(row[3 : 3 + len(size[0])]) for row in sheet[top : top + len(size)])
            found.append(Found(sheet[top][0], sheet[top][1], block))
        yield found


def in_cell(cell: object) -> object:
    if isinstance(cell, CellError):
        return MAKES_ERROR[cell.code]
    if isinstance(cell, bool):
        return "=TRUE()" if cell else "=FALSE()"
    return cell


@pytest.mark.parametrize("number", range(len(CASES)), ids=lambda number: str(CASES[number]))
def test_answers_as_the_plain_call_does(number: int, computed: list[Found]) -> None:
    found, answer = computed[number], expected(CASES[number])
    if not isinstance(answer, CellError):
        assert (found.rows, found.columns) == (len(as_rows(answer)), len(as_rows(answer)[0]))
    for found_row, row in zip(found.cells, as_rows(answer), strict=True):
        for found_cell, cell in zip(found_row, row, strict=True):
            if isinstance(cell, float):
                assert isinstance(found_cell, float)
                assert found_cell == pytest.approx(cell, rel=1e-12, abs=1e-12)
            else:
                assert found_cell == cell
