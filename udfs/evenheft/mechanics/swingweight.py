"""Swingweight: the moment of a club about a fulcrum near its butt, on the trade's scale.

Common practice, from memory: fulcrum 14 in from the butt, D0 at 213.5 in oz, one point
1.75 in oz. So A0 stands at 161.0 in oz, and a point is 126.01 g cm.
"""

from __future__ import annotations

import re

from evenheft.mechanics.units import CM_PER_INCH, GRAMS_PER_OUNCE, read_number

FULCRUM = 14 * CM_PER_INCH
"""Where the swingweight scale pivots, from the butt [cm] (common practice)."""
POINT = 1.75 * CM_PER_INCH * GRAMS_PER_OUNCE
"""The moment that one swingweight point stands for [g cm] (common practice)."""
MOMENT_AT_A0 = 161.0 * CM_PER_INCH * GRAMS_PER_OUNCE
"""The moment at A0 [g cm] (common practice)."""
LETTERS = "ABCDEFG"
HIGHEST = 69.9
"""The highest point that has a label, G9.9 [points]."""


def moment(mass: float, balance: float, fulcrum: float = FULCRUM) -> float:
    """Moment of a club about the fulcrum [g cm].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        fulcrum: distance from the butt to the fulcrum [cm].

    >>> moment(430.0, 75.56)
    17200.0
    """
    return mass * (balance - fulcrum)


def moment_about(moment: float, mass: float, new_fulcrum: float, fulcrum: float = FULCRUM) -> float:
    """Carry a moment over to another fulcrum [g cm].

    Args:
        moment: moment about the fulcrum [g cm].
        mass: mass of the club [g].
        new_fulcrum: distance from the butt to the other fulcrum [cm].
        fulcrum: distance from the butt to the fulcrum [cm].

    >>> moment_about(17200.0, mass=430.0, new_fulcrum=36.56)
    16770.0
    """
    return moment + mass * (fulcrum - new_fulcrum)


def points(moment: float) -> float:
    """Swingweight [points] of a moment [g cm] about the 14 in fulcrum.

    >>> points(213.5 * CM_PER_INCH * GRAMS_PER_OUNCE)
    30.0
    """
    return (moment - MOMENT_AT_A0) / POINT


def moment_at(points: float) -> float:
    """Moment [g cm] of a swingweight [points]: the inverse of `points`."""
    return MOMENT_AT_A0 + points * POINT


def label(points: float) -> str:
    """Swingweight as the trade writes it, to a tenth of a point [-].

    The number is rounded first and split after, so that 29.96 is D0.0 and not C10.0.

    Args:
        points: swingweight [points].

    Raises:
        ValueError: the rounded number is off the scale A0.0 .. G9.9.

    >>> label(29.96), label(32.25)
    ('D0.0', 'D2.3')
    """
    # A half goes up, as a person rounds; the hair keeps 32.25 from falling to binary's 32.2499...
    tenths = int((points * 10 + 0.5 + 1e-9) // 1)
    if not 0 <= tenths <= round(HIGHEST * 10):
        raise ValueError("off the scale A0 to G9.9")
    letter, rest = divmod(tenths, 100)
    return f"{LETTERS[letter]}{rest // 10}.{rest % 10}"


def points_from_label(text: str) -> float:
    """Swingweight [points] of a label such as "D2", "d 2.5" or "D2 1/2".

    Raises:
        ValueError: the text is no label of the scale A0 .. G9.9.

    >>> points_from_label("d 2.5")
    32.5
    """
    found = re.fullmatch(r"\s*([A-Ga-g])\s*(\S.*?)?\s*", text)
    if found is None or found[2] is None:
        raise ValueError('must be a label like "D2" or "D2.5" from A0 to G9.9')
    try:
        rest = read_number(found[2])
    except ValueError:
        rest = -1.0
    if not 0 <= rest < 10:
        raise ValueError('must be a label like "D2" or "D2.5" from A0 to G9.9')
    return 10.0 * LETTERS.index(found[1].upper()) + rest
