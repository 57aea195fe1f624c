from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.bodies import Body, combine
from evenheft.mechanics.correction import grams_to, points_per_gram, two_weights
from evenheft.mechanics.swingweight import FULCRUM, moment, points

masses = st.floats(200, 600)
balances = st.floats(50, 100)
places = st.floats(0, 130).filter(lambda x: abs(x - FULCRUM) > 1)
targets = st.floats(10, 50)
clubs = st.builds(Body, masses, balances, st.floats(1e4, 1e6))


def swingweight(body: Body) -> float:
    return points(moment(body.mass, body.centre))


@given(targets, masses, balances, places)
def test_the_grams_told_land_on_the_target(target: float, mass: float, balance: float, place: float) -> None:
    grams = grams_to(target, mass=mass, balance=balance, position=place)
    assume(mass + grams > 50)
    assert swingweight(combine([Body(mass, balance), Body(grams, place)])) == approx(target, abs=1e-8)


@given(clubs, places, st.floats(-10, 50))
def test_a_grams_worth_is_what_a_gram_does(club: Body, place: float, grams: float) -> None:
    after = combine([club, Body(grams, place)])
    assert swingweight(after) - swingweight(club) == approx(grams * points_per_gram(place), abs=1e-8)


def test_two_grams_at_the_head_of_a_driver_are_about_a_point() -> None:
    # Common practice, no published source: 2 g at the head is about one point.
    assert 2 * points_per_gram(112.0) == approx(1.0, abs=0.25)


@given(targets, st.floats(300, 700), clubs, places, places)
def test_two_weights_meet_both_targets(target: float, mass: float, club: Body, first: float, second: float) -> None:
    assume(abs(first - second) > 1)
    masses = two_weights(target, mass, club, first=first, second=second)
    after = combine([club, Body(masses[0], first), Body(masses[1], second)])
    assert after.mass == approx(mass, abs=1e-8)
    assert swingweight(after) == approx(target, abs=1e-6)


def test_two_weights_at_one_place_cannot() -> None:
    with pytest.raises(ZeroDivisionError):
        two_weights(30.0, 420.0, Body(400.0, 75.0), first=10.0, second=10.0)
