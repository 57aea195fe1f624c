"""How arguments and answers pass between Calc and the registry."""

from __future__ import annotations

import pytest

from evenheft.formulas import REGISTRY
from evenheft.hosts.calc.serving import handed, handler, zero_is_blank


def argument(formula: str, name: str):  # type: ignore[no-untyped-def]
    return next(a for a in REGISTRY[formula].arguments if a.name == name)


@pytest.mark.parametrize(
    ("formula", "name", "blank"),
    [
        ("HEFT_POINTS", "mass", True),
        ("HEFT_POINTS", "units", True),
        ("HEFT_POINTS", "fulcrum", True),
        ("HEFT_TARGET", "place", True),
        ("HEFT_FROM_LABEL", "label", True),
        ("HEFT_TARGET", "increment", False),
        ("HEFT_VERDICT", "value", False),
        ("HEFT_VERDICT", "doubt", False),
        ("HEFT_LABEL", "points", False),
    ],
)
def test_a_zero_is_an_empty_cell_only_where_it_cannot_be_meant(formula: str, name: str, blank: bool) -> None:
    assert zero_is_blank(argument(formula, name)) is blank


def test_what_was_not_typed_at_the_end_is_not_given() -> None:
    assert handed((1.0, None, None), (True, True, True)) == [1.0]
    assert handed((None, 2.0, None), (True, True, True)) == [None, 2.0]
    assert handed((0.0, 0.0, None), (True, False, True)) == [None, 0.0]
    assert handed((None, None), (True, True)) == []


def test_one_value_goes_back_as_it_is_and_a_range_as_calc_wants_it() -> None:
    wrapped = handler(REGISTRY["HEFT_MOMENT"], "Calc", lambda rows: ("range", rows))
    assert wrapped(None, 430.0, 75.56, None, None) == pytest.approx(17200)
    assert wrapped(None, ((430.0,), ("",)), 75.56, None, None) == ("range", ((pytest.approx(17200),), ("",)))
    assert wrapped(None, ((430.0,),), 75.56, None, None) == pytest.approx(17200)
    assert wrapped(None, 430.0, None, None, None) == "! balance must be given"


def test_the_host_is_named() -> None:
    assert handler(REGISTRY["HEFT_SELFTEST"], "Calc", tuple)(None, None).endswith(" on Calc")
