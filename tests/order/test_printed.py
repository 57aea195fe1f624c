"""The sheets on paper, as a real LibreOffice prints them: one page each, A4 and Letter, in type that can be read."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from calc_office import Calc, OpenBook
from evenheft.order.demo import build_demo
from evenheft.order.drawing.card_blocks import ROW_MM
from evenheft.order.drawing.set_blocks import BEYOND_THE_PAGE
from evenheft.order.drawing.template import ORDER_SHEETS, save_bytes
from evenheft.order.layout import CAUTION, PRINTED, QUANTITIES, TARGET
from printed_pages import Word, pages, words

PAPERS = {"A4": (595.3, 841.9), "LETTER": (612.0, 792.0)}
"""Each paper upright [pt]: ISO 216 A4, 210 mm by 297 mm; ANSI Letter, 8.5 in by 11 in."""
SMALLEST = 7.95
"""Eight points, less what a page's whole per cent of scale and poppler's rounding leave open [pt]."""
MM = 72 / 25.4


@pytest.fixture(scope="module", params=PAPERS)
def printed(
    request: pytest.FixtureRequest,
    calc: Calc,
    poppler: None,  # noqa: ARG001
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[tuple[str, OpenBook]]:
    """The demo order, for either paper."""
    book = build_demo()
    for sheet in book.worksheets:
        sheet.page_setup.paperSize = getattr(sheet, f"PAPERSIZE_{request.param}")
    path = tmp_path_factory.mktemp(request.param) / "demo-order.xlsx"
    path.write_bytes(save_bytes(book))
    with calc.open(path) as opened:
        opened.calculate(everything=True)
        yield request.param, opened


@pytest.mark.parametrize("sheet", ORDER_SHEETS)
def test_a_filled_sheet_is_one_page_of_its_paper_in_type_of_eight_points(
    printed: tuple[str, OpenBook], sheet: str
) -> None:
    paper, book = printed
    page = book.print_sheet(sheet)
    sizes = [sorted(size) for size in pages(page)]
    assert sizes == [pytest.approx(PAPERS[paper], abs=0.5)] * len(sizes)
    assert len(sizes) == 1 or sheet == "Guide"  # the guide is read, over as many pages as it takes
    found = words(page)
    small = [word for word in found if word.size is not None and word.size < SMALLEST]
    assert not small, (sheet, paper, small[:3])
    assert len(found) > 50


@pytest.mark.parametrize("sheet", ["Order", "Parts", "Card", "Bench", "Set", "Fix", "Supplier", "Scale"])
def test_rows_without_a_club_are_not_printed(printed: tuple[str, OpenBook], sheet: str) -> None:
    """The first column holds the numbers of the nine clubs, and on Order that of the next one to type."""
    _, book = printed
    numbers = [word.text for word in _numbers(words(book.print_sheet(sheet)))]
    assert numbers == [str(n) for n in range(1, 11 if sheet == "Order" else 10)]


def test_set_prints_its_table_and_no_chart(printed: tuple[str, OpenBook]) -> None:
    _, book = printed
    texts = [word.text for word in words(book.print_sheet("Set"))]
    assert texts.count("Verdict") == 4
    assert not {"Target", "accepted"} & set(texts), "a chart's legend"
    assert BEYOND_THE_PAGE not in " ".join(texts)


def test_more_judged_quantities_than_a_page_holds_are_told_on_it(
    calc: Calc,
    tmp_path: Path,
    poppler: None,  # noqa: ARG001
) -> None:
    book = build_demo()
    for quantity in QUANTITIES:
        cell = book["Order"].cell(TARGET.first_row, TARGET.at[f"{quantity.key}_first"])
        cell.value = cell.value if cell.value is not None else 60
    path = tmp_path / "all-seven.xlsx"
    path.write_bytes(save_bytes(book))
    with calc.open(path) as opened:
        opened.calculate(everything=True)
        found = words(opened.print_sheet("Set"))
    printed = " ".join(word.text for word in found)
    assert printed.count("Verdict") == PRINTED < len(QUANTITIES)
    assert BEYOND_THE_PAGE in printed
    assert all(word.size >= SMALLEST for word in found if word.size is not None)


def test_the_card_has_rows_to_write_in_and_says_what_each_club_must_be(printed: tuple[str, OpenBook]) -> None:
    _, book = printed
    found = words(book.print_sheet("Card"))
    numbers = _numbers(found)
    steps = [below.top - above.top for above, below in pairwise(numbers)]
    assert len(steps) == 8
    assert all(8 * MM <= step <= 8.5 * MM for step in steps), steps
    assert not set(CAUTION.split()) - {word.text for word in found}
    seven = _in_row(found, numbers[3])
    for text in ("7-iron", "D2.0", "0.5", "2665", "60", "93.98", "62.0", "0.75"):
        assert text in seven, (text, seven)


def _numbers(found: list[Word]) -> list[Word]:
    """The numbers in the first column, from above."""
    heading = next(word for word in found if word.text == "No.")
    middle = (heading.left + heading.right) / 2
    column = [
        word for word in found
        if word.text.isdigit() and word.top > heading.bottom and abs((word.left + word.right) / 2 - middle) < 3
    ]  # fmt: skip
    return sorted(column, key=lambda word: word.top)


def _in_row(found: list[Word], number: Word) -> list[str]:
    middle = (number.top + number.bottom) / 2
    half = ROW_MM * MM / 2
    return [w.text for w in found if abs((w.top + w.bottom) / 2 - middle) < half]
