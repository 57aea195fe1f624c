"""What is imported to collect tests runs nothing: no program, no network, no file written."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

TESTS = Path(__file__).parent

LISTENING = """
import os, sys, pytest

KEPT = os.path.join(os.getcwd(), ".hypothesis")  # hypothesis itself makes it when it is first imported

def refuse(event, arguments):
    if event == "open":
        path, mode = arguments[0], str(arguments[1] or "")
        own = isinstance(path, int) or path == os.devnull or KEPT in os.fsdecode(path)
        bad = not own and set(mode) & set("wax+")
    else:
        bad = event in ("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.fork", "socket.connect")
    if bad:
        os.write(2, f"while collecting: {event} {arguments}".encode())
        os._exit(3)

sys.addaudithook(refuse)
sys.dont_write_bytecode = True
sys.exit(pytest.main(["--collect-only", "-qq", "-s", "-p", "no:cacheprovider", *sys.argv[1:]]))
"""
"""Collects tests, and ends with 3 at the first program, connection or file that is asked for meanwhile."""


def collected(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", LISTENING, *map(str, words)],
        cwd=TESTS.parent,
        capture_output=True,
        text=True,
        check=False,
    )


def test_collecting_all_tests_runs_nothing() -> None:
    done = collected()
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr
    assert "tests/pictures.py" not in done.stdout


@pytest.mark.parametrize(
    "line", ["subprocess.run(['true'])", "open('written', 'w')", "__import__('os').system('true')"]
)
def test_a_module_that_runs_something_is_seen(line: str, tmp_path: Path) -> None:
    (tmp_path / "helper.py").write_text(f"import subprocess\n{line}\n", encoding="utf-8")
    done = collected(tmp_path / "helper.py", "--rootdir", tmp_path, "--doctest-modules")
    assert done.returncode == 3
    assert "while collecting: " in done.stderr
