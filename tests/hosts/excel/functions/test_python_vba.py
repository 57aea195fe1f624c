"""The VBA that starts Python and calls it: settings, the command line, and what a cell shows when Python is gone."""

from __future__ import annotations

import pytest
from pyopenvba.apps.excel import ExcelApplication

from evenheft.hosts.excel import SERVED_MODULE
from evenheft.hosts.excel.functions.vba import python_module
from vba_standins import IN_PLACE, LIBRARY, PYTHON, VERSION, interpreted

ANSWER = f"{SERVED_MODULE}/HEFT_VERSION"
COMMAND = f'"{PYTHON}" -B -P -c "import xlwings; xlwings.serve(\'$(CLSID)\')"'

TROUBLES = {
    "not set up": ("", "", "! Evenheft is not set up on this machine: install it and run evenheft excel install"),
    "no path": ("pythonw", "", "! pythonw is not the whole path of a Python: run evenheft excel install"),
    "moved": (
        r"C:\Py\python.exe",
        "",
        r"! Python is no longer at C:\Py\python.exe: close Excel and run evenheft excel install",
    ),
    "another xlwings": (
        r"C:\Py\python.exe",
        r"|C:\Py\python.exe|C:\Py\xlwings64-0.30.1.dll|",
        r"! the xlwings of C:\Py\python.exe is not version 0.37.8: close Excel, run evenheft doctor",
    ),
}


@pytest.fixture
def excel() -> ExcelApplication:
    excel = interpreted()
    excel.run("SetUp", PYTHON, "", IN_PLACE)
    return excel


def started(excel: ExcelApplication) -> list[str]:
    """The command lines with which xlwings' library was asked for Python."""
    return str(excel.evaluate("Started")).splitlines()


@pytest.mark.parametrize(("python", "files", "line"), TROUBLES.values(), ids=TROUBLES)
def test_what_keeps_python_from_answering_is_one_line_in_the_cell(
    python: str, files: str, line: str, excel: ExcelApplication
) -> None:
    excel.run("SetUp", python, "", files)
    assert excel.run("HEFT_VERSION") == line
    assert started(excel) == []
    excel.run("SetUp", PYTHON, "", IN_PLACE)
    assert excel.run("HEFT_VERSION") == ANSWER, "what was put right is seen without starting Excel anew"


@pytest.mark.parametrize("library", [rf"C:\Py\Scripts\{LIBRARY}", rf"C:\Py\{LIBRARY}"])
def test_a_library_beside_python_or_above_it_is_loaded(library: str, excel: ExcelApplication) -> None:
    excel.run("SetUp", PYTHON, "", f"|{PYTHON}|{library}|")
    assert excel.run("HEFT_VERSION") == ANSWER
    assert excel.evaluate("Libraries") == f"|{library}"


def test_a_files_own_settings_come_before_the_users(excel: ExcelApplication) -> None:
    excel.run("SetUp", "", PYTHON, IN_PLACE)
    assert excel.run("HEFT_VERSION") == ANSWER
    other = interpreted()
    other.run("SetUp", PYTHON, r"D:\other\python.exe", IN_PLACE)
    assert other.run("HEFT_VERSION") == ANSWER
    assert started(excel) == started(other) == [COMMAND], "one Python for an add-in and for every workbook"


def test_settings_are_looked_up_once_and_not_at_each_call(excel: ExcelApplication) -> None:
    excel.run("HEFT_VERSION")
    asked, loaded = excel.evaluate("Asked"), excel.evaluate("Libraries")
    for _ in range(3):
        assert excel.run("HEFT_POINTS", 431, 75.3) != ""
    assert (excel.evaluate("Asked"), excel.evaluate("Libraries")) == (asked, loaded)
    assert started(excel) == [COMMAND] * 4, "a call costs the library's own look whether Python is there"


def test_nothing_that_differs_from_workbook_to_workbook_stands_in_the_command_line(excel: ExcelApplication) -> None:
    excel.run("HEFT_VERSION")
    assert started(excel) == [COMMAND]
    code = python_module(VERSION)
    for word in ("ThisWorkbook", "ActiveWorkbook", "FullName", "PYTHONPATH", "cmd.exe"):
        assert word not in code


# --- when Python dies


@pytest.mark.parametrize("number", [462, -2147023174, -2147023170, -2147417848, -2147220995])
def test_a_python_that_dies_in_between_is_started_again_by_the_next_call(number: int, excel: ExcelApplication) -> None:
    assert excel.run("HEFT_VERSION") == ANSWER
    excel.run("LetDie", 0, 1, number, "The remote server machine does not exist or is unavailable")
    assert excel.run("HEFT_VERSION") == ANSWER
    again = COMMAND[:-1] + ' # 1"'
    assert started(excel) == [COMMAND, COMMAND, again]
    assert excel.run("HEFT_VERSION") == ANSWER
    assert started(excel)[-1] == again, "and answers from then on"


def test_a_second_workbook_counts_up_to_the_python_that_lives(excel: ExcelApplication) -> None:
    """The library keeps a dead Python under its command line for ever: hr = -2147023174, seen under Wine."""
    excel.run("LetDie", 3, 0, 0, "")
    assert excel.run("HEFT_VERSION") == ANSWER
    assert started(excel)[-1] == COMMAND[:-1] + ' # 3"'


def test_a_python_that_keeps_dying_says_so_in_one_line(excel: ExcelApplication) -> None:
    excel.run("LetDie", 1000, 0, 0, "")
    line = excel.run("HEFT_VERSION")
    assert (
        line == "! Python has stopped: Could not activate Python COM server, hr = -2147023174 1000: run evenheft doctor"
    )
    assert len(started(excel)) < 30
    excel.run("LetDie", 0, 2, 462, "The remote server machine does not exist or is unavailable\r\n")
    assert excel.run("HEFT_VERSION") == (
        "! Python has stopped: The remote server machine does not exist or is unavailable"
    )


def test_a_python_that_does_not_start_says_so_in_one_line_without_its_command_line(excel: ExcelApplication) -> None:
    """The library's own words, as they come under Wine."""
    excel.run(
        "Refuse",
        "Python process exited before it was possible to create the interface object.\r\nCommand: "
        + COMMAND
        + "\r\nWorking Dir: <unspecified>",
    )
    assert excel.run("HEFT_VERSION") == (
        "! Python has stopped: Python process exited before it was possible to create the interface object: "
        "run evenheft doctor"
    )
    excel.run("Refuse", "")
    assert excel.run("HEFT_VERSION") == ANSWER


def test_an_error_inside_python_is_its_last_line(excel: ExcelApplication) -> None:
    trace = (
        'Unexpected Python Error: Traceback (most recent call last):\n  File "x", line 1\nImportError: no evenheft\n'
    )
    excel.run("LetDie", 0, 1, -2147467259, trace)
    assert excel.run("HEFT_VERSION") == "! Python could not answer: ImportError: no evenheft"
    assert started(excel) == [COMMAND], "another Python would fail in the same way"
    excel.run("LetDie", 0, 1, -2147467259, "x" * 400)
    assert len(str(excel.run("HEFT_VERSION"))) == 255, "Excel shows #VALUE! for a longer text"
