"""What a tolerance asks and what a doubt supports are each other's inverse, and a set is alike as simulated."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.mechanics.doubt import combined_doubt
from evenheft.mechanics.tolerance import alike, least_tolerance, most_doubt, room_for, swings_for

widths = st.floats(min_value=1e-3, max_value=100)


@given(doubt=widths)
def test_the_least_tolerance_allows_just_this_doubt(doubt: float) -> None:
    assert most_doubt(least_tolerance(doubt)) == pytest.approx(doubt, rel=1e-12)
    assert least_tolerance(doubt) > doubt


@given(wanted=widths, others=st.lists(widths, max_size=4))
def test_the_room_left_fills_the_doubt_that_is_wanted(wanted: float, others: list[float]) -> None:
    """The inverse of `combined_doubt` in one of its half-widths."""
    room = room_for(wanted, *others)
    if room is None:
        assert combined_doubt(*others) >= wanted * (1 - 1e-9)
    else:
        assert combined_doubt(room, *others) == pytest.approx(wanted, rel=1e-9)


@given(wanted=widths, of_one=st.floats(0.1, 1000), others=st.lists(widths, max_size=2))
def test_no_fewer_swings_would_do(wanted: float, of_one: float, others: list[float]) -> None:
    count = swings_for(wanted, of_one, *others)
    if count is None:
        assert combined_doubt(*others) >= wanted * (1 - 1e-9)
        return
    assert combined_doubt(of_one / count, *others) <= wanted * (1 + 1e-6)
    assert count == 1 or combined_doubt(of_one / (count - 1), *others) > wanted * (1 - 1e-6)


def test_what_every_club_shares_does_not_make_a_set_unlike() -> None:
    assert alike([5.1, 5.0, 4.9], wanted=0.5, doubts=[0.2, 0.2, 0.2]).verdict == "in"
    assert alike([0.1, 0.0, 2.0], wanted=0.5, doubts=[0.2, 0.2, 0.2]).verdict == "out"
    found = alike([1.0, 1.4, 0.9], wanted=0.4, doubts=[0.2, 0.2, 0.2])
    assert found.verdict == "re-measure"
    assert found.offset == pytest.approx(1.1)
    assert found.worst == pytest.approx(0.3)


def test_a_set_that_is_called_alike_hardly_ever_is_not() -> None:
    # Simulated: sets of seven, spread a quarter to twice the tolerance, all shifted by a common 3, each measured to
    # +-0.2 (rectangular). Of those called alike none to 2.5 % is not; of those called out as few are.
    generator = np.random.default_rng(7)
    wrong_in = called_in = wrong_out = called_out = 0
    for _ in range(3000):
        true = generator.uniform(-1, 1, 7) * generator.uniform(0.2, 2.0)
        seen = true + 3.0 + generator.uniform(-0.2, 0.2, 7)
        worst = float(np.max(np.abs(true - true.mean())))
        word = alike(list(seen), wanted=0.8, doubts=[0.2] * 7).verdict
        called_in, wrong_in = called_in + (word == "in"), wrong_in + (word == "in" and worst > 0.8)
        called_out, wrong_out = called_out + (word == "out"), wrong_out + (word == "out" and worst <= 0.8)
    assert called_in > 300
    assert called_out > 100
    assert wrong_in / called_in <= 0.025
    assert wrong_out / called_out <= 0.025


def test_of_two_clubs_each_weighs_half_in_its_distance_from_their_mean() -> None:
    # By hand: U = 2 sqrt((0.1 / 2)^2 + (0.1 / 2)^2) / 2 = 0.071 for each; 0.4 <= 0.5 - 0.071, and 0.44 is not.
    assert alike([0.4, -0.4], 0.5, [0.1, 0.1]).verdict == "in"
    assert alike([0.44, -0.44], 0.5, [0.1, 0.1]).verdict == "re-measure"
