"""The order workbook in a real LibreOffice: opened, typed into, saved and opened again, and read by our commands."""

from __future__ import annotations

import datetime
import io
import math
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils.datetime import to_excel

from calc_office import Calc, OpenBook
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.places import column_letter
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import build_order, save_bytes, write_templates
from evenheft.order.layout import BENCH, FIRST_ROW, FIX, LAST_ROW, SET
from evenheft.order.report import read_order

AllCells = dict[tuple[str, int, int], object]


@pytest.fixture(scope="module")
def computed(demo: Path) -> AllCells:
    """What the embedded engine makes of the demo order, which Calc is compared with."""
    engine, book = Computed.open(demo), openpyxl.load_workbook(demo)
    return {
        (sheet.title, row, column): engine.value(sheet.title, row, column)
        for sheet in book.worksheets
        for row in range(1, sheet.max_row + 1)
        for column in range(1, sheet.max_column + 1)
    }


@pytest.fixture(scope="module")
def opened(calc: Calc, demo: Path) -> Iterator[OpenBook]:
    with calc.open(demo) as book:
        book.calculate(everything=True)
        yield book


def everything(book: OpenBook, like: AllCells) -> AllCells:
    """Each cell that is in `like`, as Calc holds it."""
    found: AllCells = {}
    for sheet in dict.fromkeys(sheet for sheet, _, _ in like):
        rows = max(row for name, row, _ in like if name == sheet)
        columns = max(column for name, _, column in like if name == sheet)
        for row, cells in enumerate(book.read(sheet, f"A1:{column_letter(columns)}{rows}"), start=1):
            for column, cell in enumerate(cells, start=1):
                found[sheet, row, column] = cell
    return {key: found[key] for key in like}


def differences(
    found: AllCells, wanted: AllCells, digits: float = 1e-9
) -> dict[tuple[str, int, int], tuple[object, object]]:
    return {key: (found[key], value) for key, value in wanted.items() if not alike(found[key], value, digits)}


def alike(found: object, wanted: object, digits: float) -> bool:
    """Whether two hosts show the same; TRUE and dates are numbers in Calc, an empty text looks like an empty cell."""
    if isinstance(wanted, bool):
        wanted = float(wanted)
    if isinstance(wanted, datetime.date):
        wanted = float(to_excel(wanted))
    if isinstance(found, float) and isinstance(wanted, float):
        return math.isclose(found, wanted, rel_tol=digits, abs_tol=1e-9)
    return (found or "") == (wanted or "") if not isinstance(found, float) else found == wanted


def flags(book: OpenBook) -> dict[str, str]:
    club, said = (column_letter(SET.at[key]) for key in ("club", "flags"))
    names = [row[0] for row in book.read(SET.sheet, f"{club}{FIRST_ROW}:{club}{LAST_ROW}")]
    cells = [row[0] for row in book.read(SET.sheet, f"{said}{FIRST_ROW}:{said}{LAST_ROW}")]
    return {name: text for name, text in zip(names, cells, strict=True) if text not in ("", None, "all in")}


PLANTED = {"6-iron": "swingweight low", "9-iron": "swingweight high", "Gap wedge": "swingweight re-measure"}
"""What is wrong with the demo order, as its makers meant it."""


def test_every_cell_of_the_demo_order_is_what_the_embedded_engine_computes(
    opened: OpenBook, computed: AllCells
) -> None:
    found = everything(opened, computed)
    assert differences(found, computed) == {}
    assert len(opened.formulas("HEFT_")) > 100


def test_the_set_sheet_flags_what_was_planted_and_nothing_else(opened: OpenBook) -> None:
    assert flags(opened) == PLANTED


@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_saved_and_opened_again_it_is_the_same(calc: Calc, opened: OpenBook, computed: AllCells, ending: str) -> None:
    saved = opened.save(f"order.{ending}")
    with calc.open(saved) as again:
        again.calculate(everything=True)
        assert differences(everything(again, computed), computed) == {}
        assert again.formulas("HEFT_") == opened.formulas("HEFT_")
        assert again.names() == opened.names()
        assert flags(again) == PLANTED


def test_our_commands_read_what_calc_has_saved(opened: OpenBook, demo: Path) -> None:
    ours, theirs = read_order(demo), read_order(opened.save("demo-order.xlsx"))
    assert theirs.clubs == ours.clubs
    assert {club.name: club.flags for club in theirs.flagged} == PLANTED


@pytest.mark.parametrize("ending", ["xltx", "xlsx"])
def test_an_empty_order_is_quiet_until_inputs_are_typed(
    calc: Calc, tmp_path: Path, computed: AllCells, ending: str
) -> None:
    write_templates(tmp_path)
    inputs = typed_inputs()
    with calc.open(tmp_path / f"evenheft-order.{ending}", as_template=ending == "xltx") as book:
        book.calculate(everything=True)
        engine = Computed.open(tmp_path / f"evenheft-order.{ending}")
        blank = {key: engine.value(*key) for key in computed}
        assert differences(everything(book, blank), blank) == {}
        computed_texts = [str(value) for key, value in blank.items() if engine.formula(*key)]
        assert not [text for text in computed_texts if text.startswith("! ")]
        assert flags(book) == {}
        for (sheet, address), content in inputs.items():
            assert not book.protected(sheet, address), f"{sheet} {address} is an input and locked"
            book.type(sheet, address, content)
        book.calculate()
        assert flags(book) == PLANTED
        assert differences(everything(book, computed), computed) == {}


def typed_inputs() -> dict[tuple[str, str], str]:
    """What a builder types to get from the empty order to the demo order."""
    filled, empty = (openpyxl.load_workbook(io.BytesIO(save_bytes(book))) for book in (build_demo(), build_order()))
    return {
        (sheet.title, cell.coordinate): as_typed(cell.value)
        for sheet in filled.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None and cell.value != empty[sheet.title][cell.coordinate].value
    }


def as_typed(value: object) -> str:
    if hasattr(value, "strftime"):
        return str(value.strftime("%Y-%m-%d"))
    return repr(value) if isinstance(value, float) else str(value)


def test_a_locked_cell_stays_locked(opened: OpenBook) -> None:
    assert opened.protected(SET.sheet, f"{column_letter(SET.at['flags'])}{FIRST_ROW}")


def test_a_change_on_the_bench_is_judged_at_once(calc: Calc, demo: Path) -> None:
    with calc.open(demo) as book:
        book.calculate(everything=True)
        row = FIRST_ROW + names_of(book).index("5-iron")
        mass = next(
            at for key in ("done_mass", "dry_mass") if book.value("Bench", at := in_bench(key, row)) is not None
        )
        before = book.value("Bench", mass)
        book.type("Bench", mass, str(before + 20))
        assert flags(book).keys() == {"5-iron", *PLANTED}
        book.type("Bench", mass, str(before))
        assert flags(book) == PLANTED


def test_the_fix_sheets_advice_applied_makes_every_club_in(calc: Calc, demo: Path) -> None:
    """The advice is Calc's own, typed into Calc; the file that it then saves is judged by the embedded engine too."""
    with calc.open(demo) as book:
        book.calculate(everything=True)
        rows = {club: FIRST_ROW + names_of(book).index(club) for club in PLANTED}
        promised = {}
        for club, row in rows.items():
            advised = round(fix(book, "head_grams", row), 1)
            book.type(FIX.sheet, in_fix("head_added", row), repr(advised))
            promised[club] = [fix(book, f"then_{what}", row) for what in ("label", "mass", "inertia")]
            book.type(FIX.sheet, in_fix("done", row), "done")
        assert flags(book) == {}
        for club, row in rows.items():
            assert fix(book, "advice", row) == "nothing to do"
            then, mass, inertia = promised[club]
            assert fix(book, "now", row) == then
            assert fix(book, "mass", row) == pytest.approx(mass, abs=1e-9)
            assert fix(book, "inertia", row) == pytest.approx(inertia, abs=1e-6)
        report = read_order(book.save("fixed.xlsx"))
    assert report.flagged == ()
    assert len(report.judged) == 9


def page_text(printed: Path, page: int) -> str:
    line = ["pdftotext", "-f", str(page), "-l", str(page), "-layout", str(printed), "-"]
    return subprocess.run(line, capture_output=True, text=True, check=False).stdout


def fix(book: OpenBook, key: str, row: int) -> Any:
    return book.value(FIX.sheet, in_fix(key, row))


def in_fix(key: str, row: int) -> str:
    return f"{column_letter(FIX.at[key])}{row}"


def in_bench(key: str, row: int) -> str:
    return f"{column_letter(BENCH.at[key])}{row}"


def names_of(book: OpenBook) -> list[object]:
    club = column_letter(SET.at["club"])
    return [row[0] for row in book.read(SET.sheet, f"{club}{FIRST_ROW}:{club}{LAST_ROW}")]
