"""What `tests/run` does on a machine that it has not seen: which Pythons it takes, and where LibreOffice comes from.

apt cannot be let loose on the machine that the tests run on: programs with the names and the answers of apt's own, as
they were seen on the systems named, stand before it on the path and write down what they are asked to do.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from evenheft.hosts.calc import OLDEST_OFFICE

TESTS = Path(__file__).parent
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="tests/run is for bash")

INDEX = "Debian|Debian|bookworm|main|http://archive.invalid/debian/|"
SECURITY = "Debian|Debian-Security|bookworm-security|main|http://archive.invalid/debian-security/|"
OTHER = "Debian|Debian|trixie|main|http://archive.invalid/debian/|"


def program(folder: Path, name: str, script: str) -> None:
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    path.chmod(0o755)


class FreshMachine:
    """A machine with apt's answers, and without LibreOffice, poppler and venv."""

    def __init__(self, folder: Path, release: str, offered: str, *, user: int = 0) -> None:
        self.root, self.programs, self.asked = folder, folder / "programs", folder / "asked"
        self.backports = folder / "etc/apt/sources.list.d/evenheft-backports.sources"
        self.backports.parent.mkdir(parents=True)
        self.programs.mkdir()
        (folder / "etc/os-release").write_text(release, encoding="utf-8")
        for name in ("bash", "sed", "sort", "head", "grep", "rm", "dirname", "cat", "sleep"):
            (self.programs / name).symlink_to(str(shutil.which(name)))
        self.indexes = f"printf '%s\\n' '{SECURITY}' '{INDEX}'"
        self.has_backports = (
            f"[ -f {self.backports} ] && echo 'x | 4:25.2.3 | http://a.invalid bookworm-backports/main'"
        )
        self.update = "true"
        self.offered, self.user = offered, user

    def run(self) -> tuple[str, str]:
        """What is told, and what apt-get is asked for."""
        program(self.programs, "id", f"echo {self.user}")
        program(self.programs, "apt-cache", f'case $1 in policy) echo "  Candidate: {self.offered}" ;; madison) '
                f"{self.has_backports} ;; esac; true")  # fmt: skip
        program(self.programs, "apt-get", f'echo "$*" >> {self.asked}; case "$*" in indextargets*) {self.indexes} ;; '
                f"*update*) {self.update} ;; esac")  # fmt: skip
        done = subprocess.run(
            [shutil.which("bash") or "bash", TESTS / "install_programs"], capture_output=True, text=True, check=True,
            env={"PATH": str(self.programs), "EVENHEFT_MACHINE": str(self.root)},
        )  # fmt: skip
        return done.stderr, self.asked.read_text(encoding="utf-8") if self.asked.exists() else ""


BOOKWORM = "ID=debian\nVERSION_CODENAME=bookworm\n"


def test_debian_13_takes_its_own_libreoffice(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, "ID=debian\nVERSION_CODENAME=trixie\n", "4:25.2.3-2+deb13u2")
    _, asked = machine.run()
    assert "libreoffice-calc" in asked
    assert "backports" not in asked
    assert not machine.backports.exists()


def test_a_release_of_tomorrow_takes_its_own_libreoffice(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, "ID=debian\n", "4:126.2.1-1")
    assert "libreoffice-calc" in machine.run()[1]
    assert not machine.backports.exists()


def test_debian_12_takes_its_backports_from_where_it_has_itself(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, BOOKWORM, "4:7.4.7-1+deb12u8")
    _, asked = machine.run()
    assert "-t bookworm-backports libreoffice-calc" in asked
    assert machine.backports.read_text(encoding="utf-8").splitlines() == [
        "Types: deb", "URIs: http://archive.invalid/debian/", "Suites: bookworm-backports", "Components: main",
    ]  # fmt: skip


def test_a_key_that_the_machine_names_is_kept(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, BOOKWORM, "4:7.4.7-1+deb12u8")
    machine.indexes = f"echo '{INDEX}/usr/share/keyrings/debian-archive-keyring.gpg'"
    machine.run()
    assert machine.backports.read_text(encoding="utf-8").endswith(
        "Signed-By: /usr/share/keyrings/debian-archive-keyring.gpg\n"
    )


def test_backports_that_are_there_already_are_used_as_they_are(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, BOOKWORM, "4:7.4.7-1+deb12u8")
    machine.has_backports = "echo 'x | 4:25.2.3 | http://a.invalid bookworm-backports/main amd64 Packages'"
    assert "-t bookworm-backports libreoffice-calc" in machine.run()[1]
    assert not machine.backports.exists()


def test_backports_are_seen_however_slowly_apt_lists_them(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, BOOKWORM, "4:7.4.7-1+deb12u8")
    machine.has_backports = (
        "echo 'x | 4:25.2.3 | http://a.invalid bookworm-backports/main'; sleep 0.2; "
        "echo 'x | 4:7.4.7 | http://a.invalid bookworm/main'"
    )
    assert "-t bookworm-backports libreoffice-calc" in machine.run()[1]


def test_backports_that_apt_refuses_are_taken_back(tmp_path: Path) -> None:
    machine = FreshMachine(tmp_path, BOOKWORM, "4:7.4.7-1+deb12u8")
    machine.update = f"[ ! -f {machine.backports} ]"
    printed, asked = machine.run()
    assert "libreoffice-calc" not in asked
    assert not machine.backports.exists()
    assert f"no LibreOffice {OLDEST_OFFICE} with Python and SDK (7.4.7-1+deb12u8), apt has none here" in printed


@pytest.mark.parametrize(
    ("release", "indexes"),
    [
        ("ID=ubuntu\nID_LIKE=debian\nVERSION_CODENAME=noble\n", INDEX),
        ("ID=raspbian\nID_LIKE=debian\nVERSION_CODENAME=bookworm\n", INDEX),
        ("ID=debian\nVERSION_CODENAME=bullseye\n", INDEX),
        (BOOKWORM, OTHER),
        ("", INDEX),
    ],
)
def test_no_other_release_is_ever_given_a_suite(tmp_path: Path, release: str, indexes: str) -> None:
    machine = FreshMachine(tmp_path, release, "4:24.2.7-0ubuntu0.24.04.4")
    machine.indexes = f"echo '{indexes}'"
    printed, asked = machine.run()
    assert "libreoffice-calc" not in asked
    assert list(machine.backports.parent.iterdir()) == []
    assert [line for line in printed.splitlines() if "LibreOffice" in line] == [
        f"tests/run: no LibreOffice {OLDEST_OFFICE} with Python and SDK (24.2.7-0ubuntu0.24.04.4), apt has none here: "
        "tests that need it will be skipped"
    ]


def test_an_ordinary_user_is_told_what_will_be_skipped(tmp_path: Path) -> None:
    printed, asked = FreshMachine(tmp_path, BOOKWORM, "4:7.4.7", user=1000).run()
    assert asked == ""
    assert [line.partition(",")[0] for line in printed.splitlines()] == [
        f"tests/run: no LibreOffice {OLDEST_OFFICE} with Python and SDK", "tests/run: no pdftotext (poppler-utils)",
    ]  # fmt: skip


def pythons(folder: Path, **environment: str) -> list[str]:
    listed = subprocess.run(
        ["bash", TESTS / "pythons"], capture_output=True, text=True, check=True,
        env={"HOME": str(folder), "PATH": os.environ["PATH"], **environment},
    )  # fmt: skip
    return listed.stdout.splitlines()


def test_this_python_is_found_on_the_path(tmp_path: Path) -> None:
    here = f"{sys.version_info.major}.{sys.version_info.minor}"
    folder = tmp_path / "bin"
    folder.mkdir()
    (folder / f"python{here}").symlink_to(sys.executable)
    assert f"{here} {folder}/python{here}" in pythons(tmp_path, PATH=f"{folder}:{os.environ['PATH']}")


def test_pythons_are_listed_once_the_oldest_first_and_none_that_is_too_old_or_does_not_run(tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / ".pyenv/versions/9.9/bin"
    for folder in (first, second):
        folder.mkdir(parents=True)
    says = 'echo "{} $5"'
    program(first, "python3", says.format("3.90"))
    program(first, "python3.90", says.format("3.90"))
    program(first, "python3.100", says.format("3.100"))  # no Python of today has three digits
    program(first, "python3.91", "exit 127")  # as pyenv's shims do
    program(second, "python3.9", "true")  # too old, so it says nothing
    program(second, "python3.89", says.format("3.89"))
    found = [line for line in pythons(tmp_path, PATH=f"{first}:{os.environ['PATH']}") if str(tmp_path) in line]
    assert found == [f"3.89 {second}/python3.89", f"3.90 {first}/python3"]


def test_in_a_folder_that_is_no_clone_the_linter_leaves_the_environments_alone(tmp_path: Path) -> None:
    shutil.copy(TESTS.parent / "pyproject.toml", tmp_path)
    for folder in (".venv-tests", ".venv-tests-3.13"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "x.py").write_text("import   os", encoding="utf-8")
    for words in (("check",), ("format", "--check")):
        line = [sys.executable, "-m", "ruff", *words, "--no-cache", "."]
        done = subprocess.run(line, cwd=tmp_path, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout
        (tmp_path / "x.py").write_text("import   os", encoding="utf-8")
        assert subprocess.run(line, cwd=tmp_path, capture_output=True, check=False).returncode == 1
        (tmp_path / "x.py").unlink()
