"""What all tests share."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

from calc_office import Calc, MissingError, needed_office, running
from evenheft.hosts.calc import extension as package

collect_ignore = ["calc_driver.py"]  # it runs under LibreOffice's Python, which alone has `uno`

# A busy machine is no failure: nothing here is judged by the clock.
settings.register_profile("evenheft", deadline=None)
# For a long look by hand: bash tests/run --hypothesis-profile=deep
settings.register_profile("deep", deadline=None, max_examples=2000)
settings.load_profile("evenheft")


@pytest.fixture(scope="session")
def office_at_hand() -> None:
    """A LibreOffice on this machine. In CI the real program must be there; elsewhere its absence skips."""
    try:
        needed_office()
    except MissingError as missing:
        if os.environ.get("CI"):
            pytest.fail(f"CI needs LibreOffice: {missing}")
        pytest.skip(f"needs LibreOffice 25.2 with Python: {missing}")


@pytest.fixture(scope="session")
def calc(office_at_hand: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Calc]:  # noqa: ARG001
    """A real LibreOffice with the add-in as it is built now."""
    extension = tmp_path_factory.mktemp("extension") / "evenheft.oxt"
    package.write(extension)
    with running(extension) as office:
        yield office


@pytest.fixture
def bare_calc(office_at_hand: None) -> Iterator[Calc]:  # noqa: ARG001
    """A real LibreOffice as a supplier has it: without the add-in."""
    with running() as office:
        yield office
