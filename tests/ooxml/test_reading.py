"""Values as they are stored in a sheet, against what openpyxl reads from the same file."""

import datetime
import warnings
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils.datetime import to_excel

from evenheft.ooxml.edit import edit_cells
from evenheft.ooxml.edits import Put
from evenheft.ooxml.package import open_package
from evenheft.ooxml.places import Area
from evenheft.ooxml.reading import read_sheet
from evenheft.ooxml.values import CellError
from other_programs import excel_made, libreoffice_made, openpyxl_made, xlsxwriter_made
from packages import with_parts


def stored(path: Path) -> dict[str, dict[tuple[int, int], object]]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)
        book = openpyxl.load_workbook(path, data_only=True, rich_text=False)
    found = {}
    for sheet in book.worksheets:
        found[sheet.title] = {
            (cell.row, cell.column): to_excel(cell.value) if isinstance(cell.value, datetime.date) else cell.value
            for row in sheet.iter_rows()
            for cell in row
            if cell.value not in (None, "")
        }
    return found


@pytest.mark.parametrize("make", [xlsxwriter_made, openpyxl_made])
def test_values_are_those_that_openpyxl_reads(make: Callable[[Path], Path], tmp_path: Path) -> None:
    assert_read_as_stored(make(tmp_path))


@pytest.mark.usefixtures("office_at_hand")
def test_values_by_libreoffice_are_those_that_openpyxl_reads(tmp_path: Path) -> None:
    assert_read_as_stored(libreoffice_made(tmp_path))


def assert_read_as_stored(path: Path) -> None:
    for name, values in stored(path).items():
        with open_package(path) as package:
            assert read_sheet(package, name).values == values


@pytest.mark.parametrize("path", excel_made(), ids=lambda path: path.name)
def test_excels_own_files_are_read_alike(path: Path) -> None:
    for name, values in stored(path).items():
        with open_package(path) as package:
            assert read_sheet(package, name).values == values


ROWS_WITHOUT_NAMES = (
    "<row><c><v>1</v></c><c><v>2</v></c></row>"
    '<row hidden="1"><c r="C2" s="1"><v>3</v></c><c><v>4</v></c></row>'
    '<row r="5"><c><f>A1</f><v>5</v></c></row>'
    "<row><c/><c><v>6</v></c></row>"
)
"""Rows and cells whose places are counted, as programs that stream their sheets write them."""


def test_rows_and_cells_without_names_are_counted(tmp_path: Path) -> None:
    path = openpyxl_made(tmp_path)
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    text = f'<worksheet xmlns="{main}"><sheetData>{ROWS_WITHOUT_NAMES}</sheetData></worksheet>'
    path.write_bytes(with_parts(path.read_bytes(), {"xl/worksheets/sheet1.xml": text}))
    with open_package(path) as package:
        content = read_sheet(package, package.sheets[0].name)
    assert content.values == {(1, 1): 1, (1, 2): 2, (2, 3): 3, (2, 4): 4, (5, 1): 5, (6, 2): 6}
    assert content.formulas == {(5, 1): "A1"}
    assert content.styles == {(2, 3): 1}
    assert content.hidden_rows == {2}


def test_layout_is_told(tmp_path: Path) -> None:
    path = xlsxwriter_made(tmp_path)
    edit_cells(
        path, {("Set", 50, 1): Put("a_x0041_\x07"), ("Set", 51, 1): Put(CellError("#N/A")), ("Set", 52, 1): Put(True)}
    )
    with open_package(path) as package:
        content = read_sheet(package, "set")
    assert [content.values[row, 1] for row in (50, 51, 52)] == ["a_x0041_\x07", CellError("#N/A"), True]
    assert content.merged == [Area(16, 1, 16, 3)]
    assert content.value(16, 3) == "a merged line"
    assert content.is_hidden(12)
    assert not content.is_hidden(14)
    assert content.is_protected
    assert content.formulas[2, 5] == "B2*C2"
    assert (content.last_row, content.last_column) == (52, 8)
