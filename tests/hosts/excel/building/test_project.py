"""The VBA project, read back with oletools, which shares no code with pyOpenVBA that wrote it."""

from __future__ import annotations

import difflib
import re
import zipfile
from pathlib import Path

import pyopenvba
import pytest
import xlwings
from pyopenvba.apps.excel import ExcelApplication

from evenheft.hosts.excel.building.project import (
    NEEDED,
    VBA_PART,
    WORKBOOK_SHELL,
    ProjectError,
    adapted_xlwings,
    fresh_project,
    refreshed_project,
)
from evenheft.hosts.excel.functions.vba import opening_module, wrapper_module
from olevba_reading import macros_in, without_attributes
from packages import with_parts


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


def procedures_of(source: str) -> dict[str, list[str]]:
    """The lines of each procedure by its name, lines outside of all under ""."""
    found: dict[str, list[str]] = {"": []}
    inside = ""
    for line in source.split("\n"):
        header = re.match(r"\s*(?:(?:Public|Private) )?(?:Function|Sub) (\w+)", line)
        if header and not inside:
            inside = header[1]
        found.setdefault(inside, []).append(line)
        if re.match(r"\s*End (Function|Sub)\b", line):
            inside = ""
    return found


def differences(before: list[str], after: list[str]) -> list[str]:
    return [line for line in difflib.ndiff(before, after) if line[0] in "+-"]


def test_what_is_kept_of_xlwings_module_is_as_shipped_but_for_these_lines(built: dict[str, str]) -> None:
    before, after = procedures_of(shipped()["xlwings"]), procedures_of(built["xlwings"])
    assert set(after) == NEEDED | {""}
    changed = {name: differences(before[name], after[name]) for name in after if before[name] != after[name]}
    assert changed.pop("XLPyLoadDLL") == ["+     HeftNeedPython"]
    command = changed.pop("XLPyCommand")
    assert [line[:2] for line in command if line[0] != "?"] == ["- ", "+ "]
    assert command[-1][2:] == command[0][2:].replace(' -B -c ""', ' -B -P -c ""')
    outside = changed.pop("")
    assert not changed
    assert [line[2:] for line in outside if line[0] == "+"][:1] == ["Option Private Module"]
    for line in outside[1:]:
        assert re.search(r"Declare PtrSafe|Declare Function|PROJECT_NAME|^\+ *$|^- *$", line)


def test_what_is_kept_calls_nothing_that_was_taken_out(built: dict[str, str]) -> None:
    all_names = {name.lower() for name in procedures_of(shipped()["xlwings"]) if name}
    kept = {name.lower() for name in NEEDED}
    for name, lines in procedures_of(built["xlwings"]).items():
        code = "\n".join(re.sub(r"'.*$|\"[^\"]*\"", "", line) for line in lines)
        words = {word.lower() for word in re.findall(r"\w+", code)} & all_names
        assert words <= kept, name


def test_no_cell_of_a_foreign_workbook_can_run_code_or_touch_files_through_the_add_in(built: dict[str, str]) -> None:
    """A formula can call a public function of a loaded add-in: RunPython("...") would run without being asked about."""
    module = built["xlwings"]
    assert "Option Private Module" in module.split("\n")[:3]
    assert not re.search(r"(?m)^\s*(Public )?Declare ", module)
    for dangerous in (
        "RunPython",
        "RunFrozenPython",
        "ExecuteWindows",
        "SaveConfigToFile",
        "ReadFile",
        "KillPy",
        "sql",
    ):
        assert not re.search(rf"(Function|Sub) {dangerous}\b", module)
        assert re.search(rf"(Function|Sub) {dangerous}\b", shipped()["xlwings"])
    assert not re.search(r"\bFor (Output|Append|Binary)\b|\bKill |\.Run\b|\bFileCopy\b", module)
    public = re.findall(r"(?m)^(?:Public )?Function (\w+)", built["evenheft_open"] + built["evenheft_udfs"])
    assert all(name.startswith("HEFT_") for name in public)


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
    book.write_bytes(with_parts(WORKBOOK_SHELL.read_bytes(), {VBA_PART: fresh_project()}))
    with pyopenvba.ExcelFile(book) as file:
        assert file.validate() == []


def test_lines_end_as_the_vba_editor_writes_them(tmp_path: Path) -> None:
    book = tmp_path / "book.xlsm"
    book.write_bytes(with_parts(WORKBOOK_SHELL.read_bytes(), {VBA_PART: fresh_project()}))
    with pyopenvba.ExcelFile(book) as file:
        for name in ("xlwings", "evenheft_udfs", "evenheft_open"):
            assert not re.search(r"(?<!\r)\n|\r(?!\n)", file.get_module(name))


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
        ("Function GetMacDir(", "Function MacDir("),
    ],
)
def test_an_xlwings_that_was_written_anew_is_refused(old: str, new: str) -> None:
    with pyopenvba.ExcelFile(WORKBOOK_SHELL) as shell:
        source = shell.get_module("xlwings")
    assert old in source
    with pytest.raises(ProjectError, match="not the one that Evenheft was written for"):
        adapted_xlwings(source.replace(old, new))
