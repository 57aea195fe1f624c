"""Grams for an inertia, held against the sum of bodies; the parallel axis against handbook rods."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.bodies import Body, combine, inertia_about_butt
from evenheft.mechanics.inertia_correction import (
    grams_to_inertia,
    independence,
    inertia_about,
    inertia_per_gram,
    two_weights_for_inertia,
)
from evenheft.mechanics.swingweight import FULCRUM, moment, points

clubs = st.builds(Body, st.floats(200, 600), st.floats(50, 100), st.floats(1e4, 1e6))
places = st.floats(5, 130)
axes = st.floats(-30, 130)


@given(clubs, places, st.floats(500, 6000))
def test_the_grams_reach_the_inertia(club: Body, place: float, target: float) -> None:
    grams = grams_to_inertia(target, inertia_about_butt(club), place)
    assume(club.mass + grams > 50)
    assert inertia_about_butt(combine([club, Body(grams, place)])) == approx(target, rel=1e-9)


@given(clubs, places, st.floats(-20, 50))
def test_a_grams_worth_is_what_a_gram_does(club: Body, place: float, grams: float) -> None:
    after = combine([club, Body(grams, place)])
    assert inertia_about_butt(after) - inertia_about_butt(club) == approx(grams * inertia_per_gram(place), abs=1e-7)


def test_two_grams_at_the_head_of_a_driver_are_about_twenty_five() -> None:
    # Handbook: m x^2 of 2 g at 112 cm.
    assert 2 * inertia_per_gram(112.0) == approx(25.088)


@given(st.floats(10, 50), st.floats(1000, 5000), clubs, places, places)
def test_two_weights_meet_both_targets(
    target: float, target_inertia: float, club: Body, first: float, second: float
) -> None:
    assume(abs(independence(first, second)) > 1000)
    masses = two_weights_for_inertia(target, target_inertia, club, first=first, second=second)
    assume(club.mass + sum(masses) > 50)
    after = combine([club, Body(masses[0], first), Body(masses[1], second)])
    assert points(moment(after.mass, after.centre)) == approx(target, abs=1e-4)
    assert inertia_about_butt(after) == approx(target_inertia, rel=1e-5)


def test_places_that_do_the_same_cannot() -> None:
    with pytest.raises(ZeroDivisionError):
        two_weights_for_inertia(30.0, 2700.0, Body(400.0, 75.0, 4e5), first=10.0, second=10.0)
    # x1 x2 = f (x1 + x2): two grams at twice the fulcrum's distance are worth what one at infinity would be.
    assert independence(2 * FULCRUM, 2 * FULCRUM) == 0
    assert independence(3 * FULCRUM, 1.5 * FULCRUM) == approx(0, abs=1e-9)


@given(clubs, axes)
def test_another_axis_is_the_formula_of_the_handbooks(club: Body, axis: float) -> None:
    # I - 2 a m b + m a^2, from the parallel-axis theorem.
    inertia = inertia_about_butt(club)
    by_hand = inertia + (-2 * axis * club.mass * club.centre + club.mass * axis**2) / 1000
    found = inertia_about(inertia, mass=club.mass, balance=club.centre, new_axis=axis)
    assert found == approx(by_hand, rel=1e-9)
    back = inertia_about(found, mass=club.mass, balance=club.centre, new_axis=0.0, axis=axis)
    assert back == approx(inertia, rel=1e-9)


def test_a_rod_about_its_end_and_about_its_middle() -> None:
    # Handbook: m L^2 / 3 and m L^2 / 12 of a uniform rod, here of 120 g and 100 cm.
    assert inertia_about(400.0, mass=120.0, balance=50.0, new_axis=50.0) == approx(100.0)
    assert inertia_about(100.0, mass=120.0, balance=50.0, new_axis=100.0, axis=50.0) == approx(400.0)
