"""Where a newer LibreOffice comes from, as each system is told."""

from __future__ import annotations

import pytest

from evenheft.hosts.calc import OLDEST_OFFICE
from evenheft.hosts.calc.newer import where_newer, where_python_part

BOOKWORM = {"ID": "debian", "VERSION_CODENAME": "bookworm"}
OTHERS = ({}, {"ID": "fedora"}, {"ID": "ubuntu", "VERSION_CODENAME": "noble"}, {**BOOKWORM, "ID": "raspbian"},
          {**BOOKWORM, "VERSION_CODENAME": "trixie"})  # fmt: skip


@pytest.mark.parametrize(
    ("system", "release"),
    [("win32", BOOKWORM), ("darwin", {}), ("linux", BOOKWORM), *(("linux", release) for release in OTHERS)],
)
def test_every_system_is_told_the_version_and_the_site(system: str, release: dict[str, str]) -> None:
    line = where_newer(system, release)
    assert line.startswith(f"install LibreOffice {OLDEST_OFFICE} or newer, ")
    assert "www.libreoffice.org/download" in line
    assert "\n" not in line
    assert ("backports" in line) == (system == "linux" and release == BOOKWORM)
    assert ("own packages" in line) == (system == "linux" and release != BOOKWORM)


def test_only_debian_12_takes_the_python_part_from_backports() -> None:
    assert "-t bookworm-backports" in where_python_part(BOOKWORM)
    for release in OTHERS:
        line = where_python_part(release)
        assert line.endswith("apt install libreoffice-script-provider-python python3-uno)")
