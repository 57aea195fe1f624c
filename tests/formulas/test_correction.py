"""What to do about a difference: what a builder types and reads."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from formula_answers import heft, number

masses = st.floats(250, 600)
balances = st.floats(60, 100)


@given(target=st.floats(20, 45), mass=masses, balance=balances, place=st.floats(85, 125))
def test_grams_to_then_after_lands_on_the_target(target: float, mass: float, balance: float, place: float) -> None:
    grams = heft("HEFT_GRAMS_TO", target, mass, balance, place)
    if isinstance(grams, str):  # more than a shop adds or takes off
        assert "more than any shop does" in grams
    else:
        assert number("HEFT_AFTER", mass, balance, grams, place, "points") == approx(target, abs=1e-8)


@given(mass=masses, balance=balances, place=st.floats(0, 130), added=st.floats(-20, 60))
def test_mass_is_conserved_and_per_gram_tells_the_rest(mass: float, balance: float, place: float, added: float) -> None:
    assert number("HEFT_AFTER", mass, balance, added, place, "mass") == approx(mass + added)
    moved = number("HEFT_AFTER", mass, balance, added, place, "points") - number("HEFT_POINTS", mass, balance)
    assert moved == approx(added * number("HEFT_PER_GRAM", place), abs=1e-8)


@given(target=st.floats(25, 40), mass=st.floats(380, 420), balance=st.floats(72, 78), more=st.floats(0, 40))
def test_two_weights_meet_swingweight_and_mass(target: float, mass: float, balance: float, more: float) -> None:
    answer = heft("HEFT_TWO_WEIGHTS", mass, balance, 110.0, 3.0, target, mass + more)
    assert isinstance(answer, tuple)
    (first, second), = answer  # fmt: skip
    halfway = heft("HEFT_AFTER", mass, balance, first, 110.0)
    assert isinstance(halfway, tuple)
    assert number("HEFT_AFTER", *halfway[0][:2], second, 3.0, "points") == approx(target, abs=1e-7)
    assert number("HEFT_AFTER", *halfway[0][:2], second, 3.0, "mass") == approx(mass + more)


def test_inches_and_ounces_give_the_same_advice() -> None:
    metric = number("HEFT_GRAMS_TO", "D2", 395.0, 75.0, 94.0)
    other = number("HEFT_GRAMS_TO", "D2", 395.0 / 28.349523125, 75.0 / 2.54, 94.0 / 2.54, "oz in")
    assert other * 28.349523125 == approx(metric)


def test_inertia_afterwards_needs_inertia_before() -> None:
    assert heft("HEFT_AFTER", 395, 75.3, 2, 94, "inertia") == (
        "! inertia of the club as it is must be given to tell it afterwards"
    )
    # Parallel axis, by hand: 2 g at 94 cm add 2 x 94^2 / 1000 kg cm2.
    assert number("HEFT_AFTER", 395, 75.3, 2, 94, "inertia", None, 2650) == approx(2650 + 2 * 94**2 / 1000)
    assert heft("HEFT_AFTER", 395, 75.3, 2, 94, "inertia", None, 265) == (
        "! inertia must be at least mass x balance squared, 2239.69 kg cm2, got 265"
    )
    row = heft("HEFT_AFTER", 395, 75.3, 2, 94)
    assert isinstance(row, tuple)
    assert [type(cell) for cell in row[0]] == [float, float, float, str, str]


def test_a_heavier_grip_takes_points_off_and_adds_mass() -> None:
    # Common practice, no published source: 5 g of grip is about minus one point.
    heavier = number("HEFT_AFTER", 395, 75.3, 5, 11, "points")
    assert heavier - number("HEFT_POINTS", 395, 75.3) == approx(-1, abs=0.2)


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_GRAMS_TO", ("D2", 395, 75, 35.56),
         "! position must be at least 1 cm from the fulcrum at 35.56 cm, where added mass does nothing, got 35.56 cm"),
        ("HEFT_GRAMS_TO", ("D2", 395, 29.5, 14, "g in"),
         "! position must be at least 0.393701 in from the fulcrum at 14 in, where added mass does nothing, got 14 in"),
        ("HEFT_GRAMS_TO", ("A0", 395, 75, 40),
         "! 897.6 g would have to be taken off at one place, more than any shop does (150 g): look at the target and "
         "the place"),
        ("HEFT_GRAMS_TO", ("D2", 395, 70.2, 36.6),
         "! 1868.2 g would have to be added at one place, more than any shop does (150 g): look at the target and the "
         "place"),
        ("HEFT_AFTER", (395, 75.3, -380, 94),
         "! the club would then weigh 15 g, which is no club's mass: -380 g would have to be added"),
        ("HEFT_TWO_WEIGHTS", (395, 75, 110, 110.2, "D2", 410),
         "! second_position must be at least 1 cm from first_position at 110 cm, got 110.2 cm"),
        ("HEFT_TWO_WEIGHTS", (395, 75, 110, 108, "A0", 410),
         "! these places cannot do it: -2536.1 g at the first and 2551.1 g at the second would be needed, and no "
         "shop does more than 150 g at one place"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str) -> None:
    assert heft(name, *args) == message
