"""Workbooks that real programs write and that are valid are read, computed and written."""

from __future__ import annotations

import struct
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import edit_cells
from evenheft.ooxml.edits import Put
from evenheft.ooxml.package import open_package, read_package
from evenheft.ooxml.places import SHEET_ROWS, Area
from evenheft.ooxml.reading import read_sheet


def plain(path: Path) -> Path:
    """A workbook with a formula and merged cells."""
    book = openpyxl.Workbook()
    book.active.append([430, 75.56, "=HEFT_MOMENT(A1,B1)"])
    book.active.merge_cells("F1:G2")
    book.save(path)
    return path


def as_zip64(source: Path, target: Path) -> Path:
    """Each part with the wide sizes that it would not need, as some programs write them."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            with new.open(zipfile.ZipInfo(entry.filename), "w", force_zip64=True) as stream:
                stream.write(old.read(entry))
    return target


def with_other_local_fields(source: Path, target: Path) -> Path:
    """Local headers that tell another version and another time than the directory."""
    data = bytearray(source.read_bytes())
    with zipfile.ZipFile(source) as book:
        for entry in book.infolist():
            struct.pack_into("<H", data, entry.header_offset + 4, 45)
            struct.pack_into("<2H", data, entry.header_offset + 10, 1, 33)
    target.write_bytes(data)
    return target


def with_binary_part(source: Path, target: Path) -> Path:
    """A binary part that begins like a text in UTF-16."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            new.writestr(entry, old.read(entry))
        new.writestr("xl/model/item.data", b"\xff\xfe" + bytes(range(256)))
        new.writestr("xl/customProperty1.bin", "{a setting}".encode("utf-16"))
    return target


@pytest.mark.parametrize("odd", [as_zip64, with_other_local_fields, with_binary_part])
def test_a_valid_workbook_is_read_computed_and_written(tmp_path: Path, odd: Callable[[Path, Path], Path]) -> None:
    path = odd(plain(tmp_path / "plain.xlsx"), tmp_path / "odd.xlsx")
    assert Computed(read_package(path)).value("Sheet", 1, 3) == 17200.0
    copy = tmp_path / "copy.xlsx"
    assert edit_cells(path, {("Sheet", 2, 1): Put(431.0)}, to=copy).changed == 1
    sheet = openpyxl.load_workbook(copy)["Sheet"]
    assert (sheet["A1"].value, sheet["A2"].value) == (430, 431)


def test_merged_whole_columns_are_known(tmp_path: Path) -> None:
    path = plain(tmp_path / "plain.xlsx")
    written = tmp_path / "columns.xlsx"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(written, "w") as new:
        for entry in old.infolist():
            new.writestr(entry, old.read(entry).replace(b'"F1:G2"', b'"F:G"'))
    with open_package(written) as package:
        assert read_sheet(package, "Sheet").merged == [Area(1, 6, SHEET_ROWS, 7)]
    copy = tmp_path / "copy.xlsx"
    assert edit_cells(written, {("Sheet", 2, 1): Put(431.0)}, to=copy).changed == 1
    assert b'ref="F:G"' in zipfile.ZipFile(copy).read("xl/worksheets/sheet1.xml")
