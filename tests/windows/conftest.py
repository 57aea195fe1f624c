"""A Windows user who installs Evenheft by a double click, and what VBA would say to xlwings' library then.

These tests run under a Windows Python (tests/windows/run makes one with Wine), from a copy of the project in a folder
with blanks, umlauts and an ampersand in its name. The modules go from installing to removing, in their names' order.
"""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterator

import pytest

from windows_client import ALIKE
from windows_user import User

if sys.platform == "win32":
    # Wine starts its desktop for the first window, and for as long as there is one: were that a command's, run from
    # here, the desktop would hold the command's output open.
    ctypes.windll.user32.GetDesktopWindow()

collect_ignore_glob = [] if sys.platform == "win32" else ["test_*.py"]


@pytest.fixture(scope="session")
def user(tmp_path_factory: pytest.TempPathFactory) -> User:
    """A user with Excel and no Evenheft yet, whose name and folders have umlauts and blanks."""
    profile = tmp_path_factory.mktemp("users") / "Käthe Müller"
    (profile / "AppData" / "Roaming" / "Microsoft" / "Excel").mkdir(parents=True)
    environment = {
        **os.environ,
        "USERPROFILE": str(profile),
        "APPDATA": str(profile / "AppData" / "Roaming"),
        "LOCALAPPDATA": str(profile / "AppData" / "Local"),
        # What pip would fetch lies beside already.
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": os.environ["EVENHEFT_WHEELS"],
    }
    environment.pop("PYTHONPATH", None)
    return User(profile, environment)


@pytest.fixture(scope="session")
def installed(user: User) -> Iterator[tuple[User, str]]:
    """The user after a double click on install.cmd, which finds Python in its installer's place, and what it said."""
    done = user.double_click("install.cmd", LOCALAPPDATA=r"C:\local")
    assert done.returncode == 0, done.stdout + done.stderr
    yield user, done.stdout


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how many calls each test of the parity table has compared."""
    for report in terminalreporter.getreports("passed"):
        for line in report.capstdout.splitlines():
            if line.endswith(ALIKE):
                terminalreporter.write_line(f"{report.nodeid}: {line}")
