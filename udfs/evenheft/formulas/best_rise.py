"""Formulas: what several dry fits of one head model have taught, weighed by their doubts."""

from __future__ import annotations

from evenheft.formulas.arguments import Values, complete_pairs
from evenheft.formulas.kinds import Number, Quantity
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.formulas.wording import Measured, show
from evenheft.mechanics import weighted_mean
from evenheft.mechanics.club import HIGHEST_HEAD_RISE, LOWEST_HEAD_RISE
from evenheft.mechanics.doubt import COVERAGE
from evenheft.mechanics.weighted_mean import UNLIKELY, BestValue, Sums
from evenheft.ooxml.errors import Refused

CATEGORY = "Parts"
_SOURCE = (
    "Inverse-variance mean: J. R. Taylor, An Introduction to Error Analysis, chapter 7 (the resistances 11, 12 and 10 "
    "ohm); widened by sqrt(chi-square / (n - 1)): Particle Data Group, Review of Particle Physics, Introduction."
)
_ANSWERS = (
    Answer("rise", "length unit", "length"),
    Answer("doubt", "length unit", "length"),
    Answer("next doubt", "length unit", "length"),
    Answer("count", "-"),
    Answer("scatter", "length unit", "length"),
    Answer("chi square", "-"),
    Answer("line", "words"),
)
_RISE = Quantity("length", LOWEST_HEAD_RISE, HIGHEST_HEAD_RISE)
_LEAST_DOUBT, _MOST_DOUBT = 1e-4, 20.0
_SPREAD = Argument(
    "spread",
    "By how much heads of one model differ at least (half-width), in cm unless units say otherwise; 0 when left out. "
    "A model's mean and its next head are known no better than that allows.",
    Quantity("length", 0, 5),
    0.0,
)
_MOST_FITS = 1e6


@formula(
    "HEFT_BEST_RISE",
    category=CATEGORY,
    help="Best head rise of several dry fits of one model, weighted by their doubts, with its doubt and that of the "
    "next head. Blank dry fits are left out; the line tells where they do not belong together.",
    arguments=(
        Argument("rises", "Range with the head rise that each dry fit taught, in cm unless units say otherwise.", _RISE,
                 takes="range"),
        Argument("doubts", "Range of equal shape with the doubt of each, in cm unless units say otherwise.",
                 Quantity("length", 0, _MOST_DOUBT), takes="range"),
        what_of(_ANSWERS),
        UNITS,
        _SPREAD,
    ),
    answers=_ANSWERS,
    source=_SOURCE,
    examples=(
        ('=HEFT_BEST_RISE({2.1;2.2;2}, {0.2;0.2;0.6}, "rise")', "2.14211"),
        ('=HEFT_BEST_RISE({2.1;2.2;2}, {0.2;0.2;0.6}, "doubt")', "0.137649"),
        ('=HEFT_BEST_RISE({2;3.2}, {0.2;0.2}, "line")', "2 dry fits lie 0.85 cm apart (sd), further than their doubts "
         "explain (chi-square 72): is one of another model?"),
    ),
)  # fmt: skip
def best_rise(rises: Values, doubts: Values, spread: float) -> tuple[float | str, ...]:
    """Answers of the dry fits that have a rise and a doubt [cm]; half-width of the heads' own difference [cm]."""
    pairs = complete_pairs(rises, doubts, "rises and doubts")
    if not pairs:
        raise Refused("rises must hold at least one dry fit with its doubt, got none")
    for _, doubt in pairs:
        if doubt < _LEAST_DOUBT:
            raise Refused("each of the doubts must be more than {0}, got {1}: no dry fit is without doubt",
                          Measured(_LEAST_DOUBT, "length"), Measured(doubt, "length"))  # fmt: skip
    sums = weighted_mean.sums_of([rise for rise, _ in pairs], [doubt / COVERAGE for _, doubt in pairs])
    return _answers(sums, spread)


@formula(
    "HEFT_RISE_FROM_SUMS",
    category=CATEGORY,
    help="The same as HEFT_BEST_RISE from sums that a long list has gathered by SUMIFS or SUMPRODUCT, where each dry "
    "fit has the weight 4 / doubt^2 (in 1/cm2).",
    arguments=(
        Argument("count", "How many dry fits.", Number(0, _MOST_FITS, whole=True)),
        Argument("weights", "Sum of their weights 4 / doubt^2, in 1/cm2.", Number(0, 1e15)),
        Argument("weighted", "Sum of weight x rise, in 1/cm.", Number(-1e16, 1e16)),
        Argument("squares", "Sum of weight x rise x rise.", Number(0, 1e17)),
        what_of(_ANSWERS),
        UNITS,
        _SPREAD,
    ),
    answers=_ANSWERS,
    source=_SOURCE,
    examples=(('=HEFT_RISE_FROM_SUMS(3, 844.444, 1808.89, 3877.78, "rise")', "2.14211"),),
)
def rise_from_sums(
    count: float, weights: float, weighted: float, squares: float, spread: float
) -> tuple[float | str, ...] | str:
    """Answers from the count [-] and sums [1/cm2, 1/cm, -] of dry fits; the heads' own difference [cm]."""
    if count == 0:
        return ""
    if weights <= 0:
        raise Refused(f"weights must be more than 0 1/cm2 where count is {show(count)}, got {show(weights)}")
    mean = weighted / weights
    if not LOWEST_HEAD_RISE <= mean <= HIGHEST_HEAD_RISE:
        raise Refused("weighted / weights must be a head rise from {0} to {1}, got {2}",
                      *(Measured(rise, "length") for rise in (LOWEST_HEAD_RISE, HIGHEST_HEAD_RISE, mean)))  # fmt: skip
    return _answers(Sums(count, weights, weighted, squares), spread)


def _answers(sums: Sums, spread: float) -> tuple[float | str, ...]:
    # A half-width is taken as a rectangle (JCGM 100, 4.3.7); doubts are stated as U = 2 u.
    best = weighted_mean.best_value(sums, spread / 3**0.5)
    doubts = (COVERAGE * best.doubt, COVERAGE * best.next_doubt)
    return best.mean, *doubts, sums.number, best.scatter, best.chi_square, apart(best, sums.number)


def apart(best: BestValue, count: float) -> str:
    """Say in a line that dry fits do not belong together, or "" where they do."""
    if best.probability >= UNLIKELY:
        return ""
    return (
        f"{show(count)} dry fits lie {best.scatter:.2f} cm apart (sd), further than their doubts explain "
        f"(chi-square {best.chi_square:.3g}): is one of another model?"
    )
