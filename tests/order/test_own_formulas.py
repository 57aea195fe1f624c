"""Formulas that are no longer the template's own are named, whichever program saved the order."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from calc_office import Calc
from evenheft.cli import main
from evenheft.hosts.embedded import Computed
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, SET
from evenheft.order.own_formulas import differing_formulas


@pytest.fixture
def order(tmp_path: Path) -> Path:
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    return path


def test_an_order_has_the_templates_own_formulas(order: Path) -> None:
    assert differing_formulas(Computed.open(order)) == []


def test_an_order_that_calc_has_saved_has_them_too(order: Path, calc: Calc) -> None:
    with calc.open(order) as book:
        saved = book.save("saved.xlsx")
    assert differing_formulas(Computed.open(saved)) == []


def test_the_cells_that_differ_are_named(order: Path) -> None:
    book = openpyxl.load_workbook(order)
    mass, balance = (f"{BENCH.letter(key)}{FIRST_ROW}" for key in ("mass_used", "balance_used"))
    book["Bench"][mass].value = str(book["Bench"][mass].value).replace("8", "9")
    book["Bench"][balance].value = 71.2
    book.save(order)
    assert differing_formulas(Computed.open(order)) == [f"Bench {balance}", f"Bench {mass}"]
    said = CliRunner().invoke(main, ["doctor", str(order)]).output
    assert f"not the template's own formula in Bench {balance}, Bench {mass}" in said


def test_a_number_typed_over_a_formula_is_named_first_where_a_row_was_put_in_too(order: Path, calc: Calc) -> None:
    with calc.open(order) as book:
        book.unprotect("Set")
        book.gesture("Set", f"A{FIRST_ROW + 4}", "InsertRowsBefore")
        place = f"{SET.letter('place')}{FIRST_ROW + 2}"
        book.type("Set", place, "7")
        saved = book.save("saved.xlsx")
    found = differing_formulas(Computed.open(saved))
    assert len(found) > 100
    assert found[0] == f"Set {place}"
