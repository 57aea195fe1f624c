"""The commands as a person runs them: whole processes' output, exit codes, and files left as they were."""

import json
import resource
import signal
import subprocess
import sys
import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from evenheft.cli import COMMANDS, main
from evenheft.ooxml.errors import Refused
from evenheft.order.demo import PLANTED
from evenheft.order.files import kept_only_with_files, write_all_new, write_new
from evenheft.order.layout import (
    BENCH,
    FIRST_ROW,
    LAST_ROW,
    ORDER,
    PARTS,
    TARGET,
)


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    assert run("demo", str(tmp_path)).exit_code == 0
    return tmp_path / "demo-order.xlsx"


def test_demo_writes_checks_and_says_what_to_open_next(tmp_path: Path) -> None:
    result = run("demo", str(tmp_path / "new folder"))
    assert result.exit_code == 0
    assert str(tmp_path / "new folder" / "demo-order.xlsx") in result.output
    assert "Next: open it in your spreadsheet" in result.output
    for club, flag in PLANTED.items():
        line = next(line for line in result.output.splitlines() if club in line)
        assert flag in line
    last = result.output.rstrip().splitlines()[-4:]
    assert last[0].startswith("3 of 9 judged clubs flagged.")
    assert [line.split(":")[0] for line in last[1:]] == list(PLANTED)


def test_demo_keeps_what_is_there(demo: Path) -> None:
    before = demo.read_bytes()
    result = run("demo", str(demo.parent))
    assert result.exit_code == 0
    assert "demo-order-2.xlsx" in result.output
    assert demo.read_bytes() == before


def test_check_ends_with_three_where_something_is_flagged_and_leaves_the_file(demo: Path) -> None:
    before = demo.read_bytes()
    result = run("check", str(demo))
    assert result.exit_code == 3
    assert "swingweight re-measure" in result.output
    assert demo.read_bytes() == before


def test_check_ends_with_zero_where_all_are_in(demo: Path) -> None:
    book = openpyxl.load_workbook(demo)
    for row in range(TARGET.first_row, TARGET.last_row + 1):
        book["Order"].cell(row, TARGET.at["swingweight_tolerance"]).value = 3
    book.save(demo)
    result = run("check", str(demo))
    assert result.exit_code == 0
    assert result.output.rstrip().endswith("All 9 judged clubs are in.")


def test_a_terminal_obeys_nothing_that_an_order_holds(demo: Path) -> None:
    book = openpyxl.load_workbook(demo)
    # As this file format writes a terminal's control character.
    book["Order"].cell(FIRST_ROW, ORDER.at["club"]).value = "Dri_x001B_[2Jver"
    book["Order"].cell(FIRST_ROW + 1, ORDER.at["group"]).value = "_x001B_[2J"
    book["Bench"].cell(FIRST_ROW + 2, BENCH.at["dry_mass"]).value = "4_x001B_[2J"
    book["Bench"].cell(FIRST_ROW + 3, BENCH.at["dry_mass"]).value = "! told _x001B_[2J"
    book.save(demo)
    said = run("check", str(demo)).output
    assert "Dri [2Jver" in said
    assert "! told [2J" in said
    assert "\x1b" not in said


def test_check_json_is_json_with_the_same_exit_code(demo: Path) -> None:
    result = run("check", "--json", str(demo))
    assert result.exit_code == 3
    assert {c["name"]: c["flags"] for c in json.loads(result.stdout)["clubs"] if c["flagged"]} == PLANTED


def test_new_writes_an_order_and_never_over_a_file(tmp_path: Path) -> None:
    path = tmp_path / "order.xlsx"
    assert run("new", str(path)).exit_code == 0
    before = path.read_bytes()
    again = run("new", str(path))
    assert again.exit_code == 2
    assert "is there already" in again.stderr
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["order.xlsx"]


def test_new_tells_which_endings_it_knows(tmp_path: Path) -> None:
    result = run("new", str(tmp_path / "order.xls"))
    assert result.exit_code == 2
    assert "must end in .xlsx, .xltx or .ods" in result.stderr
    assert not list(tmp_path.iterdir())


def broken_files(folder: Path, demo: Path) -> dict[str, Path]:
    """Files that are no order, each broken in its own way."""
    whole = demo.read_bytes()
    made = {
        "text": b"club,mass\n7-iron,433\n",
        "empty": b"",
        "truncated": whole[: len(whole) // 2],
        "old binary": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600,
    }
    paths = {}
    for name, content in made.items():
        paths[name] = folder / f"{name}.xlsx"
        paths[name].write_bytes(content)
    paths["missing"] = folder / "nowhere.xlsx"
    paths["folder"] = folder
    paths["bomb"] = folder / "bomb.xlsx"
    with zipfile.ZipFile(demo) as old, zipfile.ZipFile(paths["bomb"], "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.namelist():
            new.writestr(entry, old.read(entry))
        new.writestr("xl/media/huge.bin", b"\0" * 50_000_000)
    paths["doctype"] = folder / "doctype.xlsx"
    with zipfile.ZipFile(demo) as old, zipfile.ZipFile(paths["doctype"], "w") as new:
        for entry in old.namelist():
            data = old.read(entry)
            if entry == "xl/workbook.xml":
                start = data.index(b"<workbook")
                data = data[:start] + b'<!DOCTYPE x [<!ENTITY a "b">]>' + data[start:]
            new.writestr(entry, data)
    return paths


@pytest.mark.parametrize("kind", ["text", "empty", "truncated", "old binary", "missing", "folder", "bomb", "doctype"])
def test_what_is_no_order_is_refused_in_one_line_and_left_as_it_was(tmp_path: Path, demo: Path, kind: str) -> None:
    path = broken_files(tmp_path, demo)[kind]
    before = path.read_bytes() if path.is_file() else None
    result = run("check", str(path))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.startswith("! ")
    assert len(result.stderr.splitlines()) == 1
    assert "Traceback" not in result.stderr
    assert (path.read_bytes() if path.is_file() else None) == before


def test_every_command_has_help_in_plain_words() -> None:
    overview = run("--help")
    assert overview.exit_code == 0
    for name in COMMANDS:
        assert name in overview.output
        done = run(name, "--help")
        assert done.exit_code == 0, done.output
        assert len(done.output.splitlines()) > 3


def test_version() -> None:
    result = run("--version")
    assert result.exit_code == 0
    assert result.output.startswith("evenheft 0.")


def test_exit_codes_are_told_line_by_line() -> None:
    for name in ("check", "receive", "adopt"):
        lines = [line.strip() for line in run(name, "--help").output.splitlines()]
        assert "\\b" not in lines
        assert sum(line.startswith(("Exit code 0:", "3:", "2:")) for line in lines) == 3


def test_check_tells_what_loose_parts_will_read_before_anything_is_measured(demo: Path) -> None:
    book = openpyxl.load_workbook(demo)
    for column in BENCH.columns:
        if column.role == "input":
            for row in range(FIRST_ROW, LAST_ROW + 1):
                book["Bench"].cell(row, BENCH.at[column.key]).value = None
    book["Parts"].cell(FIRST_ROW + 2, PARTS.at["shaft_balance"]).value = 20
    book.save(demo)
    before = demo.read_bytes()
    result = run("check", "--save", str(demo))
    assert result.exit_code == 2
    assert (
        "5-iron, not on the bench yet: its parts will read D2.4; a guess: dry-fit one of these first" in result.stdout
    )
    assert "6-iron, not on the bench yet: ! shaft balance must be from" in result.stdout
    assert "Nothing is judged yet." in result.stdout
    assert result.stderr.startswith("! demo-order.xlsx holds no club to judge yet, only loose parts")
    assert demo.read_bytes() == before


def test_check_tells_why_a_dry_fit_teaches_nothing(demo: Path) -> None:
    book = openpyxl.load_workbook(demo)
    book["Parts"].cell(FIRST_ROW + 1, PARTS.at["head_mass"]).value = 300
    book.save(demo)
    assert "5-iron, on Parts: ! mass must be that of the parts on the dry fit" in run("check", str(demo)).stdout


def test_a_demo_for_which_there_is_no_room_leaves_no_folder(tmp_path: Path) -> None:
    def little_room() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    done = subprocess.run(
        [sys.executable, "-B", "-m", "evenheft", "demo", str(tmp_path / "new" / "folder")],
        capture_output=True, text=True, check=False, preexec_fn=little_room,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.startswith("! the workbook cannot be put together: ")
    assert done.stderr.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_was_made_for_a_file_goes_with_it(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "folder"
    with pytest.raises(Refused), kept_only_with_files(folder):
        raise Refused("no room")
    assert list(tmp_path.iterdir()) == []
    with kept_only_with_files(folder):
        write_new(folder / "a.xlsx", b"whole")
    with pytest.raises(Refused, match="there already"), kept_only_with_files(folder):
        write_new(folder / "a.xlsx", b"another")
    assert (folder / "a.xlsx").read_bytes() == b"whole"


def test_of_several_new_files_all_are_written_or_none(tmp_path: Path) -> None:
    (tmp_path / "b.xlsx").write_bytes(b"there")
    with pytest.raises(Refused, match="there already"):
        write_all_new({tmp_path / "a.xlsx": b"new", tmp_path / "b.xlsx": b"new"})
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("b.xlsx", b"there")]


@pytest.mark.parametrize(("option", "where"), [("--plan", "plan_demo.write_plan_demo"), ("--year", "year.play")])
def test_a_demo_that_comes_to_nothing_leaves_no_folder(
    option: str, where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(place: Path, *_: object) -> None:
        (place / "order-1.xlsx").write_bytes(b"half")
        raise Refused("order-2.xlsx is not written: the disk is full")

    monkeypatch.setattr(f"evenheft.shop.{where}", half)
    done = CliRunner().invoke(main, ["demo", option, str(tmp_path / "new" / "demo")])
    assert (done.exit_code, done.stderr) == (2, "! order-2.xlsx is not written: the disk is full\n")
    assert list(tmp_path.iterdir()) == []
