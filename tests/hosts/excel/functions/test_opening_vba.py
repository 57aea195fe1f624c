"""The VBA that runs when the file opens: the wizard's texts, and what is said once."""

from __future__ import annotations

import pytest
from pyopenvba.apps.excel import ExcelApplication

from evenheft.formulas import REGISTRY
from evenheft.hosts.excel.functions.vba import opening_module
from vba_standins import IN_PLACE, PYTHON, interpreted, with_opening

ALL_TEXTS = {f.name: [f.help, f"Evenheft {f.category}", *(a.help for a in f.arguments)] for f in REGISTRY.values()}


@pytest.fixture
def opening() -> ExcelApplication:
    application = with_opening(interpreted())
    application.run("SetUp", PYTHON, "", IN_PLACE)
    application.run("OpenBook", "Book1")
    return application


def texts_given(lines: list[str]) -> dict[str, list[str]]:
    return {line.split("|")[0].rpartition("!")[2]: line.split("|")[1:] for line in lines}


def messages(opening: ExcelApplication) -> list[str]:
    return [prompt for _, prompt, _, _ in opening.dialogs]


def test_the_opening_module_compiles_as_it_is_built() -> None:
    interpreted().add_module(opening_module(), name="evenheft_open")


def test_opening_only_plans_what_needs_excel_to_be_up(opening: ExcelApplication) -> None:
    """While Excel opens the files of its start folder there is no window yet that may be touched."""
    opening.run("SetUp", r"C:\Py\python.exe", "", "")
    opening.run("Auto_Open")
    (planned,) = opening.console
    assert planned.startswith("planned '")
    assert planned.endswith("'!HeftOpened")
    assert messages(opening) == []


def test_at_the_start_screen_it_waits_for_a_workbook(opening: ExcelApplication) -> None:
    opening.run("OpenBook", "")
    opening.run("Hide")
    for _ in range(3):
        opening.run("HeftOpened")
    assert [line.split()[0] for line in opening.console] == ["planned"] * 3
    opening.run("OpenBook", "Book1")
    opening.run("HeftOpened")
    assert texts_given(opening.console[4:]) == ALL_TEXTS


def test_nothing_stays_planned_for_a_file_that_is_closed(opening: ExcelApplication) -> None:
    """Excel would open it again."""
    opening.run("Auto_Close")
    assert opening.console == []
    opening.run("Auto_Open")
    opening.run("Auto_Close")
    assert [line.split(" '")[0] for line in opening.console] == ["planned", "no longer planned"]


def test_a_trouble_is_said_once_when_excel_is_up(opening: ExcelApplication) -> None:
    opening.run("SetUp", r"C:\Py\python.exe", "", "")
    opening.run("HeftOpened")
    assert messages(opening) == [r"Python is no longer at C:\Py\python.exe: close Excel and run evenheft excel install"]


def test_nothing_is_shown_where_all_is_well(opening: ExcelApplication) -> None:
    opening.run("HeftOpened")
    assert messages(opening) == []


def test_the_wizard_is_given_every_help_text(opening: ExcelApplication) -> None:
    opening.run("HeftDescribe")
    assert texts_given(opening.console) == ALL_TEXTS


def test_an_add_in_is_shown_for_a_moment_where_excel_refuses_to_describe_a_hidden_one(
    opening: ExcelApplication,
) -> None:
    opening.run("Hide")
    opening.run("HeftDescribe")
    assert opening.console[0] == "shown"
    assert texts_given(opening.console[1:]) == ALL_TEXTS
    assert opening.evaluate("HiddenAddIn") is True


@pytest.mark.parametrize(
    ("others", "shown"),
    [
        (
            [(r"C:\AddIns\evenheft (1).xlam", True)],
            [r"two Evenheft add-ins are loaded: take away C:\AddIns\evenheft (1).xlam"],
        ),
        ([(r"C:\AddIns\evenheft (1).xlam", False)], []),
        ([(r"C:\xlstart\EVENHEFT.xlam", True), (r"C:\AddIns\solver.xlam", True)], []),
    ],
)
def test_a_second_add_in_is_told_when_the_first_opens(
    others: list[tuple[str, bool]], shown: list[str], opening: ExcelApplication
) -> None:
    for other in others:
        opening.run("Load", *other)
    opening.run("HeftOpened")
    assert messages(opening) == shown
