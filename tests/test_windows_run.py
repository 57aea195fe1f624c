"""What `tests/windows/run` and CI end with, and that they do end; with stand-ins for Wine and for what prepares it."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parent / "windows" / "run"
CI = Path(__file__).parents[1] / ".ci" / "run"
pytestmark = pytest.mark.skipif(
    sys.platform != "linux" or not shutil.which("flock"), reason="tests/windows/run is for Debian"
)
AT_ONCE, LONG = "0.02", "60"
HANGS = "echo $$ >> {started}; exec sleep 3600"


class Clone:
    """A folder with the script, and scripts in the place of what it calls."""

    def __init__(self, root: Path) -> None:
        self.root, self.started, self.ended = root, root / "started", root / "ended"
        self.cache = root / "cache"
        (self.cache / "prefix" / "drive_c").mkdir(parents=True)
        (root / "programs").mkdir()
        (root / "tests" / "windows" / "c").mkdir(parents=True)
        shutil.copy(SCRIPT, root / "tests" / "windows" / "run")
        (root / ".ci").mkdir()
        shutil.copy(CI, root / ".ci" / "run")
        self.write("tests/run", "echo suite")
        self.write("tests/windows/prepare", f"echo WINEPREFIX={self.cache}/prefix; echo EVENHEFT_WHEELS=/wheels")
        self.write("tests/windows/under_wine", "true")
        self.write("programs/wineserver", f"echo $* >> {self.ended}")
        self.write("programs/x86_64-w64-mingw32-gcc", "true")

    def write(self, name: str, script: str) -> None:
        path = self.root / name
        path.write_text(f"#!/bin/bash\n{script.format(started=self.started)}\n", encoding="utf-8")
        path.chmod(0o755)

    def start(self, *, preparing: str = LONG, testing: str = LONG) -> subprocess.Popen[str]:
        environment = {name: value for name, value in os.environ.items() if not name.startswith("EVENHEFT_")}
        return subprocess.Popen(
            ["bash", self.root / "tests/windows/run"], stderr=subprocess.PIPE, text=True, start_new_session=True,
            env={**environment, "PATH": f"{self.root / 'programs'}:{environment['PATH']}",
                 "EVENHEFT_WINDOWS": str(self.cache), "EVENHEFT_WINDOWS_PREPARING": preparing,
                 "EVENHEFT_WINDOWS_TESTING": testing},
        )  # fmt: skip

    def run(self, **limits: str) -> tuple[int, str]:
        """What it ends with, and what it says."""
        started = self.start(**limits)
        _, said = started.communicate()
        return started.returncode, said

    def still_running(self) -> list[str]:
        """What hung and was not ended."""
        # Missing where the limit was reached before anything hung.
        hung = self.started.read_text().split() if self.started.exists() else []
        return [number for number in hung if Path(f"/proc/{number}").exists()]


@pytest.fixture
def clone(tmp_path: Path) -> Clone:
    return Clone(tmp_path)


NO_WINDOWS = "tests/windows: no Windows can be made on this machine\n"


def test_it_ends_as_the_tests_do_and_wine_with_it(clone: Clone) -> None:
    assert clone.run() == (0, "")
    assert set(clone.ended.read_text().splitlines()) == {"-k"}
    clone.write("tests/windows/under_wine", "exit 1")
    assert clone.run() == (1, "")
    assert list((clone.cache / "prefix" / "drive_c").iterdir()) == [], "the copy is taken away again"


def test_an_error_of_pytests_own_is_no_missing_windows(clone: Clone) -> None:
    clone.write("tests/windows/under_wine", "exit 3")
    assert clone.run() == (1, "")


def test_what_prevents_a_windows_is_told(clone: Clone) -> None:
    clone.write("tests/windows/prepare", "echo tests/windows: no network >&2; exit 3")
    assert clone.run() == (3, f"tests/windows: no network\n{NO_WINDOWS}")


def test_preparing_that_hangs_is_no_windows(clone: Clone) -> None:
    clone.write("tests/windows/prepare", HANGS)
    assert clone.run(preparing=AT_ONCE) == (3, NO_WINDOWS)
    assert clone.still_running() == []


def test_tests_that_hang_have_failed(clone: Clone) -> None:
    clone.write("tests/windows/under_wine", HANGS)
    code, said = clone.run(testing=AT_ONCE)
    assert code not in (0, 3)
    assert said == "tests/windows: the tests were ended, or have taken too long\n"
    assert clone.still_running() == []


def test_a_run_that_is_told_to_end_ends_at_once(clone: Clone) -> None:
    """As by CI's own limit, or by Ctrl+C: not after the hour that its tests may take."""
    clone.write("tests/windows/under_wine", HANGS)
    started = clone.start()
    while not clone.started.exists() and started.poll() is None:
        time.sleep(0.01)
    os.killpg(started.pid, signal.SIGTERM)
    started.communicate()
    assert started.returncode not in (0, 3)
    assert "-k" in clone.ended.read_text()


def in_ci(clone: Clone, minutes: int = 42) -> tuple[int, list[str]]:
    """What CI ends with, and what it prints."""
    done = subprocess.run(
        ["bash", clone.root / ".ci/run"], capture_output=True, text=True,
        env={"PATH": f"{clone.root / 'programs'}:{os.environ['PATH']}", "EVENHEFT_WINDOWS": str(clone.cache),
             "EVENHEFT_CI_MINUTES": str(minutes)},
    )  # fmt: skip
    return done.returncode, done.stdout.splitlines()


def test_ci_runs_the_suite_and_then_the_windows_chain(clone: Clone) -> None:
    clone.write("tests/windows/under_wine", "echo windows $EVENHEFT_WITHOUT_OFFICE")
    assert in_ci(clone) == (0, ["suite", "windows 1"])


def test_ci_fails_with_the_suite_or_with_the_windows_tests(clone: Clone) -> None:
    clone.write("tests/windows/under_wine", "exit 1")
    assert in_ci(clone) == (1, ["suite"])
    clone.write("tests/run", "exit 4")
    assert in_ci(clone) == (4, [])


def test_ci_says_that_windows_was_left_out(clone: Clone) -> None:
    assert in_ci(clone, minutes=16) == (
        0, ["suite", "CI: the Windows chain was LEFT OUT: it takes 17 minutes, 16 are left"],
    )  # fmt: skip
    clone.write("tests/windows/prepare", "exit 3")
    assert in_ci(clone) == (0, ["suite", "CI: the Windows chain was LEFT OUT: no Windows can be made here"])
