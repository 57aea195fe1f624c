"""Every workbook that is made can be read without colour, at low sight and by a screen reader; docs/accessible.md.

Contrast as in WCAG 2.2, 1.4.3 (text) and 1.4.11 (graphics and the edges of inputs); alternatives to charts as in 1.1.1,
colour never alone as in 1.4.1.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl
import pytest
from click.testing import CliRunner
from openpyxl.cell import Cell, MergedCell
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.cli import main
from evenheft.formulas.wording import PASSED_ON
from evenheft.order.layout import CARD, CAUTION, CLUB_TABLES, HEADING_ROW, SET, TARGET
from evenheft.shop.book.finding import VARIABLE
from evenheft.shop.book.grid import BOOK_HEADING_ROW

TEXT, LARGE_TEXT, GRAPHICS = 4.5, 3.0, 3.0
"""The least contrast of text, of text of 14 pt bold or 18 pt and more, and of what else has to be seen [-]."""
PAPER, INK = "FFFFFF", "000000"
MADE = ("the order", "the shop book", "the demo", "supplier's", "plain", "clean", "planned", "adopted")
OURS = ("the order", "the demo", "planned")
"""Those with the order's own sheets."""


@pytest.fixture(scope="module")
def paths(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("made")

    def run(*line: object) -> None:
        done = CliRunner().invoke(main, [str(word) for word in line], env={VARIABLE: None})
        assert done.exit_code in (0, 3), done.output

    templates = Path(__file__).parents[1] / "workbook_templates"
    run("demo", folder)
    run("demo", "--plan", folder)
    demo = folder / "demo-order.xlsx"
    run("share", demo, "--for", "supplier", "-o", folder / "heads.xlsx")
    run("share", demo, "--plain", "-o", folder / "plain.xlsx")
    run("share", demo, "--plain", "--clean", "-o", folder / "clean.xlsx")
    run("plan", folder / "plan" / "demo-plan.xlsx", "--to", folder / "planned.xlsx")
    own = Workbook()
    own.active.append(["Club", "Mass (g)", "Balance (cm)"])
    for row in (["6-iron", 414.0, 73.2], ["7-iron", 424.8, 71.95], ["8-iron", 12, 71.45]):
        own.active.append(row)
    own.save(folder / "own.xlsx")
    run("adopt", folder / "own.xlsx", "--target", "D2", "--tolerance", 0.5, "--write", folder / "adopted.xlsx")
    made = (templates / "evenheft-order.xlsx", templates / "evenheft-shop.xlsx", demo,
            *(folder / f"{name}.xlsx" for name in ("heads", "plain", "clean", "planned", "adopted")))  # fmt: skip
    return dict(zip(MADE, made, strict=True))


@pytest.fixture(scope="module")
def books(paths: dict[str, Path]) -> dict[str, Workbook]:
    return {name: openpyxl.load_workbook(path) for name, path in paths.items()}


def luminance(colour: str) -> float:
    parts = [int(colour[-6:][at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_that_of_the_guideline() -> None:
    # WCAG 2.2 itself: 21:1 for black on white; #767676 is the lightest grey that passes 4.5:1 on white.
    assert contrast("000000", "FFFFFF") == pytest.approx(21)
    assert contrast("767676", "FFFFFF") > TEXT > contrast("777777", "FFFFFF")


def rgb(colour: Any, otherwise: str) -> str:
    """A colour that is written out; a theme's or the system's is black on white in every program."""
    return colour.rgb[-6:] if colour is not None and colour.type == "rgb" else otherwise


def fill_of(look: Any) -> str:
    fill = look.fill
    return rgb(fill.fgColor, PAPER) if fill is not None and fill.patternType == "solid" else PAPER


def fill_of_rule(look: Any) -> str | None:
    """What a rule lays under a cell; None where it leaves the cell's own."""
    return None if look is None or look.fill is None else rgb(look.fill.bgColor, PAPER)


def shown(sheet: Worksheet) -> Iterator[Cell]:
    """Cells that are seen and hold something, or are typed in."""
    hidden = {letter for letter, column in sheet.column_dimensions.items() if column.hidden}
    for row in sheet.iter_rows():
        for cell in row:
            if isinstance(cell, MergedCell) or cell.column_letter in hidden:
                continue
            if cell.value is not None or not cell.protection.locked:
                yield cell


def least(font: Any) -> float:
    large = (font.sz or 11) >= 18 or ((font.sz or 11) >= 14 and font.b)
    return LARGE_TEXT if large else TEXT


@pytest.mark.parametrize("name", MADE)
def test_text_stands_out_from_what_it_stands_on(books: dict[str, Workbook], name: str) -> None:
    pairs = {
        (rgb(cell.font.color, INK), fill_of(cell), least(cell.font))
        for sheet in books[name].worksheets
        for cell in shown(sheet)
    }
    assert pairs
    assert [pair for pair in pairs if contrast(pair[0], pair[1]) < pair[2]] == []


HIDING = (re.compile(r'shop_inches<>"yes"'), re.compile(r'\$?[A-Z]+\$?\d+=""'))
"""Rules that hide a column's heading from everybody, which is no matter of contrast (1.4.3, incidental)."""


@pytest.mark.parametrize("name", MADE)
def test_text_stands_out_where_a_rule_colours_it(books: dict[str, Workbook], name: str) -> None:
    faint = set()
    for sheet in books[name].worksheets:
        cells = list(shown(sheet))
        for area in sheet.conditional_formatting:
            inside = [cell for cell in cells if any(cell.coordinate in range_ for range_ in area.sqref.ranges)]
            for rule in area.rules:
                under, font = fill_of_rule(rule.dxf), None if rule.dxf is None else rule.dxf.font
                for cell in inside:
                    ink = rgb(None if font is None else font.color, rgb(cell.font.color, INK))
                    ground = under or fill_of(cell)
                    if ink == ground == PAPER and any(hides.fullmatch(rule.formula[0]) for hides in HIDING):
                        continue
                    if contrast(ink, ground) < least(cell.font):
                        faint.add((sheet.title, cell.coordinate, ink, ground))
    assert faint == set()


@pytest.mark.parametrize("name", MADE)
def test_where_something_is_typed_has_an_edge_that_is_seen(books: dict[str, Workbook], name: str) -> None:
    faint = set()
    for sheet in books[name].worksheets:
        if not sheet.protection.sheet:
            continue
        for cell in shown(sheet):
            if cell.protection.locked:
                continue
            for side in (cell.border.left, cell.border.right, cell.border.top, cell.border.bottom):
                edge = rgb(side.color, INK) if side is not None and side.style else PAPER
                if min(contrast(edge, PAPER), contrast(edge, fill_of(cell))) < GRAPHICS:
                    faint.add((sheet.title, cell.coordinate, edge))
    assert {found for found in faint if found[2] != PAPER} == set()
    # A merged input has its outer edges only.
    merged = {(sheet.title, area.coord.partition(":")[0])
              for sheet in books[name].worksheets for area in sheet.merged_cells}  # fmt: skip
    assert {found[:2] for found in faint} <= merged


def parts(path: Path, folder: str) -> Iterator[ElementTree.Element]:
    with zipfile.ZipFile(path) as package:
        for part in package.namelist():
            if re.match(rf"xl/{folder}/\w+\.xml$", part):
                yield ElementTree.fromstring(package.read(part))


DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
MAIN = "{http://schemas.openxmlformats.org/drawingml/2006/main}"


@pytest.mark.parametrize("name", MADE)
def test_each_chart_and_picture_is_told_in_words(paths: dict[str, Path], name: str) -> None:
    drawn = [one for part in parts(paths[name], "drawings") for one in part.iter(f"{DRAWING}cNvPr")]
    assert bool(drawn) == (name in (*OURS, "the shop book", "plain", "clean")), name
    for one in drawn:
        assert len(one.get("descr", "")) > 40, (name, one.attrib)
    charts = sum(1 for _ in parts(paths[name], "charts"))
    assert len(drawn) == charts


@pytest.mark.parametrize("name", MADE)
def test_no_series_of_a_chart_is_told_by_its_colour_alone_or_is_faint(paths: dict[str, Path], name: str) -> None:
    for chart in parts(paths[name], "charts"):
        looks = []
        for series in chart.iter(f"{CHART}ser"):
            line = series.find(f"{CHART}spPr/{MAIN}ln")
            dash = None if line is None else line.find(f"{MAIN}prstDash")
            marker = series.find(f"{CHART}marker/{CHART}symbol")
            width = None if line is None else line.get("w")
            looks.append(
                (None if dash is None else dash.get("val"), None if marker is None else marker.get("val"), width)
            )
            for colour in series.iter(f"{MAIN}srgbClr"):
                assert contrast(colour.get("val", ""), PAPER) >= GRAPHICS, (name, colour.get("val"))
        assert len(set(looks)) == len(looks), (name, looks)


TOLD_ELSEWHERE = {
    re.compile(r"AND\(\w+<>\"\",\w+=\"\"\)"): "the tolerance that is blank: Set says so in words where it judges",
    re.compile(r"\$?[A-Z]+\$?\d+<>\"\""): "the cell itself says what is amiss, and nothing where nothing is",
}


@pytest.mark.parametrize("name", MADE)
def test_whatever_a_rule_colours_says_so_in_words(books: dict[str, Workbook], name: str) -> None:
    for sheet in books[name].worksheets:
        for area in sheet.conditional_formatting:
            for rule in area.rules:
                font = None if rule.dxf is None else rule.dxf.font
                coloured = fill_of_rule(rule.dxf) not in (None, PAPER) or (font is not None and font.color is not None)
                if not coloured:
                    continue
                (formula,) = rule.formula
                of_a_word = re.search(r'="[^"]+"', f"={formula}" if rule.operator == "equal" else formula) or re.search(
                    r'"! ?"', formula
                )
                assert of_a_word or any(told.fullmatch(formula) for told in TOLD_ELSEWHERE), (sheet.title, formula)


def test_a_blank_tolerance_is_told_in_words() -> None:
    verdicts = [column.formula for column in SET.columns if column.key.endswith("_verdict")]
    assert len([formula for formula in verdicts if f'"{PASSED_ON}tolerance is blank on Order"' in str(formula)]) == 7
    assert TARGET.at["swingweight_tolerance"]


@pytest.mark.parametrize("name", MADE)
def test_no_label_is_merged(books: dict[str, Workbook], name: str) -> None:
    for sheet in books[name].worksheets:
        for area in sheet.merged_cells.ranges:
            first = sheet.cell(area.min_row, area.min_col)
            # What is typed may need room; the caution on the card has two lines over all columns.
            assert not first.protection.locked or first.value == CAUTION or name in ("plain", "clean"), area.coord
            if name in ("plain", "clean"):
                assert sheet.title in ("Order", "Guide", CARD.sheet), (sheet.title, area.coord)


@pytest.mark.parametrize("name", [name for name in MADE if name != "adopted"])
def test_each_sheet_begins_with_its_title(books: dict[str, Workbook], name: str) -> None:
    for sheet in books[name].worksheets:
        if sheet.sheet_state != "visible":
            continue
        title = sheet["A1"]
        assert isinstance(title.value, str) and title.value, sheet.title
        assert title.font.b and title.font.sz >= 14


@pytest.mark.parametrize("name", OURS)
def test_every_column_that_is_seen_has_a_heading_in_one_row(books: dict[str, Workbook], name: str) -> None:
    for table in CLUB_TABLES.values():
        sheet = books[name][table.sheet]
        for column in table.columns:
            if column.role != "work":
                cell = sheet.cell(HEADING_ROW, table.at[column.key])
                assert cell.value, (table.sheet, column.key)
        assert sheet.freeze_panes is not None


def test_every_list_of_the_book_has_its_headings_in_one_row(books: dict[str, Workbook]) -> None:
    from evenheft.shop.book.layout import BOOK_SHEETS

    for declared in BOOK_SHEETS.values():
        sheet = books["the shop book"][declared.sheet]
        found = [sheet.cell(BOOK_HEADING_ROW, at).value for at in range(1, len(declared.columns) + 1)]
        assert all(found), declared.sheet


@pytest.mark.parametrize("name", OURS)
def test_tab_goes_through_what_is_typed_and_nothing_that_is_hidden(books: dict[str, Workbook], name: str) -> None:
    """In a protected sheet Tab goes from unlocked cell to unlocked cell, row by row: that is where one types."""
    for sheet in books[name].worksheets:
        assert sheet.protection.sheet, sheet.title
        hidden = {letter for letter, column in sheet.column_dimensions.items() if column.hidden}
        opened = [
            cell
            for row in sheet.iter_rows()
            for cell in row
            if not isinstance(cell, MergedCell) and not cell.protection.locked
        ]
        assert [cell.coordinate for cell in opened if cell.column_letter in hidden] == []
        assert [cell.coordinate for cell in opened if str(cell.value or "").startswith("=HEFT")] == []
    for table in CLUB_TABLES.values():
        typed = [table.at[column.key] for column in table.columns if column.role == "input"]
        sheet = books[name][table.sheet]
        own = range(1, len(table.columns) + 1)
        row = [at for at in own if not sheet.cell(table.first_row, at).protection.locked]
        assert row == sorted(typed), (table.sheet, [get_column_letter(at) for at in row])
