"""The table of docs/security.md: a row for every formula, and what it says of a full column holds for fewer rows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenheft.formulas import REGISTRY, calling, fit
from fuzz.full_columns import measured

TEXT = (Path(__file__).parents[2] / "docs" / "security.md").read_text(encoding="utf-8")
TOLD = {name: (float(taken), answer) for name, taken, answer in re.findall(
    r"^\| `(HEFT_\w+)` \| ([\d.]+) s \| (.*) \|$", TEXT, re.MULTILINE)}  # fmt: skip
ROWS = 300
"""In place of a full column, beside limits that are as much smaller."""
WORST = 30.0
"""The page promises that no formula works longer over a full column, where the page was written [s]."""


def test_every_formula_has_its_row_in_the_registrys_order() -> None:
    assert list(TOLD) == list(REGISTRY)


def test_no_row_is_worse_than_the_page_says() -> None:
    worst = max(taken for taken, _ in TOLD.values())
    assert worst <= WORST
    assert f"at most {WORST:g} s" in " ".join(TEXT.split())
    assert f"{fit.MOST_LOOKED_AT} cells" in TEXT


@pytest.mark.parametrize("name", REGISTRY)
def test_what_is_refused_over_a_full_column_is_refused(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fit, "MOST_LOOKED_AT", 100)
    monkeypatch.setattr(calling, "MOST_READ_AGAIN", 2_000)
    _, answer = measured(REGISTRY[name], ROWS)
    told = TOLD[name][1]
    assert answer.startswith("!") == told.startswith("!"), f"{name}: {answer}"
    if "!" in answer:
        assert re.sub(r"\d+", "", answer) == re.sub(r"\d+", "", told)
