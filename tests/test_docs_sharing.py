"""docs/sharing.md tells which layouts are read: each is read here, and none is told that is not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenheft.order.supplier.other_formats import ENDINGS
from evenheft.shop.earlier import MARK
from evenheft.shop.offers import USUAL_OFFERS
from shop.tables import CLUBS, HEADINGS, tables

TEXT = (Path(__file__).parents[1] / "docs" / "sharing.md").read_text(encoding="utf-8")
TOLD = re.findall(r"^\| ([^|]+) \|", TEXT.split("| layout | what is read |")[1].split("\n\n")[0], re.MULTILINE)[1:]

LAYOUTS: dict[str, tuple[list[list[object]], list[str]]] = {
    "one row of headings, a club in each row": ([HEADINGS, *CLUBS], ["rows"]),
    "two rows of headings": ([["Club", "Mass", "Balance"], [None, "g", "cm"], *CLUBS], ["rows"]),
    "several tables on a sheet": (
        [[*HEADINGS, None, *HEADINGS], *([*club, None, *club] for club in CLUBS)],
        ["rows", "rows"],
    ),
    "clubs in columns": ([["Club", "5i", "6i"], ["Mass (g)", 415, 420], ["Balance (in)", 29, 28.5]], ["columns"]),
    "job cards": ([["Club", "7-iron"], ["Mass (g)", 428.4], ["Balance (in)", 28.4]], ["cards"]),
    "groups": ([HEADINGS, ["Irons"], *CLUBS, ["Wedges"], ["PW", 450, 70]], ["rows"]),
}


def test_each_layout_that_is_read_is_told() -> None:
    assert [name for name in TOLD if not name.startswith("---")] == list(LAYOUTS)


@pytest.mark.parametrize("name", LAYOUTS)
def test_each_layout_that_is_told_is_read(name: str) -> None:
    rows, layouts = LAYOUTS[name]
    found = tables(rows)
    assert [table.layout for table in found] == layouts
    assert all(table.holding("mass") and table.holding("balance") for table in found)
    assert bool(found[0].groups) == (name == "groups")


def test_formats_and_usual_columns_are_told() -> None:
    assert all(ending in TEXT for ending in ENDINGS)
    assert all(re.search(rf"\b{key}\b", TEXT) for key in USUAL_OFFERS)
    assert MARK == "(Evenheft)"
