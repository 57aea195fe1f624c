"""What `evenheft doctor` tells of LibreOffice and the add-in in it."""

from __future__ import annotations

from collections.abc import Iterator

from evenheft import __version__
from evenheft.hosts.calc.newer import where_newer, where_python_part
from evenheft.hosts.calc.office import Office, OfficeError, find_all
from evenheft.hosts.findings import Finding

INSTALL = "run: evenheft calc install"
INSTALL_FOR_ODS = f"{INSTALL} --ods-only"
OLDEST_OFFICE_PYTHON = (3, 10)
"""As the component says; see there."""


def findings() -> list[Finding]:
    """Look for every LibreOffice, the newest first."""
    offices = find_all()
    if not offices:
        return [
            Finding(
                "note",
                "no LibreOffice found on this machine",
                f"to work in LibreOffice Calc {where_newer()}; then {INSTALL}",
            )
        ]
    newest, *others = offices
    beside = newest if newest.recent_enough else None
    return [*look_at(newest), *(finding for office in others for finding in look_at(office, beside=beside))]


def look_at(office: Office, *, beside: Office | None = None) -> Iterator[Finding]:
    """Tell what one LibreOffice is good for; each line builds on the one before, so the first that is wrong ends it.

    Args:
        office: the LibreOffice to look at [-].
        beside: a recent one on the same machine, which makes up for what an older one cannot do [-].
    """
    if office.recent_enough:
        yield Finding("ok", f"LibreOffice {office.version} in {office.program}")
    else:
        serves_ods = _serves_ods(office)
        yield _older(office, serves_ods=serves_ods, beside=beside)
        if not serves_ods:
            return
    if not office.runs_python:
        yield Finding(
            "wrong",
            "this LibreOffice cannot run add-ins written in Python",
            where_python_part(),
        )
        return
    yield from _python(office)
    yield from _add_in(office)


def _serves_ods(office: Office) -> bool:
    """Tell whether somebody had the add-in put into an older LibreOffice for .ods files, as far as can be seen."""
    if not (office.keeps_ods and office.runs_python):
        return False
    try:
        return office.looks_open or office.installed_version() is not None
    except OfficeError:  # told when the add-in is looked at
        return True


def _older(office: Office, *, serves_ods: bool, beside: Office | None) -> Finding:
    what, todo = office.shortcoming
    message = f"{what} ({office.program})"
    if beside is not None:
        return Finding("note", message, f"open workbooks with LibreOffice {beside.version} in {beside.program}")
    if serves_ods:
        return Finding("note", message, f"keep to .ods files in it, or {where_newer()}")
    return Finding("wrong", message, todo)


def _python(office: Office) -> Iterator[Finding]:
    version = office.python_version()
    if version is None:
        yield Finding(
            "note", "the Python that LibreOffice uses does not tell its version", "look at what =HEFT_SELFTEST() says"
        )
    elif tuple(map(int, version.split(".")[:2])) < OLDEST_OFFICE_PYTHON:
        oldest = ".".join(map(str, OLDEST_OFFICE_PYTHON))
        yield Finding(
            "wrong", f"LibreOffice uses Python {version}, Evenheft needs {oldest}", "install a newer LibreOffice"
        )
    else:
        yield Finding("ok", f"LibreOffice uses Python {version}")


def _add_in(office: Office) -> Iterator[Finding]:
    ods_only = not office.recent_enough
    install = INSTALL_FOR_ODS if ods_only else INSTALL
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
            yield Finding("note", "the add-in is not installed in LibreOffice", install)
        elif version != __version__:
            yield Finding("wrong", f"LibreOffice has the add-in of evenheft {version}, this is {__version__}", install)
        else:
            yield Finding("ok", f"the add-in {version} is installed in LibreOffice")
            asked = "Calc, from an .ods file" if ods_only else "Calc"
            yield Finding("ok", f"computed in {asked}: {office.prove(ods_only=ods_only)}")
    except OfficeError as error:
        yield Finding("wrong", str(error), f"close LibreOffice, then {install}")
