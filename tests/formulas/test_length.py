"""A change of length: what a builder types and reads, and that the advice applied gives the target."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from formula_answers import heft, number

clubs = st.tuples(st.floats(300, 550), st.floats(65, 90))
grips = st.tuples(st.floats(20, 120), st.floats(8, 15))


def test_lengthening_there_and_back() -> None:
    longer = heft("HEFT_LENGTHEN", 395, 75.3, 50, 11, "1/2 in", None, None, 0.6, 2700)
    assert isinstance(longer, tuple)
    mass, balance, _, _, inertia = longer[0]
    back = heft("HEFT_LENGTHEN", mass, balance, 50, 11, "-1/2 in", None, None, 0.6, inertia)
    assert isinstance(back, tuple)
    assert [back[0][i] for i in (0, 1, 4)] == approx([395, 75.3, 2700])


@given(target=st.floats(15, 50), club=clubs, grip=grips, per_cm=st.floats(0, 1.2))
def test_the_length_told_lands_on_the_swingweight(
    target: float, club: tuple[float, float], grip: tuple[float, float], per_cm: float
) -> None:
    change = heft("HEFT_LENGTH_TO", target, *club, *grip, None, per_cm)
    if isinstance(change, str):
        assert change.startswith("! no change of length does it")
    else:
        assert number("HEFT_LENGTHEN", *club, *grip, change, "points", None, per_cm) == approx(target, abs=1e-7)


@given(target=st.floats(1800, 4500), club=clubs, grip=grips, own=st.floats(300, 600), per_cm=st.floats(0, 1.2))
def test_the_length_told_lands_on_the_inertia(
    target: float, club: tuple[float, float], grip: tuple[float, float], own: float, per_cm: float
) -> None:
    inertia = own + club[0] * club[1] ** 2 / 1000
    change = heft("HEFT_LENGTH_TO_INERTIA", target, *club, inertia, *grip, None, per_cm)
    if isinstance(change, str):
        assert change.startswith(("! no change of length does it", "! no such mass can come off there"))
    else:
        then = number("HEFT_LENGTHEN", *club, *grip, change, "inertia", None, per_cm, inertia)
        assert then == approx(target, abs=1e-6)


def test_a_length_comes_back_in_the_unit_that_went_in() -> None:
    metric = number("HEFT_LENGTH_TO", "D4", 395, 75.3, 50, 11)
    inches = number("HEFT_LENGTH_TO", "D4", 395, 75.3 / 2.54, 50, 11 / 2.54, "g in")
    assert inches * 2.54 == approx(metric)


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_LENGTHEN", (120, 75, 100, 11, 1),
         "! grip_mass must leave at least 50 g of a club of 120 g, got 100 g"),
        ("HEFT_LENGTH_TO", ("G4", 395, 75.3, 50, 11),
         "! no change of length does it, neither a cut of 30 cm nor an extension of 10 cm: add or take off mass"),
        ("HEFT_LENGTH_TO", ("G4", 395, 29.6, 50, 4.3, "g in"),
         "! no change of length does it, neither a cut of 11.811 in nor an extension of 3.93701 in: add or take off "
         "mass"),
        ("HEFT_LENGTH_TO_INERTIA", (2700, 395, 75.3, 267, 50, 11),
         "! inertia must be at least mass x balance squared, 2239.69 kg cm2, got 267"),
        ("HEFT_LENGTH_TO", ("D4", 120, 75, 100, 11),
         "! grip_mass must leave at least 50 g of a club of 120 g, got 100 g"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str) -> None:
    assert heft(name, *args) == message
