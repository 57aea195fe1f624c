"""Where a set should lie: what a builder types and reads."""

from __future__ import annotations

from typing import Any

import pytest
from pytest import approx

from evenheft.formulas.changes import NEAREST
from evenheft.formulas.set_line import MOST_CLUBS
from formula_answers import heft, number

PLACES = [[1], [2], [3], [4]]


def test_a_reference_club_fills_the_line_that_runs_through_it() -> None:
    first = number("HEFT_FIRST", "D2", 0.5, 4)
    assert first == 30.5
    assert number("HEFT_TARGET", first, 0.5, 4) == 32.0
    assert number("HEFT_TARGET", number("HEFT_FIRST", 2712.5, 0, 4), 0, 1) == 2712.5
    assert heft("HEFT_FIRST", [["D2"], [None]], 0.5, 4) == ((30.5,), ("",))


def test_the_line_that_costs_least_is_reached_with_what_it_costs() -> None:
    values = [[30.0], [33.0], [31.5], ["D3"]]
    first = number("HEFT_LEAST_LINE", PLACES, values, 95, 0.5, 0, "first")
    assert first == 32.5
    added = []
    for value in (30.0, 33.0, 31.5, 33.0):
        lacking = max(first - 0.5 - value, 0.0)
        added.append(lacking / number("HEFT_PER_GRAM", 95))
    assert number("HEFT_LEAST_LINE", PLACES, values, 95, 0.5, 0, "grams") == approx(sum(added))
    assert number("HEFT_LEAST_LINE", PLACES, values, 95, 0.5, 0, "most") == approx(max(added))


def test_an_increment_is_offered_too_where_it_spares_mass() -> None:
    values = [[30.0], [31.1], [31.9], [33.0]]
    kept = number("HEFT_LEAST_LINE", PLACES, values, 95, 0.2, 0, "grams")
    offered = number("HEFT_LEAST_LINE", PLACES, values, 95, 0.2, None, "grams")
    assert offered == approx(0, abs=1e-9) and kept > 5
    assert 0.8 <= number("HEFT_LEAST_LINE", PLACES, values, 95, 0.2, None, "increment") <= 1.2
    near = number("HEFT_LEAST_LINE", PLACES, values, 95, 0.2, 0.5, "increment", None, None, 0.25)
    assert near == approx(0.75)
    assert number("HEFT_LEAST_LINE", PLACES, values, 95, 0.2, 1.5, "increment", None, None, 0.25) == approx(1.25)


def test_an_increment_is_looked_for_among_all_that_a_set_can_have() -> None:
    alike = [[30.0], [30.2], [30.1], [30.0]]
    assert number("HEFT_LEAST_LINE", PLACES, alike, 95, 0.5, None, "increment") == 0  # nothing to be gained by another
    light = [[-3.0], [-2.0], [-1.0], [0.0]]  # clubs for children lie below A0
    assert number("HEFT_LEAST_LINE", PLACES, light, 95, 0, None, "increment") == approx(1)


def test_the_most_clubs_and_the_nearest_places_are_bounds_that_are_still_taken() -> None:
    places = [[n] for n in range(1, MOST_CLUBS + 2)]
    assert number("HEFT_LEAST_LINE", places[:-1], [[30.0]] * MOST_CLUBS, 95, 0, 0, "first") == 30
    refused = heft("HEFT_LEAST_LINE", places, [[30.0]] * len(places), 95, 0, 0, "first")
    assert refused == f"! values must hold at most {MOST_CLUBS} clubs, got {MOST_CLUBS + 1}"
    inertias = [[2600], [2600.1]]
    grams = number("HEFT_LEAST_LINE", [[1], [2]], inertias, NEAREST, 0, 0, "grams", None, "inertia")
    assert grams == approx(100 / NEAREST**2)
    assert heft("HEFT_LEAST_LINE", [[1], [2]], inertias, 0.9 * NEAREST, 0, 0, "grams", None, "inertia") == (
        f"! positions (cell 1) must be at least {NEAREST:g} cm from the butt, where mass adds to the inertia, "
        f"got {0.9 * NEAREST:g} cm"
    )


def test_for_inertia_for_mass_and_in_ounces() -> None:
    inertias = [[2600], [2650], [None], [2640]]
    positions = [[94], [93], [92], [91]]
    assert number("HEFT_LEAST_LINE", PLACES, inertias, positions, 10, 0, "first", None, "inertia") == 2640
    grams = number("HEFT_LEAST_LINE", PLACES, inertias, positions, 10, 0, "grams", None, "inertia")
    assert grams == approx(30 * 1000 / 94**2)
    ounces = number(
        "HEFT_LEAST_LINE", PLACES, inertias, [[x[0] / 2.54] for x in positions], 10, 0, "grams", "oz in", "inertia"
    )
    assert ounces * 28.349523125 == approx(grams)
    assert number("HEFT_LEAST_LINE", PLACES, [[395], [405], [405], [412]], 90, 2, 7, "grams", None, "mass") == approx(
        6.0
    )


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_LEAST_LINE", ([[1], [2]], [[30, 31]], 95, 0.5), "! places and values must be ranges of equal shape"),
        ("HEFT_LEAST_LINE", ([[1], [2]], [[30], [31]], [[95], [94], [93]], 0.5),
         "! positions must be one cell, or a range of the shape of places"),
        ("HEFT_LEAST_LINE", ([[1], [2]], [[30], [31]], [[95], [None]], 0.5),
         "! where mass is to go on club 2 is not known (positions is blank there): type its length"),
        ("HEFT_LEAST_LINE", ([[1], [2]], [[30], [31]], 20, 0.5),
         "! positions (cell 1) must be at least 36.56 cm from the butt, where mass adds to the swingweight, got 20 cm"),
        ("HEFT_LEAST_LINE", ([[1], [2]], [[None], [""]], 95, 0.5), ""),
        ("HEFT_LEAST_LINE", ([[1], [None]], [[None], [30]], 95, 0.5),
         "! values must hold at least one club with a place"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str) -> None:
    assert heft(name, *args) == message


def test_a_line_leaves_each_club_in_whatever_its_doubt() -> None:
    """Four irons from an examiner's bench, each 0.7 points sure: a tolerance of 1.2 leaves 0.5."""
    values = [[30.93], [33.16], [31.7], [29.2]]
    doubts = [[0.7]] * 4
    first = number("HEFT_LEAST_LINE", PLACES, values, 95, 1.2, 0, "first", None, None, None, None, None, doubts)
    assert first == approx(33.16 - 0.5)
    for (value,), (doubt,) in zip(values, doubts, strict=True):
        filled = max(value, first - 0.5)
        assert heft("HEFT_VERDICT", filled, first, 1.2 + 1e-9, doubt) == "in"
    least = number("HEFT_LEAST_LINE", PLACES, values, 95, 0.5, 0, "grams")
    sure = number("HEFT_LEAST_LINE", PLACES, values, 95, 1.2, 0, "grams", None, None, None, None, None, doubts)
    assert sure == approx(least)


def test_of_other_groups_no_place_and_no_doubt_counts() -> None:
    values, groups = [[30.0], [31.0], [40.0], [41.0]], [["Irons"], ["Irons"], ["Putter"], ["Putter"]]
    at, doubts = [[95], [94.5], [None], [80]], [[0.2], [0.2], [9], [9]]
    asked = (PLACES, values, at, 0.5, 0, "line", None, None, None, groups)
    assert heft("HEFT_LEAST_LINE", *asked, "Irons", doubts) == heft(
        "HEFT_LEAST_LINE", PLACES[:2], values[:2], at[:2], 0.3, 0, "line"
    )
    lacking = "! where mass is to go on club 3 is not known (positions is blank there): type its length"
    assert heft("HEFT_LEAST_LINE", *asked, "Putter", [[0.1]] * 4) == lacking
    sure = heft("HEFT_LEAST_LINE", PLACES, values, 95, 0.5, 0, "line", None, None, None, groups, "Putter", doubts)
    assert sure == "! the tolerance, 0.5, must be more than the values' doubt, 9, for any club to be in"


def test_what_no_shop_would_add_is_refused() -> None:
    line = heft("HEFT_LEAST_LINE", [[1], [2]], [[-900], [31]], 95, 0.5, 0, "line")
    assert isinstance(line, str) and line.endswith(
        "g would have to be added to one club, more than any shop does (150 g): another line or another head"
    )
