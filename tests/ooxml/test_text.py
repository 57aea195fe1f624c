"""Texts of a stranger, as a message or a terminal gets them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from evenheft.ooxml.text import LONGEST_LINE, harmless, one_line, plain_text, shown_name
from evenheft.ooxml.values import CellError

COMMANDS = "\x1b]0;owned\x07 \x9b2J \u202egnp.exe \r\n\x00"


@given(st.text())
def test_a_line_is_one_line_that_no_terminal_obeys(text: str) -> None:
    line = one_line(text)
    assert line.isprintable()
    assert len(line) <= LONGEST_LINE
    assert one_line(line) == line


@given(st.text())
def test_harmless_text_keeps_its_length_and_its_lines(text: str) -> None:
    clean = harmless(text)
    assert len(clean) == len(text)
    assert all(c.isprintable() or c in "\n\t" for c in clean)
    assert [c for c in text if c.isprintable()] == [c for c, old in zip(clean, text, strict=True) if old.isprintable()]


def test_an_error_cell_s_code_is_cleaned_like_any_text() -> None:
    assert plain_text(CellError(f"#N/A{COMMANDS}")) == "#N/A ]0;owned 2J gnp.exe"


def test_a_long_name_is_cut() -> None:
    assert shown_name("x" * 100) == "x" * 57 + "..."
    assert shown_name(COMMANDS).isprintable()
