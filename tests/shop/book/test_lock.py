"""Two keeps in one moment lose nothing; a lock that nobody holds any more holds nobody up."""

from __future__ import annotations

import hashlib
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import read_package
from evenheft.shop.book.keeping import plan_to_forget, plan_to_keep, write
from evenheft.shop.book.kept import KeptOrder
from evenheft.shop.book.lock import lock_of, only_writer
from evenheft.shop.book.reading import open_book

KILLS = 24
_FIT = {"number": 1.0, "date": 46000.0, "model": "M", "club": "7-iron", "head_mass": 250.0, "rise": 2.0, "doubt": 0.2,
        "counts": 1.0}  # fmt: skip


def keep(book: Path, number: str) -> None:
    with only_writer(book, lambda _: None):
        write(plan_to_keep(open_book(book), KeptOrder(number, fits=(_FIT,))))


def child_that_keeps(book: Path, number: str) -> int:
    child = os.fork()
    if child == 0:
        try:
            keep(book, number)
        except BaseException:
            os._exit(9)
        os._exit(0)
    return child


def test_orders_kept_in_one_moment_are_all_kept(book: Path) -> None:
    children = [child_that_keeps(book, f"T-{n}") for n in range(4)]
    assert [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children] == [0] * 4
    fits = open_book(book).list("fits")
    assert sorted(fits.text(row, "order") for row in fits.rows) == ["T-0", "T-1", "T-2", "T-3"]
    assert sorted(fits.value(row, "sequence") for row in fits.rows) == [1, 2, 3, 4]


def test_who_waits_is_told_for_whom_and_goes_on_after_it(book: Path) -> None:
    said: list[str] = []
    code = (
        "import sys, time; from pathlib import Path; from evenheft.shop.book.lock import only_writer\n"
        "with only_writer(Path(sys.argv[1]), print):\n    print('holds', flush=True); time.sleep(1.5)"
    )
    holder = subprocess.Popen([sys.executable, "-c", code, str(book)], stdout=subprocess.PIPE, text=True)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "holds\n"
    with only_writer(book, said.append):
        assert holder.wait(timeout=5) == 0
    assert len(said) == 1
    assert said[0].startswith("evenheft-shop.xlsx is being written by ")
    assert " since " in said[0]
    holder.stdout.close()


def test_waiting_ends_in_one_line(book: Path) -> None:
    code = (
        "import sys, time; from pathlib import Path; from evenheft.shop.book.lock import only_writer\n"
        "with only_writer(Path(sys.argv[1]), print):\n    print('holds', flush=True); time.sleep(60)"
    )
    holder = subprocess.Popen([sys.executable, "-c", code, str(book)], stdout=subprocess.PIPE, text=True)
    try:
        assert holder.stdout is not None
        holder.stdout.readline()
        with pytest.raises(Refused, match="still being written by"), only_writer(book, lambda _: None, patience=0.2):
            pass
    finally:
        holder.kill()
        holder.communicate()
    began = time.monotonic()
    said: list[str] = []
    with only_writer(book, said.append):  # the killed holder's file lies there still
        assert time.monotonic() - began < 5
    assert said == []


def test_a_lock_file_that_somebody_left_behind_holds_nobody_up(book: Path) -> None:
    lock_of(book).write_text("somebody on an old machine since 03:00:00")
    said: list[str] = []
    with only_writer(book, said.append):
        pass
    assert said == []


def test_the_lock_of_a_link_is_that_of_its_book(book: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.xlsx"
    link.symlink_to(book)
    assert lock_of(link) == lock_of(book)


def test_killed_at_any_moment_the_book_is_whole_and_the_order_in_it_or_not(book: Path) -> None:
    chance = random.Random(20261125)
    begun = time.perf_counter()
    keep(book, "T-1")
    usual = time.perf_counter() - begun
    write(plan_to_forget(open_book(book), "T-1"))
    seen = {0: 0, 1: 0}
    for _ in range(KILLS):
        child = child_that_keeps(book, "T-1")
        time.sleep(chance.uniform(0, 1.1 * usual))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        read_package(book).close()
        opened = open_book(book)
        kept = [len(opened.list(name).rows) for name in ("fits", "heads")]
        assert kept in ([0, 0], [1, 1])  # all of the order or nothing
        seen[kept[0]] += 1
        if kept[0]:
            write(plan_to_forget(opened, "T-1"))
    print(f"{KILLS} kills: {seen[0]} left the book without the order, {seen[1]} with it")
    assert min(seen.values()) > 0
    keep(book, "T-1")
    once = hashlib.sha256(book.read_bytes()).digest()
    keep(book, "T-1")
    assert hashlib.sha256(book.read_bytes()).digest() == once
