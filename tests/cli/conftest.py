"""What the tests of commands share."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes


@pytest.fixture
def order(tmp_path: Path) -> Path:
    """The demo order, in a folder of its own."""
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    return path
