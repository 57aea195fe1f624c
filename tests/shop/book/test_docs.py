"""What docs/shop-book.md promises is what the book does."""

from __future__ import annotations

import re
from pathlib import Path

from evenheft.cli.shop import shop_command
from evenheft.shop.book.drawing import USUAL_SPREAD
from evenheft.shop.book.finding import BOOK_NAME, VARIABLE
from evenheft.shop.book.layout import BOOK_SHEETS
from evenheft.shop.book.lock import lock_of

PAGE = (Path(__file__).parents[3] / "docs" / "shop-book.md").read_text(encoding="utf-8")


def test_names_and_numbers_are_those_of_the_code() -> None:
    assert f"`{BOOK_NAME}`" in PAGE
    assert f"`{VARIABLE}`" in PAGE
    assert f"`{lock_of(Path(BOOK_NAME)).name}`" in PAGE
    assert f"shipped: {USUAL_SPREAD:g} cm" in PAGE


def test_every_sheet_and_command_is_told_and_no_other() -> None:
    for declared in BOOK_SHEETS.values():
        assert re.search(rf"\b{declared.sheet}\b", PAGE), declared.sheet
    assert set(re.findall(r"^evenheft shop (\w+)", PAGE, re.MULTILINE)) == set(shop_command.commands)
