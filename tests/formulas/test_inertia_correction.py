"""What to do about an inertia: what a builder types and reads, and that the advice applied gives the target."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from formula_answers import heft, number

clubs = st.tuples(st.floats(300, 550), st.floats(65, 90))


@given(target=st.floats(1500, 5000), club=clubs, own=st.floats(300, 600), place=st.floats(5, 36) | st.floats(49, 125))
def test_the_grams_told_land_on_the_inertia(target: float, club: tuple[float, float], own: float, place: float) -> None:
    inertia = own + club[0] * club[1] ** 2 / 1000
    grams = heft("HEFT_GRAMS_TO_INERTIA", target, *club, inertia, place)
    if isinstance(grams, str):
        assert "more than any shop does" in grams
    else:
        then = heft("HEFT_AFTER", *club, grams, place, "inertia", None, inertia)
        # So much can be told to come off near the butt that no club is left whose inertia it would be.
        assert then == approx(target, abs=1e-6) or str(then).startswith("! no such mass can come off there")


@given(more=st.floats(-2, 4), rise=st.floats(-60, 60), club=st.tuples(st.floats(380, 420), st.floats(72, 78)))
def test_two_weights_land_on_both(more: float, rise: float, club: tuple[float, float]) -> None:
    inertia = 430 + club[0] * club[1] ** 2 / 1000
    target = number("HEFT_POINTS", *club) + more
    found = heft("HEFT_TWO_WEIGHTS_INERTIA", *club, inertia, 110.0, 3.0, target, inertia + rise)
    assert isinstance(found, tuple)
    (first, second), = found  # fmt: skip
    halfway = heft("HEFT_AFTER", *club, first, 110.0, None, None, inertia)
    assert isinstance(halfway, tuple)
    mass, balance, _, _, between = halfway[0]
    assert number("HEFT_AFTER", mass, balance, second, 3.0, "points") == approx(target, abs=1e-7)
    assert number("HEFT_AFTER", mass, balance, second, 3.0, "inertia", None, between) == approx(inertia + rise)


def test_a_head_for_an_inertia_gives_it() -> None:
    headings = [["Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)", "Grip (g)", "Epoxy (g)"]]
    row: list[object] = ["", 45, 65, 46, 50, 3]
    mass = number("HEFT_HEAD_MASS", headings, [row], 2850, None, None, "inertia")
    assert number("HEFT_CLUB", headings, [[mass, *row[1:]]], "inertia") == approx(2850)
    mass = number("HEFT_HEAD_MASS", headings, [row], "D3", None, None, "Swingweight")
    assert number("HEFT_CLUB", headings, [[mass, *row[1:]]], "points") == approx(33)


def test_another_axis_and_back() -> None:
    about_wrist = number("HEFT_INERTIA_ABOUT", 2667.23, 395, 75.3, "-4 in")
    assert about_wrist > 2667.23
    assert number("HEFT_INERTIA_ABOUT", about_wrist, 395, 75.3, 0, None, "-4 in") == approx(2667.23)
    # By hand: I - 2 a m b + m a^2.
    assert about_wrist == approx(2667.23 + (2 * 10.16 * 395 * 75.3 + 395 * 10.16**2) / 1000)


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_GRAMS_TO_INERTIA", (2750, 395, 75.3, 2670, 0.5),
         "! position must be at least 1 cm from the butt, where added mass does nothing for the inertia, got 0.5 cm"),
        ("HEFT_GRAMS_TO_INERTIA", (2750, 395, 75.3, 2670, 2.5),
         "! 12800 g would have to be added at one place, more than any shop does (150 g): look at the target and the "
         "place"),
        ("HEFT_GRAMS_TO_INERTIA", (2750, 395, 75.3, 267, 94),
         "! inertia must be at least mass x balance squared, 2239.69 kg cm2, got 267"),
        ("HEFT_TWO_WEIGHTS_INERTIA", (395, 75.3, 2670, 110, 109, "D2", 2700),
         "! these places cannot do it: 726.7 g at the first and -737.6 g at the second would be needed, and no shop "
         "does more than 150 g at one place"),
        ("HEFT_TWO_WEIGHTS_INERTIA", (395, 75.3, 2670, 71.12, 71.2, "D2", 2700),
         "! second_position must be at least 1 cm from first_position at 71.12 cm, got 71.2 cm"),
        ("HEFT_TWO_WEIGHTS_INERTIA", (395, 75.3, 2670, 106.68, 53.34, "D2", 2700),
         "! a gram at 106.68 cm and one at 53.34 cm do the same to swingweight and inertia: choose another "
         "second_position"),
        ("HEFT_INERTIA_ABOUT", (267, 395, 75.3, 10),
         "! inertia must be at least mass x (balance - axis) squared, 2239.69 kg cm2, got 267"),
        ("HEFT_HEAD_MASS", ([["Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)"]], [["", 45, 65, 46]], 33,
                            None, None, "inertia"),
         "! no head weighs -16.9 g (from 100 g to 650 g): look at the target and the row's lengths"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str) -> None:
    assert heft(name, *args) == message
