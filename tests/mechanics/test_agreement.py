"""Agreement of two ways to measure, against the example with which the method was published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from evenheft.mechanics.agreement import agree, student_t

# Peak expiratory flow of 17 subjects by two meters, l/min, first reading of each: Bland and Altman, Lancet 1986;
# i: 307-310. Typed from memory; held to the figures that the paper prints, mean -2.1 and sd 38.8.
LARGE_METER = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
MINI_METER = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]


def test_the_published_example() -> None:
    found = agree(first=MINI_METER, second=LARGE_METER)
    assert found.bias == pytest.approx(-2.1, abs=0.05)  # to the printed digit
    assert found.sd == pytest.approx(38.8, abs=0.05)
    assert found.lower == pytest.approx(-2.1 - 1.96 * 38.8, abs=0.15)
    assert found.upper == pytest.approx(-2.1 + 1.96 * 38.8, abs=0.15)


VALUES = st.lists(st.tuples(st.floats(0, 70), st.floats(0, 70)), min_size=2, max_size=30)


@given(VALUES)
def test_against_numpy(pairs: list[tuple[float, float]]) -> None:
    first, second = np.array(pairs).T
    found = agree(first=first.tolist(), second=second.tolist())
    assert found.bias == pytest.approx(float(np.mean(second - first)), abs=1e-9)
    assert found.sd == pytest.approx(float(np.std(second - first, ddof=1)), abs=1e-9)


@given(VALUES)
def test_the_other_way_round_only_the_sign_changes(pairs: list[tuple[float, float]]) -> None:
    first, second = [a for a, _ in pairs], [b for _, b in pairs]
    one, other = agree(first=first, second=second), agree(first=second, second=first)
    assert one.bias == pytest.approx(-other.bias, abs=1e-9)
    assert one.lower == pytest.approx(-other.upper, abs=1e-9)


def test_one_club_says_nothing_about_agreement() -> None:
    with pytest.raises(ValueError, match="two clubs"):
        agree(first=[30.0], second=[31.0])


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 16, 31, 100, 101])
def test_the_t_of_scipy(freedom: int) -> None:
    # scipy.stats.t, an independent implementation; tolerance 1e-9 relative.
    assert student_t(freedom) == pytest.approx(float(stats.t.ppf(0.975, freedom)), rel=1e-9)
    assert student_t(freedom, share=0.8) == pytest.approx(float(stats.t.ppf(0.9, freedom)), rel=1e-9)


@pytest.mark.parametrize(("count", "kept"), [(3, 0.77), (5, 0.85), (12, 0.92)])
def test_the_next_club_keeps_its_limits_where_it_would_not_keep_1_96_sd(count: int, kept: float) -> None:
    # 20,000 simulated series of few clubs and one more, normally distributed. The limits of agreement are kept by as
    # few as is told in docs/trust.md; those for the next club by 95 %, to 0.5 %.
    generator = np.random.default_rng(count)
    draws = generator.normal(0.2, 0.4, (20_000, count + 1))
    found = [agree(first=[0.0] * count, second=row[:-1].tolist()) for row in draws]
    following = draws[:, -1]
    inside = [f.next_lower <= x <= f.next_upper for f, x in zip(found, following, strict=True)]
    by_name = [f.lower <= x <= f.upper for f, x in zip(found, following, strict=True)]
    assert np.mean(inside) == pytest.approx(0.95, abs=0.006)
    assert np.mean(by_name) == pytest.approx(kept, abs=0.015)
    assert found[0].clubs == count
