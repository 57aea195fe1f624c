"""`evenheft check --save`: previews and phones show what was computed, and nothing else in the file changes."""

import os
from pathlib import Path

import openpyxl
from click.testing import CliRunner, Result

from calc_office import Calc
from evenheft.cli import main
from evenheft.order.layout import FIRST_ROW, SET
from untouched import changed_parts


def check(*words: object) -> Result:
    return CliRunner().invoke(main, ["check", *map(str, words)], catch_exceptions=False)


def shown(path: Path, key: str) -> object:
    return openpyxl.load_workbook(path, data_only=True)[SET.sheet].cell(FIRST_ROW, SET.at[key]).value


def test_save_keeps_the_results_and_the_old_file_where_asked(order: Path) -> None:
    old = order.read_bytes()
    assert shown(order, "slot1_value") is None
    said = check(order, "--save", "--backup")
    assert said.exit_code == check(order).exit_code == 3
    assert said.output == check(order).output
    assert shown(order, "slot1_value") == "D3.1\n± 0.2"
    backup = order.with_name("order.xlsx.bak")
    assert backup.read_bytes() == old
    assert all(part.startswith("xl/worksheets/sheet") for part in changed_parts(backup, order))


def test_a_program_without_the_add_in_shows_what_was_saved(order: Path, bare_calc: Calc) -> None:
    check(order, "--save")
    letter = SET.letter("slot1_value")
    with bare_calc.open(order) as book:
        assert book.shown(SET.sheet, f"{letter}{FIRST_ROW}") == [["D3.1\n± 0.2"]]


def test_saving_twice_writes_once(order: Path) -> None:
    check(order, "--save")
    stamp = order.stat()
    check(order, "--save")
    assert (order.stat().st_ino, order.stat().st_mtime_ns) == (stamp.st_ino, stamp.st_mtime_ns)


def test_without_save_the_file_is_only_read(order: Path) -> None:
    old = order.read_bytes()
    check(order)
    assert order.read_bytes() == old


def test_an_order_that_is_open_elsewhere_is_not_written(order: Path) -> None:
    old = order.read_bytes()
    order.with_name(".~lock.order.xlsx#").write_text("somebody")
    said = check(order, "--save")
    assert said.exit_code == 2
    assert "open in a spreadsheet program" in said.stderr
    assert order.read_bytes() == old


def test_backup_without_save_is_refused(order: Path) -> None:
    assert check(order, "--backup").exit_code == 2


def test_a_hard_link_is_told_before_it_parts(order: Path, tmp_path: Path) -> None:
    linked = tmp_path / "same.xlsx"
    os.link(order, linked)
    old = linked.read_bytes()
    assert "hard link" not in check(order).output
    assert "Note: order.xlsx has another name elsewhere (a hard link)" in check(order, "--save").output
    assert linked.read_bytes() == old
    assert "hard link" not in check(order, "--save").output
