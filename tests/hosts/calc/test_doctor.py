"""What the doctor says of a LibreOffice, from folders laid out as its installers do."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenheft.hosts.calc import doctor, office
from evenheft.hosts.calc.office import Office, OfficeError, find


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """A folder that has LibreOffice's programs by name, and its version."""
    for name in ("soffice", "unopkg"):
        (tmp_path / f"program/{name}").parent.mkdir(exist_ok=True)
        (tmp_path / f"program/{name}").touch()
    tell_version(tmp_path / "program", "25.2")
    return tmp_path / "program"


def tell_version(folder: Path, version: str) -> None:
    (folder / "bootstraprc").write_text(f"[Bootstrap]\nProductKey=LibreOffice {version}\n")


def test_none_on_the_machine_is_a_note(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(office, "_folders", lambda: iter(()))
    (only,) = doctor.findings()
    assert only.level == "note"
    assert "install LibreOffice 25.2 or newer" in only.todo
    with pytest.raises(OfficeError, match="no LibreOffice found"):
        find()


def test_the_newest_of_several_is_used(
    monkeypatch: pytest.MonkeyPatch, program: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    newer = tmp_path_factory.mktemp("newer")
    for name in ("soffice", "unopkg"):
        (newer / name).touch()
    tell_version(newer, "26.2")
    monkeypatch.setattr(office, "_folders", lambda: iter((program, newer, Path("/nowhere"), program)))
    assert [found.version for found in office.find_all()] == ["26.2", "25.2"]
    assert find().program == newer


@pytest.mark.parametrize("named", ["", "program"])
def test_a_named_folder_may_be_the_one_above(program: Path, named: str) -> None:
    assert find(program.parent / named).program == program


@pytest.mark.parametrize(("version", "ods"), [("7.3", False), ("7.4", True), ("24.8", True)])
def test_too_old_and_nothing_else_is_told(program: Path, version: str, ods: bool) -> None:
    tell_version(program, version)
    (only,) = doctor.look_at(find(program))
    assert only.level == "wrong"
    assert f"LibreOffice {version} is too old" in only.what
    assert str(program) in only.what
    assert "LibreOffice 25.2 or newer, from www.libreoffice.org/download" in only.todo
    assert ("for .ods files alone 7.4 or newer will do" in only.todo) == ods
    assert ("#NAME?" in only.what) == ods


def test_one_whose_version_is_not_told_is_taken_for_old(program: Path) -> None:
    (program / "bootstraprc").unlink()
    assert not find(program).recent_enough


def test_one_without_python_is_told_what_to_install(program: Path) -> None:
    *_, last = doctor.look_at(find(program))
    assert last.level == "wrong"
    assert "python3-uno" in last.todo


def test_an_old_python_is_told(program: Path) -> None:
    (program / "pythonloader.py").touch()
    python = program / "python"
    python.write_text("#!/bin/sh\necho Python 3.8.20\n")
    python.chmod(0o755)
    found = [
        finding for finding in doctor.look_at(Office(program, "25.2", program / "profile")) if "3.8" in finding.what
    ]
    assert [finding.level for finding in found] == ["wrong"]
