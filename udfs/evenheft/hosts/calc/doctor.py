"""What `evenheft doctor` tells of LibreOffice and the add-in in it."""

from __future__ import annotations

from collections.abc import Iterator

from evenheft import __version__
from evenheft.hosts.calc.contents import OLDEST_OFFICE
from evenheft.hosts.calc.office import Office, OfficeError, find_all
from evenheft.hosts.findings import Finding

INSTALL = "run: evenheft calc install"
OLDEST_PYTHON = (3, 10)
"""As the component says; see there."""


def findings() -> list[Finding]:
    """Look for every LibreOffice, the newest first."""
    offices = find_all()
    if not offices:
        return [
            Finding(
                "note",
                "no LibreOffice found on this machine",
                f"to work in LibreOffice Calc install LibreOffice {OLDEST_OFFICE} or newer, then {INSTALL}",
            )
        ]
    return [finding for office in offices for finding in look_at(office)]


def look_at(office: Office) -> Iterator[Finding]:
    """Tell what one LibreOffice is good for; each line builds on the one before, so the first that is wrong ends it."""
    name = f"LibreOffice {office.version} in {office.program}"
    if not office.recent_enough:
        yield Finding(
            "wrong",
            f"{name} is too old: it forgets the formulas of .xlsx files",
            f"install LibreOffice {OLDEST_OFFICE} or newer",
        )
        return
    yield Finding("ok", name)
    if not office.runs_python:
        yield Finding(
            "wrong",
            "this LibreOffice cannot run add-ins written in Python",
            "install its Python part (Debian and Ubuntu: apt install python3-uno libreoffice-script-provider-python)",
        )
        return
    yield from _python(office)
    yield from _add_in(office)


def _python(office: Office) -> Iterator[Finding]:
    version = office.python_version()
    if version is None:
        yield Finding(
            "note", "the Python that LibreOffice uses does not tell its version", "look at what =HEFT_SELFTEST() says"
        )
    elif tuple(map(int, version.split(".")[:2])) < OLDEST_PYTHON:
        oldest = ".".join(map(str, OLDEST_PYTHON))
        yield Finding(
            "wrong", f"LibreOffice uses Python {version}, Evenheft needs {oldest}", "install a newer LibreOffice"
        )
    else:
        yield Finding("ok", f"LibreOffice uses Python {version}")


def _add_in(office: Office) -> Iterator[Finding]:
    if office.looks_open:  # it would not answer
        yield Finding(
            "note",
            "LibreOffice is open, or crashed when it last ran: its add-in was not looked at",
            "close all its windows (after a crash start and close it once), and run evenheft doctor again",
        )
        return
    try:
        version = office.installed_version()
        if version is None:
            yield Finding("note", "the add-in is not installed in LibreOffice", INSTALL)
        elif version != __version__:
            yield Finding("wrong", f"LibreOffice has the add-in of evenheft {version}, this is {__version__}", INSTALL)
        else:
            yield Finding("ok", f"the add-in {version} is installed in LibreOffice")
            yield Finding("ok", f"computed in Calc: {office.prove()}")
    except OfficeError as error:
        yield Finding("wrong", str(error), f"close LibreOffice, then {INSTALL}")
