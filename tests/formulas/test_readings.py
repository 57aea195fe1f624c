"""Several readings: what a builder types into one cell or several, and reads."""

from __future__ import annotations

from typing import Any

import pytest
from pytest import approx

from evenheft.formulas import REGISTRY, call
from evenheft.ooxml.text import LONGEST_LINE
from formula_answers import heft, number


def test_one_cell_or_cells_of_their_own() -> None:
    for cells in ("75.3 75.4 75.3", "75,3 75,4 75,3 cm", [[75.3], [75.4], [75.3]], [[75.3, "75.4; 75.3", None]]):
        assert number("HEFT_READINGS", cells, "mean", 0.1, "cm") == approx(75.3 + 0.1 / 3)
        assert number("HEFT_READINGS", cells, "scatter", 0.1, "cm") == approx(0.0577350)
        assert number("HEFT_READINGS", cells, "count", 0.1, "cm") == 3


def test_units_are_understood_as_in_single_cells() -> None:
    assert number("HEFT_READINGS", "29 1/2 29 5/8 in", "mean", None, "cm") == approx(29.5625 * 2.54)
    assert number("HEFT_READINGS", [[29.5], ["74.93 cm"]], "mean", None, "in") == approx(29.5)
    assert number("HEFT_READINGS", "19.1 s, 19.2 s, 19.0 s", "mean", 0.1, "s") == approx(19.1)
    assert number("HEFT_READINGS", "19.1 19,2 19.0", "mean") == approx(19.1)


def test_a_scatter_that_the_instrument_does_not_explain_is_told() -> None:
    assert heft("HEFT_READINGS", "75.3 75.4", "line", 0.1, "cm") == ""
    assert heft("HEFT_READINGS", "75.3 75.6", "line", 0.1, "cm") == (
        "2 readings lie 0.3 cm apart, more than +- 0.1 cm explains: read again"
    )
    assert heft("HEFT_READINGS", "75.3 75.6", "line", "1 mm", "cm") == (
        "2 readings lie 0.3 cm apart, more than +- 0.1 cm explains: read again"
    )
    assert heft("HEFT_READINGS", "75.3 75.6", "line") == ""
    assert number("HEFT_READINGS", "75.3 75.4", "doubt", 0.1, "cm") == 0.1
    assert number("HEFT_READINGS", "75.3 75.4 75.9", "doubt", 0.1, "cm") > 0.3


@pytest.mark.parametrize("name", ["HEFT_POINTS", "HEFT_MOMENT", "HEFT_SWINGWEIGHT"])
def test_a_measured_argument_takes_several_readings(name: str) -> None:
    # Halves and quarters, which binary fractions hold exactly.
    assert heft(name, "395.0 395.5", "75,25; 75,75") == heft(name, 395.25, 75.5)
    assert heft(name, [["395.0 395.5"], [402]], 75.5) == heft(name, [[395.25], [402]], 75.5)


def test_a_swing_takes_several_times() -> None:
    assert number("HEFT_INERTIA", 395, 75.3, "19.0 19.2 18.8", None, None, None, None, 10) == approx(
        number("HEFT_INERTIA", 395, 75.3, 1.9)
    )


def test_a_row_of_parts_takes_several_readings() -> None:
    headings = [["Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)", "Grip (g)", "Epoxy (g)"]]
    once = heft("HEFT_CLUB", headings, [[200.1, 45, 65, 46, 50, 2.2]], "points")
    assert heft("HEFT_CLUB", headings, [["200 200.2", 45, "65", "46 in", "49.9; 50.1", "2 2.4"]], "points") == once


def test_what_a_tape_reads_once_stays_one_length() -> None:
    assert number("HEFT_CONVERT", "44 1/2 in", "cm", "in") == approx(44.5)
    assert number("HEFT_CONVERT", "3 ft 8 1/2 in", "cm", "in") == approx(44.5)
    assert number("HEFT_CONVERT", "44 1/2 44 5/8 in", "cm", "in") == approx(44.5625)


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_READINGS", ("75.3 57.3", "mean", 0.1, "cm"),
         "! readings must be one value, or readings of one thing that are alike, not from 57.3 cm to 75.3 cm"),
        ("HEFT_POINTS", ("395 75.3", 75.3),
         "! mass must be one value, or readings of one thing that are alike, not from 75.3 g to 395 g, got 395 75.3"),
        ("HEFT_POINTS", ("395 395.2", "29.6 29.7"),
         "! balance must be beyond the fulcrum at 35.56 cm, got 29.65 cm: inches?"),
        ("HEFT_POINTS", ("13.9 14", 75.3), "! mass must be from 50 g to 2000 g, got 13.9 14: ounces?"),
        ("HEFT_POINTS", ("1,130 1,131", 75.3), "! mass: 1,130 may be 1.130 or 1130: write one of them"),
        ("HEFT_READINGS", ("75.3 x", "mean", 0.1, "cm"),
         "! readings: the unit x is not known: use g, oz, kg, lb, mg, cm, in, mm, m, ft, g cm, in oz, kg cm2, g cm2, "
         "oz in2"),
        ("HEFT_READINGS", ("? 75.3", "mean", 0.1, "cm"),
         "! readings must be a length such as 75.3 or 29 1/2 in, got ? 75.3"),
        ("HEFT_READINGS", ("75.3 75.4", "mean", -0.1, "cm"), "! half_width must be 0 or more, got -0.1"),
        ("HEFT_READINGS", ("75.3 75.4", "mean", 0.1, "stone"),
         "! unit: the unit stone is not known: use g, oz, kg, lb, mg, cm, in, mm, m, ft, g cm, in oz, kg cm2, g cm2, "
         "oz in2"),
        ("HEFT_READINGS", ([[None], [" "]], "mean"), ""),
        ("HEFT_READINGS", ([["! no scale"], [395]], "mean"), "! no scale"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str) -> None:
    assert heft(name, *args) == message


def test_a_message_handed_on_is_one_short_line() -> None:
    handed_on = call(REGISTRY["HEFT_READINGS"], ["! \x1b[2J\n" + "m" * 400])
    assert isinstance(handed_on, str)
    assert handed_on.startswith("! [2J mmm")
    assert len(handed_on) == LONGEST_LINE
    assert handed_on.isprintable()


def test_without_an_instruments_half_width_only_the_scatter_is_in_doubt() -> None:
    assert number("HEFT_READINGS", "75.3", "doubt") == 0
    assert number("HEFT_READINGS", "75.3", "doubt", 0.1, "cm") == 0.1
    # Two readings 0.2 apart: s / sqrt(2) is 0.1, Student's t for one degree of freedom at 95 % is 12.706.
    assert number("HEFT_READINGS", "75.2 75.4", "doubt") == pytest.approx(1.2706, rel=1e-4)
