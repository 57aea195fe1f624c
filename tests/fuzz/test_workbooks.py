"""A few of the runs that are made by hand in thousands (docs/trials.md), each kind in a process that forks its own.

Nothing is judged by the clock, and each seed is fixed: a run that fails here fails again.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.parametrize(
    ("words", "ends"),
    [
        (("workbooks.py", "24", "--from", "500", "--untimed"), "24 runs, 0 failures"),
        (("texts.py", "60", "--untimed"), "0 failures"),
        (("kills.py", "4"), "4 kills: "),
    ],
    ids=["workbooks", "formula texts", "kills"],
)
def test_no_run_at_random_fails(words: tuple[str, ...], ends: str) -> None:
    command = [sys.executable, str(Path(__file__).with_name(words[0])), *words[1:]]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert ends in done.stdout
