"""`evenheft excel` as a person types it."""

from __future__ import annotations

import io
import sys
import zipfile
from pathlib import Path

import pytest
import xlsxwriter
from click.testing import CliRunner, Result

from evenheft.cli import main
from evenheft.hosts.excel import INSTALL_AGAIN
from evenheft.hosts.excel.building.project import WORKBOOK_SHELL
from packages import with_parts
from windows_machine import machine_in


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["excel", *map(str, arguments)])


@pytest.fixture
def workbook(tmp_path: Path) -> Path:
    path = tmp_path / "my sheet.xlsx"
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Bench").write_formula("A1", "=HEFT_POINTS(431,75.3)")
    return path


def test_build_makes_the_add_in_and_the_order_workbook(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "folder"
    result = run("build", "--to", folder)
    assert result.exit_code == 0, result.output
    names = ["evenheft.xlam", "evenheft-order.xlsm", "evenheft-order.xltm"]
    assert result.stdout.splitlines() == [str(folder / name) for name in names]
    assert sorted(path.name for path in folder.iterdir()) == sorted(names)
    assert all(zipfile.is_zipfile(path) for path in folder.iterdir())


@pytest.mark.parametrize("command", [["build"], ["embed", "order.xlsx"], ["install"], ["remove"]])
def test_a_package_that_is_gone_is_told_in_a_line(command: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "xlwings", None)  # by which Python itself knows a module that is not to be found
    done = run(*command)
    assert done.exit_code == 2
    assert done.output == f"! this Python lacks xlwings: {INSTALL_AGAIN}\n"


def test_build_never_writes_over_a_file(tmp_path: Path) -> None:
    (tmp_path / "evenheft-order.xlsm").write_bytes(b"somebody's order")
    result = run("build", "--to", tmp_path)
    assert result.exit_code == 2
    assert result.stderr.startswith("! evenheft-order.xlsm exists already")
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"somebody's order"]


def test_embed_writes_a_copy_beside_the_workbook(workbook: Path) -> None:
    before = workbook.read_bytes()
    result = run("embed", workbook)
    assert (result.exit_code, result.stdout.strip()) == (0, str(workbook.with_suffix(".xlsm")))
    assert workbook.read_bytes() == before
    again = run("embed", workbook.with_suffix(".xlsm"))
    assert again.stdout.strip() == str(workbook.with_name("my sheet-2.xlsm"))
    assert workbook.with_name("my sheet-2.xlsm").read_bytes() == workbook.with_suffix(".xlsm").read_bytes()


@pytest.mark.parametrize(
    ("content", "line"),
    [
        (b"not a workbook", "mine.xlsx "),
        (WORKBOOK_SHELL.read_bytes(), "mine.xlsx has macros of its own: use it with the add-in instead"),
    ],
)
def test_embed_refuses_in_a_line_that_names_the_file(content: bytes, line: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_bytes(content)
    result = run("embed", path)
    assert result.exit_code == 2
    assert result.stderr.startswith(f"! {line}")
    assert len(result.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == [path]


def test_embed_refuses_a_kind_of_file_that_carries_no_functions(workbook: Path) -> None:
    result = run("embed", workbook, "--to", workbook.with_name("new.xlsx"))
    assert result.exit_code == 2
    assert result.stderr.startswith("! new.xlsx must end in .xlsm")


def test_embed_refuses_a_file_that_is_not_there(tmp_path: Path) -> None:
    result = run("embed", tmp_path / "none.xlsx")
    assert result.exit_code == 2
    assert result.stderr.startswith("! none.xlsx")


def test_relink_copies_a_workbook_that_points_elsewhere(workbook: Path) -> None:
    link = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
        'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLinkPath" '
        'Target="file:///C:\\Users\\Pat\\evenheft.xlam" TargetMode="External"/></Relationships>'
    )
    part = "xl/externalLinks/_rels/externalLink1.xml.rels"
    workbook.write_bytes(with_parts(workbook.read_bytes(), {part: link.encode()}))
    result = run("relink", workbook)
    assert result.exit_code == 0, result.output
    assert result.stdout == (
        "my sheet.xlsx pointed at C:\\Users\\Pat\\evenheft.xlam; my sheet-relinked.xlsx points at the add-in of this "
        "machine\n"
    )
    with zipfile.ZipFile(io.BytesIO(workbook.with_name("my sheet-relinked.xlsx").read_bytes())) as package:
        assert b'Target="evenheft.xlam"' in package.read(part)


def test_relink_leaves_other_workbooks_alone(workbook: Path) -> None:
    result = run("relink", workbook)
    assert (result.exit_code, len(list(workbook.parent.iterdir()))) == (0, 1)
    assert "nothing to do" in result.stdout


@pytest.mark.parametrize("command", ["install", "remove"])
def test_on_another_system_it_says_what_is_possible_there(command: str) -> None:
    result = run(command)
    assert result.exit_code == 2
    assert result.stderr.startswith("! Excel runs Evenheft's formulas on Windows only. Here evenheft excel build makes")


def test_install_and_remove_tell_what_they_did(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    machine = machine_in(tmp_path)
    monkeypatch.setattr("evenheft.hosts.excel.windows.machine.this_machine", lambda: machine)
    installed = run("install")
    assert installed.exit_code == 0, installed.output
    assert installed.stdout.splitlines()[0].startswith("put the add-in, version")
    assert installed.stdout.splitlines()[-1] == "start Excel and type =HEFT_VERSION() into a cell"
    removed = run("remove")
    assert removed.exit_code == 0
    assert removed.stdout.startswith(f"took {machine.add_in} away")
