"""What the tests of the order workbook share."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo order, which a module's tests only read."""
    path = tmp_path_factory.mktemp("demo") / "demo-order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    return path
