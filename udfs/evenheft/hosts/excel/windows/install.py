"""The add-in put where Excel opens it at every start, and taken away again; each step told in a line."""

from __future__ import annotations

import contextlib
import re
from pathlib import Path

import xlwings

from evenheft import __version__
from evenheft.hosts.excel.building.book import build_add_in
from evenheft.hosts.excel.building.configuration import VERSION_KEY, read_settings
from evenheft.hosts.excel.windows.machine import Machine
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.placing import put_whole

SETTING = "INTERPRETER_WIN"
MARK_OF_THE_WEB = ":Zone.Identifier"
"""The second stream of a file in which Windows notes that it came from the internet."""

_SETTING_LINE = re.compile(r'\s*"([^"]*)"\s*,')


class InstallError(Refused):
    """What stands in the way of installing, in one line with what to do."""


def install(machine: Machine) -> list[str]:
    """Put the add-in in place for this user and name this Python in it.

    Returns:
        What was done, a line each.

    Raises:
        InstallError: this Python cannot answer Excel, or Excel holds the file.
    """
    need_usable_python(machine)
    done = []
    before = version_of(machine.add_in) if machine.add_in.is_file() else None
    put_in_place(machine.add_in, build_add_in(str(machine.interpreter)))
    if before is None:
        done.append(f"put the add-in, version {__version__}, into {machine.start_folder}: Excel opens it at each start")
    else:
        done.append(f"replaced the add-in in {machine.start_folder}: version {before} by {__version__}")
    if take_off_mark(machine.add_in):
        done.append("took off the mark by which Windows blocks files from the internet")
    write_setting(machine, _portable(machine, machine.interpreter))
    done.append(f"named {machine.interpreter} as the Python that answers, in the add-in and in {machine.settings_file}")
    done += [f"! {line}" for line in other_add_ins(machine)]
    return done


def remove(machine: Machine) -> list[str]:
    """Take the add-in and the settings away again.

    Returns:
        What was done, a line each.

    Raises:
        InstallError: Excel holds the file.
    """
    done = []
    if machine.add_in.is_file():
        try:
            machine.add_in.unlink()
        except OSError as error:
            raise InstallError(_held(machine.add_in, error)) from None
        done.append(f"took {machine.add_in} away")
    if machine.settings_file.is_file():
        write_setting(machine, None)
        done.append(f"took the Python's name out of {machine.settings_file}")
    if not done:
        done.append("there was nothing to take away")
    return done + [f"! {line}" for line in other_add_ins(machine)]


def need_usable_python(machine: Machine) -> None:
    """Refuse a Python that Excel could not start.

    Raises:
        InstallError: why not, and what to do.
    """
    if machine.has_store_python():
        raise InstallError(
            f"{machine.interpreter} is the Microsoft Store's Python, which Excel cannot start: install Python from "
            "python.org, then Evenheft with it"
        )
    if not can_name(machine, machine.interpreter):
        raise InstallError(
            f"{machine.interpreter} has letters in its path that Excel's macros cannot name on this machine: install "
            "Python and Evenheft in a folder with a plain name"
        )
    if machine.library(xlwings.__version__) is None:
        name = f"xlwings{machine.bits}-{xlwings.__version__}.dll"
        raise InstallError(
            f"{name} is not beside {machine.interpreter}: run python -m pip install --force-reinstall "
            f"xlwings=={xlwings.__version__}"
        )


def can_name(machine: Machine, path: Path) -> bool:
    """Whether a path has only letters of the machine's own code page."""
    try:
        str(path).encode(machine.encoding)
    except UnicodeEncodeError:
        return False
    return True


def other_add_ins(machine: Machine) -> list[str]:
    """Name each other Evenheft add-in that Excel may load, a line for each with what to do about it."""
    return [
        f"another Evenheft add-in, version {version_of(path)}, is at {path}: delete it, two answer for each other"
        for path in machine.add_ins()
        if path != machine.add_in
    ]


def version_of(add_in: Path) -> str:
    """Read the version of Evenheft that built an add-in, or "unknown", also where the file cannot be read."""
    try:
        return read_settings(add_in.read_bytes()).get(VERSION_KEY, "unknown")
    except OSError:
        return "unknown"


def put_in_place(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, over an older one of ours.

    Raises:
        InstallError: it is held open, or may not be written.
    """
    try:
        # Not beside it: whatever lies in the start folder is opened by Excel.
        put_whole(path, content, by_way_of=path.parent.parent)
    except OSError as error:
        raise InstallError(_held(path, error)) from None


def _held(path: Path, error: OSError) -> str:
    if isinstance(error, PermissionError):
        return f"{path} is in use or may not be written: close every Excel window and run this again"
    return f"{path} cannot be written: {error.strerror or error}"


def marked_as_foreign(path: Path) -> bool:
    """Whether Windows has noted that a file came from the internet, and so blocks its macros."""
    try:
        return b"ZoneId=3" in Path(f"{path}{MARK_OF_THE_WEB}").read_bytes()
    except OSError:
        return False


def take_off_mark(path: Path) -> bool:
    """Take off Windows' note that a file came from the internet; whether there was one."""
    with contextlib.suppress(OSError):
        Path(f"{path}{MARK_OF_THE_WEB}").unlink()
        return True
    return False


def write_setting(machine: Machine, interpreter: str | None) -> None:
    """Write the interpreter into the user's settings, or take it out; other settings stay as they are.

    Raises:
        InstallError: the file may not be written.
    """
    path = machine.settings_file
    lines = [line for line in _lines(path, machine.encoding) if _name(line) != SETTING]
    if interpreter is not None:
        lines.append(f'"{SETTING}","{interpreter}"')
    if lines:
        put_in_place(path, "".join(f"{line}\r\n" for line in lines).encode(machine.encoding, "replace"))
    elif path.is_file():
        try:
            path.unlink()
        except OSError as error:
            raise InstallError(_held(path, error)) from None
        with contextlib.suppress(OSError):  # somebody keeps something else there
            path.parent.rmdir()


def read_setting(machine: Machine) -> str | None:
    """Read the interpreter that the user's settings name, with variables such as %USERPROFILE% as they are."""
    for line in _lines(machine.settings_file, machine.encoding):
        if _name(line) == SETTING:
            return line.partition(",")[2].strip().strip('"')
    return None


def _lines(path: Path, encoding: str) -> list[str]:
    try:
        return [line for line in path.read_bytes().decode(encoding, "replace").splitlines() if line.strip()]
    except OSError:
        return []


def _name(line: str) -> str:
    found = _SETTING_LINE.match(line)
    return found[1].upper() if found else ""


def _portable(machine: Machine, path: Path) -> str:
    """Write a path with the user's folder as a variable, so that the settings may move with a roaming profile."""
    if path.is_relative_to(machine.profile):
        return "%USERPROFILE%\\" + "\\".join(path.relative_to(machine.profile).parts)
    return str(path)
