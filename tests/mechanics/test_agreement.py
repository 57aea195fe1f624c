"""Agreement of two ways to measure, against the example with which the method was published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.mechanics.agreement import agree

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
