"""Arrays are answered as their elements are, and both as the formula answers in a cell, refusals too."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import evenheft
from evenheft.formulas import REGISTRY, call
from evenheft.formulas.wording import PASSED_ON
from evenheft.ooxml.errors import Refused

CELLS = {
    "points": "HEFT_POINTS", "swingweight": "HEFT_SWINGWEIGHT", "label": "HEFT_LABEL", "moment": "HEFT_MOMENT",
    "moment_about": "HEFT_MOMENT_ABOUT", "balance": "HEFT_BALANCE", "inertia": "HEFT_INERTIA",
    "gravity": "HEFT_GRAVITY", "per_gram": "HEFT_PER_GRAM", "correction": "HEFT_GRAMS_TO",
    "inertia_correction": "HEFT_GRAMS_TO_INERTIA", "two_weights": "HEFT_TWO_WEIGHTS",
    "two_weights_inertia": "HEFT_TWO_WEIGHTS_INERTIA", "length_to": "HEFT_LENGTH_TO",
    "inertia_about": "HEFT_INERTIA_ABOUT", "doubt": "HEFT_DOUBT", "inertia_doubt": "HEFT_INERTIA_DOUBT",
    "least_tolerance": "HEFT_LEAST_TOLERANCE", "verdict": "HEFT_VERDICT", "target": "HEFT_TARGET",
    "first": "HEFT_FIRST",
}  # fmt: skip
"""Each function that takes numbers only, and the formula that answers the same in a cell."""
SENSIBLE = {
    "mass": (395.0, 30.0), "balance": (75.0, 4.0), "fulcrum": (36.0, 3.0), "new_fulcrum": (30.0, 3.0),
    "moment": (16000.0, 2000.0), "points": (32.0, 40.0), "period": (1.9, 0.4), "pivot": (2.0, 2.0),
    "gravity": (980.0, 3.0), "half_angle": (4.0, 4.0), "swings": (1.0, 0.0), "reading": (300.0, 110.0),
    "span": (100.0, 15.0), "offset": (2.0, 2.0), "position": (60.0, 55.0), "target": (32.0, 6.0),
    "first_position": (100.0, 15.0), "second_position": (10.0, 8.0), "target_mass": (405.0, 20.0),
    "inertia": (2650.0, 300.0), "target_inertia": (2700.0, 60.0), "new_axis": (0.0, 40.0), "axis": (1.0, 1.0),
    "grip_mass": (50.0, 10.0), "grip_balance": (11.0, 2.0), "shaft_per_cm": (0.6, 0.3), "latitude": (0.0, 89.0),
    "height": (500.0, 400.0), "mass_doubt": (0.3, 0.3), "balance_doubt": (0.2, 0.2), "period_doubt": (0.02, 0.02),
    "common_mass_doubt": (0.1, 0.1), "common_balance_doubt": (0.1, 0.1), "pivot_doubt": (0.1, 0.1),
    "gravity_doubt": (0.1, 0.1), "value": (32.0, 1.0), "tolerance": (0.5, 0.4), "doubt": (0.3, 0.3),
    "first": (32.0, 2.0), "increment": (0.0, 2.0), "place": (8.0, 0.0),
}  # fmt: skip
"""About what value, and how far from it, an argument is tried: well beyond what is accepted, too."""
INERTIA_TARGETS = {("inertia_correction", "target"): (2700.0, 60.0)}


def arguments_of(name: str) -> list[str]:
    formula = REGISTRY[CELLS[name]]
    offered = list(inspect.signature(getattr(evenheft, name)).parameters)
    assert set(offered) <= {argument.name for argument in formula.arguments}
    return offered


def rows_of(name: str, count: int) -> st.SearchStrategy[list[dict[str, float]]]:
    values = {}
    for argument in arguments_of(name):
        middle, reach = INERTIA_TARGETS.get((name, argument), SENSIBLE[argument])
        low = 0.0 if argument.endswith("doubt") or argument in ("tolerance", "half_angle") else middle - reach
        values[argument] = st.floats(low, middle + reach).map(lambda value: round(value, 3))
    return st.lists(st.fixed_dictionaries(values), min_size=1, max_size=count)


def in_a_cell(name: str, row: dict[str, float]) -> Any:
    formula = REGISTRY[CELLS[name]]
    answer = call(formula, [row.get(argument.name) for argument in formula.arguments])
    return answer[0] if isinstance(answer, tuple) else answer


def in_python(name: str, row: dict[str, float]) -> Any:
    try:
        return getattr(evenheft, name)(**row)
    except Refused as refused:
        return f"{PASSED_ON}{refused}"


def alike(left: Any, right: Any) -> bool:
    if isinstance(left, tuple):
        return len(left) == len(right) and all(map(alike, left, right))
    if isinstance(left, str) or isinstance(right, str):
        return bool(left == right)
    return math.isclose(left, right, rel_tol=1e-9, abs_tol=1e-9)


@pytest.mark.parametrize("name", CELLS)
@given(data=st.data())
def test_a_number_is_answered_as_in_a_cell(name: str, data: st.DataObject) -> None:
    (row,) = data.draw(rows_of(name, 1))
    assert alike(in_python(name, row), in_a_cell(name, row))


@pytest.mark.parametrize("name", [name for name in CELLS if name != "gravity"])
@given(data=st.data())
def test_an_array_is_answered_as_its_elements_are(name: str, data: st.DataObject) -> None:
    rows = data.draw(rows_of(name, 5))
    one_by_one = [in_python(name, row) for row in rows]
    columns = {argument: np.array([row[argument] for row in rows]) for argument in rows[0]}
    refused = [at for at, answer in enumerate(one_by_one) if isinstance(answer, str) and answer.startswith(PASSED_ON)]
    function: Callable[..., Any] = getattr(evenheft, name)
    if refused:
        with pytest.raises(Refused) as raised:
            function(**columns)
        line = str(raised.value)
        reasons = [str(one_by_one[at]).removeprefix(PASSED_ON) for at in refused]
        # Out of bounds is told of the worst element; what only several numbers together rule out, of the first.
        assert any(
            line == f"element {at}: {reason}" or shared(line, reason)
            for at, reason in zip(refused, reasons, strict=True)
        )
        return
    answers = function(**columns)
    answers = list(zip(*answers, strict=True)) if isinstance(answers, tuple) else list(answers)
    assert all(map(alike, answers, one_by_one))


def shared(line: str, reason: str) -> bool:
    """Whether two refusals are of one argument's bounds: they differ in what was got."""
    return line.split(", got")[0] in reason


def test_a_set_keeps_its_shape_and_numbers_beside_it_serve_all() -> None:
    mass = np.array([[395.0, 400.0], [405.0, 410.0]])
    found = evenheft.points(mass, 75.3)
    assert found.shape == (2, 2)
    assert found[1, 0] == evenheft.points(405.0, 75.3)
    assert evenheft.swingweight(mass, 75.3).tolist() == [["D2.6", "D4.1"], ["D5.7", "D7.3"]]
    assert evenheft.points(np.array([395, 400]), 75.3).tolist() == [evenheft.points(m, 75.3) for m in (395, 400)]
    assert evenheft.points([395, 400], 75.3).tolist() == evenheft.points(np.array([395, 400]), 75.3).tolist()
    assert isinstance(evenheft.points(np.float32(395), np.float64(75.3)), float)
    assert evenheft.points(np.array([]), 75.3).tolist() == []


def test_what_is_not_known_stays_unknown() -> None:
    mass = np.array([395.0, math.nan])
    assert np.isnan(evenheft.points(mass, 75.3)).tolist() == [False, True]
    assert evenheft.swingweight(mass, 75.3).tolist() == ["D2.6", ""]
    assert evenheft.verdict(np.array([32.0, math.nan]), target=32, tolerance=0.5).tolist() == ["in", ""]
    assert math.isnan(evenheft.inertia(395, math.nan, 1.9))
    assert evenheft.swingweight(math.nan, 75.3) == ""
    assert np.isnan(evenheft.inertia(mass, 75.3, 1.9)).tolist() == [False, True]
    first, second = evenheft.two_weights(mass, 75, 110, 3, target=32, target_mass=410)
    assert np.isnan(first).tolist() == np.isnan(second).tolist() == [False, True]


@pytest.mark.parametrize(
    ("value", "line"),
    [
        ("395", 'mass must be a number or an array of numbers, got 395: evenheft.cm("44 1/2 in") and '
                'evenheft.grams("7.1 oz") read text'),
        (None, "mass must be a number or an array of numbers, got None"),
        (True, "mass must be a number or an array of numbers, got TRUE"),
        (["395", "a"], "mass must be a number or an array of numbers, got ['395', 'a']"),
        (np.array([True]), "mass must be a number or an array of numbers, got [ True]"),
        ({395: 1}, "mass must be a number or an array of numbers, got {395: 1}"),
    ],
)  # fmt: skip
def test_what_is_no_number_is_a_type_error(value: Any, line: str) -> None:
    with pytest.raises(TypeError) as refused:
        evenheft.points(mass=value, balance=75.3)
    assert str(refused.value) == line


@pytest.mark.parametrize("mass", [math.inf, np.array([395.0, math.inf]), np.array([-math.inf, 395.0])])
def test_an_infinite_mass_is_refused(mass: Any) -> None:
    with pytest.raises(ValueError, match="mass must be a mass such as 431 or"):
        evenheft.points(mass=mass, balance=75.3)


def test_a_whole_number_is_asked_of_every_element() -> None:
    with pytest.raises(ValueError, match=r"swings must be a whole number from 1 to 200, got 2\.5"):
        evenheft.inertia(395, 75.3, period=np.array([19.0, 5.0, 19.0]), swings=np.array([10.0, 2.5, 10.0]))


def test_shapes_that_do_not_go_together_are_a_value_error() -> None:
    with pytest.raises(ValueError, match="shape"):
        evenheft.points(np.array([395.0, 400.0]), np.array([75.0, 75.1, 75.2]))
