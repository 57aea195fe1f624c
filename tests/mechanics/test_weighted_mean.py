"""The weighted mean of several dry fits: published worked examples, scipy, and what must hold of any values."""

import math

import numpy as np
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

from evenheft.mechanics.weighted_mean import UNLIKELY, Sums, best_value, chance, sums_of

RISES = st.lists(
    st.tuples(st.floats(min_value=-4, max_value=6), st.floats(min_value=0.01, max_value=2)), min_size=1, max_size=30
)


def best(values: list[float], uncertainties: list[float], spread: float = 0.0):
    return best_value(sums_of(values, uncertainties), spread)


def test_taylors_three_students() -> None:
    # J. R. Taylor, An Introduction to Error Analysis, 7.2: 11 +- 1, 12 +- 1 and 10 +- 3 ohm give 11.42 and 0.69,
    # told as 11.4 +- 0.7 (217/19 and 3/sqrt(19)); read in a course's retelling. To the printed digits.
    found = best([11, 12, 10], [1, 1, 3])
    assert round(found.mean, 2) == 11.42
    assert round(found.doubt, 2) == 0.69
    assert found.probability > UNLIKELY


def test_two_values_that_do_not_belong_together() -> None:
    # 10 +- 4 and 30 +- 5: mean 17.80, 3.12 before and, by the Particle Data Group's scale factor, 3.12 x sqrt(9.76)
    # after (T. Dorigo, "What PDG weighted average means"); chi-square 20^2 / (4^2 + 5^2) = 9.756 by hand.
    found = best([10, 30], [4, 5])
    assert found.mean == pytest.approx(17.80, abs=0.005)
    assert found.chi_square == pytest.approx(400 / 41, rel=1e-12)
    assert found.doubt == pytest.approx(3.12 * math.sqrt(400 / 41), abs=0.02)
    assert found.probability < UNLIKELY


def test_chance_is_scipys() -> None:
    for freedom in (1, 2, 3, 4, 5, 10, 29, 100):
        for value in (0.0, 0.1, 1.0, freedom, 2.0 * freedom, 5.0 * freedom):
            assert chance(value, freedom) == pytest.approx(scipy.stats.chi2.sf(value, freedom), rel=1e-9, abs=1e-300)


def test_alike_values_give_the_ordinary_mean_and_standard_deviation() -> None:
    values = [2.0, 2.4, 1.7, 2.2, 3.1]
    found = best(values, [0.3] * 5)
    assert found.mean == pytest.approx(np.mean(values))
    assert found.scatter == pytest.approx(np.std(values, ddof=1))
    assert found.doubt == pytest.approx(max(0.3, found.scatter) / math.sqrt(5))


def test_one_value_is_known_as_well_as_it_was_measured_and_the_next_as_well_as_heads_are_alike() -> None:
    found = best([2.1], [0.1], spread=0.05)
    assert (found.mean, found.scatter, found.chi_square, found.probability) == (2.1, 0, 0, 1)
    assert found.doubt == pytest.approx(math.hypot(0.1, 0.05))
    assert found.next_doubt == pytest.approx(math.hypot(0.1, 0.05, 0.05))


def test_many_heads_that_differ_are_well_known_together_and_the_next_one_is_not() -> None:
    drawn = np.random.default_rng(7).normal(2.0, 0.3, 400)
    found = best(list(drawn), [0.05] * 400)
    assert found.doubt == pytest.approx(0.3 / 20, rel=0.15)
    assert found.next_doubt == pytest.approx(0.3, rel=0.1)


@pytest.mark.parametrize("true_spread", [0.0, 0.05, 0.15])
def test_the_next_head_lies_within_its_doubt_in_95_of_100_shops(true_spread: float) -> None:
    # Monte Carlo as JCGM 101 does it: a shop of four dry fits whose heads differ, and the fifth head.
    draw = np.random.default_rng(11)
    hits, shops = 0, 4000
    for _ in range(shops):
        errors = draw.uniform(0.05, 0.2, 4)
        heads = draw.normal(2.0, true_spread, 5)
        found = best(list(heads[:4] + draw.normal(0, errors)), list(errors), spread=true_spread)
        hits += abs(heads[4] - found.mean) <= 2 * found.next_doubt
    assert hits / shops >= 0.95


@given(RISES)
def test_the_mean_lies_among_the_values_and_is_no_more_doubtful_than_the_best_of_them(
    pairs: list[tuple[float, float]],
) -> None:
    values, uncertainties = [list(column) for column in zip(*pairs, strict=True)]
    found = best(values, uncertainties)
    assert min(values) - 1e-9 <= found.mean <= max(values) + 1e-9
    assert found.doubt >= min(uncertainties) / math.sqrt(len(values)) * (1 - 1e-9)
    assert found.next_doubt >= found.doubt >= 0
    if found.chi_square <= len(values) - 1:
        assert found.doubt <= min(uncertainties) * (1 + 1e-9)


@given(RISES)
def test_the_chi_square_is_that_of_its_definition(pairs: list[tuple[float, float]]) -> None:
    values, uncertainties = [list(column) for column in zip(*pairs, strict=True)]
    found = best(values, uncertainties)
    defined = sum(((v - found.mean) / u) ** 2 for v, u in pairs)
    assert found.chi_square == pytest.approx(defined, rel=1e-6, abs=1e-9 * sum((v / u) ** 2 for v, u in pairs) + 1e-12)


def test_sums_gathered_elsewhere_serve_as_well() -> None:
    values, uncertainties = [2.1, 2.2, 2.0], [0.05, 0.05, 0.15]
    weights = [1 / u**2 for u in uncertainties]
    gathered = Sums(
        3,
        sum(weights),
        sum(w * v for w, v in zip(weights, values, strict=True)),
        sum(w * v * v for w, v in zip(weights, values, strict=True)),
    )
    assert best_value(gathered) == pytest.approx(best(values, uncertainties), rel=1e-9)
