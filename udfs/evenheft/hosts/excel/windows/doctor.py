"""What `evenheft doctor` tells about Excel on this machine."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

from evenheft import __version__
from evenheft.hosts.excel import INSTALL_AGAIN, missing_packages
from evenheft.hosts.excel.building.configuration import INTERPRETER_KEY, LIBRARY_KEY, VERSION_KEY, read_settings
from evenheft.hosts.excel.windows.machine import Machine, NotWindows, this_machine
from evenheft.hosts.findings import Finding

REINSTALL = "close Excel and run: evenheft excel install"


def findings() -> list[Finding]:
    """Find what stands for and against Evenheft in Excel here; it looks only, and starts nothing."""
    try:
        machine = this_machine()
    except NotWindows as reason:
        return [Finding("note", "Excel is served on Windows only", str(reason))]
    return findings_on(machine)


def findings_on(machine: Machine) -> list[Finding]:
    """Find what stands for and against Evenheft in Excel on a Windows machine."""
    if missing := missing_packages():
        return [Finding("wrong", f"this Python lacks {' and '.join(missing)}", INSTALL_AGAIN)]
    if not machine.has_office():
        return [Finding("note", "no Excel is found for this user", "install Excel, or use evenheft calc or check")]
    xlwings_version = version("xlwings")
    return [
        *_python(machine, xlwings_version),
        *_office(machine),
        *_add_in(machine, xlwings_version),
        *_settings(machine),
    ]


def _python(machine: Machine, xlwings_version: str) -> Iterator[Finding]:
    python = machine.interpreter
    if machine.has_store_python():
        yield Finding(
            "wrong",
            f"{python} is the Microsoft Store's Python, which Excel cannot start",
            "install Python from python.org, then Evenheft with it",
        )
        return
    from evenheft.hosts.excel.windows.install import can_name

    if not can_name(machine, python):
        yield Finding(
            "wrong",
            f"{python} has letters in its path that Excel's macros cannot name",
            "install Python and Evenheft in a folder with a plain name",
        )
    if machine.in_one_drive(python):
        yield Finding(
            "note",
            f"{python} lies in OneDrive, which may take files off the disk",
            "install Python and Evenheft in a folder that OneDrive does not keep",
        )
    library = machine.library(xlwings_version)
    if library is not None:
        yield Finding("ok", f"xlwings {xlwings_version} with its library {library}")
        return
    others = ", ".join(machine.other_libraries())
    yield Finding(
        "wrong",
        f"xlwings {xlwings_version} lacks its library beside {python}" + (f"; there is {others}" if others else ""),
        f"python -m pip install --force-reinstall xlwings=={xlwings_version}",
    )


def _office(machine: Machine) -> Iterator[Finding]:
    if machine.has_store_office():
        yield Finding(
            "wrong",
            "Office comes from the Microsoft Store, which keeps add-ins from reaching Python",
            "install Office from office.com with the same account: it replaces the Store's",
        )
    for values in machine.excel_values(r"Security\Trusted Locations"):
        if values.get("AllLocationsDisabled") == 1:
            yield Finding(
                "wrong",
                "Excel trusts no folder on this machine, so its start folder's add-ins are blocked",
                "Excel: File > Options > Trust Center > Trusted Locations, untick Disable all",
            )
    for values in machine.excel_values(r"Resiliency\DisabledItems"):
        for value in values.values():
            if isinstance(value, bytes) and "evenheft" in value.decode("utf-16-le", "replace").lower():
                yield Finding(
                    "wrong",
                    "Excel has put the add-in on its list of disabled items, as after a crash",
                    "Excel: File > Options > Add-ins > Manage: Disabled Items > Go, pick evenheft.xlam, Enable",
                )


def _add_in(machine: Machine, xlwings_version: str) -> Iterator[Finding]:
    from evenheft.hosts.excel.windows.install import marked_as_foreign, other_add_ins

    for line in other_add_ins(machine):
        what, _, todo = line.rpartition(": ")
        yield Finding("wrong", what, todo)
    if not machine.add_in.is_file():
        yield Finding("note", f"the add-in is not in {machine.start_folder}", "evenheft excel install")
        return
    settings = read_settings(machine.add_in.read_bytes())
    if marked_as_foreign(machine.add_in):
        yield Finding("wrong", f"Windows blocks {machine.add_in} as a file from the internet", REINSTALL)
    built, library = settings.get(VERSION_KEY, "unknown"), settings.get(LIBRARY_KEY, "unknown")
    if built != __version__:
        yield Finding("wrong", f"the add-in is of Evenheft {built}, this is {__version__}", REINSTALL)
    elif library != xlwings_version:
        yield Finding("wrong", f"the add-in is for xlwings {library}, {xlwings_version} is installed", REINSTALL)
    else:
        yield Finding("ok", f"the add-in, version {built}, in {machine.start_folder}")
    yield from _named("the add-in", settings.get(INTERPRETER_KEY, ""), machine)


def _settings(machine: Machine) -> Iterator[Finding]:
    from evenheft.hosts.excel.windows.install import read_setting

    named = read_setting(machine)
    if named is not None:
        yield from _named(str(machine.settings_file), named, machine)
    elif machine.add_in.is_file():
        yield Finding("wrong", "the settings that workbooks with Evenheft inside need name no Python", REINSTALL)


def _named(where: str, named: str, machine: Machine) -> Iterator[Finding]:
    """Whether a Python that Excel is told to start is there, and is this one."""
    if not named:
        yield Finding("wrong", f"{where} names no Python", REINSTALL)
        return
    path = _expanded(named, machine)
    if not path.is_file():
        yield Finding("wrong", f"{where} names {path}, where there is no Python any more", REINSTALL)
    elif path != machine.interpreter:
        yield Finding(
            "note", f"{where} names {path}, and this Evenheft runs in {machine.interpreter}",
            "if Excel shall use this one, " + REINSTALL,
        )  # fmt: skip


def _expanded(named: str, machine: Machine) -> Path:
    inside = re.sub(r"(?i)^%USERPROFILE%[\\/]", "", named)
    return machine.profile.joinpath(*inside.split("\\")) if inside != named else Path(named)
