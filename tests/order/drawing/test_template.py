"""The template is what the layout says, reads well on paper, and holds nothing that a host cannot do."""

import io
import re
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
from openpyxl.cell import Cell
from openpyxl.utils import get_column_letter

from evenheft.formulas import REGISTRY
from evenheft.order.drawing import looks
from evenheft.order.drawing.template import build_order, save_bytes, write_templates
from evenheft.order.layout import (
    CLUB_ROWS,
    CLUB_TABLES,
    FIRST_ROW,
    LAST_ROW,
    LISTED,
    PRINTED,
    READ,
    SETTINGS,
    SLOTS,
    TABLES,
    in_row,
    read_locked,
)
from evenheft.shop.book.drawing import build_book

TEMPLATES = Path(__file__).parents[3] / "workbook_templates"


@pytest.fixture(scope="module")
def book() -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(save_bytes(build_order())))


def formulas(book: openpyxl.Workbook) -> list[tuple[str, str, str]]:
    return [
        (sheet.title, cell.coordinate, cell.value)
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.startswith("=")
    ]


def content(package: zipfile.ZipFile, name: str) -> bytes | str:
    """A part as it reads: openpyxl writes the same XML in other words where lxml is installed."""
    data = package.read(name)
    return ElementTree.canonicalize(data.decode(), rewrite_prefixes=True) if name.endswith((".xml", ".rels")) else data


@pytest.mark.parametrize("ending", ["xlsx", "xltx"])
def test_committed_template_is_what_the_layout_builds(tmp_path: Path, ending: str) -> None:
    write_templates(tmp_path)
    built, committed = tmp_path / f"evenheft-order.{ending}", TEMPLATES / f"evenheft-order.{ending}"
    with zipfile.ZipFile(built) as new, zipfile.ZipFile(committed) as old:
        assert new.namelist() == old.namelist()
        for name in new.namelist():
            assert content(new, name) == content(old, name), f"{name} differs: run  evenheft templates"


def test_template_and_workbook_differ_in_their_content_type_only(tmp_path: Path) -> None:
    write_templates(tmp_path)
    with (
        zipfile.ZipFile(tmp_path / "evenheft-order.xlsx") as book,
        zipfile.ZipFile(tmp_path / "evenheft-order.xltx") as template,
    ):
        differing = [name for name in book.namelist() if book.read(name) != template.read(name)]
        assert differing == ["[Content_Types].xml"]
        assert b"spreadsheetml.template.main+xml" in template.read("[Content_Types].xml")


def test_there_is_room_for_twenty_four_clubs_found_by_their_number_everywhere(book: openpyxl.Workbook) -> None:
    assert LAST_ROW - FIRST_ROW + 1 == CLUB_ROWS == 24
    for table in CLUB_TABLES.values():
        numbers = [book[table.sheet].cell(row, 1).value for row in range(FIRST_ROW, LAST_ROW + 1)]
        assert numbers == list(range(1, 25))


def test_inputs_are_open_and_look_it_and_all_else_is_locked(book: openpyxl.Workbook) -> None:
    for table in TABLES.values():
        sheet = book[table.sheet]
        assert sheet.protection.sheet
        assert sheet.protection.password is None
        for number, column in enumerate(table.columns, start=table.first_column):
            cell = sheet.cell(table.last_row, number)
            is_input = column.role == "input"
            assert cell.protection.locked is not is_input, f"{table.sheet} {column.key}"
            assert (cell.fill.fgColor.rgb == looks.INPUT_FILL.fgColor.rgb) is is_input, f"{table.sheet} {column.key}"


def test_every_function_is_one_of_ours_or_an_old_one_of_every_spreadsheet(book: openpyxl.Workbook) -> None:
    everywhere = {"IF", "OR", "AND", "ISNUMBER", "N", "ISTEXT", "INDEX", "MATCH", "IFERROR", "COUNTIF", "LEFT", "MID",
                  "FIND", "NA", "ABS", "AVERAGEIF", "COUNT", "COUNTA", "ROUND", "TRIM", "ISERROR", "SUMPRODUCT",
                  "ROW", "COLUMNS", "MIN", "SUBSTITUTE", "CHAR", "SUM", "SEARCH", "ERROR.TYPE",
                  "LEN"}  # fmt: skip
    for sheet, cell, formula in formulas(book):
        code = re.sub(r'"[^"]*"', '""', formula)
        for name in re.findall(r"([A-Z][A-Z0-9_.]*)\(", code):
            assert name in everywhere or name in REGISTRY, f"{sheet}!{cell} uses {name}"
        assert "[" not in code, f"{sheet}!{cell} holds a structured or outside reference"


def test_formulas_ask_for_one_number(book: openpyxl.Workbook) -> None:
    """An array answer could gain an @ in Excel: every call of a formula with a `what` names what it wants."""
    for sheet, cell, formula in formulas(book):
        for name in set(re.findall(r"(HEFT_\w+)\(", formula)):
            if REGISTRY[name].what_at is not None:
                words = [f'"{answer.name}"' for answer in REGISTRY[name].answers]
                calls = re.findall(rf"{name}\((?:[^()]|\([^()]*\))*\)", formula)
                assert all(any(word in call for word in words) for call in calls), f"{sheet}!{cell}: {formula}"


def test_every_club_row_holds_the_columns_formula(book: openpyxl.Workbook) -> None:
    for table in TABLES.values():
        for number, column in enumerate(table.columns, start=table.first_column):
            for row in (table.first_row, table.last_row):
                if column.formula:
                    assert book[table.sheet].cell(row, number).value == in_row(column.formula, row, table)


def test_settings_have_names_that_point_at_them(book: openpyxl.Workbook) -> None:
    for setting in SETTINGS:
        assert at_name(book, setting.name).value == (read_locked(setting.value) if setting.computed else setting.value)
        if not setting.computed:
            fetched = at_name(book, f"{setting.name}{READ}")
            assert fetched.protection.locked
            assert book["Shop"].column_dimensions[fetched.column_letter].hidden


def at_name(book: openpyxl.Workbook, name: str) -> Cell:
    sheet, _, address = book.defined_names[name].attr_text.partition("!")
    return book[sheet.strip("'")][address.replace("$", "")]


def test_each_sheet_prints_on_one_page_of_a4_and_letter(book: openpyxl.Workbook) -> None:
    for sheet in book.worksheets:
        assert sheet.print_area
        assert sheet.sheet_properties.pageSetUpPr.fitToPage or sheet.title == "Card"  # rows of a height of their own
        # Letter is 17.6 mm shorter than A4 and 5.9 mm wider: what is fitted to the page fits either.
        assert sheet.page_margins.left + sheet.page_margins.right < 2
        if sheet.title not in ("Guide", "Card"):
            assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 1)


def test_working_columns_are_neither_seen_nor_printed(book: openpyxl.Workbook) -> None:
    for table in CLUB_TABLES.values():
        sheet = book[table.sheet]
        last = openpyxl.utils.cell.range_boundaries(sheet.print_area.split("!")[-1].replace("$", ""))[2]
        for number, column in enumerate(table.columns, start=1):
            letter = openpyxl.utils.get_column_letter(number)
            hidden = sheet.column_dimensions[letter].hidden or any(
                d.hidden and d.min <= number <= d.max for d in sheet.column_dimensions.values()
            )
            assert hidden == (column.role == "work"), f"{table.sheet} {column.key}"
            beyond = [f"slot{n}_" for n in range(PRINTED + 1, SLOTS + 1)]  # told on the page where they are filled
            assert (
                column.role == "work" or number <= last or column.band == LISTED or column.key.startswith(tuple(beyond))
            )


def test_headings_and_prompts_say_what_is_typed(book: openpyxl.Workbook) -> None:
    for table in TABLES.values():
        sheet = book[table.sheet]
        checks = {
            area.coord.split(":")[0]: check
            for check in sheet.data_validations.dataValidation
            for area in check.sqref.ranges
        }
        for number, column in enumerate(table.columns, start=table.first_column):
            if not column.key.startswith("slot"):
                assert sheet.cell(table.first_row - 1, number).value == column.heading
            if column.prompt:
                check = checks[sheet.cell(table.first_row, number).coordinate]
                assert check.showInputMessage
                assert len(check.prompt) <= 255
                assert len(check.promptTitle) <= 32


def test_nothing_that_rounds_to_nothing_is_shown_with_a_minus(book: openpyxl.Workbook) -> None:
    """A signed number format writes -0.0 for -0.04: what is computed is rounded to what is shown, in every cell."""
    signed = re.compile(r"^\+0\.(0+)#?;-0\.")
    found = 0
    for sheet in (*book.worksheets, *build_book().worksheets):
        for row in sheet.iter_rows():
            for cell in row:
                shown = signed.match(cell.number_format)
                if (
                    shown
                    and not sheet.column_dimensions[get_column_letter(cell.column)].hidden
                    and isinstance(cell.value, str)
                    and cell.value.startswith("=")
                ):
                    found += 1
                    assert re.search(r"ROUND\(.*,(\d|shop_mass_digits)\)", cell.value), (
                        f"{sheet.title}!{cell.coordinate}"
                    )
    assert found > 50
