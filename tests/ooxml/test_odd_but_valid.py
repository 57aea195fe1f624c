"""Workbooks that real programs write and that are valid are read, computed and written."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import edit_cells, refresh_all
from evenheft.ooxml.edits import Put
from evenheft.ooxml.encodings import as_before, as_utf8, wide_of
from evenheft.ooxml.package import open_package, read_package
from evenheft.ooxml.places import SHEET_ROWS, Area
from evenheft.ooxml.reading import read_sheet
from odd_packages import CONTENTS, MACRO_SHEETS, ZIPS, OddParts, packed, parts_of, with_macro_sheet


def plain(path: Path) -> Path:
    """A workbook with a formula, a text and merged cells."""
    book = openpyxl.Workbook()
    book.active.append([430, 75.56, "=HEFT_MOMENT(A1,B1)", "Schläger"])
    book.active.merge_cells("F1:G2")
    book.save(path)
    return path


def with_binary_part(parts: OddParts) -> dict[str, bytes]:
    """A binary part that begins like a text in UTF-16."""
    model = b"\xff\xfe" + bytes(range(256))
    return {**parts, "xl/model/item.data": model, "xl/customProperty1.bin": "{a setting}".encode("utf-16")}


def assert_read_computed_and_written(path: Path, folder: Path) -> None:
    """One cell more, computed anew: all other parts as they were, and each in the encoding that it had."""
    assert Computed(read_package(path)).value("Sheet", 1, 3) == 17200.0
    copy = folder / "copy.xlsx"
    assert edit_cells(path, {("Sheet", 2, 1): Put("Größe")}, to=copy).changed == 1
    refresh_all(copy, Computed(read_package(copy)).value)
    before, after = parts_of(path), parts_of(copy)
    (changed,) = (name for name in before if before[name] != after[name])
    assert changed.lower() == "xl/worksheets/sheet1.xml"
    assert list(after) == list(before)
    assert wide_of(after[changed]) == wide_of(before[changed])
    with open_package(copy) as package:
        values = read_sheet(package, "Sheet").values
    assert (values[1, 3], values[1, 4], values[2, 1]) == (17200.0, "Schläger", "Größe")
    assert Computed(read_package(copy)).value("Sheet", 1, 3) == 17200.0


@pytest.mark.parametrize("odd", ZIPS, ids=str)
def test_a_valid_zip_is_read_computed_and_written(tmp_path: Path, odd: str) -> None:
    path = ZIPS[odd].write(tmp_path / "odd.xlsx", parts_of(plain(tmp_path / "plain.xlsx")))
    assert_read_computed_and_written(path, tmp_path)
    sheet = openpyxl.load_workbook(tmp_path / "copy.xlsx")["Sheet"]
    assert (sheet["A1"].value, sheet["A2"].value) == (430, "Größe")


@pytest.mark.parametrize("odd", [*CONTENTS.values(), with_binary_part], ids=[*CONTENTS, "binary parts"])
def test_valid_parts_are_read_computed_and_written(
    tmp_path: Path, odd: Callable[[OddParts], dict[str, bytes]]
) -> None:  # fmt: skip
    path = packed(tmp_path / "odd.xlsx", odd(parts_of(plain(tmp_path / "plain.xlsx"))))
    assert_read_computed_and_written(path, tmp_path)


@pytest.mark.parametrize("kind", MACRO_SHEETS)
def test_a_macro_sheet_counts_with_what_its_cells_last_held(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "plain.xlsx"
    book = openpyxl.Workbook()
    book.active.append(["=Macro1!A2*2", "=Macro1!B2", "=Macro1!A1", "=HEFT_MOMENT(430,75.56)"])
    book.create_sheet("Last")["A1"] = "=Sheet!D1"
    book.save(path)
    package = read_package(packed(tmp_path / "old.xlsx", with_macro_sheet(kind)(parts_of(path))))
    computed = Computed(package)
    assert [computed.value("Sheet", 1, column) for column in range(1, 5)] == [14.0, "a < b", True, 17200.0]
    assert computed.value("Last", 1, 1) == 17200.0
    assert "it has macro sheets of an old kind, which are not run" in package.warnings
    assert [sheet.name for sheet in package.sheets] == ["Sheet", "Last"]


def test_a_formula_that_reaches_out_is_told_in_utf16_too(tmp_path: Path) -> None:
    path = tmp_path / "plain.xlsx"
    book = openpyxl.Workbook()
    book.active["A1"] = "=cmd|'/C calc'!A0"
    book.save(path)
    odd = packed(tmp_path / "odd.xlsx", CONTENTS["sheets in utf-16-be"](parts_of(path)))
    assert read_package(odd).warnings == read_package(path).warnings != ()


def test_merged_whole_columns_are_known(tmp_path: Path) -> None:
    path = plain(tmp_path / "plain.xlsx")
    written = tmp_path / "columns.xlsx"
    packed(written, {name: content.replace(b'"F1:G2"', b'"F:G"') for name, content in parts_of(path).items()})
    with open_package(written) as package:
        assert read_sheet(package, "Sheet").merged == [Area(1, 6, SHEET_ROWS, 7)]
    copy = tmp_path / "copy.xlsx"
    assert edit_cells(written, {("Sheet", 2, 1): Put(431.0)}, to=copy).changed == 1
    assert b'ref="F:G"' in zipfile.ZipFile(copy).read("xl/worksheets/sheet1.xml")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-16-le", "utf-16-be"])
def test_a_text_is_had_back_in_its_encoding(encoding: str) -> None:
    written = '<?xml version="1.0"?><a>Größe 重量</a>'.encode(encoding)
    read = as_utf8(written)
    assert read.decode() == '<?xml version="1.0"?><a>Größe 重量</a>'
    wide = wide_of(written)
    assert (wide is None) == (encoding == "utf-8")
    assert wide is None or as_before(bytes(read), wide) == written


def test_a_text_that_says_utf8_stays_so() -> None:
    new = b'<?xml version="1.0" encoding="UTF-8"?><a/>'
    wide = wide_of("\ufeff<a/>".encode("utf-16-le"))
    assert wide is not None
    assert as_before(new, wide) == new
