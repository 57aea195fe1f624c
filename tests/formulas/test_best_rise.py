"""The best of several head rises, at the formula: against numpy's weighted mean, blanks left out, slips refused."""

from __future__ import annotations

import numpy as np
import pytest

from formula_answers import heft
from parity_cases import column

RISES, DOUBTS = (1.10, 1.32, 1.18, 1.25), (0.30, 0.20, 0.25, 0.40)


def test_the_best_rise_is_the_weighted_mean() -> None:
    weights = 1 / np.array(DOUBTS) ** 2
    assert heft("HEFT_BEST_RISE", column(*RISES), column(*DOUBTS), "rise") == pytest.approx(
        np.average(RISES, weights=weights)
    )
    assert heft("HEFT_BEST_RISE", column(*RISES), column(*DOUBTS), "doubt") == pytest.approx(weights.sum() ** -0.5)
    assert heft("HEFT_BEST_RISE", column(*RISES), column(*DOUBTS), "count") == 4.0


def test_blanks_are_left_out_and_units_are_kept() -> None:
    some = heft("HEFT_BEST_RISE", column(1.10, None, 1.32, ""), column(0.3, None, 0.2, 0.4))
    assert some == heft("HEFT_BEST_RISE", column(1.10, 1.32), column(0.3, 0.2))
    inches = heft(
        "HEFT_BEST_RISE", column(*(r / 2.54 for r in RISES)), column(*(d / 2.54 for d in DOUBTS)), "rise", "g in"
    )
    assert inches == pytest.approx(float(str(heft("HEFT_BEST_RISE", column(*RISES), column(*DOUBTS), "rise"))) / 2.54)


def test_the_sums_of_a_spreadsheet_give_the_same() -> None:
    u = np.array(DOUBTS) / 2
    w, r = 1 / u**2, np.array(RISES)
    for what in ("rise", "doubt", "next doubt", "count", "scatter", "chi square", "line"):
        by_sums = heft("HEFT_RISE_FROM_SUMS", 4.0, float(w.sum()), float((w * r).sum()), float((w * r * r).sum()), what)
        at_once = heft("HEFT_BEST_RISE", column(*RISES), column(*DOUBTS), what)
        assert by_sums == (at_once if isinstance(at_once, str) else pytest.approx(at_once, rel=1e-6)), what


def test_rises_that_do_not_belong_together_are_told() -> None:
    line = heft("HEFT_BEST_RISE", column(0.2, 2.4, 1.2), column(0.1, 0.1, 0.1), "line")
    assert line
    assert heft("HEFT_BEST_RISE", column(*RISES), column(*DOUBTS), "line") == ""


@pytest.mark.parametrize(
    ("rises", "doubts", "line"),
    [
        (column(1.1, 1.2), column(0.1), "ranges of equal shape"),
        (column(1.1, 1.2), column(0.0, 0.1), "doubts"),
        (column(1.1, 40.0), column(0.1, 0.1), "rises"),
    ],
)
def test_what_is_no_rise_is_refused(rises: object, doubts: object, line: str) -> None:
    message = str(heft("HEFT_BEST_RISE", rises, doubts))
    assert message.startswith("! ")
    assert line in message


def test_a_single_vague_dry_fit_counts() -> None:
    # Its weight is below 1: u is 2 cm.
    assert heft("HEFT_RISE_FROM_SUMS", 1.0, 0.25, 0.375, 0.5625, "rise") == pytest.approx(1.5)
