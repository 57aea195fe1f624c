"""A person at a terminal is told after a second; a pipe never is."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytest.importorskip("pty", reason="a terminal can be had on Unix alone")

SLOW = (
    "import sys, time\n"
    "from evenheft.cli.progress import say_while_working\n"
    "with say_while_working('adopt'):\n"
    "    time.sleep(float(sys.argv[1]))\n"
    "    print('an answer')\n"
)


def said_on_a_terminal(seconds: float) -> tuple[str, str]:
    """What a command of some seconds prints on stdout, and on a terminal that is its stderr."""
    import pty

    try:
        ours, theirs = pty.openpty()
    except OSError as none:  # in a container without /dev/pts
        pytest.skip(f"a terminal cannot be had here: {none}")
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "udfs"), "TERM": "xterm"}
    done = subprocess.run([sys.executable, "-c", SLOW, str(seconds)], stdout=subprocess.PIPE, stderr=theirs,
                          env=environment, check=True)  # fmt: skip
    os.close(theirs)
    said = b""
    try:
        while chunk := os.read(ours, 4096):
            said += chunk
    except OSError:  # the other end is closed
        pass
    os.close(ours)
    return done.stdout.decode(), said.decode()


def test_a_slow_command_says_so_on_the_terminal_and_a_quick_one_does_not() -> None:
    answer, said = said_on_a_terminal(2.5)
    assert answer == "an answer\n"
    assert "adopt: still at work" in said
    assert said_on_a_terminal(0) == ("an answer\n", "")


def test_a_pipe_is_told_nothing() -> None:
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "udfs")}
    done = subprocess.run([sys.executable, "-c", SLOW, "1.5"], capture_output=True, env=environment, check=True)
    assert (done.stdout, done.stderr) == (b"an answer\n", b"")
