"""The line over a set whose instruments cannot support its tolerances."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.supported import FINER, rounded_down, rounded_up
from parity_cases import column


def supported(*given: object) -> object:
    return call(REGISTRY["HEFT_SUPPORTED"], given)


def test_tolerances_that_are_supported_are_not_spoken_of() -> None:
    assert supported("Swingweight", column(1.2, 1.2), column(0.7, 0.8), "points") == ""
    assert supported("Swingweight", column(1.2, None, ""), column(0.7, 9.0, 9.0), "points") == ""
    assert supported("Swingweight", column(None), column(None), "points") == ""


def test_the_worst_club_says_what_is_supported_and_what_is_needed() -> None:
    line = supported(
        "Swingweight", column(0.5, 0.7, 2.0), column(0.66, 0.8, 0.8), "points", column(0.09, 0.12, 9.0), "cm"
    )
    assert line == (
        "Swingweight: +-0.5 points is finer than these instruments support, +-1.2: accept that on Order, or read the "
        "balance to +-0.09 cm."
    )


def test_swings_are_counted_for_an_inertia() -> None:
    line = supported("Inertia", column(20.0, 20.0), column(33.0, 30.0), "kg cm2", column(21.0, 18.0), "swings")
    assert line == (
        "Inertia: +-20 kg cm2 is finer than these instruments support, +-50: accept that on Order, or count 21 swings."
    )


@pytest.mark.parametrize("needs", [None, column("! no number of swings brings it to 3", 20.0), column(None, 20.0)])
def test_where_counting_helps_not_every_club_something_finer_is_asked_for(needs: object) -> None:
    line = supported("Inertia", column(20.0, 20.0), column(33.0, 30.0), "kg cm2", needs, "swings")
    assert str(line).endswith(f"or {FINER}.")
    assert str(supported("Length", column(0.1), column(0.2), "cm", column(3.0))).endswith(f"or {FINER}.")


def test_messages_and_errors_among_the_cells_are_left_out() -> None:
    line = supported("Lie", column("! tolerance must be a number", 0.25), column(0.5, "! lie is missing"), "deg")
    assert line == ""


def test_ranges_of_other_shapes_are_refused() -> None:
    message = "! doubts and needs must be as many as tolerances"
    assert supported("Lie", column(0.5, 0.5), column(0.5), "deg") == message
    assert supported("Swingweight", column(0.5), column(0.5), "points", column(0.1, 0.1)) == message


@given(st.floats(1e-3, 1e5))
def test_what_is_supported_is_rounded_up_and_what_is_needed_down(value: float) -> None:
    assert value * (1 - 1e-8) <= rounded_up(value) <= value * 1.1001
    assert value * 0.9 <= rounded_down(value) <= value * (1 + 1e-8)


def test_what_no_tolerance_and_no_doubt_can_be_is_told() -> None:
    assert supported("Lie", column(0.5, -1.0), column(0.0, 0.0)) == "! tolerances must be 0 or more, got -1"
    assert supported("Lie", column(0.5), column(-0.2)) == "! doubts must be 0 or more, got -0.2"
