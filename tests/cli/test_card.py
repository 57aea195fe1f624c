"""`evenheft card`: one page as a PDF, a new file and nothing else, and one line where it cannot be."""

from __future__ import annotations

import io
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from evenheft.cli import main
from evenheft.hosts.calc import printing
from evenheft.order.card import card_of
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import CARD, FIRST_ROW, ORDER
from evenheft.order.report import open_order
from printed_pages import pages, words


def card(*given: object) -> Result:
    return CliRunner().invoke(main, ["card", *map(str, given)], catch_exceptions=False)


def test_the_card_is_one_page_of_the_paper_asked_for(
    order: Path,
    office_at_hand: None,  # noqa: ARG001
    poppler: None,  # noqa: ARG001
) -> None:
    old = order.read_bytes()
    said = card(order)
    assert said.exit_code == 0, said.output
    a4 = order.with_name("order-card.pdf")
    assert pages(a4) == [pytest.approx((595.3, 841.9), abs=0.5)]
    letter = order.with_name("for-the-wall.pdf")
    assert card(order, "--paper", "letter", "-o", letter).exit_code == 0
    assert pages(letter) == [pytest.approx((612, 792), abs=0.5)]
    printed = [word.text for word in words(letter)]
    for text in ("Care:", "DEMO-1", "Driver", "5-iron", "Pitching", "D2.0", "114.30", "swings"):
        assert text in printed
    assert "Invented" not in printed, "the card lies about in the shop: it does not name the customer"
    assert order.read_bytes() == old
    assert sorted(path.name for path in order.parent.iterdir()) == ["for-the-wall.pdf", "order-card.pdf", "order.xlsx"]


def test_a_file_that_is_there_stays(order: Path) -> None:
    there = order.with_name("order-card.pdf")
    there.write_bytes(b"mine")
    said = card(order)
    assert (said.exit_code, said.output) == (
        2, "! order-card.pdf is there already: choose another name or remove it first\n")  # fmt: skip
    assert there.read_bytes() == b"mine"


def test_what_cannot_be_is_told_in_a_line(order: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert card(order, "-o", tmp_path / "card.docx").output == "! the name must end in .pdf, got card.docx\n"
    nobody = tmp_path / "empty.xlsx"
    nobody.write_bytes(save_bytes(build_order()))
    assert card(nobody).output == "! empty.xlsx names no club yet: write them on Order first\n"
    monkeypatch.setattr(printing, "find_all", list)
    said = card(order)
    assert said.exit_code == 2
    assert said.output.startswith("! the bench card is printed by LibreOffice, and there is none: install LibreOffice")
    assert said.output.endswith("; or print the sheet Card from your own program\n")
    assert not list(tmp_path.glob("*.pdf"))


def test_the_card_holds_values_and_what_a_stranger_typed_stays_text(order: Path) -> None:
    book = openpyxl.load_workbook(order)
    name = book[ORDER.sheet].cell(FIRST_ROW, ORDER.at["club"])
    name.value, name.data_type = '=HYPERLINK("http://example.org")', "s"
    book.save(order)
    made = openpyxl.load_workbook(io.BytesIO(card_of(open_order(order), "a4")))
    assert made.sheetnames == [CARD.sheet]
    cells = [cell for row in made[CARD.sheet].iter_rows() for cell in row]
    assert not [cell.coordinate for cell in cells if cell.data_type == "f"]
    assert made[CARD.sheet].cell(FIRST_ROW, CARD.at["club"]).value == '=HYPERLINK("http://example.org")'
    assert made[CARD.sheet].cell(FIRST_ROW, CARD.at["swingweight_wanted"]).value == "D3.0\n± 0.5"
