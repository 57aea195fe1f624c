"""Nothing of the shop book leaves with an order that is shared."""

from __future__ import annotations

import zipfile
from pathlib import Path

import openpyxl
from click.testing import CliRunner

from evenheft.cli import main
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.shop.book.grid import FIRST_BOOK_ROW
from evenheft.shop.book.layout import BOOK_SHEETS

PLANTED = "Planted-in-the-book"


def plant(book: Path) -> int:
    """Write a word that nobody may see into every list of a book, and count the places."""
    found = openpyxl.load_workbook(book)
    places = 0
    for declared in BOOK_SHEETS.values():
        for key in declared.typed:
            if declared.column(key).role != "work":
                found[declared.sheet].cell(FIRST_BOOK_ROW, declared.at[key]).value = f"{PLANTED} {key}"
                places += 1
    found["Ask"]["B4"].value = f"{PLANTED} customer"
    found.save(book)
    return places


def test_what_stands_in_the_book_is_in_nothing_that_is_shared(tmp_path: Path) -> None:
    book, order = tmp_path / "evenheft-shop.xlsx", tmp_path / "order.xlsx"
    run = CliRunner()
    assert run.invoke(main, ["shop", "new", str(book)]).exit_code == 0
    assert plant(book) > 30
    order.write_bytes(save_bytes(build_demo()))
    assert run.invoke(main, ["shop", "keep", str(order)]).exit_code == 0
    shared = {"heads.xlsx": ["--for", "supplier"], "plain.xlsx": ["--plain"]}
    for name, words in shared.items():
        said = run.invoke(main, ["share", str(order), *words, "-o", str(tmp_path / name)])
        assert said.exit_code == 0, said.output
        assert PLANTED not in said.output
        with zipfile.ZipFile(tmp_path / name) as package:
            for part in package.namelist():
                assert PLANTED.encode() not in package.read(part), part
