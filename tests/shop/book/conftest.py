"""What the tests of the shop book share."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from evenheft.order.drawing.template import save_bytes
from evenheft.shop.book.drawing import build_book
from evenheft.shop.book.finding import VARIABLE


@pytest.fixture(autouse=True)
def _no_book_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """No book that this machine names is taken for a test's."""
    monkeypatch.delenv(VARIABLE, raising=False)


@pytest.fixture(scope="module")
def empty_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "empty.xlsx"
    path.write_bytes(save_bytes(build_book()))
    return path


@pytest.fixture
def book(empty_book: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(empty_book, tmp_path / "evenheft-shop.xlsx"))
