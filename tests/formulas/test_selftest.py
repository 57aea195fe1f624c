"""The selftest says ok only where the package is whole, and otherwise what is wrong."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from math import pi, sqrt
from pathlib import Path
from types import ModuleType

import pytest

import evenheft
from evenheft import __version__
from evenheft.formulas import REGISTRY, selftest
from evenheft.formulas.serving import server

HOME = str(Path(evenheft.__file__).parent.parent)


@pytest.fixture(autouse=True)
def no_expectation() -> Iterator[None]:
    selftest._expected.clear()
    yield
    selftest._expected.clear()


def said(*given: object) -> str:
    answer = server(REGISTRY["HEFT_SELFTEST"], "this test")(*given)
    assert isinstance(answer, str)
    return answer


def test_it_names_version_and_host() -> None:
    assert said() == f"ok, evenheft {__version__} on this test"


def test_known_answers_are_known_from_elsewhere() -> None:
    # A uniform rod swung about its end, any handbook of mechanics: T = 2 pi sqrt(2 L / 3 g), I = m L^2 / 3.
    length, mass, g = 100.0, 300.0, 980.665
    assert selftest.ROD["period"] == pytest.approx(2 * pi * sqrt(2 * length / (3 * g)), rel=1e-12)
    rod = next(known for name, _, known in selftest.KNOWN_ANSWERS if name == "HEFT_INERTIA")
    assert rod == pytest.approx(mass * length**2 / 3 / 1000)
    # Common practice, no published source: D0 is 213.5 in oz about 14 in.
    assert 14 * (29.25 - 14) == 213.5


def test_a_wrong_answer_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(selftest, "KNOWN_ANSWERS", (("HEFT_MOMENT", (430, 75.56), 17201.0),))
    assert said() == "! HEFT_MOMENT gives 17200 where 17201 is known: install Evenheft again"


def test_a_module_from_another_copy_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    stray = ModuleType("evenheft.stray")
    stray.__file__ = "/elsewhere/evenheft/stray.py"
    monkeypatch.setitem(sys.modules, "evenheft.stray", stray)
    assert said().startswith("! two copies of evenheft are mixed: evenheft.stray comes from /elsewhere")


@pytest.mark.parametrize(
    ("version", "folder", "formulas", "line"),
    [
        (__version__, HOME, list(REGISTRY), "ok, "),
        ("9.9.9", HOME, list(REGISTRY), f"! the add-in is evenheft 9.9.9, but evenheft {__version__} answers"),
        (__version__, "/elsewhere", list(REGISTRY), "! another copy of evenheft answers"),
        (__version__, HOME, [*REGISTRY, "HEFT_ABSENT"], "! the add-in and its package differ in HEFT_ABSENT"),
    ],
)
def test_an_add_in_that_is_not_what_answers_is_told(version: str, folder: str, formulas: list[str], line: str) -> None:
    selftest.expect(version=version, folder=folder, formulas=formulas)
    assert said().startswith(line)


def test_a_newer_workbook_is_told_and_an_older_is_fine() -> None:
    assert said("0.0.1").startswith("ok")
    assert said(0.0).startswith("ok")
    assert said(None).startswith("ok")
    assert said("99.1") == (
        f"! this workbook was made with evenheft 99.1, this is {__version__}: install the newer one"
    )
    assert said("newest") == f"! made_with must be a version such as {__version__}, got newest"
