"""What is wanted of a club, and how a line tells what it reads: judged as HEFT_VERDICT judges, in the call's units."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.formulas.aims import Aim, JudgedClub, then_reads
from evenheft.formulas.wording import Rough
from evenheft.mechanics.bodies import Body
from formula_answers import heft, number

CLUB = JudgedClub(Body(395.0, 75.3, 430e3), 95.0)
READS = {"swingweight": number("HEFT_POINTS", 395, 75.3), "inertia": 430 + 395 * 75.3**2 / 1000, "mass": 395.0,
         "length": 95.0}  # fmt: skip


@pytest.mark.parametrize("quantity", READS)
@given(off=st.floats(-9, 9), tolerance=st.floats(0.1, 5), doubt=st.floats(0, 2))
def test_it_judges_as_the_formula_does(quantity: str, off: float, tolerance: float, doubt: float) -> None:
    aim = Aim(quantity, READS[quantity] + off, tolerance, doubt)
    assert aim.value(CLUB) == pytest.approx(READS[quantity])
    verdict = heft("HEFT_VERDICT", READS[quantity], READS[quantity] + off, tolerance, doubt)
    assert aim.verdict(CLUB) == verdict
    assert bool(aim.wrong(CLUB)) == (verdict != "in")


def test_of_what_nobody_wants_or_knows_nothing_is_judged() -> None:
    assert Aim("mass", None, 3).verdict(CLUB) == Aim("mass", 300, None).verdict(CLUB) == ""
    assert Aim("length", 95, 1).verdict(JudgedClub(CLUB.body)) == ""


def test_mass_and_length_are_told_where_they_are_not_as_wanted() -> None:
    aims = [Aim("swingweight", None, None), Aim("mass", 395, 1), Aim("length", 97, 1)]
    heavier = CLUB.weighted(1.5, 94.0)
    assert then_reads(heavier, aims, CLUB).endswith(", mass high")  # the length is what it was
    assert then_reads(CLUB.weighted(0.5, 94.0), aims[:2], CLUB).count(",") == 0
    longer = CLUB.longer(heavier.body, 0.5)
    assert then_reads(longer, aims, CLUB).endswith(", mass high, length low")
    assert aims[2].reading(CLUB) == ("{} (low)", [Rough(95.0, "length")])


def test_a_longer_club_is_longer_and_a_heavier_one_is_not() -> None:
    assert CLUB.longer(Body(390.0, 74.0), -1.5).length == 93.5
    assert JudgedClub(CLUB.body).longer(CLUB.body, 1).length is None
    heavier = CLUB.weighted(10, 35.56)
    assert (heavier.length, heavier.body.mass) == (95.0, 405.0)
    assert Aim("swingweight", None, None).value(heavier) == pytest.approx(READS["swingweight"])
