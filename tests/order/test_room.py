"""No text is cut off at its cell's edge, measured by a real LibreOffice: labels, headings, lines of advice, flags."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from calc_office import Calc, OpenBook
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import ORDER_SHEETS, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, LAST_ROW, ORDER, PARTS, QUANTITIES, SET, TARGET

SEEN = "A1:AD110"


def crowded(path: Path) -> Path:
    """The demo order with every quantity judged and much flagged, a unit that needs more room, long names."""
    book = build_demo()
    for quantity in QUANTITIES:
        cell = book["Order"].cell(TARGET.first_row + 3, TARGET.at[f"{quantity.key}_first"])
        cell.value = cell.value if cell.value is not None else 60
    for row in range(FIRST_ROW + 1, FIRST_ROW + 6):
        for key, value in (("loft", 24), ("lie", 66), ("frequency", 300), ("length", 100)):
            book["Bench"].cell(row, BENCH.at[key]).value = value
    book["Parts"].cell(FIRST_ROW + 3, PARTS.at["head_mass"]).value = 262
    path.write_bytes(save_bytes(book))
    return path


@pytest.fixture(scope="module", params=["demo", "crowded"])
def shown(
    request: pytest.FixtureRequest, calc: Calc, demo: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[OpenBook]:
    made = demo if request.param == "demo" else crowded(tmp_path_factory.mktemp("crowded") / "order.xlsx")
    with calc.open(made) as book:
        book.calculate(everything=True)
        yield book


@pytest.mark.parametrize("sheet", ORDER_SHEETS)
def test_no_text_is_cut_off(shown: OpenBook, sheet: str) -> None:
    assert shown.cut_off(sheet, SEEN) == {}


def test_a_text_without_room_is_found(calc: Calc, demo: Path) -> None:
    with calc.open(demo) as book:
        book.calculate(everything=True)
        club = f"{ORDER.letter('club')}{FIRST_ROW}"
        book.type("Order", club, "A driver with a name far longer than any that a builder gives it")
        book.calculate(everything=True)
        assert club in book.cut_off("Order", f"{club}:{ORDER.letter('group')}{LAST_ROW}")
        assert SET.sheet in book.sheets()
