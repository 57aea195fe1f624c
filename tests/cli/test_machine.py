"""What a fresh machine lacks is told in a line each, from machines that lack it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from evenheft.cli import machine


def notes(system: str) -> list[tuple[str, str]]:
    return [(finding.what, finding.todo) for finding in machine.findings(system)]


def on_path(folder: Path, name: str, script: str, monkeypatch: pytest.MonkeyPatch) -> None:
    program = folder / name
    program.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(folder))


def test_a_machine_with_everything_is_told_nothing() -> None:
    assert notes(sys.platform) == []


def test_windows_without_the_launcher(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    ((what, todo),) = notes("win32")
    assert "py" in what
    assert "python.org" in todo


@pytest.mark.skipif(sys.platform == "win32", reason="the stand-in is a shell script")
@pytest.mark.parametrize(("script", "lacks"), [("exit 2", True), ("echo /Library/Developer/CommandLineTools", False)])
def test_a_mac_without_its_command_line_tools(
    script: str, lacks: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    on_path(tmp_path, "xcode-select", script, monkeypatch)
    lines = [("the command line tools of macOS are not installed", "run: xcode-select --install")]
    assert notes("darwin") == (lines if lacks else [])


def test_a_python_without_venv(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine, "find_spec", lambda name: None if name == "ensurepip" else name)
    ((what, todo),) = notes("linux")
    assert "cannot make environments" in what
    assert "apt install python3-venv" in todo
