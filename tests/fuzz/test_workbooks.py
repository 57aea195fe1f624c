"""A few of the runs that `python tests/fuzz/workbooks.py 10000` makes by hand, in a process that forks its own."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

RUNS = 30


def test_no_workbook_makes_a_command_fail() -> None:
    command = [sys.executable, str(Path(__file__).with_name("workbooks.py")), str(RUNS), "--from", "500", "--untimed"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{RUNS} runs, 0 failures" in done.stdout
