"""The tutorials, replayed as a newcomer follows them: each command, each cell typed, each value read, in order."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from tutorial import DOCS, PAGES, Step, do, matches, steps_of

TEXTS = {name: (DOCS / name).read_text(encoding="utf-8") for name in PAGES}
PICTURES = DOCS / "pictures" / "tutorial"


@pytest.mark.parametrize("name", PAGES)
def test_each_step_of_a_page_gives_what_the_page_says(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EVENHEFT_SHOP", raising=False)
    for step in steps_of(TEXTS[name]):
        printed = do(step)
        if printed is not None:
            assert matches(step.shown, printed), f"{step} printed\n{printed}\nand the page shows\n{step.shown}"


def test_the_tutorial_goes_from_a_first_formula_to_the_next_order() -> None:
    commands = [step.what for step in steps_of(TEXTS["tutorial.md"]) if step.do == "run"]
    kinds = list(dict.fromkeys(" ".join(re.findall(r"^(?:shop )?\w+", line)) for line in commands))
    assert kinds == ["eval", "adopt", "shop new", "new", "share", "receive", "plan", "check", "shop keep"]
    typed = [step.what for step in steps_of(TEXTS["tutorial.md"]) if step.do == "type"]
    assert set(typed) >= {"Order", "Parts", "Bench", "Fix", "Supplier", "Shafts", "Weights"}


@pytest.mark.parametrize("name", PAGES)
def test_no_command_or_table_of_a_page_is_passed_over(name: str) -> None:
    steps = steps_of(TEXTS[name])
    assert len([step for step in steps if step.do == "run"]) == len(re.findall(r"^\$ ", TEXTS[name], re.MULTILINE))
    assert len([step for step in steps if step.rows]) == len(re.findall(r"^\|-", TEXTS[name], re.MULTILINE))


@pytest.mark.parametrize("name", PAGES)
def test_every_number_in_the_text_stands_in_a_step(name: str) -> None:
    text = TEXTS[name]
    steps = steps_of(text)
    held = " ".join([f"{step.what} {step.shown} {step.rows}" for step in steps])
    prose = re.sub(r"^```.*?^```|^\|.*?$|\]\([^)]*\)", "", text, flags=re.MULTILINE | re.DOTALL)
    for number in re.findall(r"\d+(?:\.\d+)?", prose):
        assert re.search(rf"(?<![\d.]){re.escape(number)}(?![\d]|\.\d)", held), f"{name} says {number}"


def test_a_page_that_says_something_else_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert not matches("D2.6", "D2.7")
    assert not matches("a\n...\nc", "a\nc and more")
    assert matches("a\n...\nc", "a\nb\nb\nc")
    do(Step("make", "Irons", "irons.xlsx", rows=(("Club", "Weight (g)"), ("5-iron", "416"))))
    read = Step("read", "Irons", "irons.xlsx", rows=(("Club", "Weight (g)"), ("5-iron", "416")))
    do(read)
    with pytest.raises(AssertionError, match=r"holds 416.*the page says 417"):
        do(replace(read, rows=(read.rows[0], ("5-iron", "417"))))


def test_each_picture_is_there_and_none_is_left_over() -> None:
    named = {step.what for text in TEXTS.values() for step in steps_of(text) if step.do == "picture"}
    assert {path.stem for path in PICTURES.glob("*.png")} == named
