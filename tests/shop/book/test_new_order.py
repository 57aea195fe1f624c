"""`evenheft new` fills an order from the shop book and an earlier order; `check` tells where they came to differ."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from evenheft.order.cells import OrderCells
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import ORDER, PARTS, SETTINGS, TARGET, USUAL
from evenheft.order.report import open_order
from evenheft.shop.book.drawing import write_book_template
from evenheft.shop.book.finding import VARIABLE
from evenheft.shop.book.grid import FIRST_BOOK_ROW
from evenheft.shop.book.into_order import SNAPSHOT, differences, filled_from, numbers_of_book
from evenheft.shop.book.layout import BOOK_SETTINGS, BOOK_SHEETS
from evenheft.shop.book.reading import open_book
from shop_books import put_row, run


def a_book(folder: Path, settings: dict[str, object] | None = None, usual: dict[str, object] | None = None) -> Path:
    """A shop book with some settings of its own by their names, and some usual values of the group Irons."""
    path = write_book_template(folder)
    book = openpyxl.load_workbook(path)
    labels = {setting.name: setting.label for setting in SETTINGS}
    shop, shop_at = book["Shop"], BOOK_SHEETS["shop"].at
    for name, value in (settings or {}).items():
        row = next(r for r in range(FIRST_BOOK_ROW, 60) if shop.cell(r, shop_at["setting"]).value == labels[name])
        shop.cell(row, shop_at["value"]).value = value
    sheet, at = book["Usual"], BOOK_SHEETS["usual"].at
    row = next(r for r in range(FIRST_BOOK_ROW, 60) if sheet.cell(r, at["group"]).value == "Irons")
    for key, value in (usual or {}).items():
        sheet.cell(row, at[key]).value = value
    book.save(path)
    return path


def cells_of(path: Path) -> OrderCells:
    return OrderCells(open_order(path).computed)


def usual_of(cells: OrderCells, group: str, key: str) -> object:
    rows = range(USUAL.first_row, USUAL.last_row + 1)
    row = next(r for r in rows if cells.computed.value(USUAL.sheet, r, USUAL.at["group"]) == group)
    return cells.computed.value(USUAL.sheet, row, USUAL.at[key])


def test_the_book_ships_what_an_order_ships(tmp_path: Path) -> None:
    book = open_book(write_book_template(tmp_path))
    numbers = numbers_of_book(book)
    assert numbers.settings == {setting.name: setting.value for setting in BOOK_SETTINGS}
    assert (numbers.weights, numbers.unknown) == ((), ())
    assert run("new", tmp_path / "plain.xlsx", "--no-shop")[0] == 0
    assert differences(open_order(tmp_path / "plain.xlsx").computed, numbers) == []


def test_a_new_order_is_a_dated_snapshot_of_the_book_beside_or_above_it(tmp_path: Path) -> None:
    a_book(tmp_path, {"doubt_length": 0.3, "doubt_mass": "0.05 g", "shop_pieces": 3}, {"bore_to_ground": 3.4})
    (tmp_path / "2026").mkdir()
    code, text = run("new", tmp_path / "2026" / "order.xlsx")
    assert code == 0
    assert "Filled from evenheft-shop.xlsx: instruments, what is usual, no weights" in text
    cells = cells_of(tmp_path / "2026" / "order.xlsx")
    assert (cells.named_length("doubt_length"), cells.named_mass("doubt_mass")) == (0.3, 0.05)
    assert cells.computed.named_cell("shop_pieces") == 3.0
    assert (usual_of(cells, "Irons", "bore_to_ground"), usual_of(cells, "Wedges", "bore_to_ground")) == ("3.4 cm", None)
    snapshot = str(cells.computed.value(*SNAPSHOT))
    assert filled_from(cells.computed) == ("evenheft-shop.xlsx", snapshot[-10:])
    assert str(tmp_path) not in snapshot


def test_a_plain_number_of_the_book_is_in_g_and_cm_whatever_the_order_is_in(tmp_path: Path) -> None:
    a_book(tmp_path, {"doubt_length": 0.3, "doubt_mass": 0.2, "shop_units": "oz in"}, {"grip_balance": "4 1/4 in"})
    assert run("new", tmp_path / "order.xlsx")[0] == 0
    cells = cells_of(tmp_path / "order.xlsx")
    assert cells.grams == pytest.approx(28.349523125)
    assert (cells.named_length("doubt_length"), cells.named_mass("doubt_mass")) == (0.3, 0.2)
    assert usual_of(cells, "Irons", "grip_balance") == "4 1/4 in"
    assert "oz" in str(cells.run(1, "club")[0][0])


def test_groups_of_the_shop_s_own_stand_on_order_too(tmp_path: Path) -> None:
    path = a_book(tmp_path)
    book = openpyxl.load_workbook(path)
    sheet, at = book["Usual"], BOOK_SHEETS["usual"].at
    for row, name in enumerate(("Long irons", "Short irons", None, None, None, None), start=FIRST_BOOK_ROW + 1):
        sheet.cell(row, at["group"]).value = name
    sheet.cell(FIRST_BOOK_ROW + 2, at["head_rise"]).value = 1.7
    book.save(path)
    assert run("new", tmp_path / "order.xlsx")[0] == 0
    cells = cells_of(tmp_path / "order.xlsx")
    groups = [cells.computed.value(ORDER.sheet, TARGET.first_row + n, TARGET.at["group"]) for n in range(3)]
    assert groups == ["Long irons", "Short irons", None]
    assert usual_of(cells, "Short irons", "head_rise") == "1.7 cm"


def test_weights_are_what_is_on_hand(tmp_path: Path) -> None:
    path = a_book(tmp_path)
    book = openpyxl.load_workbook(path)
    for row, (size, where, counted) in enumerate(
        ((4, "head", 6), (2, "head", 3), (10, "butt", 1)), start=FIRST_BOOK_ROW
    ):
        put_row(book, BOOK_SHEETS["weights"], row, {"size": size, "where": where, "counted": counted, "on": 46000})
    used = ((4, "head", 46010.0, 2), (4, "butt", 46010.0, 2), (4, "head", 45000.0, 2), (10, "butt", 46010.0, 1))
    for row, (size, where, kept, count) in enumerate(used, start=FIRST_BOOK_ROW):
        put_row(book, BOOK_SHEETS["used"], row, {"order": "A", "number": row, "part": 1, "kept": kept, "size": size,
                                    "where": where, "count": count})  # fmt: skip
    book.save(path)
    code, text = run("new", tmp_path / "order.xlsx")
    assert code == 0 and "2 sizes of weights" in text
    computed = open_order(tmp_path / "order.xlsx").computed
    assert computed.named_column("stock_head")[:3] == [2.0, 4.0, None]
    assert computed.named_column("count_head")[:3] == [3.0, 4.0, None]
    assert set(computed.named_column("stock_butt")) == {None}


def test_the_book_may_be_named_and_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "elsewhere").mkdir()
    book = a_book(tmp_path / "elsewhere", {"doubt_loft": 0.5})
    named = book.rename(book.with_name("mine.xlsx"))
    assert run("new", tmp_path / "a.xlsx", "--shop", named)[0] == 0
    monkeypatch.setenv(VARIABLE, str(named))
    assert run("new", tmp_path / "b.xlsx")[0] == 0
    assert run("new", tmp_path / "c.xlsx", "--no-shop")[0] == 0
    found = [open_order(tmp_path / f"{name}.xlsx").computed.named_cell("doubt_loft") for name in "abc"]
    assert found == [0.5, 0.5, 0.25]
    for given in (("--shop", tmp_path / "none.xlsx"), ("--shop", named, "--no-shop"), ("--like", tmp_path / "none")):
        code, text = run("new", tmp_path / "d.xlsx", *given)
        assert (code, text.count("\n"), text[:2]) == (2, 1, "! ")
    assert not (tmp_path / "d.xlsx").exists()


def test_a_line_of_the_book_that_no_order_knows_is_told(tmp_path: Path) -> None:
    path = a_book(tmp_path)
    book = openpyxl.load_workbook(path)
    book["Shop"].cell(FIRST_BOOK_ROW + 3, BOOK_SHEETS["shop"].at["setting"]).value = "Tape, plus or minus"
    book.save(path)
    code, text = run("new", tmp_path / "order.xlsx")
    assert code == 0
    assert 'evenheft-shop.xlsx, sheet Shop: no order knows "Tape, plus or minus".' in text


def test_check_tells_where_the_book_has_come_to_differ(tmp_path: Path) -> None:
    a_book(tmp_path)
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    assert "has come to differ" not in run("check", path)[1]  # it was filled from no book
    assert run("new", tmp_path / "new.xlsx", "--like", path)[0] == 0
    book = openpyxl.load_workbook(tmp_path / "new.xlsx")
    row = FIRST_ROW_OF_CLUBS
    for key, value in (("head_mass", 270), ("shaft_mass", 100), ("shaft_length", "39 in"), ("grip_mass", 50)):
        for at in range(1, 3):
            book[PARTS.sheet].cell(row + at, PARTS.at[key]).value = value
    book.save(tmp_path / "new.xlsx")
    assert "has come to differ" not in run("check", tmp_path / "new.xlsx")[1]
    a_book(tmp_path, {"doubt_balance": 0.5}, {"bore_to_ground": "1.5 in"})
    text = " ".join(run("check", tmp_path / "new.xlsx")[1].split())
    assert "evenheft-shop.xlsx has come to differ since 20" in text
    assert "Balance point, plus or minus: " in text and " here, 0.5 cm in the book" in text
    assert "Bore to ground, Irons: nothing here, 1.5 in in the book." in text


FIRST_ROW_OF_CLUBS = PARTS.first_row


def test_like_takes_clubs_groups_targets_and_kinds_of_parts_but_nothing_measured(tmp_path: Path) -> None:
    old, new = tmp_path / "old.xlsx", tmp_path / "new.xlsx"
    demo = build_demo()
    cell = demo.defined_names["reference1_mass"].attr_text.replace("$", "").partition("!")[2]
    demo["Order"][cell].value = "15.1 oz"
    old.write_bytes(save_bytes(demo))
    code, text = run("new", new, "--like", old)
    assert code == 0
    assert cells_of(new).computed.named_cell("reference1_mass") == "15.1 oz"
    assert "Laid out like old.xlsx: 9 clubs, nothing measured." in text
    before, after = cells_of(old), cells_of(new)
    for number in range(1, 10):
        for table, key in (("order", "club"), ("order", "group"), ("parts", "model"), ("parts", "club_length"),
                           ("parts", "epoxy"), ("set", "swingweight_goal"), ("set", "inertia_goal"),
                           ("set", "length_goal"), ("set", "swingweight_tolerance")):  # fmt: skip
            assert after.raw(table, number, key) == before.raw(table, number, key), (number, key)
        for table, key in (("parts", "head_mass"), ("parts", "shaft_mass"), ("fix", "head_added"),
                           ("bench", "stage"), ("scale", "scale"), ("supplier", "received")):  # fmt: skip
            assert after.raw(table, number, key) is None, (number, key)
    assert after.computed.named_cell("order_number") is None
    assert after.computed.named_cell("order_customer") is None


def test_like_a_number_starts_from_what_the_book_keeps_and_knows(tmp_path: Path) -> None:
    a_book(tmp_path)
    order = tmp_path / "demo.xlsx"
    order.write_bytes(save_bytes(build_demo()))
    assert run("shop", "keep", order)[0] == 0
    code, text = run("new", tmp_path / "new.xlsx", "--like", "demo-1")
    assert code == 0
    assert "Head rises that the book knows: 5-iron " in text
    assert "Tolerances are not kept in the book: type them on Order." in text
    cells = cells_of(tmp_path / "new.xlsx")
    clubs = [cells.text("order", number, "club") for number in (1, 2)]
    assert clubs == ["Driver", "5-iron"]
    learned = cells_of(order).length("parts", 2, "learned")
    assert cells.length("parts", 2, "rise_known") == pytest.approx(learned, abs=0.005)
    assert cells.number("set", 2, "swingweight_goal") == 32.0


def test_a_repeat_gets_the_rises_of_its_models_and_forecasts_before_any_dry_fit(tmp_path: Path) -> None:
    a_book(tmp_path)
    order = tmp_path / "demo.xlsx"
    order.write_bytes(save_bytes(build_demo()))
    assert run("shop", "keep", order)[0] == 0
    assert run("new", tmp_path / "new.xlsx", "--like", order)[0] == 0
    before, after = cells_of(order), cells_of(tmp_path / "new.xlsx")
    for number in range(2, 10):
        assert after.length("parts", number, "rise_known") == pytest.approx(
            before.length("parts", number, "learned"), abs=0.005
        )
