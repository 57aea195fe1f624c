"""Shafts by number and grips by model: from the shop book into an order's lists, onto Parts, and kept again."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from calc_office import Calc
from evenheft.hosts.embedded import Computed
from evenheft.order.cells import OrderCells
from evenheft.order.layout import BENCH, FIRST_ROW, GRIPS, ORDER, PARTS, SHAFTS, TARGET
from evenheft.order.report import open_order
from evenheft.shop.book.drawing import write_book_template
from evenheft.shop.book.finding import BOOK_NAME
from evenheft.shop.book.grid import FIRST_BOOK_ROW
from evenheft.shop.book.layout import BOOK_SHEETS
from evenheft.shop.book.reading import open_book
from shop_books import put_row, run

OF_BOOK = (
    {"number": 11, "mass": 101.5, "length": "39 in", "balance": 48.25},
    {"number": "S-7", "mass": "3.6 oz", "length": 99.06, "balance": 47.5, "aside": "ORDER-9"},
    {"number": 12, "mass": 98.25, "length": 99.06, "balance": 48.0},
)
GRIP = {"model": "Grip A", "mass": 50.5, "balance": 11.5, "counted": 9, "on": 45000, "least": 8}


def a_book(folder: Path, shafts: tuple[dict[str, object], ...] = OF_BOOK) -> Path:
    path = write_book_template(folder)
    book = openpyxl.load_workbook(path)
    for row, shaft in enumerate(shafts, start=FIRST_BOOK_ROW):
        put_row(book, BOOK_SHEETS["shafts"], row, shaft)
    put_row(book, BOOK_SHEETS["grips"], FIRST_BOOK_ROW, GRIP)
    book.save(path)
    return path


PARTS_OF = {"head_mass": 270, "club_length": "37 in", "tape": 1.4, "epoxy": 2.5, "rise_known": "1.5 cm"}


def fill(path: Path, *clubs: dict[str, object], finished: bool = False) -> None:
    """Type clubs by keys of Parts into an order, beside what all of them have."""
    book = openpyxl.load_workbook(path)
    order = book[ORDER.sheet]
    order[book.defined_names["order_number"].attr_text.split("!")[1].replace("$", "")] = "ORDER-1"
    for row, club in enumerate(clubs, start=FIRST_ROW):
        order.cell(row, ORDER.at["club"]).value, order.cell(row, ORDER.at["group"]).value = f"{row}-iron", "Irons"
        for key, value in {**PARTS_OF, **club}.items():
            book[PARTS.sheet].cell(row, PARTS.at[key]).value = value
        if finished:
            book[BENCH.sheet].cell(row, BENCH.at["done_mass"]).value = 425.0
            book[BENCH.sheet].cell(row, BENCH.at["done_balance"]).value = 72.0
    assert order.cell(TARGET.first_row, TARGET.at["group"]).value is not None
    book.save(path)


def cells_of(path: Path) -> OrderCells:
    return OrderCells(open_order(path).computed)


def a_new_order(folder: Path, *clubs: dict[str, object], finished: bool = False) -> OrderCells:
    assert run("new", folder / "order.xlsx")[0] == 0
    fill(folder / "order.xlsx", *clubs, finished=finished)
    return cells_of(folder / "order.xlsx")


def as_read(cells: OrderCells, number: int) -> list[float | None]:
    masses = [cells.mass("parts", number, key) for key in ("c_shaft_mass", "c_grip_mass")]
    lengths = [cells.length("parts", number, key) for key in ("c_shaft_length", "c_shaft_balance", "c_grip_balance")]
    return [*masses, *lengths]


def test_a_new_order_lists_the_books_shafts_and_grips_free_ones_first(tmp_path: Path) -> None:
    a_book(tmp_path)
    code, text = run("new", tmp_path / "order.xlsx")
    assert code == 0
    assert "3 shafts, 1 grips." in text
    shop = openpyxl.load_workbook(tmp_path / "order.xlsx")["Shop"]
    rows = [[shop.cell(SHAFTS.first_row + n, SHAFTS.at[key]).value for key in ("shaft", "mass", "length", "aside")]
            for n in range(4)]  # fmt: skip
    assert rows == [
        [11, "101.5 g", "99.06 cm", None],
        [12, "98.25 g", "99.06 cm", None],
        ["S-7", "102.0583 g", "99.06 cm", "ORDER-9"],
        [None] * 4,
    ]
    assert [shop.cell(GRIPS.first_row, GRIPS.at[key]).value for key in ("grip", "mass", "balance")] == [
        "Grip A", "50.5 g", "11.5 cm"]  # fmt: skip


def test_a_number_on_parts_brings_mass_length_and_balance(tmp_path: Path) -> None:
    a_book(tmp_path)
    listed = {"shaft_number": 11, "grip_model": "Grip A"}
    typed = {"shaft_mass": 101.5, "shaft_length": "39 in", "shaft_balance": 48.25, "grip_mass": 50.5}
    cells = a_new_order(
        tmp_path,
        listed,
        {**typed, "shaft_number": 12},
        {"shaft_number": "11", "grip_model": "grip a", "shaft_mass": 99.0},
        {"shaft_number": "s-7", "grip_mass": 47},
    )
    assert as_read(cells, 1) == [101.5, 50.5, 99.06, 48.25, 11.5]
    assert as_read(cells, 2) == [101.5, 50.5, 99.06, 48.25, 11.0]  # what is typed wins, whatever the number
    assert as_read(cells, 3) == [99.0, 50.5, 99.06, 48.25, 11.5]  # each cell by itself
    assert as_read(cells, 4) == [102.0583, 47.0, 99.06, 47.5, 11.0]
    shown = [cells.number("parts", n, "shaft_mass_from") for n in (1, 2, 3)]
    assert shown == [101.5, None, None]  # a number says whose it is
    for n in range(1, 5):
        assert cells.number("parts", n, "mass") is not None
        assert cells.number("parts", n, "head_wanted") is not None or cells.raw("set", n, "swingweight_goal") is None


def test_a_number_that_is_not_listed_asks_for_the_scale_and_a_weighed_part_needs_no_list(tmp_path: Path) -> None:
    weighed = {"shaft_mass": 100.0, "shaft_length": "39 in", "grip_mass": 50}
    assert run("new", tmp_path / "order.xlsx", "--no-shop")[0] == 0
    fill(tmp_path / "order.xlsx", {"shaft_number": 77, "grip_model": "Grip Z"},
         {**weighed, "shaft_number": 77, "grip_model": "Grip Z"}, weighed)  # fmt: skip
    cells = cells_of(tmp_path / "order.xlsx")
    message = str(cells.raw("parts", 1, "mass"))
    assert message.startswith("! ")
    assert "shaft 77 is not listed on Shop: weigh it" in message
    assert cells.number("parts", 2, "mass") == cells.number("parts", 3, "mass")
    assert cells.length("parts", 2, "c_grip_balance") == cells.length("parts", 3, "c_grip_balance")


def test_what_was_used_is_kept_as_the_book_writes_it_and_leaves_the_next_orders_list(tmp_path: Path) -> None:
    path = a_book(tmp_path)
    clubs = ({"shaft_number": "11", "grip_model": "GRIP A"}, {"shaft_number": 12, "grip_model": "Grip A"})
    a_new_order(tmp_path, *clubs, finished=True)
    assert run("shop", "keep", tmp_path / "order.xlsx")[0] == 0
    used = open_book(path).list("used")
    assert [(used.value(row, "shaft"), used.value(row, "grip")) for row in used.rows] == [
        (11.0, "Grip A"), (12.0, "Grip A")]  # fmt: skip
    orders = open_book(path).list("orders")
    assert [orders.text(row, "shaft") for row in orders.rows] == ["11", "12"]
    computed = Computed.open(path)
    shafts, grips = BOOK_SHEETS["shafts"], BOOK_SHEETS["grips"]
    where = [computed.value("Shafts", FIRST_BOOK_ROW + n, shafts.at["used"]) for n in range(3)]
    assert where == ["ORDER-1, no. 1", "", "ORDER-1, no. 2"]
    assert [computed.value("Grips", FIRST_BOOK_ROW, grips.at[key]) for key in ("since", "hand", "low")] == [2, 7, "low"]
    code, text = run("new", tmp_path / "next.xlsx")
    assert code == 0
    assert "1 shafts, 1 grips." in text
    assert run("shop", "forget", "ORDER-1", "--shop", path)[0] == 0
    assert "3 shafts" in run("new", tmp_path / "again.xlsx")[1]


def test_like_takes_the_grips_model_over_and_weighs_no_grip(tmp_path: Path) -> None:
    a_book(tmp_path)
    a_new_order(tmp_path, {"shaft_number": 11, "grip_model": "Grip A"})
    assert run("new", tmp_path / "next.xlsx", "--like", tmp_path / "order.xlsx")[0] == 0
    cells = cells_of(tmp_path / "next.xlsx")
    assert cells.text("parts", 1, "shaft_number") is None
    assert cells.number("parts", 1, "grip_mass_from") == 50.5


def test_check_tells_where_a_listed_part_has_come_to_differ(tmp_path: Path) -> None:
    a_book(tmp_path)
    a_new_order(tmp_path, {"shaft_number": 11, "grip_model": "Grip A"})
    assert "has come to differ" not in run("check", tmp_path / "order.xlsx")[1]
    a_book(tmp_path, ({**OF_BOOK[0], "mass": 103.0}, *OF_BOOK[1:]))
    text = " ".join(run("check", tmp_path / "order.xlsx")[1].split())
    assert f"{BOOK_NAME} has come to differ" in text
    assert "Shaft 11, mass: 101.5 g here, 103 g in the book" in text


def test_more_shafts_than_an_order_has_room_for_are_told(tmp_path: Path) -> None:
    many = tuple({"number": n, "mass": 100.0, "length": 99.0} for n in range(1, SHAFTS.rows + 4))
    a_book(tmp_path, many)
    code, text = run("new", tmp_path / "order.xlsx")
    assert code == 0
    assert "3 more shafts of the book have no room on Shop" in " ".join(text.split())


def test_libreoffice_finds_the_same_parts(calc: Calc, tmp_path: Path) -> None:
    a_book(tmp_path)
    cells = a_new_order(
        tmp_path,
        {"shaft_number": 11, "grip_model": "Grip A"},
        {"shaft_number": "11", "grip_model": "grip a"},
        {"shaft_number": "S-7", "grip_mass": 47},
        {"shaft_number": "S-8", "grip_mass": 47},
    )
    with calc.open(tmp_path / "order.xlsx") as book:
        book.calculate(everything=True)
        for number in range(1, 5):
            for key in ("mass", "swingweight", "shaft_mass_from", "cut_length"):
                expected = cells.raw("parts", number, key)
                found = book.value("Parts", f"{PARTS.letter(key)}{FIRST_ROW + number - 1}")
                wanted = pytest.approx(expected, abs=1e-9) if isinstance(expected, float) else expected or ""
                assert found == wanted, (number, key)
