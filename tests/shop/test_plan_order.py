"""`evenheft plan ORDER`: what an order's sheets give to plan, and the planned order that is written beside it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import Workbook, load_workbook

from evenheft.cli import main
from evenheft.mechanics.pairing.plan import Plan, outline, plan_set
from evenheft.order.cells import OrderCells
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import PARTS
from evenheft.order.report import open_order
from evenheft.shop.plan_order import OrderToPlan, order_to_plan
from order_pages import PageRow, filled_order, irons

HEADS = (254.2, 261.9, 266.7, 276.4, 281.6, 289.9)
SHAFTS = ((104.5, 48.5), (101.2, 48.1), (99.1, 48.7), (103.3, 48.6), (100.4, 48.3), (98.2, 48.2))
TARGETS: list[PageRow] = [
    {"group": "Irons", "swingweight_first": "D1", "swingweight_tolerance": 0.5,
     "inertia_first": 2690, "inertia_change": -12, "inertia_tolerance": 30},
]  # fmt: skip
STOCK = {"order_number": "T-1", "shop_units": "g cm"}


@pytest.fixture(autouse=True)
def _no_shop_book(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("EVENHEFT_SHOP", raising=False)


def an_order(path: Path, **further: object) -> Path:
    return filled_order(path, irons(HEADS, SHAFTS, **further), targets=TARGETS, named=STOCK)


def a_stock(path: Path, aside: str = "") -> Path:
    """A workbook with eight shafts and few weights."""
    book = Workbook()
    shafts = book.active
    shafts.title = "Shafts"
    shafts.append(["Number", "Mass (g)", "Length (in)", "Balance (cm)", "Set aside for"])
    for n in range(8):
        shafts.append([f"S{n + 1}", 96.0 + 1.3 * n, 39, 48.0 + 0.1 * n, aside if n == 7 else None])
    weights = book.create_sheet("Weights")
    for row in (["Size (g)", "Where", "Count"], [2, "head", 3], [4, "head", 2], [7, "head", 4], [9, "head", 4]):
        weights.append(row)
    book.save(path)
    return path


def planned(path: Path, stock: Path | None = None) -> tuple[OrderToPlan, Plan]:
    given = order_to_plan(open_order(path), stock)
    return given, plan_set(given.batch)


def run(*given: object) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["plan", *map(str, given)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.output
    return done.exit_code, done.output


def need_as_promised(new: Path, given: OrderToPlan, plan: Plan) -> None:
    """The planned order's own sheets read what was promised, and judge it so."""
    cells = OrderCells(open_order(new).computed)
    for number, club in zip(given.numbers, plan.clubs, strict=True):
        points = next(reading for reading in club.readings if reading.leading == "points")
        then, now = (cells.number("fix", number, key, 6) for key in ("then_points", "points"))
        assert (now if then is None else then) == pytest.approx(points.value, abs=1e-4), club.club
        deviation = points.value - (cells.number("set", number, "swingweight_goal") or 0.0)
        assert deviation == pytest.approx(points.deviation, abs=1e-4)


def test_the_planned_order_reads_what_was_promised_and_the_order_stays_as_it_was(tmp_path: Path) -> None:
    path, stock = an_order(tmp_path / "order.xlsx"), a_stock(tmp_path / "stock.xlsx")
    before = path.read_bytes(), stock.read_bytes()
    given, plan = planned(path, stock)
    assert len(given.batch.shafts) == 6 + 8
    assert outline(plan.as_it_stands).inside < outline(plan.clubs).inside
    code, text = run(path, "--shafts-from", stock)
    assert code == 0, text
    assert "order-planned.xlsx: shafts on Parts, weights on Fix. order.xlsx is as it was." in text
    assert (path.read_bytes(), stock.read_bytes()) == before
    new = tmp_path / "order-planned.xlsx"
    need_as_promised(new, given, plan)
    shafts = {shaft.label: shaft for shaft in given.batch.shafts}
    cells = OrderCells(open_order(new).computed)
    for number, club in zip(given.numbers, plan.clubs, strict=True):
        assert cells.mass("parts", number, "shaft_mass") == pytest.approx(shafts[str(club.shaft)].mass)
        assert (cells.mass("fix", number, "head_added") or 0.0) == pytest.approx(club.added("head"))
    # Its results are stored, for a preview that computes nothing.
    stored = load_workbook(new, data_only=True)
    row = cells.rows("parts")[1]
    assert stored[PARTS.sheet].cell(row, PARTS.at["mass"]).value == pytest.approx(cells.number("parts", 1, "mass"))


def test_shafts_may_change_places_among_the_clubs_where_no_stock_is_named(tmp_path: Path) -> None:
    path = an_order(tmp_path / "order.xlsx")
    given, plan = planned(path)
    assert sorted(str(club.shaft) for club in plan.clubs) == sorted(shaft.label for shaft in given.batch.shafts)
    code, text = run(path, "--to", tmp_path / "new.xlsx")
    assert code == 0
    assert "Shafts: those on Parts." in text
    need_as_promised(tmp_path / "new.xlsx", given, plan)


def test_an_order_in_ounces_and_inches_is_planned_alike(tmp_path: Path) -> None:
    metric = an_order(tmp_path / "metric.xlsx")
    clubs = []
    for club in irons([mass / 28.349523125 for mass in HEADS], [(m / 28.349523125, b / 2.54) for m, b in SHAFTS]):
        ounces = {f"parts.{key}": value / 28.349523125 for key, value in
                  (("grip_mass", 50.0), ("tape", 1.4), ("epoxy", 2.5), ("ferrule", 1.1))}  # fmt: skip
        clubs.append({**club, **ounces, "parts.rise_known": 1.5 / 2.54})
    path = filled_order(tmp_path / "inch.xlsx", clubs, targets=TARGETS, named={**STOCK, "shop_units": "oz in"})
    (_, one), (given, other) = planned(metric), planned(path)
    assert [(c.shaft, c.pieces) for c in other.clubs] == [(c.shaft, c.pieces) for c in one.clubs]
    assert run(path, "--to", tmp_path / "new.xlsx")[0] == 0
    need_as_promised(tmp_path / "new.xlsx", given, other)


def test_dry_fitted_clubs_keep_their_shafts_and_weights_are_told_as_lacking(tmp_path: Path) -> None:
    path = tmp_path / "demo.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    given, plan = planned(path)
    assert {club.decided for club in given.batch.clubs} == {"shaft", "club"}
    assert [club.shaft for club in plan.clubs] == [club.laid_shaft for club in given.batch.clubs]
    as_read = {club.name: club for club in _report(path)}
    for club in plan.as_it_stands:  # as Set reads it on the bench
        value = next(j.value for j in as_read[club.club].judgements if j.quantity == "swingweight")
        assert club.readings[0].value == pytest.approx(value, abs=0.02)
    assert run(path, "--to", tmp_path / "new.xlsx")[0] == 0
    need_as_promised(tmp_path / "new.xlsx", given, plan)


def _report(path: Path):  # type: ignore[no-untyped-def]
    from evenheft.order.report import read_order

    return read_order(path).clubs


def test_what_leads_a_group_is_what_is_planned(tmp_path: Path) -> None:
    path = tmp_path / "order.xlsx"
    for leads, readings in (("swingweight", ["points"]), ("inertia", ["inertia"]), ("both", ["points", "inertia"])):
        filled_order(path, irons(HEADS, SHAFTS), targets=[{**TARGETS[0], "leads": leads}], named=STOCK)
        given = order_to_plan(open_order(path), None)
        assert [target.leading for target in given.batch.clubs[0].targets] == readings


def test_a_club_that_cannot_be_planned_is_named_and_the_others_are(tmp_path: Path) -> None:
    clubs = irons(HEADS, SHAFTS)
    clubs[2] = {**clubs[2], "order.group": "Woods"}
    clubs[3] = {**clubs[3], "order.club": "4-iron"}
    path = filled_order(tmp_path / "order.xlsx", clubs, targets=TARGETS, named=STOCK)
    given, _ = planned(path)
    assert [club.label for club in given.batch.clubs] == [
        "4-iron (no. 1)",
        "5-iron",
        "4-iron (no. 4)",
        "8-iron",
        "9-iron",
    ]
    assert given.beside[0] == "6-iron is left out: it has no target: say what it must read"


def test_a_shaft_set_aside_for_this_order_is_taken_and_for_another_left(tmp_path: Path) -> None:
    path = an_order(tmp_path / "order.xlsx")
    for aside, reserved in (("T-1", frozenset()), ("T-2", frozenset({"S8"}))):
        given, _ = planned(path, a_stock(tmp_path / f"{aside}.xlsx", aside))
        assert given.batch.reserved == reserved


def test_the_stock_of_the_shop_sheet_counts(tmp_path: Path) -> None:
    path = an_order(tmp_path / "order.xlsx")
    book = load_workbook(path)
    for row in range(8, 24):
        for column in (8, 9, 10, 11):
            book["Shop"].cell(row, column).value = None
    book["Shop"]["H8"], book["Shop"]["I8"], book["Shop"]["H9"] = 6, 2, 11
    book.save(path)
    given, _ = planned(path)
    assert [(w.mass, w.count, w.place) for w in given.batch.weights] == [(6.0, 2, "head"), (11.0, 100, "head")]


def test_what_is_amiss_is_one_line(tmp_path: Path) -> None:
    empty = filled_order(tmp_path / "empty.xlsx", [], targets=TARGETS)
    code, text = run(empty)
    assert (code, text.count("\n")) == (2, 1)
    assert "no head is weighed yet" in text
    bare = [{k: v for k, v in club.items() if "shaft" not in k} for club in irons(HEADS, SHAFTS)]
    code, text = run(filled_order(tmp_path / "bare.xlsx", bare, targets=TARGETS))
    assert (code, text.count("\n")) == (2, 1)
    assert "there is no shaft to choose from: weigh the shafts on Parts, or name a shop book" in text
    path = an_order(tmp_path / "order.xlsx")
    assert run(path, "--to", tmp_path / "new.csv") == (2, "! the planned order's name must end in .xlsx, got new.csv\n")
    assert run(path, "--shafts-from", empty)[0] == 2
    taken = tmp_path / "taken.xlsx"
    taken.write_bytes(b"mine")
    assert run(path, "--to", taken)[0] == 2
    assert taken.read_bytes() == b"mine"
    code, text = run(a_stock(tmp_path / "stock.xlsx"), "--show")
    assert (code, text) == (2, "! --also, --to and --show are for an order, and stock.xlsx is none\n")


def test_shown_only_nothing_is_written(tmp_path: Path) -> None:
    path = an_order(tmp_path / "order.xlsx")
    assert run(path, "--show")[0] == 0
    assert [found.name for found in tmp_path.iterdir()] == ["order.xlsx"]
