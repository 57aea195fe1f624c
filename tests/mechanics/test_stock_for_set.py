"""Stock weights for a set: none promised twice, and no sharing of them that is better."""

from __future__ import annotations

import itertools
from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import Bounds, LinearConstraint, milp

from evenheft.mechanics import stock_for_set
from evenheft.mechanics.stock import combinations_of, pick, shelf_of
from evenheft.mechanics.stock_for_set import _cost, pick_for_set

wants = st.lists(st.floats(-3, 15).map(lambda x: round(x, 2)), min_size=1, max_size=4)
stocks = st.lists(
    st.tuples(st.integers(1, 24).map(lambda n: n / 2), st.none() | st.integers(0, 2)), min_size=1, max_size=3
)


@given(wants, stocks, st.integers(1, 2))
def test_no_sharing_is_better(wanted: list[float], stock: list[tuple[float, int | None]], most: int) -> None:
    # Exhaustive search over every sharing among up to four clubs.
    sizes, counts = [size for size, _ in stock], [count for _, count in stock]
    shelf = shelf_of(sizes, counts, most * len(wanted))
    every = list(combinations_of(shelf, most))

    def possible(sharing: tuple[tuple[float, ...], ...]) -> bool:
        return not Counter(itertools.chain.from_iterable(sharing)) - Counter(dict(shelf))

    def cost(sharing: tuple[tuple[float, ...], ...]) -> tuple[float, float, int]:
        off = [abs(grams - sum(pieces)) for grams, pieces in zip(wanted, sharing, strict=True)]
        return round(sum(off), 5), round(sum(o * o for o in off), 4), sum(map(len, sharing))

    best = min(map(cost, filter(possible, itertools.product(every, repeat=len(wanted)))))
    found = tuple(picked.pieces for picked in pick_for_set(wanted, sizes, most, counts))
    assert possible(found)
    assert cost(found) == (approx(best[0], abs=2e-5), approx(best[1], abs=2e-3), best[2])


@given(wants, st.lists(st.integers(1, 24).map(lambda n: n / 2), min_size=1, max_size=4), st.integers(1, 3))
def test_with_enough_of_everything_each_club_gets_what_it_would_alone(
    wanted: list[float], sizes: list[float], most: int
) -> None:
    for grams, picked in zip(wanted, pick_for_set(wanted, sizes, most), strict=True):
        assert abs(grams - picked.total) == approx(abs(grams - pick(grams, sizes, most).total), abs=1e-6)


@pytest.mark.parametrize("most", [1, 2, 3])
def test_a_whole_set_against_a_solver(most: int) -> None:
    # A second solver: the same choice as a mixed-integer programme, solved by HiGHS. Twenty-four clubs, scarce stock.
    draw = np.random.default_rng(most)
    sizes, counts = [2.0, 3.0, 4.0, 6.0, 8.0, 10.0], [int(n) for n in draw.integers(0, 5, 6)]
    wanted = [round(float(x), 1) for x in draw.uniform(1, 14, 24)]
    every = list(combinations_of(shelf_of(sizes, counts, most), most))
    costs = np.array([abs(grams - sum(pieces)) for grams in wanted for pieces in every])
    one_each = np.kron(np.eye(len(wanted)), np.ones(len(every)))
    used = np.array([[pieces.count(size) for _ in wanted for pieces in every] for size in sizes])
    solved = milp(
        costs,
        constraints=[LinearConstraint(one_each, 1, 1), LinearConstraint(used, 0, np.array(counts))],
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, 1),
    )
    found = pick_for_set(wanted, sizes, most, counts)
    assert not Counter(itertools.chain.from_iterable(p.pieces for p in found)) - Counter(
        dict(zip(sizes, counts, strict=True))
    )
    off = sum(abs(grams - picked.total) for grams, picked in zip(wanted, found, strict=True))
    assert off == approx(solved.fun, abs=1e-6)


def test_grams_off_count_before_their_squares_and_those_before_pieces() -> None:
    # Two clubs each: 0.9 g off in all is less than 1 g, though one club bears all of it; of two ways to be 1 g off the
    # even one; of two ways equally off the one with fewer pieces, and then with fewer grams.
    assert _cost(0.9, 1, 2.0) + _cost(0.0, 1, 2.0) < _cost(0.5, 1, 2.0) + _cost(0.5, 1, 2.0)
    assert _cost(0.5, 2, 2.0) + _cost(0.5, 2, 2.0) < _cost(1.0, 1, 2.0) + _cost(0.0, 1, 2.0)
    assert _cost(0.5, 1, 9.0) < _cost(0.5, 2, 2.0)
    assert _cost(0.5, 1, 2.0) < _cost(0.5, 1, 2.5)


def test_the_heaviest_piece_stands_first() -> None:
    assert pick_for_set([5.0], [2.0, 3.0], 2) == [((3.0, 2.0), 5.0)]


def test_what_each_club_in_turn_and_each_two_of_them_miss_is_searched_for() -> None:
    # 4 g off in all; one club after the other, and then any two choosing anew, come to 5 g.
    found = pick_for_set([1.0, 7.0, 3.0], [9.0, 5.0, 1.0], counts=[1, 1, 1])
    assert [picked.pieces for picked in found] == [(1.0,), (9.0,), (5.0,)]


def test_two_clubs_choose_anew_where_the_search_is_cut_short(monkeypatch: pytest.MonkeyPatch) -> None:
    # One club after the other comes to 5 g off, two of them choosing anew to 3 g.
    monkeypatch.setattr(stock_for_set, "STEPS", 0)
    stock_for_set._shared.cache_clear()
    found = pick_for_set([1.0, 2.0, 4.0], [7.0, 2.0, 6.0], counts=[2, 1, 2])
    stock_for_set._shared.cache_clear()
    assert [picked.pieces for picked in found] == [(), (2.0,), (6.0,)]
