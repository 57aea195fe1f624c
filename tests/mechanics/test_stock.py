"""Stock weights for one club, held against every combination."""

from __future__ import annotations

import itertools
from collections import Counter

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.stock import pick

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


counted = st.lists(st.tuples(st.integers(1, 60).map(lambda n: n / 4), st.none() | st.integers(0, 3)), max_size=5)


@given(st.floats(-5, 70), counted, st.integers(1, 4))
def test_no_combination_of_what_is_there_comes_closer(
    grams: float, stock: list[tuple[float, int | None]], most: int
) -> None:
    # Exhaustive search over every choice of single weights, each of them there once.
    there = [size for size, count in stock for _ in range(most if count is None else count)]
    every = itertools.chain.from_iterable(itertools.combinations(there, n) for n in range(min(most, len(there)) + 1))
    best = min((round(abs(grams - sum(c)), 9), len(c), round(sum(c), 9)) for c in every)
    picked = pick(grams, [size for size, _ in stock], most, [count for _, count in stock])
    assert not Counter(picked.pieces) - Counter(there)
    assert (round(abs(grams - picked.total), 9), len(picked.pieces)) == (approx(best[0], abs=1e-8), best[1])
