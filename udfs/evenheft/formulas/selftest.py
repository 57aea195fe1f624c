"""Formulas: whether this installation can be trusted, told in a cell."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import evenheft
from evenheft import __version__
from evenheft.formulas.calling import call
from evenheft.formulas.kinds import Typed
from evenheft.formulas.registry import REGISTRY, Answer, Argument, formula
from evenheft.formulas.wording import show
from evenheft.ooxml.errors import Refused

LONGEST_VERSION = 40
"""No version is longer [characters]."""
CATEGORY = "Tools"

ROD = {"mass": 300.0, "balance": 50.0, "period": 1.638226327340569}
"""A uniform rod of 300 g and 100 cm hung by its end: T = 2 pi sqrt(2 L / 3 g), and m L^2 / 3 = 1000 kg cm2."""

KNOWN_ANSWERS: tuple[tuple[str, tuple[object, ...], float | str], ...] = (
    ("HEFT_MOMENT", (430, 75.56), 17200.0),
    ("HEFT_POINTS", ("14 oz", "29.25 in"), 30.0),
    ("HEFT_FROM_LABEL", ("D2 1/2",), 32.5),
    ("HEFT_LABEL", (29.96,), "D0.0"),
    ("HEFT_INERTIA", tuple(ROD.values()), 1000.0),
    ("HEFT_CONVERT", (1, "in", "cm"), 2.54),
    ("HEFT_VERDICT", (33, "D2", 0.5, 0.2), "high"),
    ("HEFT_MOMENT", (None, 75.56), ""),
    ("HEFT_MOMENT", (430, 753), "! balance must be more than 0 cm and less than 145 cm, got 753: millimetres?"),
)
"""Calls whose answers follow from a definition or a handbook, and from nothing else in this package."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What an add-in was built from, which may not be what is running now."""

    version: str
    folder: str
    """The folder that the add-in's own copy of this package lies in."""
    formulas: tuple[str, ...]


_expected: list[Expected] = []


def expect(*, version: str, folder: str, formulas: list[str]) -> None:
    """Tell the selftest what this host's add-in carries; a host that carries a copy of the package calls it once."""
    _expected[:] = [Expected(version, folder, tuple(formulas))]


@formula(
    "HEFT_SELFTEST",
    category=CATEGORY,
    help='"ok", with the version and the program, where Evenheft is whole and computes known answers rightly; '
    "otherwise the first thing that is wrong.",
    arguments=(
        Argument(
            "made_with",
            "Version of Evenheft that the workbook was made with, such as 0.1.0: an older installation says so. "
            "Left out, it is not compared.",
            Typed("version"),
            None,
        ),
    ),
    answers=(Answer("verdict", "text"),),
    source="Known answers from definitions and handbooks; see the module.",
    examples=(("=HEFT_SELFTEST()", f"ok, evenheft {__version__} on the embedded engine"),),
    tells_host=True,
)
def selftest(host: str, made_with: float | str | None) -> str:
    """Judge this installation, in a host of that name [-]."""
    for wrong in (_mixed_modules(), _other_than_expected(), _wrong_answer(), _workbook_is_newer(made_with)):
        if wrong:
            raise Refused(wrong)
    return f"ok, evenheft {__version__} on {host}"


def _mixed_modules() -> str | None:
    """Find a module of this package that was loaded from another copy of it."""
    home = Path(evenheft.__file__).parent
    for name, module in sorted(sys.modules.items()):
        if name.startswith("evenheft."):
            file = getattr(module, "__file__", None)
            if file is not None and home not in Path(file).parents:
                return (
                    f"two copies of evenheft are mixed: {name} comes from {file}, the rest from {home}: "
                    "close the program, remove the older copy and start again"
                )
    return None


def _other_than_expected() -> str | None:
    """Find what differs between the add-in and the package that answers."""
    for expected in _expected:
        if expected.version != __version__:
            return (
                f"the add-in is evenheft {expected.version}, but evenheft {__version__} answers: "
                "close the program, all its windows, and start it again"
            )
        home = Path(evenheft.__file__).parent.parent
        if Path(expected.folder).resolve() != home.resolve():
            return f"another copy of evenheft answers, from {home}: remove it, or install the add-in again"
        different = set(expected.formulas) ^ set(REGISTRY)
        if different:
            return f"the add-in and its package differ in {min(different)}: install the add-in again"
    return None


def _wrong_answer() -> str | None:
    """Find the first known answer that does not come out."""
    for name, given, known in KNOWN_ANSWERS:
        got = call(REGISTRY[name], given)
        same = abs(got - known) < 1e-6 if isinstance(got, float) and isinstance(known, float) else got == known
        if not same:
            return f"{name} gives {show(got)} where {show(known)} is known: install Evenheft again"
    return None


def _workbook_is_newer(made_with: float | str | None) -> str | None:
    if made_with is None:
        return None
    needed = _version(made_with)
    if needed <= _version(__version__):
        return None
    return f"this workbook was made with evenheft {show(made_with)}, this is {__version__}: install the newer one"


def _version(made_with: float | str) -> tuple[int, ...]:
    text = made_with.strip() if isinstance(made_with, str) else show(made_with)
    parts = text.split(".")
    if len(text) > LONGEST_VERSION or not all(part.isdecimal() for part in parts):
        raise Refused(f"made_with must be a version such as {__version__}, got {show(made_with)}")
    return tuple(map(int, parts))
