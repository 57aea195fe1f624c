from __future__ import annotations

import itertools

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.bodies import Body, combine, inertia_about_butt
from evenheft.mechanics.correction import grams_to, lengthened, pick, points_per_gram, two_weights
from evenheft.mechanics.swingweight import FULCRUM, POINT, moment, points

masses = st.floats(200, 600)
balances = st.floats(50, 100)
places = st.floats(0, 130).filter(lambda x: abs(x - FULCRUM) > 1)
targets = st.floats(10, 50)
clubs = st.builds(Body, masses, balances, st.floats(1e4, 1e6))
grips = st.builds(Body, st.floats(20, 120), st.floats(5, 20), st.floats(0, 1e4))


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


@given(clubs, grips, st.floats(-20, 20), st.floats(0, 1.5))
def test_lengthening_back_restores_the_club(club: Body, grip: Body, change: float, density: float) -> None:
    there = lengthened(club, grip, change, density)
    back = lengthened(there, grip, -change, density)
    assert (back.mass, back.centre) == approx((club.mass, club.centre), rel=1e-9)
    assert inertia_about_butt(back) == approx(inertia_about_butt(club), rel=1e-7)


@given(clubs, grips, st.floats(-20, 20))
def test_lengthening_moves_all_but_the_grip(club: Body, grip: Body, change: float) -> None:
    longer = lengthened(club, grip, change)
    assert longer.mass == approx(club.mass, rel=1e-12)
    risen = (club.mass - grip.mass) * change / POINT
    assert swingweight(longer) - swingweight(club) == approx(risen, abs=1e-8)


def test_an_extended_rod_is_the_longer_rod() -> None:
    # Handbook: I = m L^2 / 3 of a uniform rod about its end, here 100 and 105 cm of 1.2 g/cm. Exact to rounding.
    rod = Body(120.0, 50.0, 120 * 100**2 / 12)
    longer = lengthened(rod, Body(0.0, 10.0), 5.0, 1.2)
    assert (longer.mass, longer.centre) == approx((126.0, 52.5), rel=1e-12)
    assert inertia_about_butt(longer) == approx(126 * 105**2 / 3 / 1000, rel=1e-12)
    shorter = lengthened(rod, Body(0.0, 10.0), -5.0, 1.2)
    assert inertia_about_butt(shorter) == approx(114 * 95**2 / 3 / 1000, rel=1e-12)


def test_an_inch_is_about_six_points() -> None:
    # Common practice, no published source; 4.5 to 7 is how widely it is told.
    iron = Body(430.0, 73.0)
    rise = swingweight(lengthened(iron, Body(50.0, 11.0), 2.54, 1.0)) - swingweight(iron)
    assert 4.5 <= rise <= 7.5


sizes = st.lists(st.integers(1, 60).map(lambda n: n / 4), min_size=1, max_size=6)


@given(st.floats(-5, 70), sizes, st.integers(1, 4))
def test_no_combination_comes_closer_than_the_pick(grams: float, stock: list[float], most: int) -> None:
    # Exhaustive search over every combination with repetition.
    every = itertools.chain.from_iterable(
        itertools.combinations_with_replacement(stock, count) for count in range(most + 1)
    )
    best = min((round(abs(grams - sum(c)), 9), len(c), sum(c)) for c in every)
    picked = pick(grams, stock, most)
    assert picked.total == approx(sum(picked.pieces), abs=1e-9)
    assert set(picked.pieces) <= set(stock)
    assert len(picked.pieces) <= most
    assert (round(abs(grams - picked.total), 9), len(picked.pieces)) == (approx(best[0], abs=1e-8), best[1])


def test_nothing_is_picked_where_nothing_is_wanted() -> None:
    assert pick(0.0, [2.0, 4.0], most=3) == ((), 0.0)
    assert pick(-3.0, [2.0, 4.0], most=3) == ((), 0.0)
    assert pick(0.9, [2.0, 4.0]) == ((), 0.0)


def test_equally_close_the_fewer_pieces_and_then_the_lighter_win() -> None:
    assert pick(6.0, [2.0, 3.0, 6.0], most=3).pieces == (6.0,)
    assert pick(3.0, [2.0, 4.0], most=1).pieces == (2.0,)
