"""How often a command unpacks the parts of the file that it was given: once each, whatever is then done with them."""

from __future__ import annotations

import zipfile
from collections import Counter
from pathlib import Path

import pytest

from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.report import read_order, saved_order


@pytest.fixture
def order(tmp_path: Path) -> Path:
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    return path


@pytest.fixture
def unpacked(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often zipfile opened each part to read it."""
    found: Counter[str] = Counter()
    opened = zipfile.ZipFile.open

    def counted(self: zipfile.ZipFile, name: str | zipfile.ZipInfo, mode: str = "r", **others: object) -> object:
        if mode == "r":
            found[name if isinstance(name, str) else name.filename] += 1
        return opened(self, name, mode, **others)  # type: ignore[arg-type,call-overload]

    monkeypatch.setattr(zipfile.ZipFile, "open", counted)
    return found


def test_check_unpacks_each_part_once(order: Path, unpacked: Counter[str]) -> None:
    with zipfile.ZipFile(order) as package:
        parts = set(package.namelist())
    read_order(order)
    assert unpacked == dict.fromkeys(parts, 1)


def test_check_that_saves_unpacks_no_part_twice(order: Path, unpacked: Counter[str]) -> None:
    before = order.read_bytes()
    saved_order(order)
    assert order.read_bytes() != before
    assert set(unpacked.values()) == {1}
