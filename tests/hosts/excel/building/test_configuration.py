"""The hidden sheet of settings, as it is written and as other programs would write it."""

from __future__ import annotations

import io
import zipfile

import pytest
import xlsxwriter

from evenheft.hosts.excel.building.book import build_add_in
from evenheft.hosts.excel.building.configuration import read_settings, settings_sheet
from packages import with_parts


def saved_elsewhere() -> bytes:
    target = io.BytesIO()
    with xlsxwriter.Workbook(target, {"in_memory": True}) as book:
        book.add_worksheet("Order").write_row("A1", ["another text", 12])
        book.add_worksheet("evenheft.conf").write_row("A1", ["Interpreter_Win", r"C:\A & B\python.exe"])
    return target.getvalue()


def test_settings_are_read_from_a_table_of_texts() -> None:
    """Excel moves texts into a table when it saves; XlsxWriter, which writes one, stands in for it."""
    content = saved_elsewhere()
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert "xl/sharedStrings.xml" in package.namelist()
    assert read_settings(content) == {"Interpreter_Win": r"C:\A & B\python.exe"}


@pytest.mark.parametrize("path", [r"C:\Py\python.exe", r"C:\Käthe & Co\<x>\python.exe", r"D:\ two  blanks \python.exe"])
def test_an_interpreter_comes_back_as_it_was_given(path: str) -> None:
    assert read_settings(build_add_in(path))["Interpreter_Win"] == path


def test_what_has_no_settings_has_none() -> None:
    assert read_settings(b"no workbook") == {}
    assert read_settings(with_parts(saved_elsewhere(), {"xl/workbook.xml": b"<workbook/>"})) == {}
    assert read_settings(with_parts(saved_elsewhere(), {"xl/sharedStrings.xml": b"<sst/>"})) == {}


def test_the_sheet_names_no_interpreter_unless_told() -> None:
    assert b"Interpreter" not in settings_sheet(None)
    assert b"Interpreter_Win" in settings_sheet("python.exe")
