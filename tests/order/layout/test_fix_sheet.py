"""From loose parts to a set that is in: the forecast learns from the dry fit, and the Fix sheet's advice works."""

import math
from pathlib import Path

import openpyxl
import pytest

from computed_orders import ROWS, Sheets, put
from evenheft.formulas.advice import NO_HEAD
from evenheft.mechanics.head_rise import HEADS
from evenheft.mechanics.swingweight import POINT
from evenheft.order.demo import DEMO_CLUBS, DEMO_SWINGS, PLANTED, build_demo
from evenheft.order.layout import BENCH, FIX, PARTS, SET, SUPPLIER, TARGET
from evenheft.order.report import read_order


def want_no_length(book: openpyxl.Workbook) -> None:
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["length_first"]).value = None


@pytest.fixture(scope="module")
def demo() -> Sheets:
    return Sheets(build_demo())


MODELLED = [club.name for club in DEMO_CLUBS if club.parts is not None]


def test_untaught_forecast_misses_by_points_and_the_taught_one_does_not(demo: Sheets) -> None:
    """A guess misses by less than the doubt that the sheet would tell of it, and by more than a taught rise does."""
    for name in MODELLED:
        guess = HEADS["iron" if "iron" in name else "wedge"].doubt
        assert 0.2 <= abs(demo.number(PARTS, "miss", name)) <= guess * 306 / POINT + 1
        bench = demo.number(SET, "swingweight_number", name)
        taught = demo.computed.value("Parts", ROWS[name], PARTS.at["swingweight"])
        assert isinstance(taught, str)
        points = 10 * "ABCDEFG".index(taught[0]) + float(taught[1:])
        assert points == pytest.approx(bench, abs=0.35)  # heads of one model differ a little in their rise


def test_a_head_that_learns_alone_agrees_with_its_bench_exactly() -> None:
    book = build_demo()
    put(book, PARTS, "model", "7-iron", None)
    sheets = Sheets(book)
    assert sheets.value(PARTS, "rise_used", "7-iron") == sheets.value(PARTS, "learned", "7-iron")
    label = sheets.value(PARTS, "swingweight", "7-iron")
    assert label == sheets.value(FIX, "now", "7-iron")


def test_a_club_without_a_bench_takes_what_its_heads_model_has_taught() -> None:
    book = build_demo()
    for key in ("dry_mass", "dry_balance", "dry_lacking", "period"):
        put(book, BENCH, key, "8-iron", None)
    sheets, whole = Sheets(book), Sheets(build_demo())
    assert sheets.value(FIX, "basis", "8-iron") == "forecast"
    assert sheets.number(FIX, "points", "8-iron") == pytest.approx(whole.number(FIX, "points", "8-iron"), abs=0.5)


def test_a_typed_head_rise_wins() -> None:
    book = build_demo()
    put(book, PARTS, "rise_known", "7-iron", 1.0)
    sheets = Sheets(book)
    assert sheets.number(PARTS, "rise_used", "7-iron") == 1.0


def test_a_dry_fit_is_spoken_of_as_the_club_it_will_be(demo: Sheets) -> None:
    club = next(c for c in DEMO_CLUBS if c.name == "6-iron")
    assert club.parts is not None
    assert demo.number(BENCH, "mass_used", "6-iron") == pytest.approx(club.mass + 2.5 + 1.1, abs=1e-9)
    wedge = next(c for c in DEMO_CLUBS if c.name == "Gap wedge")
    assert wedge.parts is not None
    assert wedge.parts.cut_grip is not None
    finished = wedge.mass + 2.5 - wedge.parts.cut_grip + wedge.parts.grip
    assert demo.number(BENCH, "mass_used", "Gap wedge") == pytest.approx(finished, abs=1e-9)


def test_advice_names_grams_place_and_what_it_will_read(demo: Sheets) -> None:
    assert demo.value(FIX, "advice", "6-iron") == (
        "add 5 g at the head: then D2.1, 2677 kg cm2; or extend 0.8 cm at the butt: then D2.0, 2684 kg cm2, length high"
    )
    assert str(demo.value(FIX, "advice", "9-iron")).startswith(
        "take 4.6 g off the head: then D2.0, 2638 kg cm2; or add 7 g at the butt: then D2.0, "
    )
    assert str(demo.value(FIX, "advice", "Gap wedge")).startswith("measure again first; or take 1.2 g off the head")
    assert demo.value(FIX, "advice", "Driver") == "nothing to do"


def test_advice_applied_makes_every_club_in(demo: Sheets, tmp_path: Path) -> None:
    book = build_demo()
    for club in PLANTED:
        put(book, FIX, "head_added", club, round(demo.number(FIX, "head_grams", club), 1))
    planned = Sheets(book)
    for club in PLANTED:
        assert planned.value(FIX, "then_verdict", club) == "all in"
        assert planned.value(FIX, "now", club) == demo.value(FIX, "now", club)  # it is a plan until it is done
        put(book, FIX, "done", club, "done")
    sheets = Sheets(book)
    path = tmp_path / "fixed.xlsx"
    path.write_bytes(sheets.content)
    report = read_order(path)
    assert {c.name: c.flags for c in report.clubs} == {c.name: "all in" for c in DEMO_CLUBS}
    assert sheets.value(FIX, "advice", "6-iron") == "nothing to do"
    # What the plan promised is what the sheet then says.
    assert sheets.value(FIX, "now", "6-iron") == planned.value(FIX, "then_label", "6-iron")
    for now, then in (("mass", "then_mass"), ("inertia", "then_inertia")):
        assert sheets.number(FIX, now, "6-iron") == pytest.approx(planned.number(FIX, then, "6-iron"), abs=1e-6)


def test_what_was_done_is_not_counted_again_once_the_club_was_measured_with_it(demo: Sheets) -> None:
    book = build_demo()
    put(book, FIX, "head_added", "6-iron", 5)
    put(book, FIX, "done", "6-iron", "done")
    done = Sheets(book)
    mass, balance = done.number(BENCH, "mass_used", "6-iron"), done.number(BENCH, "balance_used", "6-iron")
    assert mass == pytest.approx(demo.number(BENCH, "mass_used", "6-iron") + 5)
    put(book, BENCH, "after_mass", "6-iron", mass)
    put(book, BENCH, "after_balance", "6-iron", balance)
    again = Sheets(book)
    assert again.value(BENCH, "stage", "6-iron") == "after Fix"
    assert again.number(BENCH, "mass_used", "6-iron") == mass
    assert (
        again.value(FIX, "then_label", "6-iron")
        == again.value(FIX, "now", "6-iron")
        == done.value(FIX, "now", "6-iron")
    )


def test_a_club_that_was_not_swung_does_not_keep_its_old_inertia() -> None:
    """By hand: the parts' inertia of the 8-iron, and 4 g at the head's place more."""
    book = build_demo()
    put(book, BENCH, "period", "8-iron", None)
    before = Sheets(book)
    put(book, FIX, "head_added", "8-iron", 4)
    put(book, FIX, "done", "8-iron", "done")
    after = Sheets(book)
    wanted = before.number(FIX, "inertia", "8-iron") + 4 * before.number(FIX, "head_place", "8-iron") ** 2 / 1000
    assert after.number(FIX, "inertia", "8-iron") == pytest.approx(wanted, abs=1e-6)


def test_supplier_sheet_asks_for_the_head_that_brings_the_forecast_to_its_target(demo: Sheets) -> None:
    book = build_demo()
    for club in MODELLED:
        put(book, PARTS, "head_mass", club, demo.value(SUPPLIER, "forecast", club))
    sheets = Sheets(book)
    for club in MODELLED:
        # Only the forecast is asked: the dry fits were of the heads before, and taught their rises.
        target = sheets.value(FIX, "target", club)
        wanted = demo.number(SUPPLIER, "forecast", club)
        assert sheets.number(SUPPLIER, "forecast", club) == pytest.approx(wanted, abs=6.0)
        assert isinstance(target, str)


def test_supplier_verdict_is_a_plain_comparison_of_masses() -> None:
    book = build_demo()
    for club, received in {"6-iron": 264.3, "7-iron": 276.5, "8-iron": 277.6}.items():
        put(book, SUPPLIER, "received", club, received)
    sheets = Sheets(book)
    assert [sheets.value(SUPPLIER, "verdict", c) for c in ("6-iron", "7-iron", "8-iron", "9-iron")] == [
        "in", "high", "low", "",
    ]  # fmt: skip


def test_a_shaft_too_short_is_told_by_how_much() -> None:
    book = build_demo()
    put(book, PARTS, "shaft_length", "7-iron", "35 in")
    sheets = Sheets(book)
    message = sheets.value(PARTS, "swingweight", "7-iron")
    assert isinstance(message, str)
    assert message.startswith("! ")
    assert "too short by" in message
    # Its neighbour still has an answer, from what the model's other heads have taught.
    assert sheets.value(PARTS, "swingweight", "8-iron") == "D1.9"


def test_a_lacking_part_that_parts_does_not_know_is_told() -> None:
    book = build_demo()
    put(book, BENCH, "dry_lacking", "7-iron", "adapter")
    message = Sheets(book).value(BENCH, "mass_used", "7-iron")
    assert isinstance(message, str)
    assert "adapter is still to come, so its mass must be given" in message


def test_a_swung_dry_fit_gets_what_it_lacks_added_to_its_own_inertia() -> None:
    """By hand: the pendulum's inertia of the dry fit as it hung, then a bare shaft end's grip, tape and epoxy."""
    book = build_demo()
    club = next(c for c in DEMO_CLUBS if c.name == "7-iron")
    assert club.parts is not None
    mass, balance, period, cap = 424.8 - club.parts.grip - 1.4, 80.3, 1.90, 0.4
    for key, value in {"dry_mass": mass, "dry_balance": balance, "dry_hooked": "shaft end",
                       "period": period * DEMO_SWINGS,
                       "dry_lacking": "grip, tape, epoxy, ferrule"}.items():  # fmt: skip
        put(book, BENCH, key, "7-iron", value)
    sheets = Sheets(book)
    swung = mass * 980.665 * (balance + cap) * (period / (2 * math.pi)) ** 2
    tip = 37 * 2.54 - 3.6
    to_come = (
        club.parts.grip * 11.0**2 * 4 / 3 + 1.4 * 13.0**2 * 4 / 3 + 2.5 * (tip - 1.5) ** 2 + 1.1 * (tip - 4.2) ** 2
    )
    assert sheets.number(BENCH, "inertia_used", "7-iron") == pytest.approx((swung + to_come) / 1000, rel=1e-12)


def test_a_dry_fit_that_lacks_parts_which_nobody_weighed_is_told() -> None:
    book = build_demo()
    put(book, BENCH, "dry_lacking", "Driver", "epoxy")
    for stage, other in (("dry", "done"),):
        for key in ("mass", "balance"):
            put(book, BENCH, f"{stage}_{key}", "Driver", {"mass": 316.1, "balance": 85.45}[key])
            put(book, BENCH, f"{other}_{key}", "Driver", None)
    message = Sheets(book).value(BENCH, "mass_used", "Driver")
    assert message == "! the dry fit still lacks something: weigh this club's parts on Parts"


def test_stock_that_is_not_enough_says_so_and_a_useless_counterweight_is_not_offered() -> None:
    book = build_demo()
    for name in ("stock_head", "stock_butt"):
        first, *others = [c for (c,) in book["Shop"][book.defined_names[name].attr_text.split("!")[1].replace("$", "")]]
        first.value = 1
        for cell in others:
            cell.value = None
    sheets = Sheets(book)
    assert str(sheets.value(FIX, "advice", "6-iron")).startswith("add 2 g at the head: then D0.8 (low), ")
    assert "add" not in str(sheets.value(FIX, "advice", "9-iron"))
    assert str(sheets.value(FIX, "advice", "9-iron")).startswith("take 4.6 g off the head: then D2.0, ")


def test_a_light_club_of_unknown_length_is_asked_for_it() -> None:
    book = build_demo()
    put(book, BENCH, "length", "6-iron", None)
    want_no_length(book)
    for column in PARTS.columns:
        if column.role == "input":
            put(book, PARTS, column.key, "6-iron", None)
    put(book, BENCH, "dry_lacking", "6-iron", None)
    assert Sheets(book).value(FIX, "advice", "6-iron") == f"! {NO_HEAD}"


def test_stock_is_in_grams_whatever_the_orders_unit() -> None:
    book = build_demo()
    address = book.defined_names["shop_units"].attr_text.split("!")[1].replace("$", "")
    book["Shop"][address].value = "oz in"
    for key, value in {"done_mass": "415.5 g", "done_balance": "72.9 cm"}.items():
        put(book, BENCH, key, "5-iron", value)
    put(book, PARTS, "grip_mass", "5-iron", "49.8 g")
    sheets = Sheets(book)
    grams = sheets.number(FIX, "head_grams", "5-iron") * 28.349523125
    assert 1.5 < grams < 2.5
    assert str(sheets.value(FIX, "advice", "5-iron")).startswith(f"add {round(grams)} g at the head: then D")


def test_a_club_that_is_off_in_something_else_is_not_said_to_need_nothing() -> None:
    book = build_demo()
    put(book, BENCH, "lie", "7-iron", 70)
    assert Sheets(book).value(FIX, "advice", "7-iron") == "nothing for the swingweight; see what else is flagged"


def test_a_forecast_inside_its_tolerance_needs_nothing_once_it_is_sure_of_it() -> None:
    book = build_demo()
    for key in ("dry_mass", "dry_balance", "dry_lacking", "period"):
        put(book, BENCH, key, "8-iron", None)
    sheets = Sheets(book)
    assert sheets.value(FIX, "basis", "8-iron") == "forecast"
    assert sheets.value(FIX, "advice", "8-iron") == "too near the edge for a forecast: weigh it as a dry fit first"
    irons = next(r for r in range(TARGET.first_row, TARGET.last_row + 1)
                 if book["Order"].cell(r, TARGET.at["group"]).value == "Irons")  # fmt: skip
    book["Order"].cell(irons, TARGET.at["swingweight_tolerance"]).value = 2
    assert Sheets(book).value(FIX, "advice", "8-iron") == "nothing to do"


def test_what_was_added_to_a_head_whose_place_is_unknown_is_told() -> None:
    book = build_demo()
    put(book, BENCH, "length", "Driver", None)
    want_no_length(book)
    put(book, FIX, "head_added", "Driver", 2)
    put(book, FIX, "done", "Driver", "done")
    assert str(Sheets(book).value(BENCH, "mass_used", "Driver")).startswith("! ")


def test_what_was_added_does_not_make_a_forecast_vanish() -> None:
    book = build_demo()
    for key in ("dry_mass", "dry_balance", "dry_lacking", "period"):
        put(book, BENCH, key, "8-iron", None)
    put(book, FIX, "head_added", "8-iron", 2)
    put(book, FIX, "done", "8-iron", "done")
    sheets = Sheets(book)
    assert sheets.value(FIX, "basis", "8-iron") == "forecast"
    assert sheets.value(FIX, "now", "8-iron") == "D1.9"
    assert sheets.value(FIX, "advice", "8-iron") == "! what was done counts once the club is measured"
