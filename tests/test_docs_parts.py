"""docs/parts.md holds the same defaults and vocabulary as the code."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenheft.formulas.headed.foreign import FOREIGN_BARE, FOREIGN_WORDS
from evenheft.formulas.headed.headings import read_heading
from evenheft.formulas.headed.parts import MOST_UNEXPLAINED
from evenheft.formulas.headed.vocabulary import VOCABULARY, Headed
from evenheft.mechanics.club import DEFAULTS, HIGHEST_HEAD_RISE, LOWEST_HEAD_RISE

TEXT = (Path(__file__).parents[1] / "docs" / "parts.md").read_text()


def line_of(headed: Headed) -> str:
    first, *others = headed.words
    return f"| {first} | {headed.dimension or 'any'} | {', '.join(others) or '-'} | {', '.join(headed.bare) or '-'} |"


@pytest.mark.parametrize("headed", VOCABULARY.values(), ids=lambda headed: headed.name)
def test_the_vocabulary_is_told(headed: Headed) -> None:
    parts, others = TEXT.split("### What else a sheet may hold")
    assert line_of(headed) in (parts if headed.part else others)


def test_the_defaults_are_told() -> None:
    told = dict(re.findall(r"^\| ([a-z ]+) \| (-?[\d.]+) cm \|$", TEXT, re.MULTILINE))
    code = {name: value for name, value in DEFAULTS.items() if value}
    assert {read_heading(words).quantity: float(value) for words, value in told.items()} == code


def test_the_limits_are_told() -> None:
    assert f"below {LOWEST_HEAD_RISE:g} cm or above {HIGHEST_HEAD_RISE:g} cm" in TEXT
    assert f"more than {MOST_UNEXPLAINED:g} g more or less" in TEXT


@pytest.mark.parametrize("name", [*FOREIGN_WORDS, *FOREIGN_BARE])
def test_the_words_of_other_languages_are_told(name: str) -> None:
    section = TEXT.split("### In other languages")[1]
    row = next(line for line in section.splitlines() if line.startswith(f"| {VOCABULARY[name].words[0]} |"))
    for table in (FOREIGN_WORDS, FOREIGN_BARE):
        for words, cell in zip(table.get(name, ()), row.split("|")[2:], strict=False):
            assert words in cell
