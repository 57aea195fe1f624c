"""What a plain copy still follows is framed and open; all else is locked, and the first sheet tells since when."""

from __future__ import annotations

import datetime
from pathlib import Path

import openpyxl
import pytest

from calc_office import Calc
from evenheft.hosts.embedded import Computed
from evenheft.order.demo import build_demo
from evenheft.order.drawing import looks
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, PARTS, SUPPLIER
from evenheft.order.plain.copy import plain_copy
from evenheft.order.plain.same import same

CellPlace = tuple[str, str]


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("fixed") / "order.xlsx"
    book = build_demo()
    book["Supplier"].cell(FIRST_ROW + 2, SUPPLIER.at["received"]).value = 264.0
    path.write_bytes(save_bytes(book))
    return path


@pytest.fixture(scope="module", params=[False, True], ids=["plain", "clean"])
def copy(order: Path, request: pytest.FixtureRequest) -> Path:
    path = order.with_name(f"copy-{request.param}.xlsx")
    plain_copy(order, path, clean=request.param)
    return path


def open_cells(path: Path) -> dict[CellPlace, object]:
    """Every cell in which a protected sheet lets a person type, and what it holds."""
    book = openpyxl.load_workbook(path)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if not cell.protection.locked and type(cell).__name__ == "Cell"
    }


def changed(path: Path, cells: dict[CellPlace, float]) -> Computed:
    """A workbook computed with other numbers in some cells."""
    book = openpyxl.load_workbook(path)
    for (sheet, at), value in cells.items():
        book[sheet][at].value = value
    return Computed.from_bytes(save_bytes(book), name="changed")


def test_what_is_still_open_moves_all_that_it_moves_in_the_order(order: Path, copy: Path) -> None:
    numbers = {at: value * 1.01 for at, value in open_cells(copy).items() if isinstance(value, int | float)}
    columns = {"".join(filter(str.isalpha, cell)) for sheet, cell in numbers if sheet == "Supplier"}
    assert {SUPPLIER.letter("wanted"), SUPPLIER.letter("tolerance")} <= columns
    wanted, found, before = changed(order, numbers), changed(copy, numbers), Computed.open(copy)
    formulas = [
        (sheet.title, cell.row, cell.column)
        for sheet in openpyxl.load_workbook(copy).worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
    for place in formulas:
        assert same(found.value(*place), wanted.value(*place)), place
    assert any(not same(found.value(*place), before.value(*place)) for place in formulas)


def test_every_other_input_is_locked_and_has_no_frame(order: Path, copy: Path) -> None:
    fixed = open_cells(order).keys() - open_cells(copy).keys()
    for table, key in ((BENCH, "done_mass"), (BENCH, "period"), (PARTS, "head_mass"), (SUPPLIER, "received")):
        assert (table.sheet, f"{table.letter(key)}{FIRST_ROW}") in fixed
    assert ("Shop", at_name("doubt_mass")) in fixed
    book = openpyxl.load_workbook(copy)
    for sheet, at in fixed:
        cell = book[sheet][at]
        assert cell.protection.locked
        assert cell.border.left.style is None
        assert cell.fill.fgColor.rgb != looks.INPUT_FILL.fgColor.rgb


def at_name(name: str) -> str:
    return str(build_demo().defined_names[name].attr_text).replace("$", "").partition("!")[2]


def test_the_first_sheet_says_since_when_it_is_fixed(copy: Path) -> None:
    line = openpyxl.load_workbook(copy)["Guide"]["A2"].value
    assert str(line).startswith(f"Fixed on {datetime.date.today().isoformat()}: ")


def test_in_a_spreadsheet_without_the_add_in(copy: Path, bare_calc: Calc) -> None:
    with bare_calc.open(copy) as book:
        book.calculate(everything=True)
        mass = f"{BENCH.letter('done_mass')}{FIRST_ROW}"
        held = book.value("Bench", mass)
        assert book.protected("Bench", mass)
        book.type("Bench", mass, "500")
        assert book.value("Bench", mass) == held
        row = FIRST_ROW + 2
        received = book.value("Supplier", f"{SUPPLIER.letter('received')}{row}")
        for off, word in ((0.0, "in"), (-9.0, "high"), (9.0, "low")):
            book.type("Supplier", f"{SUPPLIER.letter('wanted')}{row}", repr(received + off))
            assert book.value("Supplier", f"{SUPPLIER.letter('verdict')}{row}") == word
