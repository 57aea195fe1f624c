"""What the tests of the Excel host share."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenheft.hosts.excel.windows.machine import Machine
from windows_machine import StandInRegistry, machine_in


@pytest.fixture
def registry() -> type[StandInRegistry]:
    return StandInRegistry


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    """A machine with Excel and a Python with xlwings, and nothing of Evenheft yet."""
    return machine_in(tmp_path)
