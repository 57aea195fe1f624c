"""The served module, called by xlwings' real server and call_udf, with stand-ins for pywin32 only.

What is not tested here: that Excel calls the server so. That needs Excel (docs/excel.md has a checklist).
"""

from __future__ import annotations

import dataclasses
import datetime
import importlib
from decimal import Decimal
from typing import Any

import pytest

from evenheft import __version__
from evenheft.formulas import REGISTRY, call
from evenheft.formulas.serving import server
from evenheft.hosts.excel.functions.served import HOST
from evenheft.hosts.excel.functions.vba import opening_module, wrapper_module
from evenheft.ooxml.values import CellError
from excel_standins import ERRORS, MISSING, SERVED, Excel, as_com, as_value2
from parity_cases import CASES, Case


@pytest.fixture(scope="module")
def excel() -> Excel:
    return Excel()


def answer_of(case: Case) -> object:
    """What the plain call answers, with the one cell of a row of one as that cell, as Excel shows it."""
    answer = server(REGISTRY[case.formula], HOST)(*case.args)
    return answer[0][0] if isinstance(answer, tuple) and (len(answer), len(answer[0])) == (1, 1) else answer


def as_grid(returned: Any) -> object:
    """What came back to VBA: one value, one row, or rows."""
    if not isinstance(returned, list | tuple):
        return returned
    rows = returned if isinstance(returned[0], list | tuple) else [returned]
    return tuple(tuple(row) for row in rows)


def with_left_out(case: Case, arguments: list[object]) -> list[object]:
    """VBA hands over every argument of the function, those left out with a mark."""
    return arguments + [MISSING] * (len(REGISTRY[case.formula].arguments) - len(arguments))


def typed(value: tuple[tuple[object, ...], ...]) -> object:
    """A range as an array constant: VBA makes a plain row of one that is one row high."""
    rows = tuple(tuple(as_com(cell) for cell in row) for row in value)
    return rows[0] if len(rows) == 1 else rows


POSSIBLE = [case for case in CASES if len(case.args) <= len(REGISTRY[case.formula].arguments)]
"""Excel itself refuses an argument too many, as the VBA function has no place for it: see test_vba.py."""


def test_only_arguments_too_many_are_left_to_excel() -> None:
    assert 0 < len(CASES) - len(POSSIBLE) < 10


@pytest.mark.parametrize("case", POSSIBLE, ids=str)
def test_answers_from_cells_as_the_plain_call_does(case: Case, excel: Excel) -> None:
    given = [as_value2(value if isinstance(value, tuple) else ((value,),)) for value in case.args]
    found = as_grid(excel.call(case.formula, *with_left_out(case, [*given])))
    assert (found, repr(found)) == (answer_of(case), repr(answer_of(case)))


@pytest.mark.parametrize("case", POSSIBLE, ids=str)
def test_answers_to_typed_values_as_the_plain_call_does(case: Case, excel: Excel) -> None:
    given = [typed(value) if isinstance(value, tuple) else as_com(value) for value in case.args]
    found = as_grid(excel.call(case.formula, *with_left_out(case, given)))
    assert (found, repr(found)) == (answer_of(case), repr(answer_of(case)))


def test_what_is_left_out_is_told_and_what_is_blank_stays_quiet(excel: Excel) -> None:
    assert excel.call("HEFT_POINTS", 395.0, MISSING, MISSING, MISSING) == "! balance must be given"
    assert excel.call("HEFT_POINTS", 395.0, None, MISSING, MISSING) == ""


def test_a_skipped_argument_takes_its_default(excel: Excel) -> None:
    plain = call(REGISTRY["HEFT_POINTS"], [395, 75.3, None, 30.48])
    assert excel.call("HEFT_POINTS", 395.0, 75.3, MISSING, 30.48) == plain


@pytest.mark.parametrize(("number", "code"), [(2045, "#SPILL!"), (2050, "#CALC!"), (2099, "#ERROR!")])
def test_an_error_that_xlwings_does_not_know_is_no_number(number: int, code: str, excel: Excel) -> None:
    """A whole number of that size would pass for a value in HEFT_CONVERT.

    2045 is in Microsoft's list of XlCVError, 2050 is from memory, 2099 is no error yet.
    """
    assert excel.call("HEFT_CONVERT", -2146828288 + number, "in", "cm") == (
        f"! value must be a number or a text, got {code}"
    )


def test_every_error_of_xlwings_table_is_named_alike(excel: Excel) -> None:
    table = importlib.import_module("xlwings._xlwindows").cell_errors
    assert {code: number for number, code in table.items()} == ERRORS
    for number, code in table.items():
        assert excel.call("HEFT_CONVERT", number, "in", "cm") == f"! value must be a number or a text, got {code}"


def test_a_currency_cell_is_its_number(excel: Excel) -> None:
    """COM hands a cell in a currency format over as a decimal."""
    assert excel.call("HEFT_CONVERT", Decimal("44.5"), "in", "cm") == 113.03


@pytest.mark.parametrize(
    ("moment", "shown"),
    [
        (datetime.datetime(2026, 2, 1, tzinfo=datetime.UTC), "2026-02-01"),
        (datetime.datetime(2026, 2, 1, 12, 30, tzinfo=datetime.UTC), "2026-02-01 12:30:00"),
        (datetime.datetime(1899, 12, 30, 0, 1, 9, tzinfo=datetime.UTC), "00:01:09"),
    ],
)
def test_a_date_that_excel_made_of_a_typo_is_named(moment: datetime.datetime, shown: str, excel: Excel) -> None:
    """29 1/2 typed without the space, or 1/2, becomes a date."""
    message = excel.call("HEFT_LABEL", moment)
    assert message == f"! points must be a number, got the date or time {shown}"


def test_a_function_of_another_version_says_so(excel: Excel) -> None:
    message = excel.call("HEFT_YET_TO_COME", 1.0, MISSING)
    assert message.startswith(f"! HEFT_YET_TO_COME is not in Evenheft {__version__}")
    assert "evenheft doctor" in message


def test_the_module_has_every_formula_and_nothing_else() -> None:
    served = importlib.import_module(SERVED)
    assert {name for name in dir(served) if hasattr(getattr(served, name), "__xlfunc__")} == set(REGISTRY)
    with pytest.raises(AttributeError):
        _ = served.SOMETHING


@pytest.mark.parametrize("formula", REGISTRY.values(), ids=lambda formula: formula.name)
def test_excel_is_told_what_the_registry_says(formula: Any) -> None:
    declared = getattr(importlib.import_module(SERVED), formula.name).__xlfunc__
    assert declared["ret"]["doc"] == formula.help
    assert declared["category"] == f"Evenheft {formula.category}"
    assert [(a["name"], a["doc"]) for a in declared["args"]] == [(a.name, a.help) for a in formula.arguments]


def test_a_formula_that_fails_inside_says_so_in_the_cell(excel: Excel, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr("evenheft.formulas.serving.call", fail)
    assert excel.call("HEFT_LABEL", "32") == "! HEFT_LABEL failed inside: RuntimeError: broken on purpose"


def test_cell_errors_of_the_table_are_the_ones_handed_over() -> None:
    assert {as_com(CellError(code)) for code in ERRORS} == set(ERRORS.values())


def test_a_new_formula_needs_nothing_here(excel: Excel, monkeypatch: pytest.MonkeyPatch) -> None:
    """Served, written as VBA and described as soon as the registry has it."""
    served = importlib.import_module(SERVED)
    twice = dataclasses.replace(
        REGISTRY["HEFT_LABEL"], name="HEFT_TWICE", help="Twice the points.", function=lambda points: 2.0 * points
    )
    with monkeypatch.context() as patched:
        patched.setitem(REGISTRY, "HEFT_TWICE", twice)
        importlib.reload(served)
        assert excel.call("HEFT_TWICE", 16.0) == 32.0
        assert "Function HEFT_TWICE(Optional points)" in wrapper_module()
        assert '"HEFT_TWICE", "Evenheft Swingweight", "Twice the points."' in opening_module()
    del served.HEFT_TWICE
    importlib.reload(served)
