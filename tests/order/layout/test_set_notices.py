"""What the Set sheet says at its top of the whole order, and of grams that no part explains."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from computed_orders import Sheets, put
from evenheft.cli import main
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, FIX, ORDER, PARTS, SET, TARGET, USUAL
from evenheft.order.report import as_json, computed_order


def name(book: openpyxl.Workbook, key: str, value: object) -> None:
    sheet, _, cell = book.defined_names[key].attr_text.replace("$", "").partition("!")
    book[sheet][cell].value = value


def top(book: openpyxl.Workbook) -> str:
    return str(Sheets(book).computed.value("Set", 2, 1))


def iron(**measured: object) -> openpyxl.Workbook:
    """One iron on the bench of a new order."""
    book = build_order()
    book["Order"].cell(FIRST_ROW, ORDER.at["club"]).value = "7-iron"
    book["Order"].cell(FIRST_ROW, ORDER.at["group"]).value = "Irons"
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["swingweight_first"]).value = "D2"
    for key, value in measured.items():
        book["Bench"].cell(FIRST_ROW, BENCH.at[key]).value = value
    return book


def test_a_new_order_is_silent_while_its_tolerances_are_supported() -> None:
    assert top(iron(done_mass=433.2, done_balance=71.65)) == SET.lead
    assert top(build_demo()) == SET.lead


def test_a_tolerance_that_no_bench_here_supports_is_said_once_with_what_would() -> None:
    book = iron(done_mass=433.2, done_balance=71.65)
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["swingweight_tolerance"]).value = 0.5
    assert top(book) == (
        "Swingweight: +-0.5 points is finer than these instruments support, +-1.1: accept that on Order, or read the "
        "balance to +-0.088 cm."
    )
    name(book, "doubt_balance", "0.088 cm")
    assert top(book) == SET.lead


def test_swings_to_count_are_told_and_enough() -> None:
    book = iron(done_mass=433.2, done_balance=71.65, period=18.6)
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["inertia_first"]).value = 2650
        book["Order"].cell(row, TARGET.at["inertia_tolerance"]).value = 40
    said = top(book)
    assert said.startswith("Inertia: +-40 kg cm2 is finer than these instruments support, +-")
    swings = int(said.partition("or count ")[2].partition(" ")[0])
    assert 10 < swings < 40
    name(book, "shop_swings", swings)
    book["Bench"].cell(FIRST_ROW, BENCH.at["period"]).value = 1.86 * swings
    name(book, "doubt_pivot", "0 cm")
    name(book, "doubt_gravity", 0)
    assert top(book) == SET.lead


def test_check_says_it_too(tmp_path: Path) -> None:
    book = iron(done_mass=433.2, done_balance=71.65)
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["swingweight_tolerance"]).value = 0.5
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(book))
    said = CliRunner().invoke(main, ["check", str(path)])
    assert said.output.count("Note: Swingweight: +-0.5 points is finer") == 1
    content = as_json(computed_order(path.read_bytes(), path.name)[1])
    assert content["notices"][0].startswith("Swingweight: +-0.5 points")


def test_dry_fits_of_which_nobody_said_what_they_lack_are_asked_about_in_one_line() -> None:
    said = top(iron(dry_mass=430.0, dry_balance=71.5))
    assert said == (
        "Dry fits with nothing under Still lacking and no parts on Parts: 1. Write what they lack, or none."
    )
    assert top(iron(dry_mass=430.0, dry_balance=71.5, dry_lacking="none")) == SET.lead


@pytest.mark.parametrize("grams", [4.0, -4.0])
def test_grams_that_no_part_explains_are_told_of_that_club_alone(grams: float) -> None:
    book = build_demo()
    mass = Sheets(book).number(BENCH, "dry_mass", "7-iron")
    put(book, BENCH, "dry_mass", "7-iron", mass + grams)
    sheets = Sheets(book)
    flags = str(sheets.value(SET, "flags_in_full", "7-iron"))
    assert "unexplained: it weighs " in flags
    assert ("more" if grams > 0 else "less") in flags
    assert "unexplained" not in str(sheets.value(SET, "flags_in_full", "8-iron"))
    # What such a fit says of the head is not taught to its sisters.
    assert not isinstance(sheets.value(PARTS, "learned", "7-iron"), float)


def test_still_lacking_left_blank_counts_as_none_where_the_masses_agree() -> None:
    book = build_demo()
    put(book, BENCH, "dry_lacking", "7-iron", None)
    lacking = str(Sheets(book).value(SET, "flags_in_full", "7-iron"))
    assert "What is it still lacking?" in lacking
    for part in ("epoxy", "ferrule"):
        put(book, PARTS, part, "7-iron", None)
    assert "unexplained" not in str(Sheets(book).value(SET, "flags_in_full", "7-iron"))


def test_a_finished_club_with_a_weight_that_parts_lacks_is_told() -> None:
    book = build_demo()
    mass = Sheets(book).number(BENCH, "done_mass", "5-iron")
    put(book, BENCH, "done_mass", "5-iron", mass + 6)
    flag = str(Sheets(book).value(SET, "flags_in_full", "5-iron"))
    assert "g unexplained: it weighs more than its parts" in flag
    assert "What is on it that is not typed?" in flag


def test_the_doubt_of_what_a_dry_fit_lacks_is_in_the_sets_doubt() -> None:
    book = build_demo()
    before = Sheets(book).number(SET, "swingweight_doubt", "7-iron")
    name(book, "doubt_epoxy", "1 g")
    assert Sheets(book).number(SET, "swingweight_doubt", "7-iron") > before + 0.05
    finished = Sheets(build_demo()).number(SET, "swingweight_doubt", "5-iron")
    assert Sheets(book).number(SET, "swingweight_doubt", "5-iron") == finished


def test_a_forecast_shows_its_doubt_and_an_untaught_one_is_called_a_guess() -> None:
    book = build_demo()
    for club in ("5-iron", "6-iron", "7-iron", "8-iron", "9-iron"):
        for key in ("dry_mass", "dry_balance", "dry_lacking", "done_mass", "done_balance", "period"):
            put(book, BENCH, key, club, None)
    sheets = Sheets(book)
    assert sheets.value(FIX, "advice", "7-iron") == "a guess: dry-fit one of these first"
    taught = Sheets(build_demo()).number(PARTS, "doubt", "7-iron")
    assert 0.2 < taught < 0.9
    assert sheets.number(PARTS, "doubt", "7-iron") > 2 * taught


def test_whether_a_set_is_alike_is_judged_without_what_shifts_every_club_alike() -> None:
    """A pivot that nobody has measured doubts every inertia, and their differences not at all."""
    book = build_demo()
    for club in ("6-iron", "9-iron", "Gap wedge"):  # planted
        for key in ("dry_mass", "dry_balance", "dry_lacking", "period"):
            put(book, BENCH, key, club, None)
    notice = Sheets(book).computed.value("Set", 1, SET.at["slot1_value"])
    assert str(notice).startswith("Swingweight: alike: the clubs lie up to 0.")
    assert "Inertia: alike: the clubs lie up to " in str(notice)
    name(book, "doubt_pivot", "3 cm")
    sheets = Sheets(book)
    assert "Inertia: alike: " in str(sheets.computed.value("Set", 1, SET.at["slot1_value"]))
    assert sheets.value(SET, "inertia_verdict", "7-iron") == "re-measure"


def test_one_club_is_no_set() -> None:
    assert Sheets(iron(done_mass=433.2, done_balance=71.65)).computed.value("Set", 1, SET.at["slot1_value"]) == ""


MOVED = "Clubs on Order do not stand by their numbers: places, and so targets, are counted down the list."


@pytest.mark.parametrize(
    ("numbers", "change", "said"),
    [((1, 2, 3), 0.5, False), ((3, 1, 2), 0.5, True), ((3, 1, 2), None, False), ((2, 5, 9), 0.5, False)],
)
def test_clubs_that_were_sorted_out_of_their_numbers_are_told_where_targets_change_along_the_list(
    numbers: tuple[int, ...], change: float | None, said: bool
) -> None:
    book = iron()
    for row, number in enumerate(numbers, start=FIRST_ROW):
        for key, value in (("number", number), ("club", f"club {number}"), ("group", "Irons")):
            book["Order"].cell(row, ORDER.at[key]).value = value
    for row in range(FIRST_ROW + len(numbers), FIRST_ROW + 24):
        book["Order"].cell(row, ORDER.at["number"]).value = None
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["swingweight_change"]).value = change
    assert (top(book) == MOVED) == said
    assert top(book) in (MOVED, SET.lead)


def test_a_group_of_which_shop_says_nothing_is_told_once_its_parts_are_weighed() -> None:
    book = iron()
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        if book["Order"].cell(row, TARGET.at["group"]).value == "Irons":
            book["Order"].cell(row, TARGET.at["group"]).value = "Eisen"
    book["Order"].cell(FIRST_ROW, ORDER.at["group"]).value = "Eisen"
    assert top(book) == SET.lead
    book["Parts"].cell(FIRST_ROW, PARTS.at["head_mass"]).value = 262
    said = "Group Eisen is not on Shop: what is usual of every group counts."
    assert top(book) == said
    assert computed_order(save_bytes(book), "o.xlsx")[1].notices == (said,)
    for row in range(USUAL.first_row, USUAL.last_row + 1):
        if book["Shop"].cell(row, USUAL.at["group"]).value == "Irons":
            book["Shop"].cell(row, USUAL.at["group"]).value = "Eisen"
    assert top(book) == SET.lead


def test_what_several_sheets_have_lost_is_one_line() -> None:
    book = iron(done_mass=433.2, done_balance=71.65)
    book["Parts"].cell(FIRST_ROW, PARTS.at["head_mass"]).value = 262
    for key in ("number", "club", "group"):
        book["Order"].cell(FIRST_ROW, ORDER.at[key]).value = None
    assert Sheets(book).computed.value("Set", 1, 3) == (
        "! no club has number 1, which is filled in on Parts: 262; no club has number 1, which is filled in on Bench: "
        "433.2"
    )
    assert top(book) == SET.lead
