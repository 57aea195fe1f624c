"""What instruments support, at the formulas: blanks left out, one club not enough, all that is refused told."""

from __future__ import annotations

import pytest

from formula_answers import heft
from parity_cases import column


def test_a_set_is_alike_about_its_own_mean() -> None:
    word, worst, offset, count, line = heft("HEFT_ALIKE", column(1.0, None, 1.3, "", 1.0), 0.5)[0]
    assert (word, count) == ("in", 3.0)
    assert (worst, offset) == (pytest.approx(0.2, abs=1e-9), pytest.approx(1.1))
    assert line == "alike: the clubs lie up to 0.2 from their mean, which is +1.1 from target"
    assert str(heft("HEFT_ALIKE", column(1.0, -1.0), 0.5, None, "line")) == (
        "not alike: the clubs lie up to 1 from their mean, which is +0 from target"
    )
    assert heft("HEFT_ALIKE", column(1.1, 2.3, 0.9), 0.5, None, "verdict") == "out"
    assert heft("HEFT_ALIKE", column(0.0, 0.5), 0.25, column(0.2, 0.2), "verdict") == "re-measure"
    assert heft("HEFT_ALIKE", column(0.0, 0.5), 0.25, None, "verdict") == "in"


def test_two_clubs_are_the_fewest_that_can_be_alike() -> None:
    assert heft("HEFT_ALIKE", column(1.1, None), 0.5) == "! deviations must hold at least two clubs, got 1"
    assert heft("HEFT_ALIKE", column(1.1, 1.2), 0.5, column(0.1, None)) == (
        "! deviations must hold at least two clubs, got 1"
    )
    assert heft("HEFT_ALIKE", column(1.1, 1.2), 0.5, column(0.1)) == (
        "! deviations and doubts must be ranges of equal shape"
    )
    assert heft("HEFT_ALIKE", column(1.1, 1.2), 0.5, None, "count") == 2.0


def test_what_no_reading_of_the_balance_can_mend_is_told_with_what_would() -> None:
    message = heft("HEFT_BALANCE_NEEDED", 395.0, 75.3, 0.5, 2.0)
    assert message == (
        "! the scale alone leaves 0.63 points in doubt: a tolerance of at least 0.95 points, or a finer scale"
    )
    message = heft("HEFT_SWINGS_NEEDED", 3.0, 395.0, 75.3, 1.9, 0.2, 0.2, 0.1)
    assert str(message).endswith("kg cm2 in doubt: no number of swings brings it to 3")
    assert str(message).startswith("! mass and balance alone leave ")
    message = heft("HEFT_SWINGS_NEEDED", 9.0, 395.0, 75.3, 1.9, 0.2, 0.2, 10.0)
    assert "swings would have to be counted, more than 200: read the balance finer" in str(message)


def test_the_tolerance_that_a_doubt_supports_is_half_as_much_again() -> None:
    assert heft("HEFT_LEAST_TOLERANCE", 0.5) == 0.75
