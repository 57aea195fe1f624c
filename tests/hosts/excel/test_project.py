"""The VBA project, read back with oletools, which shares no code with pyOpenVBA that wrote it."""

from __future__ import annotations

import difflib
import io
import re
import zipfile
from pathlib import Path

import pyopenvba
import pytest
import xlwings
from pyopenvba.apps.excel import ExcelApplication

from evenheft.hosts.excel.project import (
    VBA_PART,
    WORKBOOK_SHELL,
    ProjectError,
    adapted_xlwings,
    fresh_project,
    refreshed_project,
)
from evenheft.hosts.excel.vba import opening_module, wrapper_module
from olevba_reading import macros_in, without_attributes


def shipped() -> dict[str, str]:
    with zipfile.ZipFile(WORKBOOK_SHELL) as shell:
        return macros_in(shell.read(VBA_PART), "vbaProject.bin")


@pytest.fixture(scope="module")
def built() -> dict[str, str]:
    return macros_in(fresh_project(), "vbaProject.bin")


def test_the_project_holds_these_modules_and_no_sample(built: dict[str, str]) -> None:
    assert set(built) == {"ThisWorkbook", "evenheft_conf", "xlwings", "Dictionary", "evenheft_udfs", "evenheft_open"}


def test_what_was_generated_is_what_stands_in_the_file(built: dict[str, str]) -> None:
    assert built["evenheft_udfs"] == without_attributes(wrapper_module())
    assert built["evenheft_open"] == without_attributes(opening_module(xlwings.__version__))


def test_xlwings_other_modules_are_as_shipped(built: dict[str, str]) -> None:
    for name in ("Dictionary", "ThisWorkbook"):
        assert built[name] == shipped()[name]
    assert built["ThisWorkbook"] == built["evenheft_conf"] == ""


def test_xlwings_own_module_is_as_shipped_but_for_these_lines(built: dict[str, str]) -> None:
    changed = [
        line
        for line in difflib.ndiff(shipped()["xlwings"].split("\n"), built["xlwings"].split("\n"))
        if line[0] in "+-" and line[2:].strip()
    ]
    added = [line[2:].strip() for line in changed if line[0] == "+"]
    removed = [line[2:].strip() for line in changed if line[0] == "-"]
    assert added[0] == 'Public Const PROJECT_NAME As String = "evenheft"'
    assert added[1].startswith('tail = " -B -P -c ""import sys, os;')
    assert added[2:] == ["HeftNeedPython"]
    assert removed[0] == 'Public Const PROJECT_NAME As String = "xlwings"'
    assert removed[1] == added[1].replace(" -P", "")
    assert removed[2] == '\'Attribute VB_Name = "Extensions"'
    assert removed[3].startswith("Function sql(")
    assert removed[-1] == "End Function"
    assert len(removed) == 19


def test_no_setting_is_read_from_the_workbook_that_happens_to_be_active(built: dict[str, str]) -> None:
    """In xlwings' project for add-ins a hidden sheet of the active workbook could name the program to start."""
    assert "ActiveWorkbook" not in built["xlwings"]


def test_xlwings_module_compiles_as_adapted(built: dict[str, str]) -> None:
    """The interpreter takes no comment behind a directive, which VBA does: those are taken away for it."""
    source = re.sub(r"(?m)^(\s*#.*?)\s+'.*$", r"\1", built["xlwings"])
    application = ExcelApplication()
    application.add_workbook()
    application.add_module(source, name="xlwings")
    application.add_module(built["evenheft_open"], name="evenheft_open")
    application.add_module(built["evenheft_udfs"], name="evenheft_udfs")


def test_the_project_is_whole(tmp_path: Path) -> None:
    book = tmp_path / "book.xlsm"
    target = io.BytesIO()
    with zipfile.ZipFile(WORKBOOK_SHELL) as shell, zipfile.ZipFile(target, "w") as copy:
        for info in shell.infolist():
            copy.writestr(info, fresh_project() if info.filename == VBA_PART else shell.read(info))
    book.write_bytes(target.getvalue())
    with pyopenvba.ExcelFile(book) as file:
        assert file.validate() == []


def test_the_project_is_the_same_at_every_build() -> None:
    assert fresh_project() == fresh_project()


def test_macros_of_somebody_else_are_left_alone() -> None:
    with pytest.raises(ProjectError, match="macros of its own"):
        refreshed_project(WORKBOOK_SHELL.read_bytes())


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("PROJECT_NAME As String", "PROJECT_TITLE As String"),
        ("Private Sub XLPyLoadDLL()", "Private Sub LoadDLL()"),
        ('" -B -c ""import sys', '" -c ""import sys'),
        ('VB_Name = "Extensions"', 'VB_Name = "Ext"'),
    ],
)
def test_an_xlwings_that_was_written_anew_is_refused(old: str, new: str) -> None:
    with pyopenvba.ExcelFile(WORKBOOK_SHELL) as shell:
        source = shell.get_module("xlwings")
    assert old in source
    with pytest.raises(ProjectError, match="not the one that Evenheft was written for"):
        adapted_xlwings(source.replace(old, new))
