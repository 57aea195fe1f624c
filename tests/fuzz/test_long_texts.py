"""Some of what `python tests/fuzz/long_texts.py` tries by hand, and how work grows: counted in calls, on no clock."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial
from types import FrameType

import pytest

from evenheft.formulas import REGISTRY
from evenheft.formulas.serving import server
from fuzz.long_texts import filled, places, run, texts

SHORT = 2_000
"""Longer than any number, unit or label may be [characters]."""
LONG = 4 * SHORT
GRACE = 2_000
"""What a call may cost besides [calls of functions]."""
ONE_IN = 8
"""Each formula is asked about one text in so many, another than its neighbour's: to count takes long."""


def test_no_long_text_makes_a_formula_fail() -> None:
    tried = run(500, most_seconds=0)
    assert tried.failures == []
    assert tried.calls > 500 * len(REGISTRY)


@pytest.mark.parametrize("name", REGISTRY)
def test_four_times_the_text_costs_at_most_four_times_as_much(name: str) -> None:
    serve = server(REGISTRY[name], "fuzz")
    every_argument = list(places(REGISTRY[name]))[-1][1]
    asked = slice(list(REGISTRY).index(name) % ONE_IN, None, ONE_IN)
    for short, long in list(zip(texts(SHORT), texts(LONG), strict=True))[asked]:
        costs = []
        for text in (short, short, long):  # what is learnt once is not counted
            arguments = [filled(one, text) for one in every_argument]
            costs.append(calls_of(partial(serve, *arguments)))
        assert costs[-1] < 5 * costs[-2] + GRACE, repr(long[:12])


def calls_of(work: Callable[[], object]) -> int:
    """Count the calls of functions that some work makes."""
    count = 0

    def note(_: FrameType, event: str, __: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count
