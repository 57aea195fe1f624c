"""The advice in words: what it names, applied, gives what it promises."""

import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.advice import NO_HEAD, NOTHING, NOTHING_HERE
from evenheft.mechanics import doubt, swingweight

HEAD, BUTT = 90.0, 2.5
STOCK_HEAD = [[size] for size in (2, 3, 4, 5, 6, 7, 8, 9)]
STOCK_BUTT = [[size] for size in (2, 5, 7, 10, 15, 20, 30, 50)]


def advice(mass: float, balance: float, target: object, tolerance: float, *more: object) -> str:
    given = more or (HEAD, BUTT, STOCK_HEAD, STOCK_BUTT, 2)
    line = call(REGISTRY["HEFT_ADVICE"], [mass, balance, target, tolerance, *given])
    assert isinstance(line, str)
    return line


@given(st.floats(400, 450), st.floats(70, 74), st.floats(28, 36), st.floats(0.2, 1.0))
def test_advice_applied_gives_what_it_promises(mass: float, balance: float, target: float, tolerance: float) -> None:
    line = advice(mass, balance, target, tolerance)
    points = swingweight.points(swingweight.moment(mass, balance))
    if line == NOTHING:
        assert doubt.verdict(points, target, tolerance) == "in"
        return
    assert doubt.verdict(points, target, tolerance) != "in"
    for grams, place, label in re.findall(r"add ([\d.]+) g at the (head|butt): then (\w\d\.\d)", line):
        at = {"head": HEAD, "butt": BUTT}[place]
        moment = swingweight.moment(mass, balance) + float(grams) * (at - swingweight.FULCRUM)
        assert swingweight.label(swingweight.points(moment)) == label
    off = re.search(r"take ([\d.]+) g off the head", line)
    if off:
        moment = swingweight.moment(mass, balance) - float(off[1]) * (HEAD - swingweight.FULCRUM)
        assert swingweight.points(moment) == pytest.approx(target, abs=0.05 * (HEAD - swingweight.FULCRUM) / 126 + 1e-6)


@given(st.floats(400, 450), st.floats(70, 74), st.floats(28, 36), st.floats(0.3, 1.0), st.floats(0.01, 0.29))
def test_a_club_near_the_edge_is_to_be_measured_again(
    mass: float, balance: float, target: float, tolerance: float, half: float
) -> None:
    points = swingweight.points(swingweight.moment(mass, balance))
    assume(doubt.verdict(points, target, tolerance, half) == "re-measure")
    line = advice(mass, balance, target, tolerance, HEAD, BUTT, STOCK_HEAD, STOCK_BUTT, 2, half)
    assert line.startswith("measure again first; or ")


def test_where_nothing_is_to_be_done_it_says_so_and_points_at_what_else_is_flagged() -> None:
    assert advice(420, 72.2, "D0", 0.5) == NOTHING
    assert advice(420, 72.2, "D0", 0.5, HEAD, None, None, None, None, None, None, "lie high") == NOTHING_HERE


def test_an_unknown_place_and_an_empty_stock_are_told() -> None:
    assert advice(415, 72.2, "D4", 0.5, None) == NO_HEAD
    assert advice(415, 72.2, "D2", 0.5, HEAD).startswith("no stock weight is near: add ")


def test_a_counterweight_that_would_not_bring_it_in_is_not_offered() -> None:
    assert "butt" not in advice(440, 72, "D2", 0.2, HEAD, BUTT, STOCK_HEAD, [[50]], 1)
