"""The committed reference is what the registry says, whole and in order."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from evenheft.formulas import REGISTRY, Formula
from evenheft.formulas.reference import COMMAND, categories, reference

COMMITTED = Path(__file__).parents[2] / "docs" / "formulas.md"


def test_the_committed_reference_is_what_the_registry_generates() -> None:
    assert COMMITTED.read_text(encoding="utf-8") == reference(), f"remake it: {COMMAND}"


def test_the_command_writes_it() -> None:
    done = subprocess.run([sys.executable, "-m", "evenheft.formulas.reference"], capture_output=True, check=True)
    assert done.stdout.decode("utf-8") == reference()


def test_every_category_is_told_once() -> None:
    assert sorted(categories()) == sorted({formula.category for formula in REGISTRY.values()})
    assert categories()[0] == "Swingweight"
    assert categories()[-1] == "Tools"


@pytest.mark.parametrize("formula", REGISTRY.values(), ids=lambda formula: formula.name)
def test_every_formula_is_told_whole(formula: Formula) -> None:
    text = reference()
    section = text[text.index(f"### {formula.name}\n") :]
    section = section[: section.find("\n##", 1) + 1 or None]
    assert f"`{formula.signature}`" in section
    assert formula.help.split(":")[0][:40] in section
    for argument in formula.arguments:
        assert f"| `{argument.name}` |" in section
    for example, answer in formula.examples:
        assert f"| `{example}` | `{answer}` |" in section
    for answer in formula.answers:
        assert answer.name in section
    assert "Source: " in section
