"""What a builder reads of a dry fit: grams unexplained, a rise and its doubt, what the finished club may be off."""

from __future__ import annotations

import pytest
from pytest import approx

from formula_answers import heft, number

HEADINGS = ("Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Grip (g)", "Epoxy (g)")
CLUB = (200.0, 114.3, 61.2, 110.1, 50.0, 3.0)
SHOP = [["Mass doubt (g)", 0.1], ["Balance doubt (cm)", 0.2]]


def test_a_forgotten_tip_weight_is_told_by_its_grams() -> None:
    """4 g in the tip that nobody typed: today's 5 g let it pass, and every sister was off by 2.3 points."""
    fit = 200 + 61.2 + 50
    for name in ("HEFT_HEAD_RISE", "HEFT_FINISHED", "HEFT_HEAD_RISE_DOUBT"):
        answer = str(heft(name, [HEADINGS], [CLUB], fit + 4, 85.5, "epoxy"))
        assert answer.startswith("! mass must be that of the parts on the dry fit, 311.2 g, within 0.5 g, got 315.2 g")
        assert "4 g unexplained. What is lacking, or not typed?" in answer
    line = heft("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], fit + 4, "epoxy", "line")
    assert line == (
        "4 g unexplained: it weighs more than its parts, and the weighings explain 0.5 g. What is on it that is not "
        "typed?"
    )
    assert number("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], fit + 4, "epoxy", "unexplained") == approx(4)


def test_blank_lacking_counts_as_none_only_where_the_masses_agree() -> None:
    whole = 200 + 61.2 + 50 + 3
    assert heft("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], whole, None, "line") == ""
    assert str(heft("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], whole - 3, None, "line")).startswith(
        "3 g unexplained: it weighs less than its parts"
    )
    assert heft("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], whole - 3, "epoxy", "line") == ""


def test_a_coarser_scale_explains_more() -> None:
    coarse = [["Mass doubt (g)", 1.0]]
    fine = number("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], 311.2, "epoxy", "explained")
    assert fine == 0.5
    assert number("HEFT_UNEXPLAINED", [HEADINGS], [CLUB], 311.2, "epoxy", "explained", None, coarse) > 2


@pytest.mark.parametrize("balance", [60.0, 80.0, 95.0])
def test_a_finished_club_is_refused_wherever_its_head_rise_is(balance: float) -> None:
    """A head 9 cm above the ground was clamped to 6 cm and answered."""
    rise = str(heft("HEFT_HEAD_RISE", [HEADINGS], [CLUB], 311.2, balance, "epoxy"))
    assert rise.startswith("! no head has its centre ")
    for what in ("points", "inertia", "doubt"):
        assert heft("HEFT_FINISHED", [HEADINGS], [CLUB], 311.2, balance, "epoxy", what) == rise


def test_a_guess_of_the_rise_by_kind_is_what_a_group_starts_from() -> None:
    assert heft("HEFT_HEAD_RISE_GUESS", "iron", "head rise") == 0.3
    assert number("HEFT_HEAD_RISE_GUESS", "iron", "head rise", "g in") == approx(0.3 / 2.54)
    assert heft("HEFT_HEAD_RISE_GUESS", "putter") != heft("HEFT_HEAD_RISE_GUESS", "driver")


def test_half_widths_are_read_from_the_defaults_and_a_row_wins() -> None:
    plain = number("HEFT_FINISHED", [HEADINGS], [CLUB], 311.2, 85.5, "epoxy", "doubt", None, SHOP)
    assert plain == number("HEFT_FINISHED", [HEADINGS], [CLUB], 311.2, 85.5, "epoxy", "doubt")
    finer = [["Balance doubt (cm)", 0.05]]
    assert number("HEFT_FINISHED", [HEADINGS], [CLUB], 311.2, 85.5, "epoxy", "doubt", None, finer) < 0.6 * plain
    own = ([(*HEADINGS, "Balance doubt (mm)")], [(*CLUB, 0.5)])
    assert number("HEFT_FINISHED", *own, 311.2, 85.5, "epoxy", "doubt", None, SHOP) == approx(
        number("HEFT_FINISHED", [HEADINGS], [CLUB], 311.2, 85.5, "epoxy", "doubt", None, finer)
    )


def test_a_guess_is_in_more_doubt_than_what_was_taught() -> None:
    guess = number("HEFT_CLUB", [HEADINGS], [CLUB], "doubt")
    taught = number("HEFT_CLUB", [(*HEADINGS, "Head rise (cm)")], [(*CLUB, 1.2)], "doubt")
    blank = number("HEFT_CLUB", [(*HEADINGS, "Head rise (cm)")], [(*CLUB, None)], "doubt")
    sure = number("HEFT_CLUB", [(*HEADINGS, "Head rise (cm)", "Head rise doubt (cm)")], [(*CLUB, 1.2, 0.1)], "doubt")
    assert guess == blank > taught > sure
    by_kind = [["Head rise (cm)", 0.3], ["Head rise doubt (cm)", 0.6]]
    assert number("HEFT_CLUB", [HEADINGS], [CLUB], "doubt", None, by_kind) < guess


def test_rows_together_are_as_doubtful_as_alone() -> None:
    rows = [CLUB, (*CLUB[:5], None), (None,) * 6, ("?", *CLUB[1:])] + [CLUB] * 20
    column = heft("HEFT_CLUB", [HEADINGS], rows, "doubt")
    assert isinstance(column, tuple)
    for row, (cell,) in zip(rows, column, strict=True):
        assert cell == heft("HEFT_CLUB", [HEADINGS], [row], "doubt")
    whole = heft("HEFT_CLUB", [HEADINGS], [CLUB])
    assert isinstance(whole, tuple)
    assert whole[0][-2:] == (column[0][0], heft("HEFT_CLUB", [HEADINGS], [CLUB], "inertia doubt"))


def test_a_doubt_that_is_no_number_is_told() -> None:
    own = ([(*HEADINGS, "Balance doubt (cm)")], [(*CLUB, "little")])
    assert str(heft("HEFT_CLUB", *own, "doubt")).startswith("! Balance doubt (cm) must be")
    assert str(heft("HEFT_CLUB", [HEADINGS], [CLUB], "doubt", None, [["Mass doubt (g)", -1]])).startswith(
        "! defaults: M"
    )
    unlike = [(*CLUB, "little"), *[(*CLUB, 0.1)] * 20]
    column = heft("HEFT_CLUB", own[0], unlike, "points")
    assert isinstance(column, tuple)
    assert str(column[0][0]).startswith("! Balance doubt (cm) must be")
    assert isinstance(column[1][0], float)
