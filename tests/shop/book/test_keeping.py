"""An order kept in the book once, kept again, forgotten; what a person typed stays; nothing else changes by a byte."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from evenheft.hosts import embedded, patience
from evenheft.hosts.embedded import EngineError
from evenheft.ooxml.errors import Refused
from evenheft.shop.book.grid import FIRST_BOOK_ROW
from evenheft.shop.book.keeping import Keeping, plan_to_forget, plan_to_keep, write
from evenheft.shop.book.kept import KeptOrder
from evenheft.shop.book.layout import BOOK_SHEETS, FIT_LIST, HEAD_LIST, ORDER_LIST
from evenheft.shop.book.reading import open_book
from untouched import changed_parts

DAY = 46000.0


def an_order(number: str = "T-1", *, rise: float = 2.1, model: str = "Invented blade") -> KeptOrder:
    fits = tuple(
        {"number": float(n), "date": DAY, "model": model, "club": club, "head_mass": 250.0 + n, "rise": rise + n / 10,
         "doubt": 0.2, "miss": 0.3, "counts": 1.0}
        for n, club in ((1, "7-iron"), (2, "8-iron"))
    )  # fmt: skip
    orders = tuple(
        {"number": float(n), "date": DAY, "customer": "Invented customer", "club": club, "model": model, "mass": 420.0,
         "reads": "D2.1"}
        for n, club in ((1, "7-iron"), (2, "8-iron"))
    )  # fmt: skip
    used = ({"number": 1.0, "part": 1.0, "kept": DAY, "shaft": "S1", "size": 4.0, "where": "head", "count": 2.0},)
    scale = ({"number": 1.0, "date": DAY, "club": "7-iron", "calculated": 32.0, "reading": 32.5, "difference": 0.5},)
    return KeptOrder(number, orders, fits, used, scale)


def keep(book: Path, order: KeptOrder, *, overwrite: bool = False) -> Keeping:
    plan = plan_to_keep(open_book(book), order, overwrite=overwrite)
    write(plan)
    return plan


def forget(book: Path, number: str) -> None:
    write(plan_to_forget(open_book(book), number))


def cells(path: Path) -> dict[tuple[str, str], object]:
    """Every cell that holds something, a formula as its text."""
    found = openpyxl.load_workbook(path)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in found
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


def change(path: Path, sheet: str, edit: Callable[[openpyxl.worksheet.worksheet.Worksheet], None]) -> None:
    """Let a person change a sheet and save the book."""
    found = openpyxl.load_workbook(path)
    edit(found[sheet])
    found.save(path)


def shown(path: Path, sheet: str, row: int, key: str) -> object:
    found = openpyxl.load_workbook(path, data_only=True)
    return found[sheet].cell(row, BOOK_SHEETS[sheet.lower()].at[key]).value


def test_keeping_twice_is_keeping_once_to_the_byte(book: Path) -> None:
    first = keep(book, an_order())
    assert first.count("new") == 6
    once = book.read_bytes()
    stamp = book.stat()
    again = keep(book, an_order())
    assert not again.changes
    assert again.count("same") == 6
    assert book.read_bytes() == once
    assert (book.stat().st_ino, book.stat().st_mtime_ns) == (stamp.st_ino, stamp.st_mtime_ns)


def test_keep_then_forget_is_as_before_to_the_cell(book: Path) -> None:
    keep(book, an_order("T-0", model="Another"))
    before = cells(book)
    keep(book, an_order())
    assert cells(book) != before
    forget(book, "t-1")
    assert cells(book) == before


def test_forgetting_the_first_order_leaves_the_second_and_its_heads(book: Path) -> None:
    keep(book, an_order("T-1"))
    keep(book, an_order("T-2", rise=2.3))
    forget(book, "T-1")
    heads = open_book(book).list("heads")
    assert [heads.text(row, "club") for row in heads.rows] == ["7-iron", "8-iron"]
    assert {heads.text(row, "added") for row in heads.rows} == {"T-2"}
    forget(book, "T-2")
    assert not open_book(book).list("heads").rows


def test_only_the_sheets_of_the_lists_change(book: Path, tmp_path: Path) -> None:
    old = Path(shutil.copy(book, tmp_path / "old.xlsx"))
    keep(book, an_order())
    assert all(part.startswith("xl/worksheets/sheet") for part in changed_parts(old, book))


def test_an_order_changed_afterwards_replaces_its_own_rows_and_no_others(book: Path) -> None:
    keep(book, an_order("T-0", model="Another"))
    keep(book, an_order())
    changed = an_order(rise=2.6)
    fewer = replace(changed, orders=changed.orders[:1], used=())
    plan = keep(book, fewer)
    assert plan.rows["Fits"] == {"changed": 2}
    assert plan.rows["Orders"] == {"same": 1, "gone": 1}
    assert plan.rows["Used"] == {"gone": 1}
    opened = open_book(book)
    assert len(opened.list("orders").rows) == 3
    assert [opened.list("fits").value(row, "rise") for row in opened.list("fits").of_order("T-1")] == pytest.approx(
        [2.7, 2.8]
    )
    assert [opened.list("fits").value(row, "rise") for row in opened.list("fits").of_order("T-0")] == pytest.approx(
        [2.2, 2.3]
    )


def test_what_a_person_typed_over_is_told_and_left(book: Path) -> None:
    keep(book, an_order())
    row, column = FIRST_BOOK_ROW, ORDER_LIST.at["customer"]
    change(book, "Orders", lambda sheet: setattr(sheet.cell(row, column), "value", "Their right name"))
    plan = keep(book, an_order())
    assert [(hand.heading, hand.held, hand.left) for hand in plan.hand] == [("Customer", "Their right name", True)]
    assert shown(book, "Orders", row, "customer") == "Their right name"
    again = keep(book, an_order())
    assert [hand.heading for hand in again.hand] == ["Customer"]
    assert not again.changes
    over = keep(book, an_order(), overwrite=True)
    assert [hand.left for hand in over.hand] == [False]
    assert shown(book, "Orders", row, "customer") == "Invented customer"


def test_a_dry_fit_that_a_person_left_out_stays_left_out(book: Path) -> None:
    keep(book, an_order())
    change(book, "Fits", lambda sheet: setattr(sheet.cell(FIRST_BOOK_ROW, FIT_LIST.at["counts"]), "value", 0))
    keep(book, an_order(rise=2.2))
    assert shown(book, "Fits", FIRST_BOOK_ROW, "counts") == 0
    assert shown(book, "Heads", FIRST_BOOK_ROW, "fits") == 0
    assert shown(book, "Heads", FIRST_BOOK_ROW + 1, "fits") == 1


def test_a_shops_own_columns_and_rows_are_left_alone(book: Path) -> None:
    def add(sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
        sheet.insert_cols(1)
        sheet.cell(5, 1).value = "Paid"
        sheet.cell(FIRST_BOOK_ROW, 1).value = "yes"
        sheet.insert_rows(1, 2)

    keep(book, an_order())
    change(book, "Orders", add)
    keep(book, an_order("T-2"))
    orders = open_book(book).list("orders")
    assert orders.heading_row == 7
    assert [orders.text(row, "order") for row in orders.rows] == ["T-1", "T-1", "T-2", "T-2"]
    assert orders.content.values[FIRST_BOOK_ROW + 2, 1] == "yes"


def test_the_heads_sheet_weighs_the_dry_fits_as_python_does(book: Path) -> None:
    for n, rise in enumerate((2.0, 2.2, 2.1)):
        keep(book, an_order(f"T-{n}", rise=rise))
    assert shown(book, "Heads", FIRST_BOOK_ROW, "fits") == 3
    assert shown(book, "Heads", FIRST_BOOK_ROW, "rise") == pytest.approx(2.2, abs=1e-9)
    assert shown(book, "Heads", FIRST_BOOK_ROW, "last") == "T-2"
    assert shown(book, "Heads", FIRST_BOOK_ROW, "worst") == pytest.approx(0.3)
    from evenheft.shop.book.taught import known_heads

    known = known_heads(open_book(book))["invented blade", "7-iron"]
    assert shown(book, "Heads", FIRST_BOOK_ROW, "rise") == pytest.approx(known.rise)
    assert shown(book, "Heads", FIRST_BOOK_ROW, "doubt") == pytest.approx(known.doubt)


def test_a_model_with_signs_that_spreadsheets_read_as_any_letters_is_its_own(book: Path) -> None:
    keep(book, an_order("T-1", model="X*", rise=2.0))
    keep(book, an_order("T-2", model="Xtra?~", rise=3.0))
    keep(book, an_order("T-3", model="=X", rise=4.0))
    found = [shown(book, "Heads", FIRST_BOOK_ROW + n, "rise") for n in (0, 2, 4)]
    assert found == pytest.approx([2.1, 3.1, 4.1])
    assert [shown(book, "Heads", FIRST_BOOK_ROW + n, "fits") for n in range(6)] == [1] * 6


def test_what_lies_below_the_prepared_rows_gets_formulas(book: Path) -> None:
    number = HEAD_LIST.prepared + 3
    fits = tuple({**an_order().fits[0], "number": float(n), "club": f"Club {n}"} for n in range(1, number + 1))
    keep(book, KeptOrder("T-1", fits=fits))
    row = FIRST_BOOK_ROW + number - 1
    assert shown(book, "Heads", row, "club") == f"Club {number}"
    assert shown(book, "Heads", row, "fits") == 1
    assert shown(book, "Heads", row, "rise") == pytest.approx(2.2)


def test_what_is_wrong_is_one_line(book: Path) -> None:
    with pytest.raises(Refused, match="the order has no number"):
        keep(book, replace(an_order(), number=" "))
    with pytest.raises(Refused, match="holds nothing of an order T-9"):
        forget(book, "T-9")
    change(book, "Fits", lambda sheet: setattr(sheet.cell(5, FIT_LIST.at["rise"]), "value", "Rise"))
    with pytest.raises(Refused, match=r'sheet Fits, has lost its column "Head rise \(cm\)"'):
        keep(book, an_order())


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("evenheft shop book 2", "newer Evenheft"),
        ("evenheft shop book 0", "older Evenheft"),
        ("evenheft order 2", "is an order"),
        ("my book", "not a shop book"),
    ],
)
def test_a_book_of_another_layout_is_refused(book: Path, line: str, reason: str) -> None:
    def relabel(sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith("evenheft shop book"):
                    cell.value = line

    change(book, "Guide", relabel)
    with pytest.raises(Refused, match=reason):
        open_book(book)


def test_a_book_that_is_open_or_was_changed_meanwhile_is_left(book: Path) -> None:
    plan = plan_to_keep(open_book(book), an_order())
    keep(book, an_order("T-2"))
    old = book.read_bytes()
    with pytest.raises(Refused, match="changed by another program"):
        write(plan)
    book.with_name(f".~lock.{book.name}#").write_text("somebody")
    with pytest.raises(Refused, match="open in a spreadsheet program"):
        keep(book, an_order("T-3"))
    assert book.read_bytes() == old


def test_a_book_that_cannot_be_computed_is_left_as_it_was(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The rows and what the formulas show over them are one file: what fails between the two leaves none."""
    plan = plan_to_keep(open_book(book), an_order())
    before = book.read_bytes()
    # A limit that no machine is fast enough for, and looked at before any could be done.
    monkeypatch.setattr(patience, "_LOOK", 1e-4)
    monkeypatch.setattr(embedded, "BASE_SECONDS", 0.0)
    monkeypatch.setattr(embedded, "SECONDS_PER_FORMULA", 0.0)
    with pytest.raises(EngineError, match="it was stopped"):
        write(plan)
    assert book.read_bytes() == before
    assert [path.name for path in book.parent.iterdir()] == [book.name]
