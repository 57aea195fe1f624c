"""Python killed, missing or broken: what xlwings' library says, and what VBA makes of it; one Python for all files."""

from __future__ import annotations

import ctypes
from pathlib import Path

import pytest

from built_vba import commands, library, running
from evenheft import __version__
from windows_client import carried_out, raw
from windows_user import User

SYNCHRONIZE, TEN_MINUTES = 0x100000, 600_000
VERSION = f'"{__version__}"'


def test_a_killed_python_is_started_again_as_vba_does_it(installed: tuple[User, str], tmp_path: Path) -> None:
    """The library keeps a dead Python under its command line for ever; VBA's next command line gets a new one."""
    user, _ = installed
    excel = running(user.add_in, user.profile)
    excel.run("HEFT_VERSION")
    excel.run("LetDie", 1, 1, -2147023174, "")
    excel.run("HEFT_VERSION")
    first, dead, tried, lives = commands(excel)
    assert first == dead
    printed = carried_out(
        [
            f"library {library(excel)}",
            f"start {first}",
            *raw("HEFT_VERSION"),
            "kill",
            *raw("HEFT_VERSION"),
            f"start {dead}",
            f"start {dead}",
            f"start {tried}",
            *raw("HEFT_VERSION"),
            "kill",
            f"start {tried}",
            f"start {lives}",
            *raw("HEFT_VERSION"),
        ],
        tmp_path,
    )
    started = [line.split()[0] for line in printed]
    assert printed[1] == VERSION
    gone, refusal = printed[2], printed[3]
    assert gone.split()[:2] in (["failed", "-2147023174"], ["failed", "-2147023170"])
    assert printed[4] == refusal, "for ever"
    assert started[5] == "started"
    assert printed[6] == VERSION
    assert printed[7] == refusal
    assert started[8] == "started"
    assert printed[9] == VERSION

    excel = running(user.add_in, user.profile)
    excel.run("HEFT_VERSION")
    excel.run("LetDie", 0, 1, int(gone.split()[1]), "")
    assert "! " not in str(excel.run("HEFT_VERSION")), "VBA knows the call's error number"
    excel.run("Refuse", refusal)
    assert str(excel.run("HEFT_VERSION")).startswith("! Python has stopped: Could not activate Python COM server")
    assert len(commands(excel)) > 20, "and the library's words, after which it tries other command lines"


def test_a_python_that_does_not_start_is_told_at_once(installed: tuple[User, str], tmp_path: Path) -> None:
    """Not after a minute, with hr = -2147221164, as through a command window that outlives its Python."""
    user, _ = installed
    excel = running(user.add_in, user.profile)
    excel.run("HEFT_VERSION")
    (command,) = commands(excel)
    refusal, _ = carried_out(
        [f"library {library(excel)}", f"start {command.replace('import xlwings', 'import no_such_package')}"], tmp_path
    )
    assert refusal.startswith("Python process exited before it was possible"), "else it waits for a minute"
    excel.run("Refuse", refusal)
    assert excel.run("HEFT_VERSION") == (
        "! Python has stopped: Python process exited before it was possible to create the interface object: "
        "run evenheft doctor"
    )


def test_one_python_answers_the_add_in_and_every_workbook(installed: tuple[User, str], tmp_path: Path) -> None:
    user, _ = installed
    assert user.evenheft("excel", "build", "--to", tmp_path / "built").returncode == 0
    asked = []
    for book in (user.add_in, tmp_path / "built" / "evenheft-order.xlsm", tmp_path / "built" / "evenheft-order.xltm"):
        excel = running(book, user.profile)
        excel.run("HEFT_VERSION")
        asked += [f"library {library(excel)}", f"start {commands(excel)[0]}", "process"]
    printed = carried_out(asked, tmp_path)
    processes = {line for line in printed if line.startswith("process")}
    assert len(processes) == 1
    assert len(set(asked)) == 3, "the very same orders"


@pytest.mark.parametrize("end", [[], ["crash"]], ids=["closed", "crashed"])
def test_python_ends_with_excel(end: list[str], installed: tuple[User, str], tmp_path: Path) -> None:
    """Else it would keep its files from being brought up to date or taken away."""
    user, _ = installed
    excel = running(user.add_in, user.profile)
    excel.run("HEFT_VERSION")
    orders = [f"library {library(excel)}", f"start {commands(excel)[0]}", "process", *end]
    _, said, *_ = carried_out(orders, tmp_path)
    assert has_ended(int(said.removeprefix("process ")))


def has_ended(number: int) -> bool:
    """Whether a process ends, by its number."""
    kernel = ctypes.windll.kernel32
    process = kernel.OpenProcess(SYNCHRONIZE, False, number)
    return process == 0 or kernel.WaitForSingleObject(process, TEN_MINUTES) == 0
