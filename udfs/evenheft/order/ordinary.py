"""Rules of the trade as ordinary formulas, written from the constants and words of mechanics: none is typed again."""

from __future__ import annotations

from typing import get_args

from evenheft.mechanics import rules
from evenheft.mechanics.doubt import HAIR, Verdict
from evenheft.mechanics.swingweight import LETTERS, MOMENT_AT_A0, POINT

IN, LOW, HIGH, RE_MEASURE = get_args(Verdict)
WITHIN, TOO_SHORT, TOO_LONG = get_args(rules.Limit)


def number(value: float) -> str:
    """Write a number as a formula holds it: every digit of it, and no more.

    >>> number(35.56), number(1e-9), number(126.01363029062501)
    ('35.56', '1e-09', '126.01363029062501')
    """
    return f"{value:.12g}" if float(f"{value:.12g}") == value else repr(value)


def points(moment: str) -> str:
    """Write the swingweight [points] of a moment [g cm]."""
    return f"({moment}-{number(MOMENT_AT_A0)})/{number(POINT)}"


def points_of_moment(moment: str) -> str:
    """Write what a difference of moments [g cm] is in swingweight [points]."""
    return f"{moment}/{number(POINT)}"


def label(tenths: str) -> str:
    """Write the label of a swingweight that is rounded to a tenth [points]."""
    letter = f'MID("{LETTERS}",INT({tenths}/10)+1,1)'
    return f'{letter}&TEXT({tenths}-10*INT({tenths}/10),"0.0")'


def verdict(value: str, target: str, tolerance: str, doubt: str = "") -> str:
    """Write the verdict on a value [any unit]; without a doubt a club is never to be measured again."""
    hair = f"{number(HAIR)}*MAX(1,ABS({value}),ABS({target}))"
    off, out = f"ABS({value}-{target})", f'IF({value}<{target},"{LOW}","{HIGH}")'
    if not doubt:
        return f'IF({off}<={tolerance}+{hair},"{IN}",{out})'
    out = f'IF({off}>{tolerance}+{doubt}+{hair},{out},"{RE_MEASURE}")'
    return f'IF({off}<={tolerance}-{doubt}+{hair},"{IN}",{out})'


def length_rule(length: str, other: str, local_rule: str = "") -> str:
    """Write whether a club's length [cm] is within the rules.

    Args:
        length: the length [cm].
        other: a formula of its being no putter [-].
        local_rule: a formula of the local rule's being in effect; never, where left out [-].
    """
    above, below = 1 + HAIR, 1 - HAIR
    longest = number(rules.LONGEST * above)
    if local_rule:
        longest = f"IF({local_rule},{number(rules.LONGEST_BY_LOCAL_RULE * above)},{longest})"
    long = f'IF(AND({length}>{longest},{other}),"{TOO_LONG}","{WITHIN}")'
    return f'IF({length}<{number(rules.SHORTEST * below)},"{TOO_SHORT}",{long})'
