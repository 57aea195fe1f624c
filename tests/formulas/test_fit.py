"""No call works for minutes: cells that need a look of their own are counted, and too many are told in a line."""

from __future__ import annotations

import pytest

from evenheft.formulas import REGISTRY, fit
from evenheft.formulas.calling import call

FEW = 100
TOLD = f"! more than {FEW} cells hold texts or are refused: name fewer of them at once"
HEADINGS = [["Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Grip (g)"]]


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fit, "MOST_LOOKED_AT", FEW)


def masses(*cells: object) -> object:
    return call(REGISTRY["HEFT_POINTS"], [[[cell] for cell in cells], 75.3])


@pytest.mark.parametrize("cell", ["395 g", "heavy", 15.2, True], ids=["a text", "a wrong text", "refused", "no number"])
def test_too_many_cells_that_need_a_look_are_told(cell: object) -> None:
    assert isinstance(masses(*[cell] * FEW), tuple)
    assert masses(*[cell] * (FEW + 1)) == TOLD
    assert masses(*[cell, 395.0] * (FEW + 1)) == TOLD


@pytest.mark.parametrize("cell", [395.0, 395, None, " "], ids=["a number", "a whole number", "blank", "blanks"])
def test_numbers_and_blanks_may_fill_a_column(cell: object) -> None:
    answers = masses(*[cell] * (20 * FEW), "395 g")
    assert isinstance(answers, tuple)
    assert len(answers) == 20 * FEW + 1


def test_a_range_of_texts_that_is_read_as_one_value_is_bounded_too() -> None:
    places = [[float(n)] for n in range(1, FEW + 2)]
    values = [[f"{30 + n / 100} "] for n in range(1, FEW + 2)]
    assert call(REGISTRY["HEFT_GRADIENT"], [places, values]) == TOLD


def test_a_table_with_a_column_of_texts_is_bounded_too() -> None:
    rows = [[f"{200 + n / 100} g", 114.3, 65.0, 117.0, 50.0] for n in range(FEW + 1)]
    assert call(REGISTRY["HEFT_CLUB"], [HEADINGS, rows, "mass"]) == TOLD
    assert isinstance(call(REGISTRY["HEFT_CLUB"], [HEADINGS, rows[:FEW], "mass"]), tuple)


def test_a_long_table_is_not_read_anew_for_each_of_many_cells() -> None:
    column = [[0.5]] * 2000
    words = [["Swingweight"]] * 2000
    told = "! 2000 cells cannot be answered over ranges as long as tolerances: name only the cells that are filled in"
    assert call(REGISTRY["HEFT_SUPPORTED"], [words, column, column]) == told
    assert isinstance(call(REGISTRY["HEFT_SUPPORTED"], ["Swingweight", column, column]), str)


def test_a_plan_over_a_full_column_is_refused_and_blank_rows_do_not_count() -> None:
    heads = [["Club", "Head mass (g)"], *[[f"{n}", 284.0] for n in range(5001)]]
    told = call(REGISTRY["HEFT_PLAN"], [heads, [["Number", "Mass (g)"], ["S1", 98.0]]])
    assert told == "! heads must be at most 5000 rows, got 5002"
    blank = [["Club", "Head mass (g)"], *[[None, None]] * 6000]
    assert call(REGISTRY["HEFT_PLAN"], [blank, [["Number", "Mass (g)"], ["S1", 98.0]]]) == ""


def test_the_doubts_of_a_full_column_are_refused_and_its_numbers_answered() -> None:
    rows = [[200.0, 114.3, 65.0, 117.0, 50.0]] * (FEW + 1)
    told = f"! the doubts of {FEW + 1} rows are too many at once: name fewer rows, or say what is wanted"
    assert call(REGISTRY["HEFT_CLUB"], [HEADINGS, rows]) == told
    assert isinstance(call(REGISTRY["HEFT_CLUB"], [HEADINGS, rows, "points"]), tuple)
    assert isinstance(call(REGISTRY["HEFT_CLUB"], [HEADINGS, [*rows[:FEW], [None] * 5]]), tuple)
