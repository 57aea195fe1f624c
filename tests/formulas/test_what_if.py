"""Several changes at once: what a builder types and reads, against HEFT_AFTER, HEFT_LENGTHEN and HEFT_CLUB."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import Cell, Grid
from formula_answers import heft, number

WHATS = ("mass", "balance", "points", "inertia")
ORDER = (
    "inertia", "length_change", "shaft_per_cm", "grip_mass", "grip_balance", "new_grip_mass", "new_grip_balance",
    "head_added", "head_position", "butt_added", "butt_position", "other_added", "other_position", "shaft_mass",
    "shaft_balance", "new_shaft_mass", "new_shaft_balance", "shaft_length", "grip_cap",
)  # fmt: skip
grams = st.floats(-8, 30)


def what_if(mass: float, balance: float, what: str, **changes: object) -> Cell | Grid:
    return heft("HEFT_WHAT_IF", mass, balance, what, None, *(changes.get(name) for name in ORDER))


def test_the_names_are_in_the_order_of_the_formula() -> None:
    assert [a.name for a in REGISTRY["HEFT_WHAT_IF"].arguments] == ["mass", "balance", "what", "units", *ORDER]


@given(added=grams, place=st.floats(5, 120), which=st.sampled_from(["head", "butt", "other"]))
def test_one_mass_is_heft_after(added: float, place: float, which: str) -> None:
    assume(which != "head" or not 36 < place < 49)  # no head's place: see the end of this module
    for what in WHATS:
        planned = what_if(395, 75.3, what, inertia=2670, **{f"{which}_added": added, f"{which}_position": place})
        assert planned == approx(number("HEFT_AFTER", 395, 75.3, added, place, what, None, 2670))


@given(change=st.floats(-10, 5), per_cm=st.floats(0, 1.2), grip=st.floats(20, 100))
def test_a_change_of_length_alone_is_heft_lengthen(change: float, per_cm: float, grip: float) -> None:
    for what in WHATS:
        planned = what_if(
            395, 75.3, what, inertia=2670, length_change=change, shaft_per_cm=per_cm, grip_mass=grip, grip_balance=11
        )
        assert planned == approx(number("HEFT_LENGTHEN", 395, 75.3, grip, 11, change, what, None, per_cm, 2670))


@given(head=st.floats(190, 215), grip=st.floats(25, 90), butt=st.floats(0, 30), shaft=st.floats(50, 90))
def test_all_of_it_is_the_club_that_the_parts_would_make(head: float, grip: float, butt: float, shaft: float) -> None:
    headings = [[
        "Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Shaft balance (cm)", "Grip (g)",
        "Butt weight (g)",
    ]]  # fmt: skip
    old, new = [200, 114.3, 65, 117, 57, 50, 0], [head, 114.3, shaft, 117, 60, grip, butt]
    cut = number("HEFT_CLUB", headings, [old], "cut length")

    def fitted(row: list[float], what: str) -> float:
        return number("HEFT_SHAFT_CUT", *row[2:5], 0, 117 - cut, what)

    before = {what: number("HEFT_CLUB", headings, [old], what) for what in WHATS}
    for what in WHATS:
        planned = what_if(
            before["mass"], before["balance"], what, inertia=before["inertia"],
            grip_mass=50, new_grip_mass=grip,
            head_added=head - 200, head_position=number("HEFT_PLACE", headings, [old], "head"),
            butt_added=butt,
            shaft_mass=fitted(old, "mass"), shaft_balance=fitted(old, "balance"),
            new_shaft_mass=fitted(new, "mass"), new_shaft_balance=fitted(new, "balance"), shaft_length=cut,
        )  # fmt: skip
        assert planned == approx(number("HEFT_CLUB", headings, [new], what), rel=1e-9)


def test_blank_changes_change_nothing() -> None:
    assert heft("HEFT_WHAT_IF", 395, 75.3, "points") == number("HEFT_POINTS", 395, 75.3)
    assert what_if(395, 75.3, "swingweight", head_added="", other_position=" ") == "D2.6"
    assert what_if(395, 75.3, "inertia") == "! inertia of the club as it is must be given to tell it afterwards"
    assert what_if(None, 75.3, "points") == ""  # type: ignore[arg-type]  # a blank cell


def test_inches_and_ounces_tell_the_same() -> None:
    metric = what_if(
        395, 75.3, "points", length_change=1.27, shaft_per_cm=0.6, grip_mass=50, grip_balance=11, head_added=2,
        head_position=110,
    )  # fmt: skip
    oz, inch = 28.349523125, 2.54
    imperial = heft(
        "HEFT_WHAT_IF", 395 / oz, 75.3 / inch, "points", "oz in", None, 0.5, 0.6, 50 / oz, 11 / inch, None, None,
        2 / oz, 110 / inch,
    )  # fmt: skip
    assert imperial == approx(metric)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"length_change": 1}, "! grip_mass must be given with a length_change"),
        ({"new_grip_mass": 55}, "! grip_mass must be given with a new_grip_mass"),
        ({"head_added": 2}, "! head_position must be given with head_added"),
        ({"other_added": 2}, "! other_position must be given with other_added"),
        ({"new_shaft_mass": 70},
         "! for another shaft, shaft_mass, shaft_balance, new_shaft_mass, new_shaft_balance and shaft_length must be "
         "given"),
        ({"shaft_mass": 60, "shaft_balance": 20, "new_shaft_mass": 70, "new_shaft_balance": 55, "shaft_length": 108},
         "! shaft_balance must lie in the middle third of a shaft of 108 cm, got 20 cm"),
        ({"head_added": -380, "head_position": 110},
         "! the club would then weigh 15 g, which is no club's mass: -380 g would have to be added"),
        ({"grip_mass": 50, "length_change": "1 stone"},
         "! length_change: the unit stone is not known: use g, oz, kg, lb, mg, cm, in, mm, m, ft, g cm, in oz, kg cm2, "
         "g cm2, oz in2"),
    ],
)  # fmt: skip
def test_what_cannot_be_planned_says_why(changes: dict[str, Any], message: str) -> None:
    assert what_if(395, 75.3, "points", **changes) == message


def test_a_head_in_inches_is_asked_about_and_mass_anywhere_else_is_not() -> None:
    assert what_if(395, 75.3, "points", head_added=2, head_position=43) == (
        "! no head is from 36.56 cm to 48 cm from the butt, got 43 cm: inches?"
    )
    assert what_if(395, 75.3, "points", other_added=2, other_position=43) == approx(
        number("HEFT_AFTER", 395, 75.3, 2, 43, "points")
    )
