"""A change of length at the butt, held against handbook rods, its own inverse and the shop's rule of thumb."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.bodies import Body, inertia_about_butt
from evenheft.mechanics.length import change_to, change_to_inertia, lengthened
from evenheft.mechanics.swingweight import POINT, moment, points

clubs = st.builds(Body, st.floats(200, 600), st.floats(50, 100), st.floats(1e4, 1e6))
grips = st.builds(Body, st.floats(20, 120), st.floats(5, 20), st.floats(0, 1e4))


def swingweight(body: Body) -> float:
    return points(moment(body.mass, body.centre))


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


@given(clubs, grips, st.floats(-15, 10), st.floats(0, 1.5))
def test_the_change_that_made_a_swingweight_is_found_again(
    club: Body, grip: Body, change: float, density: float
) -> None:
    target = swingweight(lengthened(club, grip, change, density))
    found = change_to(target, club, grip, density, lowest=-15.5, highest=10.5)
    assert found is not None
    assert swingweight(lengthened(club, grip, found, density)) == approx(target, abs=1e-8)
    assert found == approx(change, abs=1e-6)


@given(clubs, grips, st.floats(-15, 10), st.floats(0, 1.5))
def test_the_change_that_made_an_inertia_is_found_again(club: Body, grip: Body, change: float, density: float) -> None:
    target = inertia_about_butt(lengthened(club, grip, change, density))
    found = change_to_inertia(target, club, grip, density, lowest=-15.5, highest=10.5)
    assert found is not None
    assert inertia_about_butt(lengthened(club, grip, found, density)) == approx(target, rel=1e-10)
    assert found == approx(change, abs=1e-5)


def test_no_change_within_the_bounds() -> None:
    club, grip = Body(395.0, 75.3, 430000.0), Body(50.0, 11.0)
    assert change_to(80.0, club, grip, 0.6, lowest=-10.0, highest=10.0) is None
    assert change_to_inertia(9000.0, club, grip, 0.6, lowest=-10.0, highest=10.0) is None
    assert change_to_inertia(90.0, club, grip, 0.6, lowest=-10.0, highest=10.0) is None
