"""`evenheft demo --plan`: a plan brings in clubs that no correction of one club by itself could; LibreOffice agrees."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from calc_office import Book, Calc
from evenheft.cli import main
from evenheft.mechanics.pairing.plan import Plan, plan_set
from evenheft.order.cells import OrderCells
from evenheft.order.layout import FIRST_ROW, FIX, PARTS, SET
from evenheft.order.report import open_order
from evenheft.shop.book.finding import VARIABLE
from evenheft.shop.plan_demo import BATCH_CLUBS, corrected_only
from evenheft.shop.plan_order import OrderToPlan, order_to_plan


@pytest.fixture(autouse=True)
def _no_book_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    done = CliRunner().invoke(main, ["demo", "--plan", str(folder)])
    assert done.exit_code == 0, done.output
    return folder / "plan" / "demo-plan.xlsx"


@pytest.fixture(scope="module")
def read(order: Path) -> tuple[OrderToPlan, Plan]:
    given = order_to_plan(open_order(order), None)
    return given, plan_set(given.batch)


@pytest.fixture(scope="module")
def planned(order: Path) -> tuple[Path, str]:
    new = order.with_name("planned.xlsx")
    done = CliRunner().invoke(main, ["plan", str(order), "--to", str(new)])
    assert done.exit_code == 0, done.output
    return new, done.output


def test_the_plan_brings_in_what_no_correction_of_one_club_could(read: tuple[OrderToPlan, Plan]) -> None:
    given, plan = read
    alone = corrected_only(given)
    assert alone.proven and plan.proven
    helped = [after.club for before, after in zip(alone.clubs, plan.clubs, strict=True)
              if after.inside and not before.inside]  # fmt: skip
    assert len(helped) == 4
    assert all(club.inside for club in plan.clubs)
    # They are too heavy as they lie there: whatever is added at the head makes that worse, and at the butt no
    # weight is in stock.
    for club in plan.as_it_stands:
        deviation = club.readings[0].deviation
        assert (deviation > club.readings[0].tolerance) == (club.club in helped)
    assert {weight.place for weight in given.batch.weights} == {"head"}


def test_before_and_after_are_printed_and_kept_for_the_picture(
    read: tuple[OrderToPlan, Plan], planned: tuple[Path, str]
) -> None:
    (_, plan), (new, text) = read, planned
    cells = OrderCells(open_order(new).computed)
    for number, (before, after) in enumerate(zip(plan.as_it_stands, plan.clubs, strict=True), start=1):
        assert re.search(rf"{before.club}\W.*{before.shaft}\W", text), text
        drawn = [cells.number("fix", number, f"drawn_{key}", 4) for key in ("before", "after", "high", "low", "at")]
        off = [round(club.readings[0].deviation, 4) for club in (before, after)]
        assert drawn[:2] == pytest.approx(off, abs=2e-4)
        assert drawn[2:] == [after.readings[0].tolerance, -after.readings[0].tolerance, number]
        assert cells.text("parts", number, "shaft_number") == after.shaft
    assert cells.number("fix", len(BATCH_CLUBS) + 1, "drawn_at") is None


def need_as_promised(book: Book, given: OrderToPlan, plan: Plan) -> None:
    """What LibreOffice computes is what was promised: the values, the verdicts of what is planned, the picture."""
    for number, club in zip(given.numbers, plan.clubs, strict=True):
        row = FIRST_ROW + number - 1
        values = {key: book.value("Fix", f"{FIX.letter(key)}{row}")
                  for key in ("then_points", "points", "drawn_after", "then_verdict")}  # fmt: skip
        promised = club.readings[0]
        added = any(piece.place == "head" for piece in club.pieces)
        assert values["then_points" if added else "points"] == pytest.approx(promised.value, abs=1e-4)
        assert values["drawn_after"] == pytest.approx(promised.deviation, abs=1e-4)
        goal = book.value("Set", f"{SET.letter('swingweight_goal')}{row}")
        assert values["drawn_after"] == pytest.approx(promised.value - goal, abs=1e-4)
        assert (abs(values["drawn_after"]) <= promised.tolerance) == club.inside


def test_libreoffice_agrees_with_every_number_of_the_planned_order(
    calc: Calc, read: tuple[OrderToPlan, Plan], planned: tuple[Path, str]
) -> None:
    new, _ = planned
    expected = OrderCells(open_order(new).computed)
    with calc.open(new) as book:
        book.calculate(everything=True)
        need_as_promised(book, *read)
        for table in (PARTS, FIX):
            for column in table.columns:
                for number in range(1, len(BATCH_CLUBS) + 1):
                    wanted = expected.raw(table.name, number, column.key)
                    found = book.value(table.sheet, f"{table.letter(column.key)}{FIRST_ROW + number - 1}")
                    if isinstance(wanted, float):
                        assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9), (table.name, column.key, number)
                    elif isinstance(wanted, str):
                        assert found == wanted, (table.name, column.key, number)


def test_the_plan_typed_into_the_order_in_libreoffice_reads_what_was_promised(
    calc: Calc, order: Path, read: tuple[OrderToPlan, Plan]
) -> None:
    given, plan = read
    with calc.open(order) as book:
        for number, club in zip(given.numbers, plan.clubs, strict=True):
            row = FIRST_ROW + number - 1
            book.put("Parts", f"{PARTS.letter('shaft_number')}{row}", [[club.shaft]])
            if club.added("head"):
                book.put("Fix", f"{FIX.letter('head_added')}{row}", [[club.added("head")]])
        book.calculate(everything=True)
        need_as_promised(book, given, plan)


def test_two_demos_at_once_are_refused(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["demo", "--year", "--plan", str(tmp_path)])
    assert (done.exit_code, done.output) == (2, "! --year and --plan are two demos: ask for one of them\n")
