"""Several readings of one thing, typed side by side in one cell: "75.3 75.4 75.3".

What a single value can mean, it means: `44 1/2 in` and `3 ft 8 1/2 in` are one length, never two.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from evenheft.mechanics.units import Dimension, Unit, find_unit, numbers_with_units, read_number, read_quantity

_ALIKE = 0.05
"""How far the readings of one thing may be apart, as a share of their mean; beyond it one of them is a slip [-].

One swing miscounted in ten is 0.1, a figure turned round in 75.3 far more.
"""
_LONGEST = 255
"""A longer text holds no readings [characters]."""
SECONDS = ("s", "sec", "second", "seconds")
"""What a person writes behind a time."""
_APART = re.compile(r"\s*[;\n]\s*|,\s+")


def read_quantities(text: str, dimension: Dimension, default: Unit) -> list[float]:
    """Read, in g or cm, the one mass or length that a person typed, or several readings of it.

    Readings stand apart by spaces, line ends or semicolons, or by commas that a space follows. A unit behind the
    last one holds for all that have none.

    Args:
        text: what the cell holds [-].
        dimension: "mass" or "length" [-].
        default: the unit meant where the text names none [-].

    Raises:
        ValueError: the text holds neither one nor several, or could be read in two ways.

    >>> from evenheft.mechanics.units import BY_SYMBOL
    >>> read_quantities("75,3 75,4 75,3", "length", BY_SYMBOL["cm"])
    [75.3, 75.4, 75.3]
    >>> read_quantities("44 1/2 in", "length", BY_SYMBOL["cm"])
    [113.03]
    >>> [round(length, 3) for length in read_quantities("29 1/2 29 5/8 in", "length", BY_SYMBOL["cm"])]
    [74.93, 75.248]
    """
    try:
        return [read_quantity(text, dimension, default)]
    except ValueError as error:
        pieces = _pieces(text)
        if len(pieces) < 2:
            raise
        named = pieces[-1][1]
        try:
            units = [find_unit(unit or named) if unit or named else default for _, unit in pieces]
        except ValueError:
            raise error from None
        if any(unit.dimension != dimension for unit in units):
            raise
    return [value * unit.factor for (value, _), unit in zip(pieces, units, strict=True)]


def read_numbers(text: str, own: Sequence[str] = ()) -> list[float]:
    """Read the one number that a text holds, or several readings, by the rules of `read_quantities`.

    Args:
        text: what the cell holds [-].
        own: what may stand behind a number and means what is meant without it [-].

    Raises:
        ValueError: the text holds neither, or could be read in two ways.

    >>> read_numbers("19.1 19,0 19.2")
    [19.1, 19.0, 19.2]
    >>> read_numbers("19.1s 19.0 s", SECONDS)
    [19.1, 19.0]
    """
    try:
        return [read_number(text)]
    except ValueError:
        pieces = _pieces(text)
        if len(pieces) < (1 if own else 2) or any(unit and unit.lower() not in own for _, unit in pieces):
            raise
    return [value for value, _ in pieces]


def alike(readings: Sequence[float], least: float = 0.0) -> bool:
    """Tell whether readings can be of one thing [-].

    Args:
        readings: what was read [any unit].
        least: a difference that is always good enough, for things too small for a share of them [the same unit].

    >>> alike([75.3, 75.4]), alike([75.3, 57.4])
    (True, False)
    """
    middle = sum(readings) / len(readings)
    return max(readings) - min(readings) <= max(_ALIKE * abs(middle), least) * (1 + 1e-9)


def _pieces(text: str) -> list[tuple[float, str]]:
    """Cut a text into the readings that it may hold, each with its unit's text; empty where it holds anything else."""
    if len(text) > _LONGEST or "+" in text:  # a story, or a sum: not two readings
        return []
    try:
        return [piece for part in _APART.split(text.strip()) for piece in numbers_with_units(part)]
    except ValueError:
        return []
