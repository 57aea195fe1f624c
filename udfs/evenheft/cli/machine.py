"""What a fresh machine may lack for README's line, as `evenheft doctor` tells it."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from importlib.util import find_spec

from evenheft.hosts.findings import Finding


def findings(system: str = sys.platform) -> Iterator[Finding]:
    """Tell what README wants there first and is not, on a system as sys.platform names it."""
    if system == "win32" and shutil.which("py") is None:
        yield Finding(
            "note",
            "the launcher py, with which README's line begins, is not there",
            "install Python from python.org, or write python where README has py",
        )
    if system == "darwin" and not _has_command_line_tools():
        yield Finding("note", "the command line tools of macOS are not installed", "run: xcode-select --install")
    if find_spec("ensurepip") is None:
        yield Finding(
            "note",
            "this Python cannot make environments: it comes without venv",
            "on Debian and Ubuntu, as root: apt install python3-venv",
        )


def _has_command_line_tools() -> bool:
    try:
        subprocess.run(["xcode-select", "--print-path"], capture_output=True, check=True, timeout=30)
    except (OSError, subprocess.SubprocessError):
        return False
    return True
