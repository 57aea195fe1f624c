"""What the doctor says of a LibreOffice, from folders laid out as its installers do."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from evenheft import __version__
from evenheft.hosts.calc import EXTENSION, doctor, office
from evenheft.hosts.calc.office import Office, OfficeError, find

needs_shell = pytest.mark.skipif(sys.platform == "win32", reason="LibreOffice's programs are stood for by scripts")


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
    assert "LibreOffice 25.2 or newer, " in only.todo
    assert "from www.libreoffice.org/download" in only.todo
    assert ("for .ods files alone 7.4 or newer will do" in only.todo) == ods
    assert ("#NAME?" in only.what) == ods


def test_one_whose_version_is_not_told_is_taken_for_old(program: Path) -> None:
    (program / "bootstraprc").unlink()
    (only,) = doctor.look_at(find(program))
    assert (only.level, only.what) == ("wrong", f"this LibreOffice does not tell its version ({program})")


def test_one_without_python_is_told_what_to_install(program: Path) -> None:
    *_, last = doctor.look_at(find(program))
    assert last.level == "wrong"
    assert "python3-uno" in last.todo


def served(folder: Path, version: str, *, add_in: str = "", answers: str = "") -> Office:
    """A LibreOffice that runs Python, lists an add-in of version `add_in`, and computes `answers`."""
    folder.mkdir(exist_ok=True)
    tell_version(folder, version)
    (folder / "pythonloader.py").touch()
    listed = f"Identifier: {EXTENSION}\\n  Version: {add_in}\\n" if add_in else "no such extension\\n"
    converts = (
        f"""for asked; do :; done; echo "$asked" > "{folder}/asked"; printf '{answers}' > "${{asked%.*}}.csv" """
        if answers else "exit 1"
    )  # fmt: skip
    for name, script in (("unopkg", f"printf '{listed}'"), ("soffice", converts), ("python", "echo Python 3.12.3")):
        (folder / name).write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        (folder / name).chmod(0o755)
    return Office(folder, version, folder / "profile")


PROVEN = f'"ok, evenheft {__version__}"\\n17200\\n'


@pytest.mark.parametrize("version", ["7.4", "24.2", "25.1"])
@needs_shell
def test_an_older_one_with_the_add_in_for_ods_is_looked_at_with_ods(tmp_path: Path, version: str) -> None:
    older, *rest = doctor.look_at(served(tmp_path, version, add_in=__version__, answers=PROVEN))
    assert older.level == "note"
    assert f"LibreOffice {version} is too old for .xlsx files" in older.what
    assert "keep to .ods files" in older.todo
    assert [finding.level for finding in rest] == ["ok", "ok", "ok"]
    assert rest[-1].what == f"computed in Calc, from an .ods file: ok, evenheft {__version__}"
    assert (tmp_path / "asked").read_text().strip().endswith(".fods")


@needs_shell
def test_a_recent_one_is_looked_at_with_xlsx(tmp_path: Path) -> None:
    *_, last = doctor.look_at(served(tmp_path, "25.2", add_in=__version__, answers=PROVEN))
    assert last.what == f"computed in Calc: ok, evenheft {__version__}"
    assert (tmp_path / "asked").read_text().strip().endswith(".xlsx")


@needs_shell
def test_in_an_older_one_another_version_is_replaced_for_ods(tmp_path: Path) -> None:
    *_, last = doctor.look_at(served(tmp_path, "24.2", add_in="0.0.1", answers=PROVEN))
    assert last.level == "wrong"
    assert last.todo == "run: evenheft calc install --ods-only"


@needs_shell
def test_in_an_older_one_that_does_not_compute_it_is_told(tmp_path: Path) -> None:
    *_, last = doctor.look_at(served(tmp_path, "24.2", add_in=__version__))
    assert last.level == "wrong"
    assert last.todo == "close LibreOffice, then run: evenheft calc install --ods-only"


@needs_shell
def test_an_older_one_without_the_add_in_is_wrong(tmp_path: Path) -> None:
    (only,) = doctor.look_at(served(tmp_path, "24.2"))
    assert only.level == "wrong"


@needs_shell
def test_an_older_one_that_is_open_is_not_asked(tmp_path: Path) -> None:
    open_one = served(tmp_path, "24.2")
    (tmp_path / "profile").mkdir()
    (tmp_path / "profile/.lock").touch()
    older, _, last = doctor.look_at(open_one)
    assert (older.level, last.level) == ("note", "note")
    assert last.what.startswith("LibreOffice is open")


@needs_shell
def test_an_older_one_beside_a_recent_one_is_a_note(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    recent, old = served(tmp_path / "recent", "25.8"), served(tmp_path / "old", "24.2")
    monkeypatch.setattr(doctor, "find_all", lambda: [recent, old])
    *_, last = doctor.findings()
    assert (last.level, last.todo) == ("note", f"open workbooks with LibreOffice 25.8 in {recent.program}")
    monkeypatch.setattr(doctor, "find_all", lambda: [old, served(tmp_path / "older", "7.4")])
    assert [finding.level for finding in doctor.findings()] == ["wrong", "wrong"]


def test_an_old_python_is_told(program: Path) -> None:
    (program / "pythonloader.py").touch()
    python = program / "python"
    python.write_text("#!/bin/sh\necho Python 3.8.20\n")
    python.chmod(0o755)
    found = [
        finding for finding in doctor.look_at(Office(program, "25.2", program / "profile")) if "3.8" in finding.what
    ]
    assert [finding.level for finding in found] == ["wrong"]
