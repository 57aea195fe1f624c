"""Every case of the parity table through xlwings' own library, as VBA hands it over, compared to the last bit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from built_vba import commands, library, running
from evenheft import __version__
from evenheft.formulas import REGISTRY
from evenheft.formulas.serving import server
from evenheft.hosts.excel.functions.served import HOST
from parity_cases import CASES, Case
from windows_client import ALIKE, LEFT_OUT, call, carried_out, number, one_row, raw, value
from windows_user import User

POSSIBLE = [case for case in CASES if len(case.args) <= len(REGISTRY[case.formula].arguments)]
"""Excel itself refuses an argument too many."""


@pytest.fixture(scope="module")
def opening(installed: tuple[User, str]) -> list[str]:
    """The orders that load the library and start Python as the installed add-in's VBA does."""
    user, _ = installed
    excel = running(user.add_in, user.profile)
    excel.run("HEFT_VERSION")
    (command,) = commands(excel)
    assert str(user.python) in command
    return [f"library {library(excel)}", f"start {command}"]


def from_cells(given: object) -> list[str]:
    """Value2 of a range: of one cell its value, of more an array of two dimensions."""
    if isinstance(given, tuple) and (len(given), len(given[0])) == (1, 1):
        return value(given[0][0])
    return value(given)


def typed(given: object) -> list[str]:
    """What stands in the formula itself: one row in braces is an array of one dimension."""
    if isinstance(given, tuple) and len(given) == 1:
        return one_row(given[0])
    return value(given)


def answer(formula: str, arguments: Sequence[object]) -> list[str]:
    """What the plain call answers, as Excel takes it: one cell as that, one row in one dimension."""
    found = server(REGISTRY[formula], HOST)(*arguments)
    if not isinstance(found, tuple):
        return value(found)
    if len(found) == 1:
        return value(found[0][0]) if len(found[0]) == 1 else one_row(found[0])
    return value(found)


def asked(formula: str, arguments: Sequence[object], how: Callable[[object], list[str]]) -> list[str]:
    """A call with every argument in its place, those left out with their mark, as VBA hands them over."""
    left_out = len(REGISTRY[formula].arguments) - len(arguments)
    given = [how(argument) for argument in arguments] + [value(LEFT_OUT)] * left_out
    return call(formula, given, answer(formula, arguments))


def need_all_alike(calls: list[list[str]], opening: list[str], folder: Path) -> None:
    printed = carried_out([*opening, *(line for lines in calls for line in lines)], folder)
    assert printed[0].startswith("started")
    assert printed[1:] == [f"{len(calls)} alike, 0 differ"]
    print(f"{len(calls)} {ALIKE}")


@pytest.mark.parametrize("how", [from_cells, typed], ids=["from cells", "typed"])
def test_the_whole_table(how: Callable[[object], list[str]], opening: list[str], tmp_path: Path) -> None:
    assert len(POSSIBLE) > 1000
    need_all_alike([asked(case.formula, case.args, how) for case in POSSIBLE], opening, tmp_path)


def good(formula: str) -> Case:
    return next(case for case in POSSIBLE if case.formula == formula and case.name == "good")


@pytest.mark.parametrize("shape", [(4, 1), (1, 4), (2, 3), (1, 1)], ids="{0[0]}x{0[1]}".format)
def test_ranges_of_each_shape(shape: tuple[int, int], opening: list[str], tmp_path: Path) -> None:
    """Every formula's good arguments, repeated over a range; what takes a table already keeps it."""

    def spread(argument: object) -> object:
        if isinstance(argument, tuple):
            return argument
        return tuple((argument,) * shape[1] for _ in range(shape[0]))

    calls = [
        asked(formula, [spread(argument) for argument in good(formula).args], from_cells)
        for formula in REGISTRY
        if good(formula).args
    ]
    need_all_alike(calls, opening, tmp_path)


def test_one_bad_row_does_not_spoil_its_neighbours(opening: list[str], tmp_path: Path) -> None:
    masses = ((431.0,), (None,), ("heavy",), (402.0,))
    balances = ((75.3,), (74.8,), (74.3,), (74.0,))
    need_all_alike([asked("HEFT_POINTS", (masses, balances), from_cells)], opening, tmp_path)


def test_values_that_only_macros_hand_over(opening: list[str], tmp_path: Path) -> None:
    """Currency, dates, whole numbers, an error that xlwings does not know."""
    units = value("in"), value("cm")
    printed = carried_out(
        [
            *opening,
            *raw("HEFT_CONVERT", ["currency 445000"], *units),
            *raw("HEFT_CONVERT", ["whole 10"], *units),
            *raw("HEFT_CONVERT", ["error -2146826243"], *units),
            *raw("HEFT_LABEL", [f"date {number(46054)}"]),
            *raw("HEFT_POINTS", value(431), value(LEFT_OUT), value(LEFT_OUT), value(LEFT_OUT)),
            *raw("HEFT_POINTS", value(431), value(None), value(LEFT_OUT), value(LEFT_OUT)),
            *raw("HEFT_VERSION"),
            *raw("HEFT_YET_TO_COME", value(1)),
        ],
        tmp_path,
    )
    assert printed[1:8] == [
        "113.03",
        "25.399999999999999",
        '"! value must be a number or a text, got #SPILL!"',
        '"! points must be a number, got the date or time 2026-02-01"',
        '"! balance must be given"',
        '""',
        f'"{__version__}"',
    ]
    assert printed[8].startswith('"! HEFT_YET_TO_COME is not in Evenheft')
