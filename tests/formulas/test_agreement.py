"""How many clubs an agreement needs, and when it says that they are few."""

from __future__ import annotations

import pytest

from evenheft.formulas.agreement import _FEW
from formula_answers import heft, number
from parity_cases import column


def test_two_clubs_agree_and_one_is_refused() -> None:
    assert number("HEFT_AGREEMENT", column(30.0, 31.0), column(30.5, 31.0), "count") == 2
    one = heft("HEFT_AGREEMENT", column(30.0, None), column(30.5, 31.0), "count")
    assert one == "! first and second must share at least two clubs, got 1"


@pytest.mark.parametrize(("clubs", "is_few"), [(2, True), (_FEW - 1, True), (_FEW, False)])
def test_few_clubs_are_said_to_be_few(clubs: int, is_few: bool) -> None:
    # The limits for the next club are t sqrt(1 + 1/n) sd: with 6 clubs t of 5 degrees of freedom is 2.571, so 2.78 sd;
    # with 5 it is 2.776, so 3.04 sd (t from a printed table).
    first, second = column(*range(30, 30 + clubs)), column(*(30.4 + n for n in range(clubs)))
    line = str(heft("HEFT_AGREEMENT", first, second, "line"))
    assert line.startswith(f"only {clubs} clubs: ") == is_few
    assert (line == "") != is_few


def test_six_clubs_are_enough() -> None:
    assert _FEW == 6
