"""docs/parts.md holds the same defaults and vocabulary as the code."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.headed.columns import DOUBTS
from evenheft.formulas.headed.foreign import FOREIGN_BARE, FOREIGN_WORDS
from evenheft.formulas.headed.headings import read_heading
from evenheft.formulas.headed.vocabulary import VOCABULARY, Headed
from evenheft.mechanics.club import DEFAULTS, HIGHEST_HEAD_RISE, LOWEST_HEAD_RISE
from evenheft.mechanics.forecast_doubt import LEAST_UNEXPLAINED, SHAFT_BALANCE_SHARE, TRIM_SHARE, Doubts
from evenheft.mechanics.head_rise import HEADS

TEXT = (Path(__file__).parents[1] / "docs" / "parts.md").read_text()


def line_of(headed: Headed) -> str:
    first, *others = headed.words
    return f"| {first} | {headed.dimension or 'any'} | {', '.join(others) or '-'} | {', '.join(headed.bare) or '-'} |"


@pytest.mark.parametrize("headed", VOCABULARY.values(), ids=lambda headed: headed.name)
def test_the_vocabulary_is_told(headed: Headed) -> None:
    parts, others = TEXT.split("### What else a sheet may hold")
    assert line_of(headed) in (parts if headed.part else others)


def test_the_defaults_are_told() -> None:
    defaults = dict(re.findall(r"^\| ([a-z ]+) \| (-?[\d.]+) cm \|$", TEXT, re.MULTILINE))
    code = {name: value for name, value in DEFAULTS.items() if value}
    assert {read_heading(words).quantity: float(value) for words, value in defaults.items()} == code


def test_the_limits_are_told() -> None:
    assert f"below {LOWEST_HEAD_RISE:g} cm or above {HIGHEST_HEAD_RISE:g} cm" in TEXT
    assert f"({LEAST_UNEXPLAINED:g} g at least)" in TEXT
    assert f"known to {TRIM_SHARE:.0%} of itself".replace("%", " %") in TEXT


def test_the_guesses_of_the_head_rise_are_told() -> None:
    row = r"^\| ([a-z]+) \| ([\d.]+) cm \| ([\d.]+) cm \| ([^|]*) \| ([^|]*) \| ([^|]*) \|$"
    rows = [found for found in re.findall(row, TEXT, re.MULTILINE) if found[0] != "other"]
    assert [kind for kind, *_ in rows] == list(HEADS)
    for kind, rise, doubt, height, toe_ward, lie in rows:
        assert call(REGISTRY["HEFT_HEAD_RISE_GUESS"], (kind,)) == ((float(rise), float(doubt)),)
        head = HEADS[kind]
        assert (height, toe_ward, lie) == (f"{head.height:.1f} cm", f"{head.toe_ward:.1f} cm", f"{head.lie:.1f} deg")
    assert "| other | 1.0 cm | 1.6 cm |" in TEXT
    assert call(REGISTRY["HEFT_HEAD_RISE_GUESS"], ("other",)) == ((1.0, 1.6),)


def test_the_half_widths_are_told() -> None:
    doubts = dict(re.findall(r"^\| ([A-Z][a-z ]+ doubt) \((?:g|cm)\) \| ([\d.]+) ", TEXT, re.MULTILINE))
    quantities = {read_heading(f"{words} (g)").quantity or read_heading(f"{words} (cm)").quantity: value
                  for words, value in doubts.items()}  # fmt: skip
    assert set(quantities) == set(DOUBTS)
    code = Doubts()
    for name, value in quantities.items():
        held = getattr(code, DOUBTS[str(name)])
        assert float(value) == (SHAFT_BALANCE_SHARE * 100 if held is None else held)


@pytest.mark.parametrize("name", [*FOREIGN_WORDS, *FOREIGN_BARE])
def test_the_words_of_other_languages_are_told(name: str) -> None:
    section = TEXT.split("### In other languages")[1]
    row = next(line for line in section.splitlines() if line.startswith(f"| {VOCABULARY[name].words[0]} |"))
    for table in (FOREIGN_WORDS, FOREIGN_BARE):
        for words, cell in zip(table.get(name, ()), row.split("|")[2:], strict=False):
            assert words in cell
