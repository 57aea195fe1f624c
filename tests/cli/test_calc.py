"""The add-in installed and removed by the command, as an ordinary user does it, in a real LibreOffice."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

import evenheft
from calc_office import SYSTEM_PYTHON, Calc, ordinary_user
from evenheft import __version__
from evenheft.cli import main
from evenheft.hosts.calc import HOST, vendor
from evenheft.hosts.calc.doctor import look_at
from evenheft.hosts.calc.office import Office, OfficeError, find


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["calc", *words])


def test_build_writes_one_file(tmp_path: Path) -> None:
    result = run("build", str(tmp_path / "new"))
    assert result.exit_code == 0
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["evenheft.oxt"]
    assert str(tmp_path / "new" / "evenheft.oxt") in result.output
    with zipfile.ZipFile(tmp_path / "new" / "evenheft.oxt") as extension:
        assert extension.testzip() is None


def test_build_into_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    assert run("build", str(tmp_path / "file")).exit_code == 2
    assert (tmp_path / "file").read_text() == "mine"


@pytest.mark.parametrize("target", ["windows", "windows-2.7", "amiga-3.12", "windows-3.x", "3.12", "windows-"])
def test_a_target_that_is_none_is_refused(tmp_path: Path, target: str) -> None:
    result = run("build", str(tmp_path), "--vendor", target)
    assert result.exit_code == 2
    assert result.output.startswith(f"! {target} is no target: name a machine and the version")
    assert list(tmp_path.iterdir()) == []


def test_wheels_that_nobody_makes_are_refused_in_a_line(tmp_path: Path) -> None:
    result = run("build", str(tmp_path), "--vendor", "windows-3.3")
    assert result.exit_code == 2
    assert result.output.startswith("! the wheels cannot be had: ")
    assert result.output.count("\n") == 1


def test_wheels_travel_without_their_tests(tmp_path: Path) -> None:
    wheel = tmp_path / "numpy-1-cp312-cp312-win_amd64.whl"
    with zipfile.ZipFile(wheel, "w") as package:
        for name in ("numpy/__init__.py", "numpy/core/x.pyd", "numpy/tests/test_x.py", "numpy/core/tests/data/a.txt"):
            package.writestr(name, name)
    assert dict(vendor._files(wheel)) == {
        "pythonpath/numpy/__init__.py": b"numpy/__init__.py",
        "pythonpath/numpy/core/x.pyd": b"numpy/core/x.pyd",
    }


def test_no_libreoffice_there_is_refused(tmp_path: Path) -> None:
    for command in ("install", "remove"):
        result = run(command, "--office", str(tmp_path))
        assert result.exit_code == 2
        assert result.output == (
            f"! there is no LibreOffice in {tmp_path}: name the folder that holds soffice and unopkg\n"
        )


@pytest.mark.parametrize(
    ("version", "words", "line"),
    [
        (
            "7.3",
            (),
            "! LibreOffice 7.3 is too old for Evenheft's formulas: install LibreOffice 25.2 or newer, from ",
        ),
        ("7.3", ("--ods-only",), "! LibreOffice 7.3 is too old for Evenheft's formulas: install"),
        ("7.4", (), "! LibreOffice 7.4 is too old for .xlsx files, the order workbook too: it shows #NAME? in them: "),
        ("24.2", (), "! LibreOffice 24.2 is too old for .xlsx files"),
        ("24.2", ("--ods-only",), "! this LibreOffice cannot run add-ins written in Python: "),
        ("25.2", (), "! this LibreOffice cannot run add-ins written in Python: "),
    ],
)
def test_an_old_libreoffice_is_refused(tmp_path: Path, version: str, words: tuple[str, ...], line: str) -> None:
    suffix = ".com" if sys.platform == "win32" else ""
    for name in ("soffice", "unopkg"):
        (tmp_path / f"{name}{suffix}").touch()
    (tmp_path / "bootstraprc").write_text("[Bootstrap]\nProductKey=LibreOffice " + version + "\n")
    result = run("install", "--office", str(tmp_path), *words)
    assert result.exit_code == 2
    assert result.output.startswith(line)
    assert result.output.count("\n") == 1
    if "xlsx" in line:
        assert result.output.endswith("for .ods files alone 7.4 or newer will do: evenheft calc install --ods-only\n")


@pytest.fixture
def as_user(office_at_hand: None) -> Iterator[Path]:  # noqa: ARG001  without it there is nothing to run
    """A folder that an ordinary user can run the package from, with what the command needs, and a home in it."""
    # Not in pytest's own folders, which each run of it closes to all but the one who runs it.
    with tempfile.TemporaryDirectory(prefix="evenheft-", ignore_cleanup_errors=True) as name:
        yield furnished(Path(name))


def furnished(folder: Path) -> Path:
    folder.chmod(0o755)
    packages = folder / "packages"
    shutil.copytree(Path(evenheft.__file__).parent, packages / "evenheft")
    for name in ("click", "openpyxl", "et_xmlfile", "defusedxml"):
        found = find_spec(name)
        assert found is not None
        assert found.origin is not None
        shutil.copytree(Path(found.origin).parent, packages / name)
    (folder / "home").mkdir()
    return folder


def test_installed_proven_and_removed_by_an_ordinary_user(as_user: Path) -> None:
    def command(*words: str) -> subprocess.CompletedProcess[str]:
        line = [*ordinary_user(as_user / "home"), f"PYTHONPATH={as_user / 'packages'}", SYSTEM_PYTHON, "-m", "evenheft"]
        return subprocess.run([*line, *words], capture_output=True, text=True, cwd=as_user / "home", check=False)

    installed = command("calc", "install")
    assert installed.returncode == 0, installed.stdout + installed.stderr
    assert f"installed for you in LibreOffice {find().version} " in installed.stdout
    assert f"computed in Calc: ok, evenheft {__version__} on {HOST}" in installed.stdout
    again = command("calc", "install")
    assert again.returncode == 0, "an older or equal add-in is replaced"
    for_ods = command("calc", "install", "--ods-only")
    assert for_ods.returncode == 0, for_ods.stdout + for_ods.stderr
    assert f"computed in Calc: ok, evenheft {__version__} on {HOST}" in for_ods.stdout
    removed = command("calc", "remove")
    assert removed.returncode == 0, removed.stdout + removed.stderr
    assert "removed from LibreOffice" in removed.stdout
    nothing = command("calc", "remove")
    assert nothing.returncode == 2
    assert nothing.stderr.startswith("! the add-in is ")  # "for everybody", should this machine share one
    assert "installed" in nothing.stderr


def test_while_libreoffice_is_open_it_is_told_to_be_closed(calc: Calc) -> None:
    assert calc.office.looks_open
    with pytest.raises(OfficeError, match="LibreOffice is open: close all its windows and try again"):
        calc.office.installed_version()


def test_the_doctor_does_not_wait_for_an_open_libreoffice(calc: Calc) -> None:
    *_, last = look_at(calc.office)
    assert last.level == "note"
    assert last.what.startswith("LibreOffice is open")
    assert "close all its windows" in last.todo


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ("ERROR: Cannot run unopkg as root without --shared or --bundled option.", "add --shared to install for"),
        ("ERROR: cannot open /srv/root/evenheft.oxt", "unopkg refused: ERROR: cannot open /srv/root/evenheft.oxt"),
    ],
)
def test_the_administrator_is_not_seen_in_a_folders_name(tmp_path: Path, said: str, message: str) -> None:
    program = tmp_path / "unopkg"
    program.write_text(f"#!/bin/sh\necho '{said}'\nexit 1\n")
    program.chmod(0o755)
    with pytest.raises(OfficeError, match=message):
        Office(tmp_path, "25.2", tmp_path / "profile").install(Path("/srv/root/evenheft.oxt"))


def test_a_program_that_is_only_a_name_is_told(tmp_path: Path) -> None:
    office = Office(tmp_path, "25.2", tmp_path / "profile")
    assert not office.looks_open
    with pytest.raises(OfficeError, match="unopkg cannot be started"):
        office.install(tmp_path / "evenheft.oxt")
