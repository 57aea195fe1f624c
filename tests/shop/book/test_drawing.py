"""The template of the shop book is what its layout builds, and what its sheets ask is answered."""

from __future__ import annotations

import datetime
import io
import re
import zipfile
from pathlib import Path

import openpyxl
import pytest

from evenheft.formulas import REGISTRY
from evenheft.hosts.embedded import Computed
from evenheft.order.drawing.template import save_bytes
from evenheft.shop.book.drawing import build_book, write_book_template
from evenheft.shop.book.grid import BOOK_HEADING_ROW, FIRST_BOOK_ROW
from evenheft.shop.book.layout import BOOK_SHEETS, GRIP_LIST, WEIGHT_LIST
from evenheft.shop.book.questions import ASK, ASK_ROW, CUSTOMER, OVER_TIME
from evenheft.shop.book.reading import open_book
from shop_books import big_book, put_row

TEMPLATES = Path(__file__).parents[3] / "workbook_templates"


@pytest.fixture(scope="module")
def empty() -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(save_bytes(build_book())))


def computed(book: openpyxl.Workbook) -> Computed:
    return Computed.from_bytes(save_bytes(book), name="book.xlsx")


def test_the_committed_template_is_what_the_layout_builds(tmp_path: Path) -> None:
    built = write_book_template(tmp_path)
    with zipfile.ZipFile(built) as new, zipfile.ZipFile(TEMPLATES / built.name) as old:
        assert new.namelist() == old.namelist()
        assert [name for name in new.namelist() if new.read(name) != old.read(name)] == [], "run  evenheft templates"


def test_every_list_is_read_back_by_its_headings(tmp_path: Path) -> None:
    book = open_book(write_book_template(tmp_path))
    for name, declared in BOOK_SHEETS.items():
        listed = book.list(name)
        assert listed.heading_row == BOOK_HEADING_ROW
        assert listed.at == declared.at
        assert bool(listed.rows) == (name in ("shop", "usual")), name  # these two ship with what an order ships


def test_headings_of_a_list_differ() -> None:
    for declared in BOOK_SHEETS.values():
        headings = [column.heading.casefold() for column in declared.columns]
        assert len(set(headings)) == len(headings), declared.sheet


def test_formulas_are_known_and_answer_nothing_in_an_empty_book(empty: openpyxl.Workbook) -> None:
    found = computed(empty)
    for sheet in empty.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    assert set(re.findall(r"HEFT_\w+", cell.value)) <= set(REGISTRY)
                    shown = found.value(sheet.title, cell.row, cell.column)
                    assert shown in ("", 0.0), f"{sheet.title}!{cell.coordinate} shows {shown}"


def test_a_customers_clubs_are_listed_all_of_them() -> None:
    book = big_book(12, models=2)
    book[ASK]["B4"].value = "Invented 3"
    assert book.defined_names[CUSTOMER].attr_text == "Ask!$B$4"
    found = computed(book)
    rows = range(ASK_ROW, ASK_ROW + 12)
    assert [found.value(ASK, row, 1) for row in rows] == ["A-3"] * 10 + [""] * 2
    assert [found.value(ASK, row, 2) for row in rows] == [*map(float, range(1, 11)), "", ""]
    assert found.value(ASK, 4, 7) == "10 clubs"


def test_a_customer_nobody_knows_is_said() -> None:
    book = big_book(1, models=1)
    book[ASK]["B4"].value = "Nobody"
    found = computed(book)
    assert found.value(ASK, 4, 7) == "no club of that name: is it written so on Orders?"
    assert found.value(ASK, ASK_ROW, 1) == ""


def test_stock_is_the_count_less_what_was_kept_since_and_says_when_it_is_low() -> None:
    book = big_book(3, models=1)  # 30 clubs, kept on 6, 7 and 8 January 2020
    day = datetime.date(2020, 1, 7)
    put_row(book, GRIP_LIST, FIRST_BOOK_ROW, {"model": "Grip A", "counted": 25, "on": day, "least": 6})
    put_row(book, GRIP_LIST, FIRST_BOOK_ROW + 1, {"model": "Grip B", "counted": 7, "on": day, "least": 6})
    put_row(book, GRIP_LIST, FIRST_BOOK_ROW + 2, {"model": "Grip C", "counted": "a handful", "on": day, "least": 6})
    put_row(book, WEIGHT_LIST, FIRST_BOOK_ROW, {"size": 4, "where": "head", "counted": 100, "least": 5})
    put_row(book, WEIGHT_LIST, FIRST_BOOK_ROW + 1, {"size": 4, "where": "butt", "counted": 100, "least": 5})
    found = computed(book)
    assert [found.value("Grips", FIRST_BOOK_ROW + n, GRIP_LIST.at["hand"]) for n in range(3)] == [
        5.0,
        7.0,
        "! counted must be a number, got a handful",
    ]
    assert [found.value("Grips", FIRST_BOOK_ROW + n, GRIP_LIST.at["low"]) for n in range(3)] == ["low", "", ""]
    assert [found.value("Weights", FIRST_BOOK_ROW + n, WEIGHT_LIST.at["hand"]) for n in range(2)] == [70.0, 100.0]
    listed = [found.value(ASK, ASK_ROW + n, 16) for n in range(3)]
    assert listed == ["Grip A", "", ""]


def test_the_scale_over_all_orders_has_its_mean_and_drift() -> None:
    found = computed(big_book(40, models=1))
    first = OVER_TIME + 4
    count, bias, _, _, _, drift = (found.value("Scale", BOOK_HEADING_ROW + n, first) for n in range(6))
    assert count == 400
    assert bias == pytest.approx(0.2)  # the readings are the calculated ones and 0.2 points
    assert drift == round(365.25 / 1e4, 2)  # the differences grow by a ten-thousandth a day
