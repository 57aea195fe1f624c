"""The gradient of a set against NIST's certified fit, scipy, and what no fit may change."""

from __future__ import annotations

import pytest
import scipy.stats
from hypothesis import assume, given
from hypothesis import strategies as st

from evenheft.mechanics.gradient import fit, target

# NIST StRD, linear regression, data set "Norris" (36 observations, y then x). The observations were read from the
# transcription in SciPy's own test-suite (scipy/stats/tests/test_stats.py, test_nist_norris).
NORRIS = """
0.1 0.2  338.8 337.4  118.1 118.2  888.0 884.6  9.2 10.1  228.1 226.5  668.5 666.3  998.5 996.3  449.1 448.6
778.9 777.0  559.2 558.2  0.3 0.4  0.1 0.6  778.1 775.5  668.8 666.9  339.3 338.0  448.9 447.5  10.8 11.6
557.7 556.0  228.3 228.1  998.0 995.8  888.8 887.6  119.6 120.2  0.3 0.3  0.6 0.3  557.6 556.8  339.3 339.1
888.0 887.2  998.5 999.0  778.9 779.0  10.2 11.1  117.6 118.3  228.9 229.2  668.4 669.1  449.2 448.9  0.2 0.5
"""
SLOPE, INTERCEPT, RESIDUAL_SD = 1.00211681802045, -0.262323073774029, 0.884796396144373


def test_nist_norris() -> None:
    # Certified values of NIST StRD "Norris"; tolerance 1e-12 relative (1e-10 for the intercept, a small difference).
    numbers = [float(word) for word in NORRIS.split()]
    values, places = numbers[::2], numbers[1::2]
    assert len(values) == 36
    line = fit(places, values)
    assert line.increment == pytest.approx(SLOPE, rel=1e-12)
    assert target(line.first, line.increment, 0) == pytest.approx(INTERCEPT, rel=1e-10)
    assert line.scatter == pytest.approx(RESIDUAL_SD, rel=1e-12)


def test_the_worst_club_keeps_its_sign() -> None:
    # By hand: the line through 30, 31, 32, 30 is 30.6 + 0.1 per place; the third club lies 1.2 above it.
    assert fit([1, 2, 3, 4], [30.0, 31.0, 32.0, 30.0]).worst == pytest.approx(1.2, abs=1e-12)
    assert fit([1, 2, 3, 4], [-30.0, -31.0, -32.0, -30.0]).worst == pytest.approx(-1.2, abs=1e-12)


def test_two_clubs_have_a_line_and_no_scatter() -> None:
    line = fit([1, 3], [30.0, 31.0])
    assert (line.first, line.increment, line.scatter, line.worst) == (30.0, 0.5, None, 0.0)


@pytest.mark.parametrize(("places", "values"), [([], []), ([1], [30.0]), ([2, 2], [30.0, 31.0])])
def test_no_line_through_fewer_than_two_places(places: list[float], values: list[float]) -> None:
    with pytest.raises(ValueError, match="at least two clubs"):
        fit(places, values)


@pytest.mark.parametrize(("place", "value"), [(1, 32.0), (2, 32.5), (9, 36.0)])
def test_targets(place: float, value: float) -> None:
    assert target(first=32.0, increment=0.5, place=place) == value


sets = st.lists(st.floats(min_value=-100, max_value=5000), min_size=3, max_size=18)
steps = st.floats(min_value=-50, max_value=50)


def places_of(values: list[float]) -> list[float]:
    return [float(n) for n in range(1, len(values) + 1)]


@given(values=sets)
def test_agrees_with_scipy(values: list[float]) -> None:
    # scipy.stats.linregress, least squares by another route; tolerance 1e-8 of the largest value.
    places = places_of(values)
    line = fit(places, values)
    other = scipy.stats.linregress(places, values)
    room = 1e-8 * max(1.0, *map(abs, values))
    assert line.increment == pytest.approx(other.slope, abs=room)
    assert line.first == pytest.approx(other.intercept + other.slope, abs=room)


@given(values=sets, shift=steps, tilt=steps)
def test_adding_a_line_moves_the_line_and_leaves_the_deviations(values: list[float], shift: float, tilt: float) -> None:
    places = places_of(values)
    before = fit(places, values)
    after = fit(places, [v + target(shift, tilt, p) for p, v in zip(places, values, strict=True)])
    room = 1e-9 * max(1.0, *map(abs, values), 20 * abs(tilt))
    assert after.first == pytest.approx(before.first + shift, abs=room)
    assert after.increment == pytest.approx(before.increment + tilt, abs=room)
    assert after.scatter == pytest.approx(before.scatter, abs=room)
    assert abs(after.worst) == pytest.approx(abs(before.worst), abs=room)


@given(values=sets, factor=st.floats(min_value=0.01, max_value=100))
def test_another_unit_scales_every_answer(values: list[float], factor: float) -> None:
    places = places_of(values)
    before, after = fit(places, values), fit(places, [v * factor for v in values])
    room = 1e-9 * factor * max(1.0, *map(abs, values))
    for one, other in zip(before, after, strict=True):
        assert one is not None
        assert other is not None
    assert after.first == pytest.approx(before.first * factor, abs=room)
    assert after.increment == pytest.approx(before.increment * factor, abs=room)
    assert after.scatter == pytest.approx((before.scatter or 0.0) * factor, abs=room)


@given(values=sets, data=st.data())
def test_the_order_of_the_rows_does_not_matter(values: list[float], data: st.DataObject) -> None:
    clubs = list(zip(places_of(values), values, strict=True))
    shuffled = data.draw(st.permutations(clubs))
    one, other = fit(*zip(*clubs, strict=True)), fit(*zip(*shuffled, strict=True))
    room = 1e-9 * max(1.0, *map(abs, values))
    assert one.first == pytest.approx(other.first, abs=room)
    assert one.increment == pytest.approx(other.increment, abs=room)
    assert abs(one.worst) == pytest.approx(abs(other.worst), abs=room)


@given(first=st.floats(0, 60), increment=st.floats(-2, 2), count=st.integers(2, 18))
def test_a_set_that_lies_on_its_gradient_is_found_on_it(first: float, increment: float, count: int) -> None:
    places = [float(n) for n in range(1, count + 1)]
    line = fit(places, [target(first, increment, p) for p in places])
    assert line.first == pytest.approx(first, abs=1e-9)
    assert line.increment == pytest.approx(increment, abs=1e-9)
    assert line.worst == pytest.approx(0.0, abs=1e-9)


@given(values=sets)
def test_no_other_line_lies_closer(values: list[float]) -> None:
    places = places_of(values)
    line = fit(places, values)

    def misfit(first: float, increment: float) -> float:
        return sum((v - target(first, increment, p)) ** 2 for p, v in zip(places, values, strict=True))

    best = misfit(line.first, line.increment)
    assume(best < 1e12)
    for nudge in (-0.5, 0.5):
        assert misfit(line.first + nudge, line.increment) >= best
        assert misfit(line.first, line.increment + nudge) >= best
