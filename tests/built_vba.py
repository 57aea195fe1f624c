"""What the built VBA says to xlwings' library: the library it loads, and its command lines."""

from __future__ import annotations

import re
from pathlib import Path

from pyopenvba.apps.excel import ExcelApplication

from evenheft.hosts.excel.building.configuration import read_settings
from olevba_reading import macros_in
from vba_standins import interpreted


def running(book: Path, profile: Path) -> ExcelApplication:
    """The macros of a built file in the interpreter, with the settings and files that are there on this machine."""
    content = book.read_bytes()
    application = interpreted(macros_in(content, book.name))
    in_sheet = _expanded(read_settings(content).get("Interpreter_Win", ""), profile)
    in_file = _expanded(_user_setting(profile), profile)
    python = Path(in_sheet or in_file)
    there = [
        path for path in (python, *python.parent.glob("*.dll"), *python.parent.parent.glob("*.dll")) if path.is_file()
    ]
    application.run("SetUp", in_sheet, in_file, "|" + "|".join(map(str, there)) + "|")
    return application


def library(application: ExcelApplication) -> str:
    """The library that was loaded."""
    return str(application.evaluate("Libraries")).removeprefix("|")


def commands(application: ExcelApplication) -> list[str]:
    """The command lines by which Python was asked for so far."""
    return str(application.evaluate("Started")).splitlines()


def _user_setting(profile: Path) -> str:
    text = (profile / ".evenheft" / "evenheft.conf").read_text(encoding="cp1252")
    found = re.search(r'"INTERPRETER_WIN","([^"]*)"', text)
    return found[1] if found else ""


def _expanded(named: str, profile: Path) -> str:
    return named.replace("%USERPROFILE%", str(profile))
