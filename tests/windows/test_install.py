"""Installing, doctor, and the files that the commands make, on Windows."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from evenheft import __version__
from evenheft.formulas import REGISTRY
from evenheft.hosts.excel.building.configuration import read_settings
from evenheft.hosts.excel.building.links import START_FOLDER_LINK
from linked_books import PATH_LINK, linked, links_of
from olevba_reading import macros_in
from windows_user import User


def test_a_double_click_installs(installed: tuple[User, str]) -> None:
    user, said = installed
    assert f"put the add-in, version {__version__}, into {user.add_in.parent}" in said
    assert f"named {user.python} as the Python that answers" in said
    assert "WRONG" not in said
    assert "Can't recognize" not in said, "a part of a path taken for a command"
    assert said.strip().endswith("type =HEFT_VERSION() into a cell.")
    assert user.add_in.is_file()
    assert read_settings(user.add_in.read_bytes())["Interpreter_Win"] == r"%USERPROFILE%\evenheft\Scripts\python.exe"


def test_doctor_finds_nothing_wrong(installed: tuple[User, str]) -> None:
    user, _ = installed
    done = user.evenheft("doctor")
    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert any("ok" in line and "xlwings" in line and "with its library" in line for line in lines)
    assert any("ok" in line and "the add-in, version" in line for line in lines)
    assert not any("WRONG" in line for line in lines)


def test_build_makes_every_file(installed: tuple[User, str], tmp_path: Path) -> None:
    user, _ = installed
    done = user.evenheft("excel", "build", "--to", tmp_path / "für den Kunden")
    assert done.returncode == 0, done.stderr
    made = {path.name: path for path in (tmp_path / "für den Kunden").iterdir()}
    assert set(made) == {"evenheft.xlam", "evenheft-order.xlsm", "evenheft-order.xltm"}
    for path in made.values():
        source = macros_in(path.read_bytes(), path.name)["evenheft_udfs"]
        assert all(f"Public Function {name}(" in source for name in REGISTRY)


def test_embed_and_relink(installed: tuple[User, str], tmp_path: Path) -> None:
    user, _ = installed
    book = openpyxl.Workbook()
    book.active["A1"] = "=HEFT_POINTS(431,75.3)"
    book.save(tmp_path / "Schläger.xlsx")
    done = user.evenheft("excel", "embed", "Schläger.xlsx", folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "evenheft_udfs" in macros_in((tmp_path / "Schläger.xlsm").read_bytes())
    done = user.evenheft("excel", "relink", "Schläger.xlsx", folder=tmp_path)
    assert (done.returncode, done.stdout) == (
        0,
        "Schläger.xlsx points at no add-in of another machine: nothing to do\n",
    )


def test_a_workbook_of_another_machine_finds_this_ones_add_in(installed: tuple[User, str], tmp_path: Path) -> None:
    user, _ = installed
    theirs = "C:\\Users\\Pat\\evenheft.xlam"
    (tmp_path / "von Müller.xlsx").write_bytes(linked((PATH_LINK, f"file:///{theirs}")))
    done = user.evenheft("excel", "relink", "von Müller.xlsx", folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert theirs in done.stdout
    made = tmp_path / "von Müller-relinked.xlsx"
    assert links_of(made.read_bytes()) == [(START_FOLDER_LINK, "evenheft.xlam")]


@pytest.mark.parametrize("command", ["install", "remove"])
def test_an_add_in_that_excel_holds_open_is_left_alone(command: str, installed: tuple[User, str]) -> None:
    user, _ = installed
    before = user.add_in.read_bytes()
    with user.add_in.open("rb"):
        done = user.evenheft("excel", command)
    assert done.returncode == 2
    assert "is in use or may not be written: close every Excel window and run this again" in done.stderr
    assert user.add_in.read_bytes() == before
    assert list(user.add_in.parent.iterdir()) == [user.add_in], "Excel opens whatever lies in its start folder"


def test_without_a_python_it_says_what_to_do(user: User, tmp_path: Path) -> None:
    """No Python by name, nor where its installer puts it."""
    done = user.double_click("install.cmd", USERPROFILE=str(tmp_path))
    assert done.returncode == 1
    assert done.stdout.startswith("! No Python 3.11 or newer is found. Install it from python.org")


@pytest.mark.parametrize("theirs", ["pyproject.toml", "Scripts/report.bas", "Lib/notes.txt"])
def test_a_folder_of_the_users_own_is_left_alone(theirs: str, user: User, tmp_path: Path) -> None:
    """Such as Evenheft itself, unpacked where its environment goes."""
    kept = tmp_path / "evenheft" / theirs
    kept.parent.mkdir(parents=True)
    kept.write_text("mine")
    done = user.double_click("install.cmd", USERPROFILE=str(tmp_path))
    assert done.returncode == 1
    assert done.stdout.startswith(f'! "{tmp_path}\\evenheft" is a folder of your own')
    assert kept.read_text() == "mine"
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == [kept.name]


def test_updating_before_installing_says_what_to_do(user: User, tmp_path: Path) -> None:
    done = user.double_click("update.cmd", USERPROFILE=str(tmp_path))
    assert (done.returncode, done.stdout) == (
        1,
        "! Evenheft is not installed here yet: double-click install.cmd instead.\n",
    )
