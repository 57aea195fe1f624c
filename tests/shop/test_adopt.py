"""A shop's own sheet gains working columns, and not a byte of the rest of its workbook changes."""

import re
import warnings
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from calc_office import Calc
from evenheft.cli import main
from evenheft.hosts.embedded import Computed
from evenheft.mechanics.bench import inertia_from_period
from evenheft.mechanics.swingweight import label, moment, points
from evenheft.ooxml.package import open_package
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.shop.finding import find_tables
from evenheft.shop.view import view_of
from shop_sheets import CLUBS, libreoffice_shop, openpyxl_shop, xlsxwriter_shop
from untouched import assert_only_columns, changed_parts


def reading(mass: float, balance: float) -> str:
    """What the scale should say of a mass [g] and a balance [cm]."""
    return label(points(moment(mass, balance)))


LABELS = [reading(mass, balance * 2.54) for _, mass, balance, _ in CLUBS]
INERTIAS = [inertia_from_period(mass, balance * 2.54, period) for _, mass, balance, period in CLUBS]


def adopt(*words: object) -> Result:
    return CliRunner().invoke(main, ["adopt", *map(str, words)], catch_exceptions=False)


def refused(*words: object) -> str:
    said = adopt(*words)
    assert said.exit_code == 2, said.output
    assert said.stderr.startswith("! ")
    assert said.stderr.count("\n") == 1
    return said.stderr


def part_of(path: Path, sheet: str) -> str:
    with open_package(path) as package:
        return package.sheet(sheet).part


def cached(path: Path, sheet: str, cells: list[str]) -> list[object]:
    with open_package(path) as package:
        content = read_sheet(package, sheet)
    places = [openpyxl.utils.cell.coordinate_to_tuple(cell) for cell in cells]
    return [content.values.get(place) for place in places]


def computed(path: Path, sheet: str, cells: list[str]) -> list[object]:
    book = Computed.open(path)
    return [book.value(sheet, *openpyxl.utils.cell.coordinate_to_tuple(cell)) for cell in cells]


def in_calc(calc: Calc, path: Path, sheet: str, cells: list[str]) -> list[object]:
    with calc.open(path) as book:
        book.calculate(everything=True)
        return [book.value(sheet, cell) for cell in cells]


def test_a_workbook_with_macros_charts_and_pictures_by_xlsxwriter(tmp_path: Path, calc: Calc) -> None:
    shop, copy = xlsxwriter_shop(tmp_path), tmp_path / "copy.xlsm"
    old = shop.read_bytes()
    said = adopt(shop, "--sheet", "irons", "--tolerance", 1.5, "--mass-doubt", "0.5 g", "--balance-doubt", "1 mm",
                 "--write", copy)  # fmt: skip
    assert said.exit_code == 0, said.output
    assert shop.read_bytes() == old
    rows = range(5, 10)
    new = {f"{column}{row}" for column in "IJK" for row in (1, 2, 4, *rows)}  # what was wanted stands above
    assert_only_columns(shop, copy, "xl/worksheets/sheet1.xml", new)
    assert cached(copy, "Irons", ["I4", "J4", "K4"]) == [
        "Swingweight (Evenheft)", "Inertia kg cm2 (Evenheft)", "Verdict (Evenheft)",
    ]  # fmt: skip
    labels, inertias = [f"I{row}" for row in rows], [f"J{row}" for row in rows]
    verdicts = [f"K{row}" for row in rows]
    for answer in (cached, computed):
        assert answer(copy, "Irons", labels) == LABELS
        assert answer(copy, "Irons", inertias) == pytest.approx(INERTIAS, rel=1e-12)
        assert set(answer(copy, "Irons", verdicts)) <= {"in", "low", "high", "re-measure"}
    assert cached(copy, "Irons", verdicts) == computed(copy, "Irons", verdicts)
    assert in_calc(calc, copy, "Irons", labels + verdicts) == LABELS + computed(copy, "Irons", verdicts)
    assert in_calc(calc, copy, "Irons", inertias) == pytest.approx(INERTIAS, rel=1e-12)
    assert "it has macros, which are not run" in said.output


def test_two_rows_of_merged_headings_and_blank_rows_by_openpyxl(tmp_path: Path, calc: Calc) -> None:
    shop, copy = openpyxl_shop(tmp_path), tmp_path / "copy.xlsx"
    said = adopt(shop, "--sheet", "Bench book", "--write", copy)
    assert said.exit_code == 0, said.output
    rows = (5, 6, 8, 9, 11)  # a blank row after every second club; another table begins in row 20
    assert_only_columns(shop, copy, part_of(shop, "Bench book"), {f"{c}{row}" for c in "HI" for row in (4, *rows)})
    labels = [f"H{row}" for row in rows]
    rounded = [reading(mass, round(balance * 2.54, 1)) for _, mass, balance, _ in CLUBS]
    assert cached(copy, "Bench book", ["H4", *labels]) == ["Swingweight (Evenheft)", *rounded]
    assert computed(copy, "Bench book", labels) == rounded
    assert in_calc(calc, copy, "Bench book", labels) == rounded


def test_a_row_of_units_ounces_and_inches_by_libreoffice(tmp_path: Path, calc: Calc) -> None:
    shop, copy = libreoffice_shop(tmp_path), tmp_path / "copy.xlsx"
    said = adopt(shop, "--sheet", "werkstatt", "--target", "D2", "--tolerance", 2, "--write", copy,
                 "--add", "swingweight", "--add", "verdict", "--add", "length")  # fmt: skip
    assert said.exit_code == 0, said.output
    rows = range(4, 9)
    new = {f"{c}{row}" for c in "IJKLM" for row in (3, *rows)} | {f"{c}{row}" for c in "OPQ" for row in (3, 4)}
    assert_only_columns(shop, copy, part_of(shop, "werkstatt"), new)
    cells = [f"{column}{row}" for column in "ILM" for row in rows]
    ounces = [round(mass / 28.349523125, 2) * 28.349523125 for _, mass, _, _ in CLUBS]
    swingweights = [reading(mass, club[2] * 2.54) for mass, club in zip(ounces, CLUBS, strict=True)]
    answers = computed(copy, "werkstatt", cells)
    assert answers[:5] == swingweights
    assert answers[10:] == ["within"] * 5
    assert cached(copy, "werkstatt", cells) == answers
    assert in_calc(calc, copy, "werkstatt", cells) == answers


def test_columns_of_their_own_may_be_chosen_and_a_second_run_adds_nothing(tmp_path: Path) -> None:
    shop, copy = xlsxwriter_shop(tmp_path), tmp_path / "copy.xlsm"
    adopt(shop, "--sheet", "Irons", "--add", "points", "--add", "moment", "--write", copy)
    assert cached(copy, "Irons", ["I4", "J4", "K4"]) == [
        "Swingweight points (Evenheft)",
        "Moment g cm (Evenheft)",
        None,
    ]
    assert "I already" in adopt(copy, "--sheet", "Irons").output
    again = adopt(copy, "--sheet", "Irons", "--add", "points", "--write", tmp_path / "again.xlsm")
    assert again.exit_code == 2
    assert "nothing to add" in again.stderr


def test_the_new_cells_look_as_the_masses_do(tmp_path: Path) -> None:
    shop, copy = xlsxwriter_shop(tmp_path), tmp_path / "copy.xlsm"
    adopt(shop, "--sheet", "Irons", "--write", copy)
    with open_package(copy) as package:
        styles = read_sheet(package, "Irons").styles
    assert styles[4, 9] == styles[4, 3]
    with warnings.catch_warnings(action="ignore"):  # sparklines, which openpyxl leaves out
        sheet = openpyxl.load_workbook(copy)["Irons"]
    for look in ("font", "fill", "border", "alignment"):
        assert repr(getattr(sheet["I5"], look)) == repr(getattr(sheet["C5"], look))


def shop_of(
    tmp_path: Path, rows: list[list[object]], **change: Callable[[openpyxl.worksheet.worksheet.Worksheet], object]
) -> Path:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    for apply in change.values():
        apply(book.active)
    path = tmp_path / "shop.xlsx"
    book.save(path)
    return path


def understood(path: Path, **mapped: str) -> dict[str, str | None]:
    with open_package(path) as package:
        content: SheetContent = read_sheet(package, package.sheets[0].name)
    table = find_tables(view_of(content), "shop.xlsx", mapped)[0]
    return {column.letter: "?" if column.unsure else column.quantity for column in table.columns}


GOOD = [["7-iron", 428.4, 72.1], ["8-iron", 435.7, 71.4]]


@pytest.mark.parametrize(
    ("headings", "meanings"),
    [
        (["Club", "Mass (g)", "Balance (cm)"], [None, "mass", "balance"]),
        (["Club", "Wt, g", "Bal pt cm"], [None, "mass", "balance"]),
        (["Club", "Mass", "Balance"], [None, "mass", "?"]),
        (["Club", "Head mass (g)", "Balance (cm)"], [None, "head_mass", "balance"]),
        (["Club", "Mass (g)", "Mass (g)"], [None, "?", "?"]),
    ],
)
def test_headings_in_one_row(tmp_path: Path, headings: list[object], meanings: list[str | None]) -> None:
    assert list(understood(shop_of(tmp_path, [headings, *GOOD])).values()) == meanings


@pytest.mark.parametrize(
    ("bands", "headings", "merge", "meanings"),
    [
        (["", "Shaft", "", "Club", ""], ["Club", "Mass (g)", "Length (in)", "Mass (g)", "Balance (cm)"], "B1:C1 D1:E1",
         [None, "shaft_mass", "shaft_length", "mass", "balance"]),
        (["", "Oddment", "", "Club", ""], ["Club", "Mass (g)", "Length (in)", "Mass (g)", "Balance (cm)"],
         "B1:C1 D1:E1",
         [None, "?", "?", "mass", "balance"]),
        (["", "Shaft", "", "", "Notes"], ["Club", "Mass (g)", "Length (in)", "Balance (cm)", ""], "",
         [None, "shaft_mass", "?", "?", None]),
        (["Club", "Mass", "Length", "Balance", "Period"], ["", "(g)", "in", "cm", "s"], "",
         [None, "mass", "club_length", "balance", "period"]),
        (["My sheet of clubs", "", "", "", ""], ["Club", "Mass (g)", "Loft", "Balance (cm)", ""], "A1:E1",
         [None, "mass", "loft", "balance"]),
    ],
)  # fmt: skip
def test_headings_in_two_rows(
    tmp_path: Path, bands: list[object], headings: list[object], merge: str, meanings: list[str | None]
) -> None:
    body = [["7-iron", 101.5, 38, 428.4, 72.1], ["8-iron", 102.5, 38, 435.7, 71.4]]

    def merged(sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
        for area in merge.split():
            sheet.merge_cells(area)

    rows = [[text or None for text in row] for row in (bands, headings)]
    assert list(understood(shop_of(tmp_path, [*rows, *body], merged=merged)).values()) == meanings


def test_lengths_with_their_own_units_need_none_in_the_heading(tmp_path: Path) -> None:
    body = [["7-iron", 428.4, '28 3/8"'], ["8-iron", 435.7, "28 1/8 in"], ["9-iron", 440, "71.2 cm"]]
    path = shop_of(tmp_path, [["Club", "Mass", "Balance"], *body])
    assert list(understood(path).values()) == [None, "mass", "balance"]
    copy = tmp_path / "copy.xlsx"
    assert adopt(path, "--sheet", "Sheet", "--write", copy).exit_code == 0
    assert computed(copy, "Sheet", ["D2"]) == [reading(428.4, 28.375 * 2.54)]


def test_a_hidden_twin_does_not_count_and_a_merged_headings_empty_half_neither(tmp_path: Path) -> None:
    def hide(sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
        sheet.column_dimensions["B"].hidden = True
        sheet.merge_cells("D1:E1")

    rows = [
        ["Club", "Mass (g)", "Mass (g)", "Balance (cm)", None],
        ["7-iron", 400, 428.4, 72.1],
        ["8-iron", 401, 435, 71],
    ]
    assert list(understood(shop_of(tmp_path, rows, hide=hide)).values()) == [None, None, "mass", "balance", None]


def test_where_it_is_unsure_it_asks_and_map_answers(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balance"], *GOOD])
    said = adopt(path, "--sheet", "Sheet")
    assert said.exit_code == 3
    assert "in which unit is balance?" in said.output
    copy = tmp_path / "copy.xlsx"
    line = refused(path, "--sheet", "Sheet", "--write", copy)
    assert '--map "C=' in line
    assert not copy.exists()
    assert adopt(path, "--sheet", "Sheet", "--map", "Balance=balance (cm)", "--write", copy).exit_code == 0
    assert computed(copy, "Sheet", ["D2"]) == [reading(428.4, 72.1)]
    by_letter = adopt(path, "--sheet", "Sheet", "--map", "c=balance (cm)")
    assert by_letter.exit_code == 0


def test_a_misspelt_heading_is_asked_about(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balnce (cm)", "Period (s)"], ["7-iron", 428.4, 72.1, 1.86]])
    said = adopt(path, "--sheet", "Sheet")
    assert said.exit_code == 3
    assert 'did you mean "Balance"?' in said.output


def test_headings_that_nobody_understands_can_be_told(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Ding", "Gwt", "Spkt"], *GOOD])
    line = refused(path, "--sheet", "Sheet")
    assert "no row of headings that is understood" in line
    assert 'A "Club"' not in line
    assert 'A "Ding" (not used); B "Gwt" (not used); C "Spkt" (not used)' in line
    copy = tmp_path / "copy.xlsx"
    maps = ("--map", "Gwt=mass (g)", "--map", "Spkt=balance (cm)")
    assert adopt(path, "--sheet", "Sheet", *maps, "--write", copy).exit_code == 0
    assert computed(copy, "Sheet", ["D3"]) == [reading(435.7, 71.4)]


def test_what_adopt_cannot_do_is_one_line(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balance (cm)"], *GOOD])
    assert "has no sheet" in refused(path, "--sheet", "Woods")
    assert "no column" in refused(path, "--sheet", "Sheet", "--map", "Z=mass (g)")
    assert "is not understood" in refused(path, "--sheet", "Sheet", "--map", "B=blorb")
    assert "COLUMN=MEANING" in refused(path, "--sheet", "Sheet", "--map", "B")
    assert "there is no column" in refused(path, "--sheet", "Sheet", "--add", "price")
    assert "no column is headed period" in refused(path, "--sheet", "Sheet", "--add", "inertia")
    assert "--target" in refused(path, "--sheet", "Sheet", "--target", "heavy")
    assert "--mass-doubt" in refused(path, "--sheet", "Sheet", "--mass-doubt", "x")
    assert "--tolerance must be 0 or more" in refused(path, "--sheet", "Sheet", "--tolerance", "-1")
    assert "must end in .xlsx" in refused(path, "--sheet", "Sheet", "--write", tmp_path / "copy.xlsm")
    assert "there already" in refused(path, "--sheet", "Sheet", "--write", path)
    empty = shop_of(tmp_path, [["Club", "Mass (g)", "Balance (cm)"]])
    assert "no row with a club" in refused(empty, "--sheet", "Sheet")
    assert "cannot be read" in refused(tmp_path / "gone.xlsx", "--sheet", "Sheet")


def test_balance_from_a_scale_reading_becomes_a_column_of_its_own(tmp_path: Path) -> None:
    rows = [
        ["Club", "Mass (g)", "Reading (g)", "Span (in)"],
        ["7-iron", 428.4, 210.0, 57.5],
        ["8-iron", 435.7, 214, 57.5],
    ]
    path, copy = shop_of(tmp_path, rows), tmp_path / "copy.xlsx"
    assert adopt(path, "--sheet", "Sheet", "--write", copy).exit_code == 0
    assert cached(copy, "Sheet", ["E1", "F1"]) == ["Balance (in) (Evenheft)", "Swingweight (Evenheft)"]
    balance, swingweight = computed(copy, "Sheet", ["E2", "F2"])
    assert balance == pytest.approx(210.0 * 57.5 / 428.4)
    assert swingweight == reading(428.4, balance * 2.54)


def test_loose_parts_in_one_row_of_headings_give_a_forecast(tmp_path: Path) -> None:
    heads = ["Club", "Head mass (g)", "Shaft mass (g)", "Shaft length (in)", "Club length (in)", "Grip mass (g)"]
    path, copy = shop_of(tmp_path, [heads, ["7-iron", 275, 102, 39, 37, 50]]), tmp_path / "copy.xlsx"
    assert adopt(path, "--sheet", "Sheet", "--write", copy).exit_code == 0
    (forecast,) = computed(copy, "Sheet", ["G2"])
    assert re.fullmatch(r"[A-G]\d\.\d", str(forecast))
    assert cached(copy, "Sheet", ["G1", "G2"]) == ["Forecast swingweight (Evenheft)", forecast]


def test_a_bad_cell_is_told_and_its_neighbours_answer(tmp_path: Path) -> None:
    rows = [["Club", "Mass (g)", "Balance (cm)"], ["7-iron", 428.4, 28.4], ["8-iron", "heavy", 71.4], *GOOD]
    path, copy = shop_of(tmp_path, rows), tmp_path / "copy.xlsx"
    said = adopt(path, "--sheet", "Sheet", "--write", copy)
    assert said.exit_code == 0
    assert "B3: Mass (g) must be" in said.output
    first, second, third = computed(copy, "Sheet", ["D2", "D3", "D4"])
    assert "inches?" in str(first)
    assert str(second).startswith("! mass must be")
    assert third == reading(428.4, 72.1)


def test_cells_are_looked_at_as_the_formula_reads_them(tmp_path: Path) -> None:
    heads = ["Club", "Head mass (g)", "Club length (in)", "Shaft mass (g)", "Shaft length (in)"]
    rows = [
        [*heads, "Shaft balance (%)", "Head inertia (g cm2)", "Grip mass (oz)"],
        ["7-iron", 275, 37, 102, 39, 0.52, 3000, 1.75],
        ["8-iron", 282, 36.5, 102, 39, 52, "4,000.5", "1.8 oz"],
    ]
    path = shop_of(tmp_path, rows)
    assert "Note:" not in adopt(path, "--sheet", "Sheet").output
    # The last holds a terminal's control character, as this format writes it.
    rows[1][5], rows[2][6], rows[2][7] = 0.2, 300_000, "50 g_x001B_[2J"
    said = adopt(shop_of(tmp_path, rows), "--sheet", "Sheet").output
    assert "Note: F2: Shaft balance (%) must be from 30 to 70 %, got 0.2\n" in said
    assert "Note: G3: Head inertia (g cm2) must be from 0 to 20 kg cm2, got 300000\n" in said
    assert "\x1b" not in said


def test_what_stands_beside_the_table_is_not_overwritten(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balance (cm)", None, "my notes"], *GOOD])
    copy = tmp_path / "copy.xlsx"
    assert adopt(path, "--sheet", "Sheet", "--write", copy).exit_code == 0
    assert cached(copy, "Sheet", ["E1", "F1"]) == ["my notes", "Swingweight (Evenheft)"]


def test_no_result_stands_under_a_chart(tmp_path: Path) -> None:
    shop, copy = openpyxl_shop(tmp_path), tmp_path / "copy.xlsx"  # its chart begins in J
    said = adopt(shop, "--sheet", "Bench book", "--add", "points", "--add", "moment", "--add", "inertia",
                 "--write", copy)  # fmt: skip
    assert said.exit_code == 0, said.output
    places = {cell.column_letter for row in openpyxl.load_workbook(copy)["Bench book"] for cell in row
              if "Evenheft" in str(cell.value)}  # fmt: skip
    assert places == {"S", "T", "U"}  # right of it


def test_a_text_format_does_not_turn_the_formula_into_text(tmp_path: Path) -> None:
    def as_text(sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
        for row in range(2, 4):
            sheet[f"B{row}"].number_format = "@"

    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balance (cm)"], *GOOD], as_text=as_text)
    copy = tmp_path / "copy.xlsx"
    adopt(path, "--sheet", "Sheet", "--write", copy)
    assert openpyxl.load_workbook(copy)["Sheet"]["D2"].number_format == "General"


def test_nothing_in_the_copy_reaches_out(tmp_path: Path) -> None:
    rows = [["Club", "Mass (g)", "Balance (cm)"], ["=cmd|'/C calc'!A0", 428.4, 72.1], GOOD[1]]
    path, copy = shop_of(tmp_path, rows), tmp_path / "copy.xlsx"
    adopt(path, "--sheet", "Sheet", "--write", copy)
    assert changed_parts(path, copy) == {"xl/worksheets/sheet1.xml"}
    with zipfile.ZipFile(copy) as package:
        assert package.read("xl/worksheets/sheet1.xml").count(b"<f>") == 3  # the shop's own, and two of ours


# ---------------------------------------------------------------------- targets in cells, later, and out again

TARGETS = ("--target", "D2", "--increment", "0.5", "--tolerance", "1")


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


def test_target_increment_and_tolerance_stand_in_cells(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Our set"], [], [], ["Club", "Mass (g)", "Balance (cm)"], *GOOD])
    copy = tmp_path / "copy.xlsx"
    assert adopt(path, *TARGETS, "--write", copy).exit_code == 0
    sheet = openpyxl.load_workbook(copy)["Sheet"]
    assert [cell.value for cell in sheet[1]][3:] == [
        "Target (Evenheft)", "Increment (Evenheft)", "Tolerance (Evenheft)", None,
    ]  # fmt: skip
    assert [cell.value for cell in sheet[2]][3:6] == ["D2", 0.5, 1]
    assert sheet["F5"].value == "=HEFT_TARGET($D$2,$E$2,E5)"
    assert sheet["G6"].value == '=HEFT_VERDICT(HEFT_POINTS(B6,C6,"g cm"),F6,$F$2)'
    assert [sheet["F5"].value, computed(copy, "Sheet", ["F5", "F6"])] == [sheet["F5"].value, [32, 32.5]]
    assert {rule.formula[0] for area in sheet.conditional_formatting for rule in area.rules} == {
        '"in"', '"low"', '"high"', '"re-measure"',
    }  # fmt: skip
    sheet["D2"] = "E5"
    assert_verdicts_follow(sheet, tmp_path / "changed.xlsx")


def assert_verdicts_follow(sheet: openpyxl.worksheet.worksheet.Worksheet, path: Path) -> None:
    sheet.parent.save(path)
    assert computed(path, "Sheet", ["G5", "G6"]) == ["low", "low"]


def test_groups_have_their_own_targets(tmp_path: Path) -> None:
    rows = [["Club", "Set", "Mass (g)", "Balance (cm)"], ["5i", "irons", 428, 72], ["6i", "irons", 430, 72],
            ["GW", "wedges", 450, 70], ["SW", "wedges", 455, 69]]  # fmt: skip
    path, copy = shop_of(tmp_path, rows), tmp_path / "copy.xlsx"
    assert adopt(path, *TARGETS, "--write", copy).exit_code == 0
    cells = {cell.value: cell for row in openpyxl.load_workbook(copy)["Sheet"] for cell in row if cell.value}
    top = cells["Group (Evenheft)"].row
    sheet = cells["Group (Evenheft)"].parent
    column = cells["Group (Evenheft)"].column
    assert [sheet.cell(top + n, column).value for n in (1, 2)] == ["irons", "wedges"]
    place = cells["Place (Evenheft)"].column
    assert [sheet.cell(row, place).value for row in range(2, 6)] == [1, 2, 1, 2]
    targets = [sheet.cell(row, cells["Target points (Evenheft)"].column).value for row in (2, 5)]
    assert f"${top + 1}," in targets[0]
    assert f"${top + 2}," in targets[1]


def test_adopted_again_new_rows_are_filled_and_changed_cells_stay(tmp_path: Path) -> None:
    path, copy, again = (tmp_path / name for name in ("shop.xlsx", "copy.xlsx", "again.xlsx"))
    shop_of(tmp_path, [["Our set"], [], [], ["Club", "Mass (g)", "Balance (cm)"], *GOOD])
    adopt(path, *TARGETS, "--write", copy)
    book = openpyxl.load_workbook(copy)
    sheet = book["Sheet"]
    sheet["D2"] = "D4"
    for column, value in zip("ABC", ("9-iron", 441.0, 70.6), strict=True):
        sheet[f"{column}7"] = value
    book.save(copy)
    said = adopt(copy, "--write", again)
    assert said.exit_code == 0, said.output
    assert "1 clubs that came since" in said.output or "1 club that came since" in said.output
    assert computed(again, "Sheet", ["D2", "D7", "E7", "F7"]) == ["D4", reading(441.0, 70.6), 3, 35]
    assert openpyxl.load_workbook(again)["Sheet"]["G7"].value == '=HEFT_VERDICT(HEFT_POINTS(B7,C7,"g cm"),F7,$F$2)'


@pytest.mark.parametrize("make", [xlsxwriter_shop, openpyxl_shop])
def test_what_was_added_is_taken_out_byte_for_byte(tmp_path: Path, make: Callable[[Path], Path]) -> None:
    shop = make(tmp_path)
    once, twice, back = (tmp_path / f"{name}{shop.suffix}" for name in ("once", "twice", "back"))
    sheet = "Irons" if shop.suffix == ".xlsm" else "Bench book"
    assert adopt(shop, "--sheet", sheet, "--tolerance", 1, "--write", once).exit_code == 0
    assert adopt(once, "--sheet", sheet, "--add", "points", "--write", twice).exit_code == 0
    said = adopt(twice, "--remove", "--write", back)
    assert said.exit_code == 0, said.output
    assert parts(back) == parts(shop)


def test_after_another_program_has_saved_it_the_cells_are_emptied(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Our set"], [], [], ["Club", "Mass (g)", "Balance (cm)"], *GOOD])
    copy, back = tmp_path / "copy.xlsx", tmp_path / "back.xlsx"
    adopt(path, *TARGETS, "--write", copy)
    openpyxl.load_workbook(copy).save(copy)
    assert adopt(copy, "--remove", "--write", back).exit_code == 0
    old, new = (openpyxl.load_workbook(book)["Sheet"] for book in (path, back))
    assert [[cell.value for cell in row][:3] for row in new] == [[cell.value for cell in row] for row in old]
    assert all(cell.value is None for row in new for cell in row[3:])
    assert "holds nothing that was added" in refused(path, "--remove", "--write", tmp_path / "x.xlsx")


def test_results_go_where_the_builder_says(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balance (cm)"], *GOOD])
    copy, block = tmp_path / "copy.xlsx", tmp_path / "block.xlsx"
    assert adopt(path, "--at", "Q1", "--write", copy).exit_code == 0
    assert cached(copy, "Sheet", ["Q1", "Q2"]) == ["Swingweight (Evenheft)", reading(428.4, 72.1)]
    assert adopt(path, "--at", "B8", "--write", block).exit_code == 0
    assert cached(block, "Sheet", ["B8", "C8"]) == ["Club (Evenheft)", "Swingweight (Evenheft)"]
    assert computed(block, "Sheet", ["B9", "C9"]) == ["7-iron", reading(428.4, 72.1)]
    assert "something stands in" in refused(path, "--at", "B1", "--write", tmp_path / "x.xlsx")
    assert "--at must be one cell" in refused(path, "--at", "3Q")


def test_every_table_is_adopted_beside_itself(tmp_path: Path) -> None:
    heads = ["Club", "Mass (g)", "Balance (cm)"]
    rows = [[*heads, None, *heads], *([*club, None, *club] for club in GOOD), [], ["Across", "5i", "6i"]]
    path, copy = shop_of(tmp_path, rows), tmp_path / "copy.xlsx"
    said = adopt(path, "--all", "--write", copy)
    assert said.exit_code == 0, said.output
    assert cached(copy, "Sheet", ["H1", "H2"]) == ["Swingweight (Evenheft)", reading(428.4, 72.1)]
    beside = [cell.coordinate for row in openpyxl.load_workbook(copy)["Sheet"] for cell in row
              if cell.value == "Swingweight (Evenheft)"]  # fmt: skip
    assert len(beside) == 2
    assert "D1" not in beside
    chosen = tmp_path / "chosen.xlsx"
    assert adopt(path, "--table", "E1:G3", "--write", chosen).exit_code == 0
    assert cached(chosen, "Sheet", ["H1"]) == ["Swingweight (Evenheft)"]


def test_sheets_may_be_left_out_or_named_twice(tmp_path: Path) -> None:
    path, copy = tmp_path / "shop.xlsx", tmp_path / "copy.xlsx"
    book = openpyxl.Workbook()
    for name in ("Irons", "Woods"):
        sheet = book.create_sheet(name)
        for row in [["Club", "Mass (g)", "Balance (cm)"], *GOOD]:
            sheet.append(row)
    book.save(path)
    assert 'headings on the sheets "Irons", "Woods"' in refused(path)
    assert adopt(path, "--sheet", "Irons", "--sheet", "Woods", "--write", copy).exit_code == 0
    for sheet_name in ("Irons", "Woods"):
        assert cached(copy, sheet_name, ["D2"]) == [reading(428.4, 72.1)]
    del book["Woods"]
    book.save(path)
    assert adopt(path).exit_code == 0


def test_inertia_is_shown_without_a_tail_and_columns_are_wide_enough(tmp_path: Path) -> None:
    path = shop_of(tmp_path, [["Club", "Mass (g)", "Balance (cm)", "Period (s)"], ["7-iron", 428.4, 72.1, 1.86]])
    copy = tmp_path / "copy.xlsx"
    adopt(path, "--write", copy)
    sheet = openpyxl.load_workbook(copy)["Sheet"]
    assert (sheet["F1"].value, sheet["F2"].number_format) == ("Inertia kg cm2 (Evenheft)", "0")
    assert sheet.column_dimensions["F"].width >= len("Inertia kg cm2 (Evenheft)")


def test_notes_are_printed_only_where_they_are_true(tmp_path: Path) -> None:
    heads = ["Club", "Mass (g)", "Balance (cm)", "Swing time (s)", "Loft", "Lie", "Frequency", "Swingweight", "Target",
             "Tolerance"]  # fmt: skip
    path = shop_of(tmp_path, [heads, ["7-iron", 428.4, 72.1, 1.86, "34°", 62, 310, "D2.1", "D2", 0.5]])
    assert "Note:" not in adopt(path).output
