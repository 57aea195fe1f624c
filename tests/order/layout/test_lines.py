"""Where the set should lie: reference clubs that fill target lines, and the line of least added mass for each group."""

from __future__ import annotations

from itertools import pairwise

import openpyxl
import pytest
from pytest import approx

from computed_orders import Sheets, put
from evenheft.order.demo import DEMO_CLUBS, build_demo
from evenheft.order.layout import BENCH, FIX, GROUP_LINES, ORDER, SET, TARGET
from formula_answers import heft, number

IRONS = [club.name for club in DEMO_CLUBS if club.group == "Irons"]
OLD = {"group": "Irons", "place": 3, "mass": 430.0, "balance": 73.0, "period": 55.8}
"""An invented 7-iron, timed over the demo's thirty swings."""


def row_of(group: str, book: openpyxl.Workbook) -> int:
    column = TARGET.at["group"]
    rows = range(TARGET.first_row, TARGET.last_row + 1)
    return next(row for row in rows if book["Order"].cell(row, column).value == group)


def aim(book: openpyxl.Workbook, group: str, key: str, value: object) -> None:
    book["Order"].cell(row_of(group, book), TARGET.at[key]).value = value


def name(book: openpyxl.Workbook, key: str, value: object) -> None:
    sheet, _, cell = book.defined_names[key].attr_text.replace("$", "").partition("!")
    book[sheet][cell].value = value


def like(book: openpyxl.Workbook, club: int = 1, **read: object) -> None:
    for part, value in read.items():
        name(book, f"reference{club}_{part}", value)


def goals(book: openpyxl.Workbook, key: str) -> list[object]:
    sheets = Sheets(book)
    return [sheets.value(SET, f"{key}_goal", club) for club in IRONS]


def test_a_reference_club_fills_what_is_left_blank_from_its_place() -> None:
    book = build_demo()
    for key in ("swingweight", "mass", "inertia"):
        aim(book, "Irons", f"{key}_first", None)
    aim(book, "Irons", "swingweight_change", 0.5)
    aim(book, "Irons", "mass_change", "7 g")
    like(book, **OLD)
    points = number("HEFT_POINTS", 430.0, 73.0)
    assert goals(book, "swingweight") == approx([points - 1.0 + 0.5 * n for n in range(len(IRONS))])
    assert goals(book, "mass") == approx([430.0 - 14.0 + 7.0 * n for n in range(len(IRONS))])
    inertia = goals(book, "inertia")
    assert inertia[2] == approx(2667, abs=60)  # 430 g at 73 cm, 1.86 s: near the demo's own 7-iron
    assert [later - earlier for earlier, later in pairwise(inertia)] == approx([-10.0] * 4)


def test_what_is_typed_wins_and_a_dash_is_not_judged() -> None:
    book = build_demo()
    aim(book, "Irons", "mass_first", "-")
    aim(book, "Irons", "inertia_first", None)
    like(book, group="Irons", mass=430.0, balance=73.0)
    assert goals(book, "swingweight") == [32.0] * len(IRONS)
    assert goals(book, "mass") == [""] * len(IRONS)
    assert goals(book, "inertia") == [""] * len(IRONS)  # it was not timed
    assert Sheets(book).value(SET, "mass_verdict", IRONS[0]) == ""


def test_each_of_three_reference_clubs_fills_its_own_group() -> None:
    book = build_demo()
    for group in ("Driver", "Irons", "Wedges"):
        aim(book, group, "mass_first", None)
    for club, (group, mass) in enumerate((("Wedges", 470.0), ("Driver", 315.0), ("Irons", 425.0)), start=1):
        like(book, club, group=group, mass=mass, balance=75.0)
    sheets = Sheets(book)
    found = {club.group: sheets.value(SET, "mass_goal", club.name) for club in DEMO_CLUBS}
    assert found == {"Driver": 315.0, "Irons": 425.0, "Wedges": 470.0}


def test_a_slip_in_a_reference_club_is_told_where_it_is_and_where_it_would_count() -> None:
    book = build_demo()
    aim(book, "Irons", "swingweight_first", None)
    like(book, group="Irons", mass=430.0, balance=29.6)
    sheets = Sheets(book)
    assert "inches?" in str(sheets.value(SET, "swingweight_verdict", IRONS[0]))
    texts = [sheets.computed.value("Order", row, TARGET.first_column) for row in range(17, 30)]
    assert sum("balance must be beyond the fulcrum" in str(text) for text in texts) == 1


@pytest.mark.parametrize("leads", ["", "inertia"])
def test_the_line_of_least_added_mass_is_that_of_the_formula_for_the_group_alone(leads: str) -> None:
    book = build_demo()
    aim(book, "Irons", "leads", leads or None)
    sheets = Sheets(book)
    key, what = ("inertia", "inertia") if leads else ("points", "swingweight")
    places = [[n] for n in range(1, len(IRONS) + 1)]
    values = [[sheets.number(FIX, key, club)] for club in IRONS]
    positions = [[sheets.number(FIX, "head_place", club)] for club in IRONS]
    row = row_of("Irons", book)
    change, tolerance = (book["Order"].cell(row, TARGET.at[f"{what}_{part}"]).value for part in ("change", "tolerance"))
    doubts = [[sheets.number(FIX, f"{what}_doubt", club)] for club in IRONS]
    line = ("line", None, what, None, None, None, doubts)
    wanted = heft("HEFT_LEAST_LINE", places, values, positions, tolerance, change, *line)
    said = sheets.computed.value("Order", row, GROUP_LINES.at["offer"])
    assert said == wanted
    assert str(said).startswith("first ")
    assert sheets.computed.value("Order", row_of("Woods", book), GROUP_LINES.at["offer"]) == ""


def test_the_change_is_offered_too_when_asked_and_costs_no_more() -> None:
    book = build_demo()
    row = row_of("Irons", book)
    kept = str(Sheets(book).computed.value("Order", row, GROUP_LINES.at["offer"]))
    name(book, "order_offer_change", "yes")
    free = str(Sheets(book).computed.value("Order", row, GROUP_LINES.at["offer"]))
    assert ", change 0:" in kept and ", change 0:" not in free
    grams = [0.0 if "no added mass" in line else float(line.partition(": ")[2].split()[0]) for line in (kept, free)]
    assert grams[1] < grams[0]


def test_the_offered_line_judges_every_club_in_once_its_grams_are_added() -> None:
    """Applied to the clubs: first typed on Order, grams added at the head in Fix's plan and done."""
    book = build_demo()
    for club in IRONS:  # weighed as they are: nothing lacks, nothing was done
        put(book, BENCH, "dry_lacking", club, "none")
    sheets = Sheets(book)
    places = [[n] for n in range(1, len(IRONS) + 1)]
    values = [[sheets.number(FIX, "points", club)] for club in IRONS]
    positions = [[sheets.number(FIX, "head_place", club)] for club in IRONS]
    first = number("HEFT_LEAST_LINE", places, values, positions, 0.5, 0, "first")
    aim(book, "Irons", "swingweight_first", first)
    for club, (value,), (position,) in zip(IRONS, values, positions, strict=True):
        lacking = first - 0.5 - value
        if lacking > 0:
            put(book, FIX, "head_added", club, lacking / number("HEFT_PER_GRAM", position) + 0.01)
            put(book, FIX, "done", club, "done")
    after = Sheets(book)
    for club in IRONS:
        assert abs(after.number(SET, "swingweight_number", club) - first) <= 0.5 + 0.02


def test_a_club_whose_length_nobody_knows_is_named() -> None:
    book = build_demo()
    for table, key in ((BENCH, "length"),):
        put(book, table, key, "Driver", None)
    aim(book, "Driver", "length_first", None)
    said = Sheets(book).computed.value("Order", row_of("Driver", book), GROUP_LINES.at["offer"])
    assert said == "! where mass is to go on club 1 is not known (positions is blank there): type its length"


def test_what_works_it_out_is_hidden() -> None:
    book = build_demo()
    for column in GROUP_LINES.columns:
        assert column.role == "work"
        assert book["Order"].column_dimensions[GROUP_LINES.letter(column.key)].hidden
    assert ORDER.sheet == GROUP_LINES.sheet
