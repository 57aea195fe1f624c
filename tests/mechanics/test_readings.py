"""Readings of one thing, held against scipy, the GUM's formulas and simulation."""

from __future__ import annotations

import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy import stats

from evenheft.mechanics.readings import STUDENT_T, doubt_of_mean, is_explained, mean, scatter

several = st.lists(st.floats(70, 80), min_size=2, max_size=8)


@given(several)
def test_mean_and_scatter_are_those_of_the_standard_library(readings: list[float]) -> None:
    assert mean(readings) == approx(statistics.fmean(readings))
    assert scatter(readings) == approx(statistics.stdev(readings), abs=1e-9)


def test_students_t_is_that_of_the_tables() -> None:
    # scipy.stats.t, to the three digits that tables print.
    assert list(STUDENT_T) == [approx(stats.t.ppf(0.975, n), abs=5e-4) for n in range(1, len(STUDENT_T) + 1)]


def test_one_reading_has_no_scatter_and_the_instruments_doubt() -> None:
    assert scatter([75.3]) == 0.0
    assert is_explained([75.3], 0.0)
    assert doubt_of_mean([75.3], 0.2) == 0.2


def test_a_scatter_that_the_instrument_explains_costs_nothing() -> None:
    assert doubt_of_mean([75.2, 75.4], 0.1) == 0.1
    assert doubt_of_mean([75.2, 75.41], 0.1) > 0.1


def test_a_binary_fraction_does_not_decide() -> None:
    assert is_explained([75.1, 75.3], 0.1)


@pytest.mark.parametrize("count", [1, 2, 3, 10])
def test_the_truth_lies_within_the_doubt_of_an_instrument_that_is_as_good_as_it_admits(count: int) -> None:
    # By simulation: every reading off by up to 0.1 either way, part of it alike for all readings.
    draw = np.random.default_rng(7)
    for share in draw.uniform(0, 1, 2000):
        errors = share * draw.uniform(-0.1, 0.1) + (1 - share) * draw.uniform(-0.1, 0.1, count)
        readings = (75.3 + errors).tolist()
        assert is_explained(readings, 0.1)
        assert abs(mean(readings) - 75.3) <= doubt_of_mean(readings, 0.1) + 1e-9


@pytest.mark.parametrize("count", [2, 3, 5, 10])
@pytest.mark.parametrize("noise", [0.1, 0.3, 1.0])
def test_the_truth_lies_within_the_doubt_where_the_scatter_is_told(count: int, noise: float) -> None:
    # JCGM 101 by simulation: an instrument off by up to 0.1 either way, and a hand that shakes more than that.
    draw = np.random.default_rng(7)
    covered = []
    for offset in draw.uniform(-0.1, 0.1, 5000):
        readings = (75.3 + offset + draw.normal(0, noise, count)).tolist()
        if not is_explained(readings, 0.1):
            covered.append(abs(mean(readings) - 75.3) <= doubt_of_mean(readings, 0.1))
    assert len(covered) > 100
    assert (
        sum(covered) / len(covered) >= 0.95 - 3 * (0.95 * 0.05 / len(covered)) ** 0.5
    )  # as far as so many trials can tell
