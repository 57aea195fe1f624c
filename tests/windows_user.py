"""A Windows user, and the commands and double clicks that are done in its name (tests/windows)."""

from __future__ import annotations

import subprocess
from dataclasses import dataclass
from pathlib import Path

SOURCE = Path(__file__).parents[1]


@dataclass(frozen=True)
class User:
    """A Windows user with Excel, as far as its folders tell."""

    profile: Path
    environment: dict[str, str]

    @property
    def place(self) -> Path:
        return self.profile / "evenheft"

    @property
    def python(self) -> Path:
        return self.place / "Scripts" / "python.exe"

    @property
    def add_in(self) -> Path:
        return self.profile / "AppData" / "Roaming" / "Microsoft" / "Excel" / "XLSTART" / "evenheft.xlam"

    def double_click(self, name: str, **variables: str) -> subprocess.CompletedProcess[str]:
        """Run a file of udfs/windows as Explorer does."""
        command = f'cmd /c ""{SOURCE / "udfs" / "windows" / name}" /quiet"'
        return self._run(command, **variables)

    def evenheft(self, *arguments: object, folder: Path | None = None) -> subprocess.CompletedProcess[str]:
        command = subprocess.list2cmdline([str(self.place / "Scripts" / "evenheft.exe"), *map(str, arguments)])
        return self._run(command, folder=folder)

    def _run(self, command: str, *, folder: Path | None = None, **variables: str) -> subprocess.CompletedProcess[str]:
        done = subprocess.run(
            command, env={**self.environment, **variables}, cwd=folder, stdin=subprocess.DEVNULL, capture_output=True
        )
        printed = [text.decode("cp1252").replace("\r\n", "\n") for text in (done.stdout, done.stderr)]
        return subprocess.CompletedProcess(command, done.returncode, *printed)
