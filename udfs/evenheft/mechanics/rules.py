"""The limits that the game's equipment rules set to a club's length.

R&A and USGA, Equipment Rules, Part 2, 1c: at least 18 in (45.72 cm) and, except for putters, at most
48 in (121.92 cm). Clubs other than putters are measured with the sole on a 60 degree plane, putters along
the shaft. Model Local Rule G-10, which a committee may adopt, sets 46 in (116.84 cm) instead, putters
excepted. All from memory.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from evenheft.mechanics.doubt import HAIR
from evenheft.mechanics.units import CM_PER_INCH

SHORTEST = 18 * CM_PER_INCH
"""The shortest club that the rules allow [cm]."""
LONGEST = 48 * CM_PER_INCH
"""The longest club other than a putter that the rules allow [cm]."""
LONGEST_BY_LOCAL_RULE = 46 * CM_PER_INCH
"""The longest club other than a putter where Model Local Rule G-10 is in effect [cm]."""


Limit: TypeAlias = Literal["within", "too short", "too long"]


def length_limit(length: float, putter: bool = False, *, local_rule: bool = False) -> Limit:
    """Say whether a club's length lies within the rules [-].

    Args:
        length: club length by the 60 degree plane [cm].
        putter: whether the club is a putter [-].
        local_rule: whether Model Local Rule G-10 is in effect [-].

    >>> length_limit(48.25 * 2.54), length_limit(48.25 * 2.54, putter=True)
    ('too long', 'within')
    """
    hair = HAIR * length
    if length < SHORTEST - hair:
        return "too short"
    if length > (LONGEST_BY_LOCAL_RULE if local_rule else LONGEST) + hair and not putter:
        return "too long"
    return "within"
