"""Formulas: the equipment rules' limits on length."""

from __future__ import annotations

from evenheft.formulas.arguments import CLUB_LENGTH
from evenheft.formulas.kinds import Choice
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import rules

CATEGORY = "Judging"


@formula(
    "HEFT_LENGTH_LIMIT",
    category=CATEGORY,
    help='Says whether a club\'s length is "within" the equipment rules, "too short" (under 18 in) or "too long" '
    "(over 48 in, putters excepted). Measured with the 60 degree plane.",
    arguments=(
        Argument("length", "Club length, butt to ground line, in cm unless units say otherwise.", CLUB_LENGTH),
        Argument("putter", '"putter" where the club is one, "other" (used when left out) where not.',
                 Choice(("putter", "other")), "other"),
        UNITS,
    ),
    answers=(Answer("verdict", "word"),),
    source="R&A and USGA Equipment Rules, Part 2, 1c.",
    examples=(('=HEFT_LENGTH_LIMIT("48 1/4 in")', "too long"), ('=HEFT_LENGTH_LIMIT("48 1/4 in", "putter")', "within")),
)  # fmt: skip
def length_limit(length: float, putter: str) -> str:
    """Judge a length [cm] in a word [-]."""
    return rules.length_limit(length, putter == "putter")
