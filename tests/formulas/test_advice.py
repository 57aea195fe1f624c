"""Advice for whatever leads: that what it says, done with the other formulas, gives what it promises."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from formula_answers import heft, number

HEAD, BUTT, GRIP = 94.0, 2.5, (50.0, 11.0)
NO_STOCK = (None, None, 1.0)
clubs = st.tuples(st.floats(380, 420), st.floats(74, 78))
OWN = 430.0


def advice(*args: object) -> str:
    found = heft("HEFT_ADVICE", *args)
    assert isinstance(found, str)
    return found


def grams_in(line: str, place: str) -> float:
    """Read the mass that an advice adds to a place, negative where it comes off [g]."""
    added = re.search(rf"(?:add|and) ([0-9.]+) g at the {place}", line)
    taken = re.search(rf"take ([0-9.]+) g off the {place}", line)
    return float(added[1]) if added else -float(taken[1]) if taken else 0.0


@given(club=clubs, off=st.floats(-5, 5).filter(lambda x: abs(x) > 1.1))
def test_grams_for_a_swingweight_do_it(club: tuple[float, float], off: float) -> None:
    target = number("HEFT_POINTS", *club) + off
    line = advice("swingweight", *club, None, target, 1, None, None, HEAD, BUTT, *NO_STOCK)
    then = number("HEFT_AFTER", *club, grams_in(line, "head"), HEAD, "points")
    assert then == approx(target, abs=0.05)  # grams are told to a tenth
    assert heft("HEFT_LABEL", then) in line


@given(club=clubs, off=st.floats(-90, 90).filter(lambda x: abs(x) > 11))
def test_grams_or_length_for_an_inertia_do_it(club: tuple[float, float], off: float) -> None:
    inertia = OWN + club[0] * club[1] ** 2 / 1000
    target = inertia + off
    line = advice("inertia", *club, inertia, None, None, target, 10, HEAD, BUTT, *NO_STOCK, 0, 0, *GRIP, 0.6)
    grams, _, change = line.partition("; or ")
    assert number("HEFT_AFTER", *club, grams_in(grams, "head"), HEAD, "inertia", None, inertia) == approx(
        target, abs=0.5
    )
    found = re.match(r"(cut|extend) ([0-9.]+) cm at the butt: then ([0-9]+) kg cm2", change)
    assert found is not None, change
    longer = float(found[2]) * (1 if found[1] == "extend" else -1)
    then = number("HEFT_LENGTHEN", *club, *GRIP, longer, "inertia", None, 0.6, inertia)
    assert then == approx(target, abs=4)  # lengths are told to a millimetre
    assert float(found[3]) == approx(then, abs=0.51)


@given(club=clubs, rise=st.floats(11, 60), off=st.floats(-3, 1))
def test_two_places_for_both_do_it(club: tuple[float, float], rise: float, off: float) -> None:
    inertia = OWN + club[0] * club[1] ** 2 / 1000
    target = number("HEFT_POINTS", *club) + off
    line = advice("both", *club, inertia, target, 1, inertia + rise, 10, HEAD, BUTT, *NO_STOCK)
    at_head, at_butt = grams_in(line, "head"), grams_in(line, "butt")
    halfway = heft("HEFT_AFTER", *club, at_head, HEAD, None, None, inertia)
    assert isinstance(halfway, tuple)
    mass, balance, _, _, between = halfway[0]
    assert number("HEFT_AFTER", mass, balance, at_butt, BUTT, "points") == approx(target, abs=0.06)
    then = number("HEFT_AFTER", mass, balance, at_butt, BUTT, "inertia", None, between)
    assert then == approx(inertia + rise, abs=0.6)


STOCK = ([[2], [3], [4]], [[4], [8]], 2)
CLUB = (395, 75.3, 2670)
_ALL_WAYS = (None,) * 5
"""The arguments from units to ways, left out."""
_UNTOLD = (0, 0, None, None, None, *_ALL_WAYS)
"""The arguments from doubts to ways, left out."""


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (("inertia", *CLUB, "D2", 1, 2700, 10, HEAD, BUTT, *STOCK),
         "add 3 g at the head: then 2697 kg cm2, D4.0 (high)"),
        (("both", *CLUB, "D2", 1, 2700, 10, HEAD, BUTT, *STOCK),
         "add 3 g at the head and 8 g at the butt: then D1.9, 2697 kg cm2"),
        (("swingweight", *CLUB, "D0", 1, 2650, 21, HEAD, BUTT, *STOCK, 0, 0, *GRIP, 0.6),
         "take 5.5 g off the head: then D0.0, 2621 kg cm2 (low); or add 8 g at the butt: then D0.5, 2670 kg cm2; or "
         "cut 1 cm at the butt: then D0.0, 2612 kg cm2 (low)"),
        (("swingweight", *CLUB, "D2", 1, 2700, 10, HEAD),
         "nothing for the swingweight; inertia follows at 2670 kg cm2 (low)"),
        (("inertia", *CLUB, "D2", 1, 2700, 10, HEAD, BUTT, *STOCK, 0, 0, None, None, None, None, [[1], [0], [0]]),
         "add 2 g at the head: then 2688 kg cm2 (low), D3.5 (high)"),
        (("inertia", *CLUB, "D2", 1, 2700, 10, HEAD, BUTT, *STOCK, 0, 0, None, None, None, None, [[1, 0, 0]]),
         "! head_counts must be a range of the stock's shape"),
        (("both", *CLUB, "D2", 1, 2670, 10, HEAD), "nothing to do"),
        (("both", *CLUB, "D2", 1, 2670, 10, HEAD, *(None,) * 12, "lie high"),
         "nothing for the swingweight and the inertia; see what else is flagged"),
        (("inertia", 13.9, 29.6, 2670, "D0", 1, 2600, 20, 37, *(None,) * 4, 0, 0, 1.8, 4.3, 0.6, "oz in"),
         "take 0.28 oz off the head: then 2600 kg cm2, C8.2 (low); or cut 0.45 in at the butt: then 2601 kg cm2, C8.8 "
         "(low)"),
        (("inertia", *CLUB, None, None, 2681, 10, HEAD, BUTT, *STOCK, 0, 5),
         "measure again first; or add 2 g at the head: then 2688 kg cm2 (near the edge), D3.5"),
        (("inertia", *CLUB, None, None, 9000, 10, HEAD, BUTT, *STOCK, 0, 0, *GRIP, 0.6),
         "no weight and no change of length does it: another head, shaft or length"),
        (("inertia", *CLUB, None, None, None, None, HEAD), ""),
        (("both", 395, 75.3, None, "D2", 1, 2700, 10, HEAD), "! inertia must be known where it leads: swing the club"),
        (("swingweight", 395, 75.3, None, "D4", 1), "! where head weights sit must be known: type the club's length"),
        (("length", 395, 75.3), "! leads must be swingweight, inertia or both, got length"),
        (("inertia", *CLUB, None, None, 2700, 10, HEAD, BUTT, *STOCK, *_UNTOLD, 392, 3, 0.5, 95, 94, 0.5),
         "add 3 g at the head: then 2697 kg cm2, D4.0, mass high"),
        (("swingweight", *CLUB, "D0", 1, None, None, HEAD, BUTT, *STOCK, 0, 0, *GRIP, 0.6, *_ALL_WAYS, 394, 5, 0.5,
          95, 95, 0.5, 0.2),
         "take 5.5 g off the head: then D0.0, 2621 kg cm2; or add 8 g at the butt: then D0.5, 2670 kg cm2, mass high; "
         "or cut 1 cm at the butt: then D0.0, 2612 kg cm2, length low"),
        (("swingweight", *CLUB, "D2.6", 1, None, None, HEAD, BUTT, *STOCK, *_UNTOLD, 392, 1, 0.5, 95, 94, 0.5),
         "nothing for the swingweight; mass follows at 395 g (high), length follows at 95 cm (high)"),
        (("swingweight", 13.9, 29.6, None, "D0", 1, None, None, 37, 1, *NO_STOCK, 0, 0, *(None,) * 3, "oz in",
          *(None,) * 4, "13.6 oz", "0.1 oz", 0, 37.5, "37 in", "1/4 in"),
         "take 0.14 oz off the head: then D0.0, mass high"),
    ],
)  # fmt: skip
def test_what_is_said(args: tuple[object, ...], line: str) -> None:
    assert advice(*args) == line
    assert len(line) <= 255


def test_a_weight_at_the_very_butt_changes_no_inertia_and_is_not_advised() -> None:
    inertia = OWN + 395.0 * 75.3**2 / 1000
    line = advice("inertia", 395.0, 75.3, inertia, None, None, inertia + 50, 10, 0.5, BUTT, *NO_STOCK)
    assert "g at the head" not in line


def test_the_butt_gets_what_the_head_that_was_weighted_needs() -> None:
    """The head can have 18 g of the 41 g it needs: a weight in the butt would only take more off the swingweight."""
    light = (380.0, 73.0, 2384.0)
    targets = ("D2", 1, 2720, 60)
    line = advice("both", *light, *targets, HEAD, BUTT, [[9]], [[5], [25]], 2)
    assert line.startswith("add 18 g at the head: then C9.2 (low)")
    # one size at the head and any at the butt: the swingweight is met, whatever the head's rounding left
    near = (395.0, 75.3, 2670.0)
    line = advice("both", *near, "D2", 1, 2720, 10, HEAD, BUTT, [[7]], None, 1)
    grams = grams_in(line, "butt")
    head = [number("HEFT_AFTER", *near[:2], 7, HEAD, what) for what in ("mass", "balance")]
    assert number("HEFT_AFTER", *head, grams, BUTT, "points") == approx(32, abs=0.03)
    assert "add 7 g at the head and " in line


def test_fewer_ways_are_told_where_there_is_little_room() -> None:
    asked = ("swingweight", *CLUB, "D0", 1, 2650, 21, HEAD, BUTT, *STOCK, 0, 0, *GRIP, 0.6, *_ALL_WAYS, *(None,) * 7)
    first, second, third = advice(*asked).split("; or ")
    for room, line in (
        (255, f"{first}; or {second}; or {third}"),
        (114, f"{first}; or {second}"),
        (60, first),
        (5, first),
    ):
        assert advice(*asked, room) == line


def test_a_target_without_a_tolerance_or_a_tolerance_without_a_target_asks_for_nothing() -> None:
    assert advice("swingweight", 395, 75.3, None, "D2") == ""
    assert advice("swingweight", 395, 75.3, None, None, 1) == ""
