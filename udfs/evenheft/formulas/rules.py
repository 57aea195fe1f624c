"""Formulas: the equipment rules' limits on length."""

from __future__ import annotations

from evenheft.formulas.arguments import CLUB_LENGTH
from evenheft.formulas.kinds import Choice
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import rules

CATEGORY = "Judging"


LOCAL_RULE = "G-10"
"""What a committee may adopt: see mechanics.rules."""


@formula(
    "HEFT_LENGTH_LIMIT",
    category=CATEGORY,
    help='Says whether a club\'s length is "within" the equipment rules, "too short" (under 18 in) or "too long" '
    "(over 48 in, putters excepted). Measured with the sole on the 60 degree plane, a putter along its shaft.",
    arguments=(
        Argument("length", "Club length, butt to ground line, in cm unless units say otherwise.", CLUB_LENGTH),
        Argument("putter", '"putter" where the club is one, "other" (used when left out) where not.',
                 Choice(("putter", "other")), "other"),
        UNITS,
        Argument("local_rule", '"G-10" where the committee has adopted Model Local Rule G-10: 46 in, putters excepted. '
                 '"none" (used when left out) where not.', Choice(("none", LOCAL_RULE)), "none"),
    ),
    answers=(Answer("verdict", "word"),),
    source="R&A and USGA Equipment Rules, Part 2, 1c; Model Local Rule G-10 (from memory).",
    examples=(
        ('=HEFT_LENGTH_LIMIT("46 1/2 in", "other", "g cm", "G-10")', "too long"),
        ('=HEFT_LENGTH_LIMIT("48 1/4 in")', "too long"), ('=HEFT_LENGTH_LIMIT("48 1/4 in", "putter")', "within")),
)  # fmt: skip
def length_limit(length: float, putter: str, local_rule: str) -> str:
    """Return the word [-] for a length [cm]."""
    return rules.length_limit(length, putter == "putter", local_rule=local_rule == LOCAL_RULE)
