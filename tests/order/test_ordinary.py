"""Rules of the trade as ordinary formulas: at their very edges, computed by a spreadsheet's engine."""

from __future__ import annotations

import math
from pathlib import Path

import openpyxl
import pytest

from evenheft.formulas import REGISTRY, call
from evenheft.hosts.embedded import Computed, compute_beside
from evenheft.mechanics import rules, swingweight
from evenheft.mechanics.doubt import HAIR, verdict
from evenheft.order import ordinary
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, ORDER, SET
from evenheft.order.plain.copy import plain_copy
from evenheft.order.supplier.book import AT, FIRST, HEADS_SHEET, build
from evenheft.order.supplier.out import HeadsOrder, Wanted


def computed(formula: str, **cells: object) -> object:
    """What an ordinary formula gives of cells A1, B1 ..."""
    held = {(1, ord(name) - 64): value for name, value in cells.items()}
    return compute_beside(held, {(1, 20): f"={formula}"})[1, 20]


LENGTHS = [
    limit * (1 + sign * hairs * rules.HAIR)
    for limit in (rules.SHORTEST, rules.LONGEST, rules.LONGEST_BY_LOCAL_RULE)
    for sign in (-1, 1)
    for hairs in (0, 0.5, 3)
]


@pytest.mark.parametrize("length", LENGTHS)
@pytest.mark.parametrize("putter", [False, True])
def test_a_length_at_the_rules_edge(length: float, putter: bool) -> None:
    found = computed(ordinary.length_rule("A1", "FALSE" if putter else "TRUE"), A=length)
    assert found == rules.length_limit(length, putter)
    found = computed(ordinary.length_rule("A1", "FALSE" if putter else "TRUE", "B1"), A=length, B=True)
    assert found == rules.length_limit(length, putter, local_rule=True)


@pytest.mark.parametrize("hairs", [-3, -0.5, 0, 0.5, 3])
@pytest.mark.parametrize("doubt", [0.0, 0.2])
@pytest.mark.parametrize("sign", [-1, 1])
def test_a_verdict_at_the_tolerances_edge(hairs: float, doubt: float, sign: int) -> None:
    for edge in (0.5 - doubt, 0.5 + doubt):
        value = 32 + sign * (edge + hairs * HAIR * 32)
        cells = {"A": value, "B": 32.0, "C": 0.5, "D": doubt}
        assert computed(ordinary.verdict("A1", "B1", "C1", "D1"), **cells) == verdict(value, 32.0, 0.5, doubt)
        if not doubt:
            assert computed(ordinary.verdict("A1", "B1", "C1"), **cells) == verdict(value, 32.0, 0.5)


@pytest.mark.parametrize("points", [0.0, 0.04, 9.95, 9.949, 29.96, 30.0, 69.9])
def test_points_and_labels(points: float) -> None:
    moment = points * swingweight.POINT + swingweight.MOMENT_AT_A0
    assert computed(ordinary.points("A1"), A=moment) == pytest.approx(points, abs=1e-12)
    tenths = math.floor(points * 10 + 0.5 + 1e-9) / 10
    assert computed(ordinary.label("A1"), A=tenths) == swingweight.label(points)


MASSES = [200.0, 201.0, 199.0, 201.0 + 100 * HAIR, 201.0 + 500 * HAIR, 199.0 - 100 * HAIR, 199.0 - 500 * HAIR, 230.0]


def test_the_suppliers_workbook_judges_as_the_formula_does(tmp_path: Path) -> None:
    heads = tuple(Wanted(n, f"club {n}", "model", 1.0, None, None, 200.0, 1.0, "") for n in range(1, len(MASSES) + 1))
    path = tmp_path / "heads.xlsx"
    path.write_bytes(build(HeadsOrder("T-1", heads)))
    book = openpyxl.load_workbook(path)
    for row, mass in enumerate(MASSES, start=FIRST):
        book[HEADS_SHEET].cell(row, AT["actual"]).value = mass
    book.save(path)
    engine = Computed.open(path)
    found = [engine.value(HEADS_SHEET, row, AT["check"]) for row in range(FIRST, FIRST + len(MASSES))]
    assert found == [call(REGISTRY["HEFT_VERDICT"], [mass, 200.0, 1.0]) for mass in MASSES]
    assert {"in", "low", "high"} == set(found)


def test_the_plain_copy_judges_lengths_as_the_formula_does(tmp_path: Path) -> None:
    book = build_demo()
    for row, length in enumerate(LENGTHS[:9], start=FIRST_ROW):
        book["Bench"].cell(row, BENCH.at["length"]).value = length
    book["Order"].cell(FIRST_ROW + 8, ORDER.at["putter"]).value = "putter"
    order, copy = tmp_path / "order.xlsx", tmp_path / "copy.xlsx"
    order.write_bytes(save_bytes(book))
    plain_copy(order, copy)
    formulas = openpyxl.load_workbook(copy)["Set"]
    engine = Computed.open(copy)
    rows = range(FIRST_ROW, FIRST_ROW + 9)
    assert all(str(formulas.cell(row, SET.at["rule"]).value).startswith("=IF(") for row in rows)
    wanted = [rules.length_limit(length, n == 8) for n, length in enumerate(LENGTHS[:9])]
    assert [engine.value("Set", row, SET.at["rule"]) for row in rows] == wanted
