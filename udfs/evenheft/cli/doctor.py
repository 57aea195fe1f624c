"""`evenheft doctor`: what was found on this machine, and what to do about each finding."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenheft import __version__
from evenheft.cli import machine
from evenheft.cli.talk import EXIT_UNREADABLE, say
from evenheft.hosts.findings import Finding
from evenheft.ooxml.text import plain_text

if TYPE_CHECKING:
    from evenheft.ooxml.package import Package

OLDEST_PYTHON = (3, 11)
HOSTS: dict[str, str] = {
    "Excel": "evenheft.hosts.excel.windows.doctor",
    "LibreOffice": "evenheft.hosts.calc.doctor",
}
"""Each host's name as the doctor prints it, and the module whose `findings` tells of it."""

Check = Callable[[], list[Finding]]
_MOST_NAMED = 5
MARKS = {"ok": "ok   ", "note": "note ", "wrong": "WRONG"}


@click.command("doctor")
@click.argument("workbooks", nargs=-1, type=click.Path(path_type=Path))
def doctor_command(workbooks: tuple[Path, ...]) -> None:
    """Tell what was found of Python, Evenheft and the spreadsheet programs, and what to do about it.

    Name WORKBOOKS to hear what each is, and whether this Evenheft can read it. Ends with exit code 2
    where something is wrong.
    """
    wrong = 0
    for title, check in checks(workbooks):
        say(title)
        for finding in _found_by(check):
            wrong += finding.level == "wrong"
            say(f"  {MARKS[finding.level]} {finding.what}")
            if finding.todo:
                say(f"        -> {finding.todo}")
    if wrong:
        sys.exit(EXIT_UNREADABLE)


def checks(workbooks: Sequence[Path] = ()) -> Iterator[tuple[str, Check]]:
    """Every check by its title, the machine's own first; each host's module is loaded when its turn comes."""
    yield "Evenheft", own_findings
    for title, module in HOSTS.items():
        yield title, _of_host(module)
    yield "This folder" if not workbooks else "The workbooks' folders", partial(folder_findings, workbooks)
    for path in workbooks:
        yield path.name, partial(workbook_findings, path)


def _of_host(module: str) -> Check:
    def check() -> list[Finding]:
        found: list[Finding] = importlib.import_module(module).findings()
        return found

    return check


def _found_by(check: Check) -> list[Finding]:
    """Run a check for what it finds; a check that fails says so, and the next one still has its turn."""
    try:
        return check()
    except Exception as error:
        reason = " ".join(str(error).split()) or type(error).__name__
        return [Finding("wrong", f"this could not be looked at: {reason}", "tell the maintainers of Evenheft")]


def own_findings() -> list[Finding]:
    """Look at this Python and this package."""
    return [_python(), *machine.findings(), _selftest()]


def folder_findings(workbooks: Sequence[Path]) -> list[Finding]:
    """Look for what runs that were killed have left beside workbooks, or in this folder."""
    from evenheft.ooxml.replace import leftovers

    folders = dict.fromkeys(path.resolve().parent for path in workbooks) or [Path.cwd()]
    left = [path for folder in folders for path in leftovers(folder)]
    if not left:
        return [Finding("ok", "no half-written file of a run that was killed")]
    return [
        Finding(
            "note",
            f"a half-written file of a run that was killed: {plain_text(str(path))}",
            "remove it, unless Evenheft is writing there just now; a file that it was to replace is whole",
        )
        for path in left
    ]


def workbook_findings(path: Path) -> list[Finding]:
    """Look at a workbook, which is only read: an order, a supplier's answer, a shop's own sheets, or none of these."""
    from evenheft.hosts.calc.open_document import is_open_document, read_workbook
    from evenheft.ooxml.errors import Refused
    from evenheft.ooxml.package import open_package
    from evenheft.order.own_formulas import differing_formulas
    from evenheft.order.report import open_order, report_of

    try:
        with read_workbook(path) if is_open_document(path) else open_package(path) as package:
            if not _is_order(package):
                return [_other_workbook(package), *_on_warnings(package.warnings)]
    except Refused as error:
        return [Finding("wrong", str(error), _advice(path, str(error)))]
    try:
        order = open_order(path)
    except Refused as error:
        return [Finding("wrong", str(error), "open a copy of it from before, or begin a new one with: evenheft new")]
    report = report_of(order.computed, path.name, order.package.warnings)
    return [
        Finding("ok", f"an order of {len(report.clubs)} clubs that this Evenheft can read"),
        *_on_rows(report.lost),
        _on_formulas(differing_formulas(order.computed), path.name),
        *_on_warnings(report.warnings),
    ]


def _on_rows(lost: str) -> list[Finding]:
    return [Finding("wrong", lost, "put that right on the sheet that is named")] if lost else []


def _on_formulas(differing: Sequence[str], name: str) -> Finding:
    """Name the cells whose formula is not the template's own."""
    if not differing:
        return Finding("ok", "every formula is the template's own")
    from evenheft.order.layout import CLUB_ROWS

    named = ", ".join(differing[:CLUB_ROWS])  # as many as one column has
    more = f" and {len(differing) - CLUB_ROWS} more" * (len(differing) > CLUB_ROWS)
    return Finding(
        "note",
        f"not the template's own formula in {named}{more}",
        f"nothing, where you changed it or put a row in; evenheft new NEW.xlsx --from {name}  makes them all its own",
    )


def _on_warnings(warnings: Sequence[str]) -> list[Finding]:
    return [Finding("note", warning, "nothing, where you put it there yourself") for warning in warnings]


def _is_order(package: Package) -> bool:
    from evenheft.ooxml.checking import local_name
    from evenheft.order.layout import KIND_NAME

    names: set[str] = set()

    def note(tag: str, attributes: dict[str, str]) -> None:
        if local_name(tag) == "definedName":
            names.add(attributes.get("name", "").lower())

    package.walk(package.workbook_part, note)
    return KIND_NAME.lower() in names


def _other_workbook(package: Package) -> Finding:
    """Tell what a workbook is that is no order: nothing is wrong with it."""
    from evenheft.order.supplier.book import HEADS_SHEET

    sheets = [sheet.name for sheet in package.sheets]
    named = ", ".join(sheets[:_MOST_NAMED]) + (f" and {len(sheets) - _MOST_NAMED} more" * (len(sheets) > _MOST_NAMED))
    if sheets == [HEADS_SHEET]:
        return Finding("ok", "heads for or from a supplier", f"evenheft receive ORDER {package.name}")
    message = f"a workbook of its own, no Evenheft order, with the sheet{'s' * (len(sheets) > 1)} {plain_text(named)}"
    return Finding("ok", message, f"evenheft adopt {package.name}  tells what can be computed from it")


def _advice(path: Path, reason: str) -> str:
    """Tell what to do about a file that cannot be opened as a workbook."""
    if not path.exists():
        return "look at the name, and at the folder you are in"
    if " save " in reason or " take its password" in reason or "take it off" in reason:
        return "do that, and try again"
    if "not a workbook" in reason:
        return "name an .xlsx, .xlsm or .xltx file"
    return "open a copy of it from before"


def _python() -> Finding:
    version = ".".join(map(str, sys.version_info[:3]))
    if sys.version_info < OLDEST_PYTHON:
        oldest = ".".join(map(str, OLDEST_PYTHON))
        return Finding("wrong", f"Python {version} in {sys.prefix}", f"install Python {oldest} or newer")
    return Finding("ok", f"Python {version} in {sys.prefix}")


def _selftest() -> Finding:
    import evenheft
    from evenheft.hosts.embedded import evaluate

    said = str(evaluate("=HEFT_SELFTEST()"))
    home = Path(evenheft.__file__).parent
    if said.startswith("ok"):
        return Finding("ok", f"evenheft {__version__} in {home}: {said}")
    return Finding(
        "wrong",
        f"evenheft {__version__} in {home}: {said}",
        "install it again: pip install . in the folder of Evenheft",
    )
