"""docs/background.md tells what the demo's irons and the formulas say, and its drawing is what its code draws."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from background_drawing import MATCHED, PICTURE, Matched, drawing, irons
from evenheft.formulas import REGISTRY, call
from evenheft.mechanics.swingweight import FULCRUM, POINT

TEXT = (PICTURE.parents[1] / "background.md").read_text(encoding="utf-8")
MASS, BALANCE, INERTIA = 395, 75.3, 2670


@pytest.fixture(scope="module")
def clubs() -> list[Matched]:
    return irons()


def test_the_table_and_the_drawing_are_the_demo_s(clubs: list[Matched]) -> None:
    rows = re.findall(r"^\| \d-iron \|.*$", TEXT, re.MULTILINE)
    assert rows == [club.row for club in clubs]
    assert PICTURE.read_text(encoding="utf-8") == drawing(clubs)


def test_a_set_even_in_one_is_not_even_in_the_other(clubs: list[Matched]) -> None:
    falls = [before.inertia_then - after.inertia_then for before, after in pairwise(clubs)]
    rises = [after.points_then - before.points_then for before, after in pairwise(clubs)]
    assert min(falls) > 0
    assert min(rises) > 0
    assert f"about {sum(falls) / len(falls):.0f} kg cm2 a club" in TEXT
    assert f"about {sum(rises) / len(rises):.1f} of a point a club" in TEXT


def test_what_was_matched_comes_out_by_the_formulas(clubs: list[Matched]) -> None:
    wanted = call(REGISTRY["HEFT_FROM_LABEL"], [MATCHED])
    assert isinstance(wanted, float)
    for club in clubs:  # inertia rises with mass at the head exactly where points had to rise
        assert (club.inertia_then > club.inertia) == (club.points < wanted)


def test_what_a_gram_does_is_told() -> None:
    rows = re.findall(r"^\| [a-z ]+, ([\d.]+) cm \| ([+-][\d.]+) \| ([+-][\d.]+) \|$", TEXT, re.MULTILINE)
    assert len(rows) == 5
    for place, points, inertia in rows:
        at = float(place)
        now, then = ([what, "g cm", INERTIA, *[None] * 6] for what in ("points", "inertia"))
        read = [call(REGISTRY["HEFT_WHAT_IF"], [MASS, BALANCE, *asked, None, None, 1, at]) for asked in (now, then)]
        before = call(REGISTRY["HEFT_POINTS"], [MASS, BALANCE])
        assert isinstance(before, float)
        assert isinstance(read[0], float)
        assert isinstance(read[1], float)
        assert f"{read[0] - before + 0.0:+.2f}" == points
        assert f"{read[1] - INERTIA + 0.0:+.1f}" == inertia
        assert read[0] - before == pytest.approx((at - FULCRUM) / POINT, abs=1e-9)
