"""The table of docs/security.md: a row for every formula, and what the page says above it agrees with it."""

from __future__ import annotations

import re
from pathlib import Path

from evenheft.formulas import REGISTRY, fit

TEXT = (Path(__file__).parents[2] / "docs" / "security.md").read_text(encoding="utf-8")
SHOWN = {
    name: (float(taken), answer)
    for name, taken, answer in re.findall(r"^\| `(HEFT_\w+)` \| ([\d.]+) s \| (.+) \|$", TEXT, re.MULTILINE)
}


def test_every_formula_has_a_row() -> None:
    assert set(SHOWN) == set(REGISTRY)


def test_whatever_takes_over_a_minute_is_named() -> None:
    named = re.search(r"Over a minute takes?\s+([^.]*)\.", TEXT)
    assert named
    assert re.findall(r"HEFT_\w+", named[1]) == [name for name, (taken, _) in SHOWN.items() if taken > 60]


def test_the_bound_is_the_formulas_own() -> None:
    assert f"more than {fit.MOST_LOOKED_AT} cells hold texts" in " ".join(TEXT.split())
    refused = {answer for _, answer in SHOWN.values() if "cells hold texts" in answer}
    assert refused == {f"! more than {fit.MOST_LOOKED_AT} cells hold texts or are refused: name fewer of them at once"}
    changes = (Path(__file__).parents[2] / "docs" / "changelog.md").read_text(encoding="utf-8")
    assert f"more than {fit.MOST_LOOKED_AT:,} cells with texts" in changes
