"""Formulas: whether calculation and scale agree over the clubs of a set."""

from __future__ import annotations

from evenheft.formulas.arguments import ANY_NUMBER, Values, complete_pairs
from evenheft.formulas.kinds import Level
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.mechanics import agreement
from evenheft.ooxml.errors import Refused

_ANSWERS = (
    Answer("bias", "as the values"),
    Answer("sd", "as the values"),
    Answer("lower", "as the values"),
    Answer("upper", "as the values"),
    Answer("count", "clubs"),
    Answer("next lower", "as the values"),
    Answer("next upper", "as the values"),
    Answer("line", "text"),
)
_FEW = 6
"""Clubs below which the limits are told to be wide for want of clubs: t sqrt(1 + 1/n) is then over 2.8 [-]."""


@formula(
    "HEFT_AGREEMENT",
    category="Judging",
    help="How a second way to measure lies to a first: bias (second less first), standard deviation, limits of "
    "agreement (bias +- 1.96 sd), how many clubs, the limits that the next club keeps with 95 %, a line where "
    "clubs are few. Clubs without both are left out.",
    arguments=(
        Argument("first", "Range with each club's value by the first way, e.g. calculated.", Level(ANY_NUMBER),
                 takes="range"),
        Argument("second", "Range of equal shape with its value by the second way, e.g. read off the scale.",
                 Level(ANY_NUMBER), takes="range"),
        what_of(_ANSWERS),
    ),
    answers=_ANSWERS,
    source="Bland and Altman, Lancet 1986; i: 307-310: limits of agreement, bias +- 1.96 sd. For the next club: "
    "bias +- t sqrt(1 + 1/n) sd, t of Student with n - 1 degrees of freedom, any textbook of statistics.",
    examples=(
        ('=HEFT_AGREEMENT({30;31;32}, {30.5;31;33}, "bias")', "0.5"),
        ('=HEFT_AGREEMENT({"D0";"D1";"D2"}, {30.5;31;33}, "upper")', "1.48"),
        ('=HEFT_AGREEMENT({30;31;32}, {30.5;31;33}, "next upper")', "2.98414"),
    ),
)  # fmt: skip
def agree(first: Values, second: Values) -> tuple[float | str, ...]:
    """Bias, sd, lower and upper limit, count and limits for the next club [the values' unit], and a line [-]."""
    pairs = complete_pairs(first, second, "first and second")
    if len(pairs) < 2:
        raise Refused(f"first and second must share at least two clubs, got {len(pairs)}")
    found = agreement.agree([a for a, _ in pairs], [b for _, b in pairs])
    few = f"only {found.clubs} clubs: these limits are wide for want of more; {_FEW} would narrow them"
    return *found, few if found.clubs < _FEW else ""
