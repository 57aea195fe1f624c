"""What commands print: nothing that a terminal would obey, in any character set, and files before words."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from evenheft.cli import main
from evenheft.ooxml.text import LONGEST_LINE
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes

CONTROL = "\x9b2J\u202e\x1b]0;x\x07"


def run(*words: str, cwd: Path, to: str = os.devnull, **environment: str) -> subprocess.CompletedProcess[bytes]:
    with Path(to).open("wb") as target:
        return subprocess.run(
            [sys.executable, "-m", "evenheft", *words], cwd=cwd, stdout=target, stderr=subprocess.PIPE,
            env={**os.environ, **environment}, check=False,
        )  # fmt: skip


def printable(text: str) -> bool:
    return all(c.isprintable() or c == "\n" for c in text)


@pytest.mark.parametrize(
    "words",
    [
        ("check", f"none{CONTROL}.xlsx"),
        ("eval", f'=HEFT_CONVERT(1,"x{CONTROL}","g")'),
        ("eval", f"=HEFT_NONE{CONTROL}(1)"),
        ("adopt", f"none{CONTROL}.xlsx", "--target", CONTROL),
        ("doctor", f"none{CONTROL}.xlsx"),
    ],
)
def test_no_text_reaches_the_terminal_as_a_command(words: tuple[str, ...]) -> None:
    result = CliRunner().invoke(main, list(words))
    assert result.exit_code == 2
    assert printable(result.output), ascii(result.output)


def test_an_error_code_of_a_stranger_s_order_is_shown_without_its_commands(tmp_path: Path) -> None:
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    book = openpyxl.load_workbook(path)
    book["Order"]["B8"] = "driver\x9b2J\u202e"
    book.save(path)
    result = CliRunner().invoke(main, ["check", str(path)])
    assert printable(result.output), ascii(result.output)


def test_a_message_is_one_line_whatever_is_wrong_with_however_many_arguments() -> None:
    bad = ",".join(['"far far away and further still, so that the message grows"'] * 14)
    result = CliRunner().invoke(main, ["eval", f"=HEFT_WHAT_IF({bad})"])
    line = result.stderr.rstrip("\n")
    assert line.startswith("! ") and "\n" not in line
    assert len(line) <= 255


def test_a_formula_of_any_length_is_not_echoed() -> None:
    result = CliRunner().invoke(main, ["eval", "=" + "a" * 120_000])
    assert result.stderr == "! a formula holds at most 8192 characters, got 120001\n"


@pytest.mark.parametrize("formula", ["=1E400", "=1E308*10", "=-1E400"])
def test_a_number_that_no_cell_holds_is_told(formula: str) -> None:
    result = CliRunner().invoke(main, ["eval", formula])
    assert result.exit_code == 2
    assert result.stderr.startswith("! ") and "Traceback" not in result.output


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
@pytest.mark.parametrize("more", [(), ("--json",)])
def test_any_club_s_name_is_printed_in_any_character_set(encoding: str, more: tuple[str, ...], tmp_path: Path) -> None:
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    book = openpyxl.load_workbook(path)
    book["Order"]["B8"] = "7番アイアン Łódź"
    book.save(path)
    done = run("check", path.name, *more, cwd=tmp_path, PYTHONIOENCODING=encoding)
    assert done.returncode == 3, done.stderr
    assert b"Traceback" not in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_a_full_output_is_told_in_a_line(tmp_path: Path) -> None:
    (tmp_path / "order.xlsx").write_bytes(save_bytes(build_demo()))
    for words in (("check", "order.xlsx"), ("eval", "=HEFT_POINTS(431,75.3)"), ("check", "order.xlsx", "--json")):
        done = run(*words, cwd=tmp_path, to="/dev/full")
        assert done.returncode == 2, words
        assert done.stderr.startswith(b"! ") and done.stderr.count(b"\n") == 1, done.stderr


@pytest.mark.parametrize("value", ["nan", "inf", "-inf"])
def test_a_tolerance_that_is_no_number_is_refused(value: str, tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["adopt", str(tmp_path / "x.xlsx"), f"--tolerance={value}"])
    assert result.exit_code == 2
    assert f"must be a number, got {value}" in result.output


@pytest.mark.parametrize(
    "error",
    [MemoryError(), ImportError("engine.so: failed to map segment from shared object")],
    ids=["all", "an engine"],
)
def test_too_little_memory_is_told_in_a_line(error: BaseException, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_room(_: str) -> None:
        raise error

    monkeypatch.setattr("evenheft.hosts.embedded.evaluate", no_room)
    done = CliRunner().invoke(main, ["eval", "=1"])
    assert (done.exit_code, done.stderr) == (2, "! this needs more memory than the machine has free\n")


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        (("new", "/".join(["folder" * 30] * 16) + "/order.xlsx"), "cannot be written: there is no folder"),
        (("check", "order" * 700 + ".xlsx"), "cannot be read: file name too long"),
    ],
)
def test_a_long_path_leaves_room_for_what_is_wrong(words: tuple[str, ...], reason: str) -> None:
    ran = CliRunner().invoke(main, list(words))
    line = ran.stderr.removesuffix("\n")
    assert line.startswith("! order") and reason in line
    assert line.isprintable() and len(line) <= LONGEST_LINE


def shell(line: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    command = f'"{sys.executable}" -m evenheft'
    return subprocess.run(["sh", "-c", line.replace("evenheft", command, 1)], cwd=cwd, capture_output=True, text=True,
                          check=False)  # fmt: skip


@pytest.mark.skipif(os.name == "nt", reason="a shell of Windows closes no stream")
@pytest.mark.parametrize(
    ("line", "code", "out"),
    [
        ("evenheft eval '=1+1' >&-", 0, ""),
        ("evenheft eval '=1+1' 2>&-", 0, "2\n"),
        ("evenheft eval '=1+1' <&-", 0, "2\n"),
        ("evenheft check none.xlsx 2>&-", 2, ""),
        ("evenheft new order.xlsx >&- 2>&-", 0, ""),
        ("evenheft new order.xlsx >&- 2>&- <&-", 0, ""),
    ],
)
def test_a_closed_stream_stops_nothing(line: str, code: int, out: str, tmp_path: Path) -> None:
    done = shell(line, tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (code, out, "")
    assert ("new" in line) == (tmp_path / "order.xlsx").exists()
    if "new" in line:
        assert (tmp_path / "order.xlsx").read_bytes()[:2] == b"PK"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("words", ["--help", "--version", "check --help", "eval '=1+1'"])
def test_help_that_cannot_be_printed_is_told_in_a_line(words: str, tmp_path: Path) -> None:
    done = shell(f"evenheft {words} >/dev/full", tmp_path)
    line = "! what was to be printed could not be written: no space left on device\n"
    assert (done.returncode, done.stderr) == (2, line)


@pytest.mark.parametrize("words", [("new", "--like", "9" * 400, "new.xlsx"), ("shop", "forget", "9" * 400, "--show")])
def test_a_name_that_no_disk_takes_is_told_in_a_line(
    words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(main, list(words))
    assert done.exit_code == 2
    assert done.stderr.startswith("! 999") and "name too long" in done.stderr and done.stderr.count("\n") == 1


@pytest.mark.parametrize(
    "words",
    [("card", "order.xlsx", "--paper", "9" * 400), ("card", "order.xlsx", f"--{'x' * 400}"), ("x" * 400,),
     ("plan", "order.xlsx", "--also", "9" * 400)],
)  # fmt: skip
def test_what_was_typed_wrongly_is_not_repeated_at_length(words: tuple[str, ...]) -> None:
    done = CliRunner().invoke(main, list(words))
    assert done.exit_code == 2
    assert max(map(len, done.stderr.splitlines())) <= LONGEST_LINE


def test_seconds_that_are_no_number_are_refused(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["plan", str(tmp_path / "order.xlsx"), "--seconds", "nan"])
    assert done.exit_code == 2 and "nan is not in the range" in done.stderr
