"""What a new order ships: the doubts that docs/measuring.md tells a newcomer to write, and what these support."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenheft.formulas import REGISTRY, call
from evenheft.hosts.embedded import Computed
from evenheft.mechanics import units
from evenheft.mechanics.doubt import combined_doubt, points_parts
from evenheft.mechanics.forecast_doubt import Doubts
from evenheft.mechanics.head_rise import HEADS
from evenheft.mechanics.tolerance import least_tolerance
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import (
    FORECAST_DOUBTS,
    GROUP_HEADS,
    GROUP_NAMES,
    INSTRUMENTS,
    QUANTITIES,
    TARGET,
    USUAL,
    shipped_tolerance,
)

DOCS = Path(__file__).parents[3] / "docs"
WRITTEN = {
    "gram scale that reads tenths": "doubt_mass",
    "balance, edge and tape": "doubt_balance",
    "stopwatch, for the whole time of the swings counted": "doubt_watch",
    "length by the tape": "doubt_length",
    "pivot": "doubt_pivot",
    "gravity, left at 980.665": "doubt_gravity",
    "epoxy that stays in the joint, guessed": "doubt_epoxy",
}
"""Rows of the page's table, and the settings that they are shipped as."""


def shipped() -> dict[str, object]:
    return {setting.name: setting.value for setting in INSTRUMENTS}


def plain(value: object) -> float:
    """A setting's number, without its unit."""
    return float(str(value).split()[0])


def test_shipped_doubts_are_those_that_the_page_tells_a_newcomer_to_write() -> None:
    page = (DOCS / "measuring.md").read_text(encoding="utf-8").partition("### What to write")[2]
    table = dict(re.findall(r"^\| ([^|]+?) \| ([\d.]+ [^|]+?) \|$", page, re.MULTILINE))
    assert {row: plain(table[row]) for row in WRITTEN} == {row: plain(shipped()[name]) for row, name in WRITTEN.items()}


def test_shipped_tolerances_are_those_that_the_page_names() -> None:
    page = " ".join((DOCS / "measuring.md").read_text(encoding="utf-8").split())
    named = page.partition("tolerances for its groups that they support: ")[2]
    tolerances = {
        key: shipped_tolerance("Irons", key) for key in ("swingweight", "mass", "inertia", "length", "lie", "loft")
    }
    assert tolerances["lie"] == tolerances["loft"] == 0.5
    putter = shipped_tolerance("Putter", "swingweight")
    assert named.startswith(
        f"{tolerances['swingweight']} points of swingweight ({putter} of a putter), {tolerances['inertia']} kg cm2, "
        f"{tolerances['mass']}, {tolerances['length']}, half a degree."
    )


def test_the_formulas_own_defaults_are_the_same() -> None:
    doubts = Doubts()
    for heading, _, name in FORECAST_DOUBTS:
        key = heading.removesuffix(" doubt").lower().replace(" ", "_")
        assert getattr(doubts, key) == plain(shipped()[name]), name


def test_an_order_reads_its_own_doubts_in_its_own_units() -> None:
    book = build_order()
    sheet, _, cell = book.defined_names["shop_units"].attr_text.replace("$", "").partition("!")
    book[sheet][cell].value = "oz in"
    computed = Computed.from_bytes(save_bytes(book))
    area = computed.named_area("shop_doubts")
    assert area is not None
    rows = [[computed.value(area[0], row, area[2] + n) for n in (0, 1)] for row in range(area[1], area[1] + 6)]
    assert rows[0] == ["Mass doubt (oz)", "0.1 g"]
    assert rows[1] == ["Balance doubt (in)", "0.2 cm"]


@pytest.mark.parametrize(
    ("group", "mass", "balance"),
    # Masses and balance points of usual clubs (from memory): the doubt grows with the mass.
    [("Driver", 320, 85.5), ("Woods", 345, 81.0), ("Hybrids", 380, 77.0), ("Irons", 445, 71.0), ("Wedges", 470, 69.5),
     ("Putter", 560, 66.0)],
)  # fmt: skip
def test_shipped_tolerances_are_supported_by_the_shipped_doubts(group: str, mass: float, balance: float) -> None:
    doubts = {name: plain(value) for name, value in shipped().items()}
    of_points = combined_doubt(*points_parts(mass, balance, doubts["doubt_mass"], doubts["doubt_balance"]))
    assert least_tolerance(of_points) <= shipped_tolerance(group, "swingweight")
    inertia = call(REGISTRY["HEFT_INERTIA_DOUBT"], (
        float(mass), balance, 18.7, doubts["doubt_mass"], doubts["doubt_balance"], doubts["doubt_watch"],
        None, None, None, None, doubts["shop_swings"], None, doubts["doubt_pivot"], doubts["doubt_gravity"],
    ))  # fmt: skip
    assert isinstance(inertia, float)
    if group != "Putter":  # hardly anybody swings one
        assert least_tolerance(inertia) <= plain(shipped_tolerance(group, "inertia"))
    for quantity, doubt in (("mass", "doubt_mass"), ("length", "doubt_length"), ("loft", "doubt_loft"),
                            ("lie", "doubt_lie"), ("frequency", "doubt_frequency")):  # fmt: skip
        assert least_tolerance(doubts[doubt]) <= plain(shipped_tolerance(group, quantity)), quantity


def test_every_group_of_a_new_order_has_its_tolerances_and_its_own_guess_of_a_head() -> None:
    book = build_order()
    for at, group in enumerate(GROUP_NAMES):
        cells = [book["Order"].cell(TARGET.first_row + at, TARGET.at[f"{q.key}_tolerance"]).value for q in QUANTITIES]
        assert cells == [shipped_tolerance(group, q.key) for q in QUANTITIES]
    usual = {
        book["Shop"].cell(row, USUAL.at["group"]).value: [
            book["Shop"].cell(row, USUAL.at[key]).value for key in ("head_rise", "head_rise_doubt")
        ]
        for row in range(USUAL.first_row, USUAL.last_row + 1)
    }
    for group, kind in GROUP_HEADS.items():
        rise, doubt = (units.read_quantity(str(typed), "length", units.BY_SYMBOL["cm"]) for typed in usual[group])
        assert (rise, doubt) == (round(HEADS[kind].rise, 1), round(HEADS[kind].doubt, 1))
