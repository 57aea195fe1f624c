"""The table of docs/trials.md: its commands are there and take what is shown; no failure stands without a reason."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

HOUSE = Path(__file__).resolve().parents[1]
PAGE = (HOUSE / "docs" / "trials.md").read_text(encoding="utf-8")


class TrialRow(NamedTuple):
    """A row of the table."""

    what: str
    made: str
    failures: str
    command: str


def rows() -> list[TrialRow]:
    """The table's rows, without its head."""
    lines = [line for line in PAGE.splitlines() if line.startswith("| ")]
    return [TrialRow(*(cell.strip() for cell in line.strip("|").split("|"))) for line in lines[2:]]


def words_of(command: str) -> tuple[dict[str, str], list[str]]:
    """What a command sets before it, and its words."""
    words = shlex.split(command.strip("`"))
    own = dict(word.split("=", 1) for word in words if re.match(r"[A-Z]+=", word))
    return own, words[len(own) :]


def test_it_is_read_at_all() -> None:
    assert len(rows()) >= 8
    assert len({row.command for row in rows()}) == len(rows())


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.what)
def test_a_command_is_there_and_takes_what_is_shown(row: TrialRow) -> None:
    own, (program, script, *given) = words_of(row.command)
    assert program in ("python", "bash")
    assert (HOUSE / script).is_file()
    if program == "bash":
        assert not given
        return
    options = [word for word in given if word.startswith("-")]
    command = [sys.executable, script, *given, "--help"]  # reads what stands before it, then helps and ends
    done = subprocess.run(command, cwd=HOUSE, env=os.environ | own, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert all(re.search(rf"(?<![\w-]){option}(?![\w-])", done.stdout) for option in options), done.stdout


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.what)
def test_a_failure_has_its_reason(row: TrialRow) -> None:
    if row.failures in ("0", "-"):
        return
    count, reason = re.fullmatch(r"(\d+)\s*(.*)", row.failures, re.DOTALL).groups()  # type: ignore[union-attr]
    assert int(count) > 0
    assert len(reason.split()) > 3, "what failed, and why that is no fault"


def test_what_is_not_counted_is_told_elsewhere() -> None:
    for row in rows():
        if row.failures == "-":
            page = re.search(r"\]\(([\w-]+\.md)\)", row.made)
            assert page is not None and (HOUSE / "docs" / page[1]).is_file()


def test_the_changes_add_up() -> None:
    made = next(row for row in rows() if "mutation.py" in row.command)
    total, *parts = map(int, re.findall(r"^\d+(?=:)|\d+(?= in \d)", made.made))
    assert total == sum(parts)
    survived = int(re.match(r"\d+", made.failures)[0])  # type: ignore[index]
    text = " ".join(PAGE.split())
    told = re.search(r"Of the (\d+) small changes (\d+) were noticed by the tests of their module. Of the (\d+)", text)
    assert told is not None
    assert [int(number) for number in told.groups()] == [total, total - survived, survived]
