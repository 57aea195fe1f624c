"""Doubt against the `uncertainties` package and Monte Carlo, and verdicts against simulated measurements.

Clause numbers of JCGM 100, 101 and 106 are from memory.
"""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from uncertainties import ufloat

from evenheft.mechanics.bench import inertia_from_period
from evenheft.mechanics.doubt import (
    combined_doubt,
    inertia_doubt,
    inertia_parts,
    points_doubt,
    points_parts,
    verdict,
)
from evenheft.mechanics.swingweight import POINT, moment, points

halves = st.floats(min_value=1e-3, max_value=2)
CLUB = {"mass": 395.0, "balance": 75.3}
PERIOD = 1.9


def rectangular(value: float, half_width: float) -> ufloat:
    # JCGM 100:2008 (GUM) 4.3.7: u = a / sqrt(3) for a rectangular distribution of half-width a.
    return ufloat(value, half_width / sqrt(3))


def lesser(twice: float, *parts: float) -> float:
    """U as it is stated: 2 u by the package, but never more than all of the parts together."""
    return min(twice, sum(map(abs, parts)))


@given(mass_doubt=halves, balance_doubt=halves, fulcrum=st.floats(min_value=20, max_value=50))
def test_points_doubt_is_propagated_as_the_uncertainties_package_does(
    mass_doubt: float, balance_doubt: float, fulcrum: float
) -> None:
    # JCGM 100:2008 5.1.2 by the independent package `uncertainties`; tolerance 1e-9 relative.
    reference = points(
        moment(rectangular(CLUB["mass"], mass_doubt), rectangular(CLUB["balance"], balance_doubt), fulcrum)  # type: ignore[arg-type]
    )
    given = {**CLUB, "mass_doubt": mass_doubt, "balance_doubt": balance_doubt, "fulcrum": fulcrum}
    expected = lesser(2 * reference.std_dev, *points_parts(**given))  # type: ignore[attr-defined]
    assert points_doubt(**given) == pytest.approx(expected, rel=1e-9)


@given(
    mass_doubt=halves,
    balance_doubt=halves,
    period_doubt=st.floats(min_value=1e-4, max_value=0.05),
    pivot=st.floats(min_value=0, max_value=20),
    gravity=st.floats(min_value=978, max_value=984),
    pivot_doubt=st.floats(min_value=1e-3, max_value=0.5),
    gravity_doubt=st.floats(min_value=1e-3, max_value=3),
)
def test_inertia_doubt_is_propagated_as_the_uncertainties_package_does(
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float,
    gravity: float,
    pivot_doubt: float,
    gravity_doubt: float,
) -> None:
    # As above: the package differentiates the inertia itself, ours carries derivatives worked out by hand.
    reference = inertia_from_period(
        rectangular(CLUB["mass"], mass_doubt),  # type: ignore[arg-type]
        rectangular(CLUB["balance"], balance_doubt),  # type: ignore[arg-type]
        rectangular(PERIOD, period_doubt),  # type: ignore[arg-type]
        rectangular(pivot, pivot_doubt),  # type: ignore[arg-type]
        rectangular(gravity, gravity_doubt),  # type: ignore[arg-type]
    )
    given = {
        **CLUB, "period": PERIOD, "mass_doubt": mass_doubt, "balance_doubt": balance_doubt,
        "period_doubt": period_doubt, "pivot": pivot, "gravity": gravity, "pivot_doubt": pivot_doubt,
        "gravity_doubt": gravity_doubt,
    }  # fmt: skip
    expected = lesser(2 * reference.std_dev, *inertia_parts(**given))  # type: ignore[attr-defined]
    assert inertia_doubt(**given) == pytest.approx(expected, rel=1e-9)


DRAWS = 400_000


def drawn(generator: np.random.Generator, value: float, half_width: float) -> np.ndarray:
    return generator.uniform(value - half_width, value + half_width, DRAWS)


def half_width_of_95(draws: np.ndarray, about: float) -> float:
    """Within how much of a value 95 % of some draws lie."""
    return float(np.quantile(np.abs(draws - about), 0.95))


@pytest.mark.parametrize(
    ("mass_doubt", "balance_doubt"), [(0.1, 0.2), (0.5, 0.1), (0.0, 0.2), (1.0, 0.0), (3.0, 0.3), (1.0, 0.02)]
)
def test_points_doubt_covers_as_monte_carlo_says_and_not_much_more(mass_doubt: float, balance_doubt: float) -> None:
    # JCGM 101:2008, propagation of distributions: at least 95 % of 400,000 draws lie within U, and U is at most 1.18
    # times as wide as what covers 95 % of them. The worst is 1.17, where one part is six times the other.
    generator = np.random.default_rng(2008)
    draws = points(moment(drawn(generator, 395.0, mass_doubt), drawn(generator, 75.3, balance_doubt)))  # type: ignore[arg-type]
    found = points_doubt(**CLUB, mass_doubt=mass_doubt, balance_doubt=balance_doubt)
    true = points(moment(**CLUB))
    # A hair for the product of both doubts, which no first order knows.
    assert np.mean(np.abs(draws - true) <= found * (1 + 1e-6) + mass_doubt * balance_doubt / POINT) >= 0.95
    assert found <= 1.18 * half_width_of_95(draws, true)


@pytest.mark.parametrize("period_doubt", [0.0, 0.002, 0.01, 0.05])
@pytest.mark.parametrize("common", [False, True])
def test_inertia_doubt_covers_as_monte_carlo_says_and_not_much_more(period_doubt: float, *, common: bool) -> None:
    # JCGM 101:2008, as above, with the pivot and gravity in doubt or not.
    generator = np.random.default_rng(101)
    pivot_doubt, gravity_doubt = (0.1, 2.0) if common else (0.0, 0.0)
    draws = inertia_from_period(
        drawn(generator, 395.0, 0.1), drawn(generator, 75.3, 0.2), drawn(generator, PERIOD, period_doubt),  # type: ignore[arg-type]
        drawn(generator, 1.0, pivot_doubt), drawn(generator, 980.665, gravity_doubt),  # type: ignore[arg-type]
    )  # fmt: skip
    found = inertia_doubt(
        **CLUB, period=PERIOD, mass_doubt=0.1, balance_doubt=0.2, period_doubt=period_doubt, pivot=1.0,
        pivot_doubt=pivot_doubt, gravity_doubt=gravity_doubt,
    )  # fmt: skip
    true = inertia_from_period(**CLUB, period=PERIOD, pivot=1.0)
    assert np.mean(np.abs(draws - true) <= found * 1.001) >= 0.95
    assert found <= 1.18 * half_width_of_95(draws, true)


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 8])
def test_any_number_of_equal_half_widths_is_covered(count: int) -> None:
    # JCGM 101: a sum of n equal rectangular errors. 2 u alone would be 1.155 times the worst case at n = 1.
    draws = np.random.default_rng(count).uniform(-1, 1, (count, DRAWS)).sum(axis=0)
    found = combined_doubt(*[1.0] * count)
    assert found <= count
    assert np.mean(np.abs(draws) <= found) >= 0.95
    assert found <= 1.07 * half_width_of_95(draws, 0.0)


@given(parts=st.lists(halves, min_size=1, max_size=5), expanded=st.lists(halves, max_size=3))
def test_contributions_combine_whatever_their_order_and_sign_and_never_beyond_their_sum(
    parts: list[float], expanded: list[float]
) -> None:
    whole = combined_doubt(*parts, expanded=expanded)
    assert whole == pytest.approx(combined_doubt(*[-p for p in reversed(parts)], expanded=expanded[::-1]), rel=1e-12)
    assert max(parts + expanded) <= whole * (1 + 1e-12)
    assert whole <= sum(parts + expanded) * (1 + 1e-12)


def test_two_doubts_that_are_stated_already_are_added_in_quadrature() -> None:
    # JCGM 100:2008 5.1.2 with u = U / 2.
    assert combined_doubt(expanded=[0.3, 0.4]) == pytest.approx(0.5)


def test_a_perfect_instrument_leaves_no_doubt() -> None:
    assert points_doubt(**CLUB, mass_doubt=0.0, balance_doubt=0.0) == 0
    assert inertia_doubt(**CLUB, period=PERIOD, mass_doubt=0.0, balance_doubt=0.0, period_doubt=0.0) == 0


@pytest.mark.parametrize(
    ("value", "tolerance", "doubt", "word"),
    # JCGM 106:2012, 8.3: the acceptance interval is the tolerance interval less U on either side.
    [
        (32.3, 0.5, 0.2, "in"),
        (31.7, 0.5, 0.2, "in"),
        (32.31, 0.5, 0.2, "re-measure"),
        (32.7, 0.5, 0.2, "re-measure"),
        (31.3, 0.5, 0.2, "re-measure"),
        (32.71, 0.5, 0.2, "high"),
        (31.29, 0.5, 0.2, "low"),
        (32.5, 0.5, 0.0, "in"),
        (32.51, 0.5, 0.0, "high"),
        (31.49, 0.5, 0.0, "low"),
        (32.0, 0.0, 0.0, "in"),
        (32.0, 0.1, 0.2, "re-measure"),
    ],
)
def test_verdicts(value: float, tolerance: float, doubt: float, word: str) -> None:
    assert verdict(value, target=32.0, tolerance=tolerance, doubt=doubt) == word


@pytest.mark.parametrize("place", range(40))
def test_binary_fractions_do_not_decide(place: int) -> None:
    # place/10 + 0.3 is often not the binary number of its decimal, yet it lies exactly at the tolerance.
    assert verdict(place / 10 + 0.3, target=place / 10, tolerance=0.3) == "in"
    assert verdict(place / 10 - 0.3, target=place / 10, tolerance=0.3) == "in"


deviations = st.floats(min_value=-50, max_value=50)
widths = st.floats(min_value=0, max_value=20)


@given(deviation=deviations, tolerance=widths, doubt=widths)
def test_a_club_as_far_below_its_target_is_low_where_one_above_is_high(
    deviation: float, tolerance: float, doubt: float
) -> None:
    mirrored = {"low": "high", "high": "low", "in": "in", "re-measure": "re-measure"}
    word = verdict(deviation, target=0.0, tolerance=tolerance, doubt=doubt)
    assert verdict(-deviation, target=0.0, tolerance=tolerance, doubt=doubt) == mirrored[word]


@given(deviation=deviations, tolerance=widths)
def test_without_doubt_nothing_is_to_be_measured_again(deviation: float, tolerance: float) -> None:
    word = verdict(deviation, target=0.0, tolerance=tolerance)
    assert word != "re-measure"
    assume(abs(abs(deviation) - tolerance) > 1e-6)
    assert (word == "in") == (abs(deviation) < tolerance)


@given(deviation=deviations, tolerance=widths, doubt=widths, more=widths)
def test_more_doubt_never_makes_a_verdict_surer(deviation: float, tolerance: float, doubt: float, more: float) -> None:
    word = verdict(deviation, target=0.0, tolerance=tolerance, doubt=doubt)
    assert verdict(deviation, target=0.0, tolerance=tolerance, doubt=doubt + more) in (word, "re-measure")


def simulated(true_deviation: np.ndarray, *, guarded: bool) -> np.ndarray:
    """Verdicts on clubs of a known true deviation, measured with a normal error of standard uncertainty 0.1."""
    generator = np.random.default_rng(106)
    measured = true_deviation + generator.normal(0.0, 0.1, true_deviation.size)
    doubt = 0.2 if guarded else 0.0
    return np.array([verdict(float(m), target=0.0, tolerance=0.5, doubt=doubt) for m in measured])


CLUBS = 200_000


def test_a_club_just_out_of_tolerance_is_seldom_passed() -> None:
    # JCGM 106:2012, 8.3.2: with a guard band of U = 2 u and a normal error, a true value at the limit is passed
    # with probability Phi(-2) = 2.28 %. The simulated figure is 2.25 %; without the guard it is 50 %.
    at_the_limit = np.full(CLUBS, 0.5 + 1e-6)
    assert np.mean(simulated(at_the_limit, guarded=True) == "in") == pytest.approx(0.0228, abs=0.0015)
    assert np.mean(simulated(at_the_limit, guarded=False) == "in") == pytest.approx(0.5, abs=0.01)


def test_a_club_just_in_tolerance_is_seldom_condemned() -> None:
    # The mirror image, guarded rejection (JCGM 106:2012, 8.3.3): 2.28 %.
    at_the_limit = np.full(CLUBS, 0.5 - 1e-6)
    assert np.mean(simulated(at_the_limit, guarded=True) == "high") == pytest.approx(0.0228, abs=0.0015)


def test_of_a_shops_clubs_hardly_one_that_is_passed_is_out() -> None:
    # Global consumer's risk (JCGM 106:2012, 9.5) of clubs spread evenly over twice the tolerance either side, seen:
    # 0.27 % of those passed are out, against 7.9 % without a guard.
    true = np.random.default_rng(9).uniform(-1.0, 1.0, CLUBS)
    out = np.abs(true) > 0.5
    guarded, bare = (simulated(true, guarded=g) == "in" for g in (True, False))
    assert np.mean(out[guarded]) < 0.005
    assert np.mean(out[bare]) > 0.05


@given(rows=st.lists(st.tuples(st.floats(200, 600), st.floats(40, 100)), min_size=1, max_size=6))
def test_arrays_and_single_numbers_agree(rows: list[tuple[float, float]]) -> None:
    mass, balance = np.array(rows).T
    of_points = points_doubt(mass, balance, mass_doubt=0.5, balance_doubt=0.1)  # type: ignore[arg-type]
    of_inertia = inertia_doubt(mass, balance, 2.5, mass_doubt=0.5, balance_doubt=0.1, period_doubt=0.01)  # type: ignore[arg-type]
    for n, (one_mass, one_balance) in enumerate(rows):
        one = {"mass": one_mass, "balance": one_balance, "mass_doubt": 0.5, "balance_doubt": 0.1}
        assert of_points[n] == pytest.approx(points_doubt(**one), rel=1e-13)  # type: ignore[index]
        assert of_inertia[n] == pytest.approx(inertia_doubt(**one, period=2.5, period_doubt=0.01), rel=1e-13)  # type: ignore[index]
