"""What a builder reads of doubts, tolerances, swings and fulcrums."""

from __future__ import annotations

from math import copysign

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from evenheft.formulas import REGISTRY
from evenheft.formulas.serving import server
from evenheft.formulas.wording import show
from formula_answers import heft, number


def test_one_instrument_is_never_doubted_more_than_it_admits_to() -> None:
    assert number("HEFT_DOUBT", 400, 75, 0, 0.2) == approx(400 * 0.2 / (1.75 * 2.54 * 28.349523125))
    assert number("HEFT_COMBINED_DOUBT", 0.25) == 0.25


def test_what_is_alike_for_every_club_counts_only_where_it_is_given() -> None:
    individual = number("HEFT_DOUBT", 395, 75.3, 0.1, 0.2)
    both = number("HEFT_DOUBT", 395, 75.3, 0.1, 0.2, None, None, 0.1, 0.05)
    assert individual < both < individual + number("HEFT_DOUBT", 395, 75.3, 0.1, 0.05) + 1e-12
    swung = ("HEFT_INERTIA_DOUBT", 395, 75.3, 1.9, 0.1, 0.2, 0.01)
    with_pivot = number(*swung, None, None, None, None, None, None, 0.5)
    with_gravity = number(*swung, None, None, None, None, None, None, None, 3)
    assert number(*swung) < with_pivot
    assert number(*swung) < with_gravity


@given(tolerance=st.floats(0.2, 3), mass=st.floats(300, 600), mass_doubt=st.floats(0, 0.2))
def test_a_balance_read_as_finely_as_it_is_asked_supports_the_tolerance(
    tolerance: float, mass: float, mass_doubt: float
) -> None:
    fine = number("HEFT_BALANCE_NEEDED", mass, 75.3, tolerance, mass_doubt)
    assert number("HEFT_LEAST_TOLERANCE", number("HEFT_DOUBT", mass, 75.3, mass_doubt, fine)) == approx(tolerance)


def test_so_many_swings_and_no_fewer() -> None:
    count = number("HEFT_SWINGS_NEEDED", 20, 395, 75.3, 1.9, 0.1, 0.2, 0.1)
    for swings, enough in ((count, True), (count - 1, False)):
        doubt = number("HEFT_INERTIA_DOUBT", 395, 75.3, 1.9 * swings, 0.1, 0.2, 0.1, *(None,) * 4, swings)
        assert (doubt <= 20) == enough


def test_a_time_of_many_swings_is_typed_as_it_was_read() -> None:
    once = number("HEFT_INERTIA", 395, 75.3, 1.9)
    assert number("HEFT_INERTIA", 395, 75.3, 19, *(None,) * 4, 10) == approx(once)
    assert str(heft("HEFT_INERTIA", 395, 75.3, 19)).endswith("is the number of swings in swings?")


@pytest.mark.parametrize(
    ("length", "period", "refused"),
    # About the butt T <= 2 pi sqrt(L / g): 200 cm 2.838 s; 96 + 5 cm 2.016 s.
    [(None, 2.83, False), (None, 2.85, True), (None, 3.8, True), (96, 2.01, False), (96, 2.02, True)],
)
def test_a_swing_slower_than_any_club_is_refused(length: float | None, period: float, *, refused: bool) -> None:
    answer = heft("HEFT_INERTIA", 395, 75.3, period, *(None,) * 5, length)
    assert str(answer).startswith("! period must be at most") == refused
    doubted = heft("HEFT_INERTIA", 395, 75.3, period, *(None,) * 5, length, 0.05)
    assert isinstance(doubted, float) or period > 3
    judged = heft("HEFT_INERTIA_DOUBT", 395, 75.3, period, 0.1, 0.2, 0, *(None,) * 5, length)
    assert str(judged).startswith("! period must be at most") == refused


def test_a_balance_beyond_the_club_is_refused() -> None:
    assert heft("HEFT_INERTIA", 395, 75.3, 1.9, *(None,) * 5, 60) == (
        "! balance must be less than the club's length, 60 cm, got 75.3 cm"
    )


@pytest.mark.parametrize(
    ("name", "before"),
    [
        ("HEFT_POINTS", (395, 75.3)),
        ("HEFT_SWINGWEIGHT", (395, 75.3)),
        ("HEFT_DOUBT", (395, 75.3, 0.1, 0.2)),
        ("HEFT_PER_GRAM", (110,)),
        ("HEFT_GRAMS_TO", ("D2", 395, 75, 94)),
    ],
)
def test_points_and_labels_belong_to_a_fulcrum_of_14_inches(name: str, before: tuple[object, ...]) -> None:
    assert not str(heft(name, *before, None, 35.4)).startswith("!")
    for fulcrum in (30.48, 36.1, "12 in"):
        refused = str(heft(name, *before, None, fulcrum))
        assert refused.startswith("! fulcrum must be within 0.5 cm of 35.56 cm")
        assert "HEFT_MOMENT takes any fulcrum" in refused


def test_two_weights_belong_to_it_too() -> None:
    refused = heft("HEFT_TWO_WEIGHTS", 395, 75, 110, 3, "D2", 410, "first", None, 30.48)
    assert str(refused).startswith("! fulcrum must be within")


@given(mass=st.floats(200, 600), balance=st.floats(50, 100), fulcrum=st.floats(20, 45), other=st.floats(20, 45))
def test_the_moment_about_another_fulcrum_is_that_which_is_found_there(
    mass: float, balance: float, fulcrum: float, other: float
) -> None:
    there = number("HEFT_MOMENT", mass, balance, None, other)
    moment = number("HEFT_MOMENT", mass, balance, None, fulcrum)
    assert number("HEFT_MOMENT_ABOUT", moment, mass, other, None, fulcrum) == approx(there, abs=1e-6)


def test_an_inertia_that_no_masses_have_is_refused() -> None:
    club = ("HEFT_AFTER", 395, 75.3)
    assert str(heft(*club, 2, 94, "inertia", None, 2000)).startswith("! inertia must be at least mass x balance sq")
    assert str(heft(*club, 2, 94, "inertia", None, 6000)).startswith("! inertia must be at most mass x balance x 200")
    assert str(heft(*club, -200, 110, "inertia", None, 2700)).startswith("! no such mass can come off there: the ine")
    assert str(heft(*club, -300, 110, "points")).startswith("! no such mass can come off there: the balance")


def test_a_zero_has_no_sign() -> None:
    """Whatever way a formula is called: one cell, a column, a table, the shortcut that hosts serve."""
    serve = server(REGISTRY["HEFT_GRAMS_TO"], host="test")
    found: list[object] = [
        heft("HEFT_CONVERT", -0.0, "g", "oz"),
        heft("HEFT_TARGET", -0.0, 0, 1),
        server(REGISTRY["HEFT_TARGET"], host="test")(-0.0, -0.0, 1.0),
        serve(30.0, 400.0, 30.0 * 0 + (213.5 * 2.54 * 28.349523125) / 400 + 35.56, 20.0),
    ]
    for column in (heft("HEFT_TARGET", [[-0.0]] * 40, 0, 1), heft("HEFT_CONVERT", [[-0.0]] * 40, "g", "oz")):
        assert isinstance(column, tuple)
        found += [cell for row in column for cell in row]
    for zero in found:
        assert isinstance(zero, float)
        assert abs(zero) < 1e-9
        assert copysign(1, zero) == 1 or zero != 0
    assert show(-0.0) == "0"


def test_limits_for_the_next_club_are_told_beside_those_of_their_name() -> None:
    values = ([[30], [31], [32]], [[30.5], [31], [33]])
    assert number("HEFT_AGREEMENT", *values, "count") == 3
    # t of 2 degrees of freedom 4.3027, sd 0.5: 0.5 +- 4.3027 x sqrt(4/3) x 0.5.
    assert number("HEFT_AGREEMENT", *values, "next upper") == approx(0.5 + 4.3027 * (4 / 3) ** 0.5 * 0.5, abs=1e-4)
    assert number("HEFT_AGREEMENT", *values, "upper") == approx(0.5 + 1.96 * 0.5)


def test_the_local_rule_is_off_unless_it_is_chosen() -> None:
    assert heft("HEFT_LENGTH_LIMIT", "47 in") == "within"
    assert heft("HEFT_LENGTH_LIMIT", "47 in", None, None, "G-10") == "too long"
    assert heft("HEFT_LENGTH_LIMIT", "46 in", None, None, "G-10") == "within"
    assert heft("HEFT_LENGTH_LIMIT", "47 in", "putter", None, "G-10") == "within"
