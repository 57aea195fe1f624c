"""What all tests share."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import NoReturn

import pytest
from hypothesis import settings

from calc_office import WITHOUT, Calc, MissingError, needed_office, running
from evenheft.hosts.calc import OLDEST_OFFICE
from evenheft.hosts.calc import extension as package

collect_ignore = ["calc_driver.py"]  # it runs under LibreOffice's Python, which alone has `uno`

# A busy machine is no failure: nothing here is judged by the clock.
settings.register_profile("evenheft", deadline=None)
# For a long look by hand: bash tests/run --hypothesis-profile=deep
settings.register_profile("deep", deadline=None, max_examples=2000)
# For tests/mutation.py, which runs them thousands of times.
settings.register_profile("quick", deadline=None, max_examples=20, derandomize=True, database=None)
settings.load_profile("evenheft")


def without(program: str, why: str) -> NoReturn:
    """Skip for want of a program. In CI the real program must be there, and its absence fails."""
    if os.environ.get("CI") and not os.environ.get(WITHOUT):
        pytest.fail(f"CI needs {program}: {why}")
    pytest.skip(f"needs {program}: {why}")


@pytest.fixture(scope="session")
def office_at_hand() -> None:
    """A LibreOffice on this machine that is new enough."""
    try:
        needed_office()
    except MissingError as missing:
        without(f"LibreOffice {OLDEST_OFFICE} with Python", str(missing))


@pytest.fixture(scope="session")
def poppler() -> None:
    """Poppler's programs, which read printed pages."""
    if shutil.which("pdftotext") is None:
        without("poppler", "pdftotext is not on the path")


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
