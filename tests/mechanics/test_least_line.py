"""The line that needs the least added mass, held against a linear programme and against a fine grid."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import linprog

from evenheft.mechanics.gradient import target
from evenheft.mechanics.least_line import ClubInLine, LeastLine, added_to, least_line, line_with

heads = st.lists(st.tuples(st.floats(25, 40), st.floats(1, 3)), min_size=1, max_size=9)
tolerances = st.sampled_from([0.0, 0.5, 1.2])


def set_of(made: list[tuple[float, float]]) -> list[ClubInLine]:
    return [ClubInLine(place, value, grams) for place, (value, grams) in enumerate(made, start=1)]


def need_a_line_within(clubs: list[ClubInLine], line: LeastLine, tolerance: float) -> None:
    """Fail unless every club is within the tolerance once its mass is added."""
    for club, added in zip(clubs, line.added, strict=True):
        then = club.value + added / club.grams
        assert abs(then - target(line.first, line.increment, club.place)) <= tolerance + 1e-6
        assert added >= 0


@given(heads, tolerances, st.floats(-2, 0), st.floats(0, 2))
def test_no_line_is_cheaper(made: list[tuple[float, float]], tolerance: float, low: float, high: float) -> None:
    # A second solver: the same as a linear programme in first, increment and the grams of each club, by HiGHS.
    clubs = set_of(made)
    line = least_line(clubs, tolerance, lowest=low, highest=high)
    need_a_line_within(clubs, line, tolerance)
    rows, limits = [], []
    for n, club in enumerate(clubs):
        filled = [0.0] * len(clubs)
        filled[n] = -1 / club.grams
        rows += [[1.0, club.place - 1, *filled], [-1.0, 1 - club.place, *([0.0] * len(clubs))]]
        limits += [tolerance + club.value, tolerance - club.value]
    costs = [0.0, 0.0, *([1.0] * len(clubs))]
    bounds = [(None, None), (low, high), *([(0, None)] * len(clubs))]
    solved = linprog(costs, np.array(rows), np.array(limits), bounds=bounds)
    assert sum(line.added) == approx(solved.fun, abs=1e-5)


@given(heads, tolerances, st.floats(-1, 1))
def test_a_kept_increment_against_a_fine_grid(
    made: list[tuple[float, float]], tolerance: float, increment: float
) -> None:
    clubs = set_of(made)
    line = line_with(clubs, tolerance, increment)
    need_a_line_within(clubs, line, tolerance)
    for first in np.linspace(line.first - 12, line.first + 12, 481).tolist():
        aims = [target(first, increment, club.place) for club in clubs]
        if all(club.value <= aim + tolerance for club, aim in zip(clubs, aims, strict=True)):
            costs = [added_to(club, aim, tolerance) for club, aim in zip(clubs, aims, strict=True)]
            assert sum(line.added) <= sum(costs) + 1e-6


def test_where_nothing_has_to_be_added_the_line_lies_in_the_middle() -> None:
    line = line_with([ClubInLine(1, 32.0, 2.0), ClubInLine(2, 32.6, 2.0)], tolerance=1.0, increment=0.0)
    assert (line.first, line.added) == (approx(32.3), (0.0, 0.0))


def test_the_wished_increment_is_taken_where_it_costs_nothing() -> None:
    clubs = [ClubInLine(1, 32.0, 2.0), ClubInLine(2, 32.4, 2.0), ClubInLine(3, 32.2, 2.0)]
    assert least_line(clubs, 0.5, lowest=-1.0, highest=1.0, wished=0.0).increment == 0.0
    assert least_line(clubs, 0.5, lowest=-1.0, highest=1.0, wished=0.2).increment == 0.2
    # A wish that costs gives way to the corner next to it.
    assert sum(least_line(clubs, 0.5, lowest=-1.0, highest=1.0, wished=1.0).added) == 0.0
