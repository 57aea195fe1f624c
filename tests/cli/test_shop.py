"""`evenheft shop`: a book is made, an order kept in it once and taken out again, in lines a builder understands."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from evenheft.cli import main
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import FIRST_ROW, TABLES
from evenheft.shop.book.reading import open_book


def run(*words: object) -> Result:
    return CliRunner().invoke(main, list(map(str, words)), catch_exceptions=False)


@pytest.fixture
def order(tmp_path: Path) -> Path:
    folder = tmp_path / "orders" / "november"
    folder.mkdir(parents=True)
    path = folder / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "evenheft-shop.xlsx"
    assert run("shop", "new", path).exit_code == 0
    return path


def set_model(order: Path, model: str, place: int) -> None:
    """Let a person write another head model for a club of the order."""
    found = openpyxl.load_workbook(order)
    parts = TABLES["parts"]
    found[parts.sheet].cell(FIRST_ROW + place, parts.at["model"]).value = model
    found.save(order)


def test_an_order_is_kept_in_the_book_above_it_once_and_forgotten(order: Path, book: Path) -> None:
    before = order.read_bytes()
    shown = run("shop", "keep", order, "--show")
    assert shown.exit_code == 0
    assert "Nothing is written." in shown.output
    assert not open_book(book).list("fits").rows
    kept = run("shop", "keep", order)
    assert kept.exit_code == 0
    assert "what dry fits taught" in kept.output
    opened = open_book(book)
    assert {opened.list("fits").text(row, "order") for row in opened.list("fits").rows} == {"DEMO-1"}
    assert {opened.list("orders").text(row, "customer") for row in opened.list("orders").rows} == {"Invented customer"}
    assert len(opened.list("scale").rows) == 7  # the demo's readings
    days = {
        opened.list(name).value(row, "date") for name in ("fits", "orders", "scale") for row in opened.list(name).rows
    }
    assert days == {46351.0}  # the demo's day, 2026-11-25, as a spreadsheet counts it
    once = book.read_bytes()
    again = run("shop", "keep", order)
    assert "nothing is written" in again.output
    assert book.read_bytes() == once
    assert run("shop", "forget", order).exit_code == 0
    assert not open_book(book).list("fits").rows
    assert order.read_bytes() == before


def test_what_the_bench_taught_is_what_the_order_shows(order: Path, book: Path) -> None:
    from evenheft.hosts.embedded import Computed

    run("shop", "keep", order)
    computed, parts = Computed.open(order), TABLES["parts"]
    fits = open_book(book).list("fits")
    assert len(fits.rows) > 4
    for row in fits.rows:
        place = FIRST_ROW + int(str(fits.text(row, "number"))) - 1
        learned = computed.value(parts.sheet, place, parts.at["learned"])
        assert fits.value(row, "rise") == pytest.approx(learned, abs=1e-3)  # the demo's order is in cm
        assert 0 < fits.value(row, "doubt") < 1


def test_a_model_written_in_three_ways_is_asked_about(order: Path, book: Path) -> None:
    set_model(order, "iron-set A", 2)
    asked = run("shop", "keep", order)
    assert asked.exit_code == 2
    assert '"iron-set A" is close to "Iron set A"' in asked.stderr
    assert not open_book(book).list("fits").rows
    assert run("shop", "keep", order, "--name", "iron-set A=Iron set A").exit_code == 0
    heads = open_book(book).list("heads")
    assert {heads.text(row, "model") for row in heads.rows} == {"Iron set A", "Wedge set B"}
    assert run("shop", "keep", order, "--name", "iron-set A=iron-set A").exit_code == 0
    heads = open_book(book).list("heads")
    assert {heads.text(row, "model") for row in heads.rows} == {"Iron set A", "iron-set A", "Wedge set B"}


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        (("new", "book.ods"), "must end in .xlsx"),
        (("keep", "{order}", "--shop", "nowhere.xlsx"), "there is no shop book nowhere.xlsx"),
        (("keep", "{book}"), "not an Evenheft order"),
        (("keep", "{order}", "--shop", "{order}"), "is an order, not a shop book"),
        (("keep", "{order}", "--name", "blade"), "--name must be WRITTEN=KNOWN"),
        (("forget", "T-9", "--shop", "{book}"), "holds nothing of an order T-9"),
    ],
)
def test_what_cannot_be_done_is_one_line(order: Path, book: Path, words: tuple[str, ...], reason: str) -> None:
    said = run("shop", *(word.format(order=order, book=book) for word in words))
    assert said.exit_code == 2
    assert reason in said.stderr
    assert said.stderr.count("\n") == 1


def test_a_book_is_never_written_over(book: Path) -> None:
    old = book.read_bytes()
    assert run("shop", "new", book).exit_code == 2
    assert book.read_bytes() == old


def test_without_a_book_the_line_says_how_to_get_one(order: Path) -> None:
    said = run("shop", "keep", order)
    assert said.exit_code == 2
    assert "evenheft shop new" in said.stderr


def test_the_environment_names_a_book_and_the_option_wins(
    order: Path, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "other.xlsx"
    run("shop", "new", other)
    monkeypatch.setenv("EVENHEFT_SHOP", str(other))
    run("shop", "keep", order)
    assert open_book(other).list("fits").rows
    assert not open_book(book).list("fits").rows
    run("shop", "keep", order, "--shop", book)
    assert open_book(book).list("fits").rows
