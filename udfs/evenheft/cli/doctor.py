"""`evenheft doctor`: what was found on this machine, and what to do about each finding."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path

import click

from evenheft import __version__
from evenheft.cli.talk import UNREADABLE
from evenheft.hosts.findings import Finding

OLDEST_PYTHON = (3, 11)
HOSTS: dict[str, str] = {
    "Excel": "evenheft.hosts.excel.windows.doctor",
    "LibreOffice": "evenheft.hosts.calc.doctor",
}
"""Each host's name as the doctor prints it, and the module whose `findings` tells of it."""

Check = Callable[[], list[Finding]]
MARKS = {"ok": "ok   ", "note": "note ", "wrong": "WRONG"}


@click.command("doctor")
@click.argument("workbooks", nargs=-1, type=click.Path(path_type=Path))
def doctor_command(workbooks: tuple[Path, ...]) -> None:
    """Tell what was found of Python, Evenheft and the spreadsheet programs, and what to do about it.

    Name order WORKBOOKS to hear whether this Evenheft can read them. Ends with exit code 2
    where something is wrong.
    """
    wrong = 0
    for title, check in checks(workbooks):
        click.echo(title)
        for finding in _found_by(check):
            wrong += finding.level == "wrong"
            click.echo(f"  {MARKS[finding.level]} {finding.what}")
            if finding.todo:
                click.echo(f"        -> {finding.todo}")
    if wrong:
        sys.exit(UNREADABLE)


def checks(workbooks: Sequence[Path] = ()) -> Iterator[tuple[str, Check]]:
    """Every check by its title, the machine's own first; each host's module is loaded when its turn comes."""
    yield "Evenheft", own_findings
    for title, module in HOSTS.items():
        yield title, _of_host(module)
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
    return [_python(), _selftest()]


def workbook_findings(path: Path) -> list[Finding]:
    """Look at an order workbook, which is only read."""
    from evenheft.ooxml.errors import Refused
    from evenheft.order.report import open_order, report_of

    try:
        order = open_order(path)
    except Refused as error:
        return [Finding("wrong", str(error), "open a copy of it from before, or begin a new one with: evenheft new")]
    report = report_of(order.computed, path.name, order.package.warnings)
    found = [Finding("ok", f"an order of {len(report.clubs)} clubs that this Evenheft can read")]
    return found + [Finding("note", warning, "nothing, where you put it there yourself") for warning in report.warnings]


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
