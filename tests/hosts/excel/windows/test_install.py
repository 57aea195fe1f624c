"""The installer's Windows steps, run against a temporary folder tree: real files, no Excel and no registry."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest
import xlwings

from evenheft import __version__
from evenheft.hosts.excel.building.book import build_add_in
from evenheft.hosts.excel.building.configuration import read_settings
from evenheft.hosts.excel.windows.install import (
    InstallError,
    install,
    marked_as_foreign,
    other_add_ins,
    put_in_place,
    read_setting,
    remove,
    take_off_mark,
)
from evenheft.hosts.excel.windows.machine import Machine


def mark(path: Path) -> Path:
    """The mark of the web; a file of that very name where the disk has no second streams."""
    stream = Path(f"{path}:Zone.Identifier")
    stream.write_bytes(b"[ZoneTransfer]\r\nZoneId=3\r\n")
    return stream


def tree(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


def test_installing_puts_the_add_in_into_the_start_folder_and_names_the_python(machine: Machine) -> None:
    done = install(machine)
    assert machine.add_in == machine.app_data / "Microsoft" / "Excel" / "XLSTART" / "evenheft.xlam"
    assert machine.add_in.read_bytes() == build_add_in(r"%USERPROFILE%\heft\Scripts\python.exe")
    assert read_setting(machine) == r"%USERPROFILE%\heft\Scripts\python.exe"
    assert done == [
        f"put the add-in, version {__version__}, into {machine.start_folder}: Excel opens it at each start",
        f"named {machine.interpreter} as the Python that answers, in the add-in and in {machine.settings_file}",
    ]


def test_the_start_folder_holds_nothing_but_the_add_in(machine: Machine) -> None:
    """Excel opens whatever lies there."""
    install(machine)
    install(machine)
    assert tree(machine.start_folder) == {"evenheft.xlam"}


def test_the_settings_are_read_by_xlwings_vba_as_they_are_written(machine: Machine) -> None:
    """VBA's Input # takes quoted texts with a comma between, in the machine's code page, on lines that end in CR LF."""
    install(machine)
    assert machine.settings_file.read_bytes() == (b'"INTERPRETER_WIN","%USERPROFILE%\\heft\\Scripts\\python.exe"\r\n')


def test_a_python_outside_of_the_users_folder_is_named_in_full(machine: Machine, tmp_path: Path) -> None:
    python = tmp_path / "Python311" / "python.exe"
    python.parent.mkdir()
    python.write_bytes(b"MZ")
    (python.parent / f"xlwings64-{xlwings.__version__}.dll").write_bytes(b"MZ")
    moved = dataclasses.replace(machine, interpreter=python)
    install(moved)
    assert read_setting(moved) == str(python)


def test_installing_again_tells_what_was_replaced(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patched:
        patched.setattr("evenheft.hosts.excel.building.configuration.__version__", "0.0.9")
        install(machine)
    done = install(machine)
    assert done[0] == f"replaced the add-in in {machine.start_folder}: version 0.0.9 by {__version__}"
    assert read_settings(machine.add_in.read_bytes())["Evenheft version"] == __version__


def test_a_moved_python_is_put_right_by_installing_again(machine: Machine) -> None:
    install(machine)
    python = machine.profile / "new" / "python.exe"
    python.parent.mkdir()
    python.write_bytes(b"MZ")
    (python.parent / f"xlwings64-{xlwings.__version__}.dll").write_bytes(b"MZ")
    moved = dataclasses.replace(machine, interpreter=python)
    install(moved)
    named = read_settings(machine.add_in.read_bytes())["Interpreter_Win"]
    assert named == read_setting(moved) == r"%USERPROFILE%\new\python.exe", "the same words, so that one Python answers"


def test_other_settings_of_the_user_stay(machine: Machine) -> None:
    machine.settings_file.parent.mkdir()
    machine.settings_file.write_bytes(b'"SHOW CONSOLE","True"\r\n"Interpreter_Win","C:\\old.exe"\r\n')
    install(machine)
    assert machine.settings_file.read_bytes().splitlines()[0] == b'"SHOW CONSOLE","True"'
    assert read_setting(machine) == r"%USERPROFILE%\heft\Scripts\python.exe"
    remove(machine)
    assert machine.settings_file.read_bytes() == b'"SHOW CONSOLE","True"\r\n'


def test_the_mark_of_the_web_is_taken_off_and_told(machine: Machine) -> None:
    machine.start_folder.mkdir(parents=True)
    machine.add_in.write_bytes(build_add_in())
    stream = mark(machine.add_in)
    assert marked_as_foreign(machine.add_in)
    assert "took off the mark by which Windows blocks files from the internet" in install(machine)
    assert not stream.exists()
    assert not marked_as_foreign(machine.add_in)
    assert not take_off_mark(machine.add_in)


def test_removing_leaves_nothing_of_ours(machine: Machine, tmp_path: Path) -> None:
    before = tree(tmp_path)
    install(machine)
    assert tree(tmp_path) > before
    done = remove(machine)
    assert tree(tmp_path) == before
    assert not machine.settings_file.parent.exists()
    assert done == [f"took {machine.add_in} away", f"took the Python's name out of {machine.settings_file}"]
    assert remove(machine) == ["there was nothing to take away"]


# --- two versions of the add-in


def second_add_in(machine: Machine, name: str = "evenheft.xlam") -> Path:
    path = machine.app_data / "Microsoft" / "AddIns" / name
    path.parent.mkdir(parents=True)
    path.write_bytes(build_add_in())
    return path


def test_a_second_add_in_is_told_in_a_line(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patched:
        patched.setattr("evenheft.hosts.excel.building.configuration.__version__", "0.0.9")
        path = second_add_in(machine)
    line = f"! another Evenheft add-in, version 0.0.9, is at {path}: delete it, two answer for each other"
    assert install(machine)[-1] == line
    assert remove(machine)[-1] == line
    assert path.is_file()


def test_a_renamed_copy_in_the_start_folder_is_found(machine: Machine) -> None:
    install(machine)
    copy = machine.start_folder / "Evenheft (1).xlam"
    copy.write_bytes(b"damaged")
    assert other_add_ins(machine) == [
        f"another Evenheft add-in, version unknown, is at {copy}: delete it, two answer for each other"
    ]


# --- what stands in the way


def refusal(machine: Machine) -> str:
    with pytest.raises(InstallError) as raised:
        install(machine)
    assert not machine.add_in.exists()
    assert not machine.settings_file.exists()
    return str(raised.value)


def test_the_stores_python_is_refused(machine: Machine, tmp_path: Path) -> None:
    python = tmp_path / "WindowsApps" / "PythonSoftwareFoundation.Python.3.11_qbz5n2kfra8p0" / "python.exe"
    line = refusal(dataclasses.replace(machine, interpreter=python))
    assert line == (
        f"{python} is the Microsoft Store's Python, which Excel cannot start: install Python from python.org, "
        "then Evenheft with it"
    )


def test_a_path_beyond_the_code_page_is_refused(machine: Machine, tmp_path: Path) -> None:
    line = refusal(dataclasses.replace(machine, interpreter=tmp_path / "Ελένη" / "python.exe"))
    assert "has letters in its path that Excel's macros cannot name" in line


def test_a_missing_library_is_refused(machine: Machine) -> None:
    next(machine.interpreter.parent.parent.glob("*.dll")).unlink()
    line = refusal(machine)
    assert line == (
        f"xlwings64-{xlwings.__version__}.dll is not beside {machine.interpreter}: run python -m pip install "
        f"--force-reinstall xlwings=={xlwings.__version__}"
    )


def test_an_add_in_that_excel_holds_is_told(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows refuses to replace or delete an open file; that refusal is made here, as no Windows is."""
    install(machine)
    before = machine.add_in.read_bytes()

    def held(self: Path, *_: object, **__: object) -> Path:
        raise PermissionError(13, "Access is denied", str(self))

    monkeypatch.setattr(Path, "replace", held)
    with pytest.raises(InstallError, match="close every Excel window and run this again"):
        install(machine)
    monkeypatch.undo()
    monkeypatch.setattr(Path, "unlink", held)
    with pytest.raises(InstallError, match="close every Excel window and run this again"):
        remove(machine)
    assert machine.add_in.read_bytes() == before


def test_what_cannot_be_read_is_replaced_and_settings_that_are_held_are_told(
    machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    install(machine)

    def held(self: Path, *_: object, **__: object) -> bytes:
        raise PermissionError(13, "Access is denied", str(self))

    usual = Path.read_bytes
    with monkeypatch.context() as patched:
        patched.setattr(Path, "read_bytes", lambda path: held(path) if path == machine.add_in else usual(path))
        done = install(machine)
    assert done[0] == f"replaced the add-in in {machine.start_folder}: version unknown by {__version__}"
    machine.add_in.unlink()
    monkeypatch.setattr(Path, "unlink", held)
    with pytest.raises(InstallError, match=r"evenheft.conf is in use or may not be written"):
        remove(machine)


def test_nothing_half_written_is_left_behind(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tree(machine.profile)

    def full(*_: object) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(InstallError, match="cannot be written: No space left on device"):
        put_in_place(machine.add_in, b"content")
    assert tree(machine.profile) == before
