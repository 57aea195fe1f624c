"""Each quantity is judged with the doubt of its own instruments, and of no other."""

from __future__ import annotations

import openpyxl
import pytest

from evenheft.hosts.embedded import Computed
from evenheft.order.demo import DEMO_CLUBS, build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, SET
from evenheft.order.layout.quantities import QUANTITIES, judged

INSTRUMENTS = {
    "doubt_mass": {"swingweight", "mass", "inertia"}, "doubt_balance": {"swingweight", "inertia"},
    "doubt_watch": {"inertia"}, "doubt_pivot": {"inertia"}, "doubt_gravity": {"inertia"},
    "doubt_length": {"length"}, "doubt_loft": {"loft"}, "doubt_lie": {"lie"},
    "doubt_frequency": {"frequency"},
}  # fmt: skip
"""Each instrument's half-width on the Shop sheet, and the quantities whose doubt it goes into."""
OTHERS = {
    "doubt_mass": "1.7 g",
    "doubt_balance": "1.9 cm",
    "doubt_length": "2.1 cm",
    "doubt_watch": 0.31,
    "doubt_pivot": "2.3 cm",
}
ROW = FIRST_ROW + [club.period > 0 for club in DEMO_CLUBS].index(True)


def doubts(book: openpyxl.Workbook) -> dict[str, float]:
    computed = Computed.from_bytes(save_bytes(book))
    found = {q.key: computed.value("Set", ROW, SET.at[judged(q).doubt]) for q in QUANTITIES}
    assert all(isinstance(value, int | float) for value in found.values()), found
    return found


def order() -> openpyxl.Workbook:
    """The demo with everything of one club measured."""
    book = build_demo()
    for key, value in (("loft", 34.0), ("lie", 62.0), ("frequency", 312.0), ("length", "114.3 cm")):
        book["Bench"].cell(ROW, BENCH.at[key]).value = value
    return book


@pytest.fixture(scope="module")
def before() -> dict[str, float]:
    return doubts(order())


@pytest.mark.parametrize("instrument", INSTRUMENTS)
def test_an_instruments_half_width_goes_where_it_belongs(instrument: str, before: dict[str, float]) -> None:
    book = order()
    sheet, _, cell = book.defined_names[instrument].attr_text.replace("$", "").partition("!")
    book[sheet.strip("'")][cell].value = OTHERS.get(instrument, 3.3)
    after = doubts(book)
    assert {key for key in after if after[key] != pytest.approx(before[key], rel=1e-9)} == INSTRUMENTS[instrument]
    assert all(after[key] > before[key] for key in INSTRUMENTS[instrument])


def test_every_quantity_has_an_instrument() -> None:
    assert set().union(*INSTRUMENTS.values()) == {q.key for q in QUANTITIES}
