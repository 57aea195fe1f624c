"""Ordinary gestures on each sheet of an order, in a real LibreOffice: the right answer, or a line that tells."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from calc_office import Calc, OpenBook
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import column_letter, column_number
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import FIRST_ROW, ROOMS, SET, SETTINGS, TABLES, TARGET, Table
from evenheft.order.layout.set_sheet import GONE, NOT_HERE
from evenheft.order.report import OrderReport, read_order
from gestures import ShownValues, computed_values, differences, headings_of, line_in, shown_in, wanted_of

DOCS = Path(__file__).parents[2] / "docs" / "order.md"
SHEETS = ("Order", "Targets", "Parts", "Bench", "Set", "Fix", "Supplier", "Scale", "Card")
TYPED = {"Order": "club", "Targets": "swingweight_first", "Parts": "head_mass", "Bench": "dry_mass",
         "Fix": "head_added", "Supplier": "wanted", "Set": "flags", "Scale": "calculated_label",
         "Card": "reading"}  # fmt: skip
"""A column of each sheet that a gesture is made in."""
LAST_TYPED = {"Order": 9, "Targets": 6}
"""How many rows are filled in, where it is not the nine clubs."""


@dataclass(frozen=True)
class Gesture:
    """A gesture, and how it is made on a sheet."""

    make: Callable[[OpenBook, Table, str], None]
    harmless: bool = False
    """Whether no club may show anything else after it than before."""


def table_of(sheet: str) -> Table:
    return TARGET if sheet == "Targets" else TABLES[sheet.lower()]


def cell(table: Table, key: str, nth: int) -> str:
    return f"{table.letter(key)}{FIRST_ROW + nth - 1}"


def typed_row(table: Table, nth: int) -> str:
    """The cells of a row in which a person may type, or all of it where there are none."""
    keys = [column.key for column in table.columns if column.role == "input"] or [c.key for c in table.columns]
    return f"{cell(table, keys[0], nth)}:{cell(table, keys[-1], nth)}"


def over_another(command: str) -> Gesture:
    def make(book: OpenBook, table: Table, key: str) -> None:
        book.gesture(table.sheet, cell(table, key, 4), command)
        book.gesture(table.sheet, cell(table, key, 5), "Paste")

    return Gesture(make)


def row_moved(command: str, to: int, *, harmless: bool = False) -> Gesture:
    def make(book: OpenBook, table: Table, _: str) -> None:
        book.gesture(table.sheet, typed_row(table, 4), command)
        book.gesture(table.sheet, typed_row(table, to).partition(":")[0], "Paste")

    return Gesture(make, harmless)


def drag(book: OpenBook, table: Table, key: str) -> None:
    book.drag(table.sheet, cell(table, key, 4), cell(table, key, 5))


def sorted_rows(book: OpenBook, table: Table, key: str) -> None:
    first = typed_row(table, 1).partition(":")[0]
    last = typed_row(table, LAST_TYPED.get("Targets" if table is TARGET else table.sheet, 9)).rpartition(":")[2]
    if table.name not in ("order", "target"):
        first = f"A{FIRST_ROW}"
    sort(book, table.sheet, f"{first}:{last}", table.at[key])


def sorted_unprotected(book: OpenBook, table: Table, _: str) -> None:
    book.unprotect(table.sheet)
    last = column_letter(table.first_column + len(table.columns) - 1)
    first = column_letter(table.first_column)
    rows = LAST_TYPED.get("Targets" if table is TARGET else table.sheet, 9)
    sort(book, table.sheet, f"{first}{FIRST_ROW}:{last}{FIRST_ROW + rows - 1}", table.at[table.columns[1].key])


def sort(book: OpenBook, sheet: str, area: str, column: int) -> None:
    book.gesture(sheet, area, "DataSort", ByRows=True, HasHeader=False, CaseSensitive=False, IncludeAttribs=True,
                 UserDefIndex=0, Col1=column, Ascending1=False)  # fmt: skip


def unprotected(command: str, *, row: bool, harmless: bool = False) -> Gesture:
    def make(book: OpenBook, table: Table, key: str) -> None:
        book.unprotect(table.sheet)
        book.gesture(table.sheet, f"A{FIRST_ROW + 4}" if row else f"{table.letter(key)}1", command)

    return Gesture(make, harmless)


def protected(command: str) -> Gesture:
    return Gesture(lambda book, table, _: book.gesture(table.sheet, f"A{FIRST_ROW + 4}", command), harmless=True)


def several(command: str, *, number: bool = False) -> Gesture:
    def make(book: OpenBook, table: Table, key: str) -> None:
        at = table.columns[0].key if number else key
        book.gesture(table.sheet, f"{cell(table, at, 4)}:{cell(table, at, 6)}", command)

    return Gesture(make)


NO_GROUP = "group is not on Order"

GESTURES = {
    "cut a cell, paste it over another": over_another("Cut"),
    "drag a cell onto another": Gesture(drag),
    "copy a cell, paste it over another": over_another("Copy"),
    "cut a row, paste it elsewhere": row_moved("Cut", to=15),
    "copy a row, paste it over another": row_moved("Copy", to=5),
    "fill down": several("FillDown"),
    "clear cells": several("ClearContents"),
    "clear numbers or names of groups": several("ClearContents", number=True),
    "sort the rows": Gesture(sorted_rows),
    "sort the rows, unprotected": Gesture(sorted_unprotected),
    "insert or delete, protected": protected("DeleteRows"),
    "insert a row": unprotected("InsertRowsBefore", row=True, harmless=True),
    "delete a row": unprotected("DeleteRows", row=True),
    "insert a column": unprotected("InsertColumnsBefore", row=False, harmless=True),
    "delete a column": unprotected("DeleteColumns", row=False),
}


def documented() -> dict[tuple[str, str], str]:
    """What docs/order.md says of each gesture on each sheet."""
    rows = [re.split(r"\s*\|\s*", line.strip().strip("|").strip()) for line in DOCS.read_text("utf-8").splitlines()
            if line.startswith("|")]  # fmt: skip
    top = next(row for row in rows if row[0] == "gesture")
    return {(row[0], sheet): word for row in rows for sheet, word in zip(top[1:], row[1:], strict=False)
            if row[0] in GESTURES}  # fmt: skip


DOCUMENTED = documented()


@pytest.fixture(scope="module")
def before(demo: Path) -> Computed:
    return Computed.open(demo)


def test_the_table_in_the_docs_tells_of_every_gesture_on_every_sheet() -> None:
    assert set(DOCUMENTED) == {(gesture, sheet) for gesture in GESTURES for sheet in SHEETS}
    assert set(DOCUMENTED.values()) <= {"follows", "told", "refused", "-"}


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_protected_sheet_refuses_what_the_docs_say_it_refuses(
    calc: Calc, demo: Path, before: Computed, sheet: str
) -> None:
    with calc.open(demo) as book:
        for gesture, made in GESTURES.items():
            if DOCUMENTED[gesture, sheet] == "refused":
                made.make(book, table_of(sheet), TYPED[sheet])
        book.calculate(everything=True)
        assert differences(shown_in(book, headings_of(before)), computed_values(before)) == {}
        assert line_in(book) == ""


@pytest.mark.parametrize(("gesture", "sheet"), [key for key, word in DOCUMENTED.items() if word in ("follows", "told")])
def test_a_gesture_gives_no_club_another_clubs_value(
    calc: Calc, demo: Path, before: Computed, tmp_path: Path, gesture: str, sheet: str
) -> None:
    with calc.open(demo) as book:
        GESTURES[gesture].make(book, table_of(sheet), TYPED[sheet])
        book.calculate(everything=True)
        found, line = shown_in(book, headings_of(before)), line_in(book)
        assert (book.value("Set", "C1") == line) == bool(line)
        saved = book.save("order.xlsx")
    was = computed_values(before)
    if DOCUMENTED[gesture, sheet] == "told":
        assert is_told(saved), "check says nothing"
        assert line or tells_at_clubs(found) or all_told(found, was), "Set says nothing"
        return
    if not GESTURES[gesture].harmless:
        was = computed_values(wanted_of(saved, tmp_path))
        if "sort" in gesture or "row" in gesture:  # weights are shared out down the list: of equal ones the first wins
            was = {key: value for key, value in was.items() if key[2] != "advice"}
    assert (differences(found, was), line) == ({}, "")
    agrees_with_check(saved, found)


def agrees_with_check(saved: Path, found: ShownValues) -> None:
    """`check` says the same, or refuses in a line what it cannot find its way in."""
    try:
        report = read_order(saved)
    except Refused as refused:
        assert "is no longer where it was made" in str(refused)
        return
    assert report.lost == ""
    in_full = {club.number: club.flags for club in report.clubs if club.flags}
    shown = {number: text for (sheet, number, key), text in found.items() if (sheet, key) == ("Set", "flags") and text}
    assert in_full.keys() == shown.keys()
    there_is_room = {number: text for number, text in in_full.items() if len(text) <= ROOMS["room_flags"]}
    assert there_is_room == {number: shown[number] for number in there_is_room}


def is_told(saved: Path) -> bool:
    try:
        report: OrderReport = read_order(saved)
    except Refused as refused:
        return str(refused).count("\n") == 0
    return bool(report.lost) or any(NO_GROUP in club.flags for club in report.flagged)


def tells_at_clubs(found: ShownValues) -> bool:
    """Whether Set says beside a club that the group it is in has no name any more."""
    return any(NO_GROUP in str(text) for (sheet, _, key), text in found.items() if (sheet, key) == ("Set", "flags"))


def all_told(found: ShownValues, was: ShownValues) -> bool:
    """Whether whatever differs is a message or an error."""
    differing = [found[key] for key in differences(found, was) if key in found]  # a column that is gone is seen to be
    return all("! " in str(cell) or "Err" in str(cell) or "#" in str(cell) for cell in differing)


def with_references(path: Path) -> Path:
    """The demo order with two reference clubs, of which one fills the wedges' total mass and the other the irons'."""
    book = build_demo()
    for club, read in enumerate((("Wedges", 2, 470, 71), ("Irons", 1, 420, 72)), start=1):
        for part, value in zip(("group", "place", "mass", "balance"), read, strict=True):
            book["Order"][at_name(f"reference{club}_{part}")].value = value
    path.write_bytes(save_bytes(book))
    return path


def mass_goals(book: OpenBook) -> list[Any]:
    """What Set wants of the 5-iron's and the gap wedge's total mass."""
    letter = SET.letter("mass_goal")
    return [book.value("Set", f"{letter}{FIRST_ROW + row}") for row in (1, 7)]


def test_what_is_typed_of_a_reference_club_may_be_cut_dragged_and_moved(calc: Calc, tmp_path: Path) -> None:
    first, second = (at_name(f"reference{club}_mass") for club in (1, 2))
    with calc.open(with_references(tmp_path / "order.xlsx")) as book:
        book.calculate(everything=True)
        assert mass_goals(book) == [420, 470]
        book.gesture("Order", f"{first}:{column_letter(column_number(first[:1]) + 2)}{first[1:]}", "Cut")
        book.gesture("Order", second, "Paste")
        book.calculate(everything=True)
        assert mass_goals(book) == [470, ""]
        assert line_in(book) == ""


def test_a_row_put_in_among_the_reference_clubs_moves_no_line(calc: Calc, tmp_path: Path) -> None:
    row = int(at_name("reference1_mass")[1:])
    with calc.open(with_references(tmp_path / "order.xlsx")) as book:
        book.unprotect("Order")
        book.gesture("Order", f"A{row}", "InsertRowsBefore")
        book.calculate(everything=True)
        assert mass_goals(book) == [420, 470]
        book.type("Order", f"{at_name('reference2_mass')[:1]}{row + 1}", "425")
        book.calculate(everything=True)
        assert mass_goals(book) == [425, 470]


def at_name(name: str) -> str:
    """The cell that is typed into for a setting, or the first of a list of stock weights."""
    return str(build_demo().defined_names[name].attr_text).replace("$", "").partition("!")[2].partition(":")[0]


@pytest.mark.parametrize(
    ("gesture", "typed"),
    [
        ("Cut", {"doubt_mass": None, "doubt_balance": "0.1 g"}),
        ("Copy", {"doubt_mass": "0.1 g", "doubt_balance": "0.1 g"}),
        ("Cut", {"stock_head": None, "stock_butt": 2}),
        ("ClearContents", {"doubt_balance": None}),
        ("ClearContents", {"stock_head": None}),
        ("ClearContents", {"shop_units": None}),
    ],
)
def test_a_gesture_on_shop_means_what_is_then_seen_there(
    calc: Calc, demo: Path, before: Computed, tmp_path: Path, gesture: str, typed: dict[str, object]
) -> None:
    wanted = build_demo()
    for name, value in typed.items():
        wanted["Shop"][at_name(name)].value = value
    order = tmp_path / "wanted.xlsx"
    order.write_bytes(save_bytes(wanted))
    with calc.open(demo) as book:
        places = [at_name(name) for name in typed]
        book.gesture("Shop", places[0], gesture)
        if len(places) > 1:
            book.gesture("Shop", places[1], "Paste")
        book.calculate(everything=True)
        assert [row[0] for at in places for row in book.read("Shop", at)] == list(typed.values())
        assert differences(shown_in(book, headings_of(before)), computed_values(Computed.open(order))) == {}


@pytest.mark.parametrize("name", [setting.name for setting in SETTINGS])
def test_a_deleted_row_on_shop_is_told(calc: Calc, demo: Path, name: str) -> None:
    with calc.open(demo) as book:
        book.unprotect("Shop")
        book.gesture("Shop", at_name(name), "DeleteRows")
        book.calculate(everything=True)
        assert line_in(book) == book.value("Set", "C1") == GONE


def test_a_program_without_our_formulas_says_so_and_nothing_of_a_deleted_row(
    calc: Calc, demo: Path, tmp_path: Path
) -> None:
    """As if the add-in were not there: the formulas are called by names that nobody knows."""
    other = tmp_path / "unknown.xlsx"
    with zipfile.ZipFile(demo) as old, zipfile.ZipFile(other, "w") as new:
        for part in old.namelist():
            new.writestr(part, old.read(part).replace(b"HEFT_", b"HEFX_"))
    with calc.open(other) as book:
        book.calculate(everything=True)
        assert line_in(book) == book.value("Set", "C1") == NOT_HERE


def test_an_inserted_row_on_shop_moves_no_setting(calc: Calc, demo: Path, before: Computed) -> None:
    with calc.open(demo) as book:
        book.unprotect("Shop")
        book.gesture("Shop", at_name("doubt_mass"), "InsertRowsBefore")
        book.calculate(everything=True)
        assert differences(shown_in(book, headings_of(before)), computed_values(before)) == {}
