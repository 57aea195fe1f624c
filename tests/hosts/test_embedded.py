"""The embedded engine answers as `formulas.call` does: the engine computes, nothing is mocked."""

from __future__ import annotations

import formualizer
import pytest

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.calling import Cell, Grid
from evenheft.formulas.kinds import CellError
from evenheft.hosts.embedded import serve_in
from parity_cases import CASES, GOOD, Case

MAKES_ERROR = {"#N/A": "=NA()", "#DIV/0!": "=1/0"}
"""A formula that puts each error of the table into a cell."""


def test_every_formula_has_cases() -> None:
    assert set(GOOD) == set(REGISTRY)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_answers_as_the_plain_call_does(case: Case) -> None:
    expected = call(REGISTRY[case.formula], case.args)
    found = computed_in_cells(case, shape_of(expected))
    assert_same(found, expected)


def shape_of(answer: Cell | Grid) -> tuple[int, int]:
    return (len(answer), len(answer[0])) if isinstance(answer, tuple) else (1, 1)


def computed_in_cells(case: Case, shape: tuple[int, int]) -> object:
    """The case's answer, its arguments standing in cells of a workbook of the engine."""
    workbook = formualizer.Workbook()
    serve_in(workbook)
    given = workbook.sheet("In")
    answer = workbook.sheet("Out")
    references = []
    row = 1
    for argument in case.args:
        rows = argument if isinstance(argument, tuple) else ((argument,),)
        for r, cells in enumerate(rows):
            for c, cell in enumerate(cells):
                put(given, row + r, 1 + c, cell)
        last = row + len(rows) - 1
        first_cell, last_cell = f"$A${row}", f"${chr(ord('A') + len(rows[0]) - 1)}${last}"
        references.append(f"In!{first_cell}" if first_cell == last_cell else f"In!{first_cell}:{last_cell}")
        row = last + 2
    answer.set_formula(1, 1, f"={case.formula}({','.join(references)})")
    workbook.evaluate_all()
    rows_found = [[workbook.get_value("Out", 1 + r, 1 + c) for c in range(shape[1] + 1)] for r in range(shape[0] + 1)]
    inside = [line[: shape[1]] for line in rows_found[: shape[0]]]
    outside = [line[-1] for line in rows_found] + rows_found[-1]
    assert set(map(repr, outside)) == {"None"}, f"the answer spills beyond {shape}: {rows_found}"
    return inside[0][0] if shape == (1, 1) else tuple(map(tuple, inside))


def put(sheet: formualizer.Sheet, row: int, column: int, cell: object) -> None:
    if isinstance(cell, CellError):
        sheet.set_formula(row, column, MAKES_ERROR[cell.code])
    elif cell is not None:
        sheet.set_value(row, column, cell)


def assert_same(found: object, expected: object) -> None:
    """Same type, shape and text, and numbers to 1e-12 relative."""
    if isinstance(expected, tuple) and len(expected) == len(expected[0]) == 1:
        expected = expected[0][0]  # a range of one cell and that cell are one and the same in a sheet
    if isinstance(expected, tuple):
        assert isinstance(found, tuple)
        assert [len(line) for line in found] == [len(line) for line in expected]
        for found_line, expected_line in zip(found, expected, strict=True):
            for found_cell, expected_cell in zip(found_line, expected_line, strict=True):
                assert_same(found_cell, expected_cell)
    elif isinstance(expected, float):
        assert isinstance(found, float | int)
        assert not isinstance(found, bool)
        assert found == pytest.approx(expected, rel=1e-12, abs=1e-12)
    else:
        assert found == expected
