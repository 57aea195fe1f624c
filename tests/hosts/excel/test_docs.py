"""docs/excel.md against the code: formulas and results of the checklist, commands, messages."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenheft.hosts.embedded import evaluate
from evenheft.hosts.excel.functions.served import HOST
from evenheft.hosts.excel.functions.vba import python_module

PAGE = (Path(__file__).parents[3] / "docs" / "excel.md").read_text(encoding="utf-8")
CHECKS = re.findall(r"^\| \d+ \| A\d: `(=HEFT_[^`]+)` \| `([^`]+)`", PAGE, re.MULTILINE)


def test_there_are_checks() -> None:
    assert len(CHECKS) == 7


@pytest.mark.parametrize(("formula", "shown"), CHECKS)
def test_a_check_shows_what_it_says(formula: str, shown: str) -> None:
    answer = evaluate(formula)
    if isinstance(answer, float):
        assert f"{answer:.4f}" == shown
    else:
        assert str(answer).replace("the embedded engine", HOST) == shown


def test_the_range_of_the_checklist() -> None:
    answers = evaluate("=HEFT_POINTS({431;402;409},{75.3;74.8;74.3})")
    assert isinstance(answers, list)
    assert [f"{row[0]:.2f}" for row in answers] == ["43.92", "33.18", "33.74"]


@pytest.mark.parametrize("line", re.findall(r"^\| `! ([^`]+?) ?\.\.\.`", PAGE, re.MULTILINE))
def test_a_message_of_the_table_is_one_that_is_shown(line: str) -> None:
    if line:
        source = (
            python_module("0.0")
            + (Path(__file__).parents[3] / "udfs/evenheft/hosts/excel/functions/served.py").read_text()
        )
        assert line.split(" ... ")[0].removeprefix("HEFT_... ") in source


VERIFIED = re.findall(
    r"^\| (.+) \| (.+) \| (.+) \| (.+) \|$",
    PAGE.partition("## What was verified")[2].partition("\n## ")[0],
    re.MULTILINE,
)


def test_each_row_says_where_it_was_run() -> None:
    (what, *_), *rows = VERIFIED
    assert what == "what"
    assert len(rows) > 10
    assert {where for _, where, _, _ in rows} == {"Wine", "stand-in", "Wine, stand-in", "not run"}
    assert {in_excel for *_, in_excel in rows} == {"not run", "not measured"}


def test_it_says_plainly_that_it_was_not_run_in_excel() -> None:
    assert "**None of this has been run in Excel itself yet.**" in PAGE
