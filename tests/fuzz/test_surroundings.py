"""Each command that writes, once where writing or printing fails: some of what `surroundings.py` tries by hand."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from fuzz.surroundings import SURROUNDINGS, WRITING


def test_no_surrounding_makes_a_command_leave_half_a_file() -> None:
    command = [sys.executable, str(Path(__file__).with_name("surroundings.py")), "--few"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"runs of {len(WRITING)} commands in {len(SURROUNDINGS)} surroundings, 0 failures" in done.stdout
