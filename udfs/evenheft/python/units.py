"""A mass or a length that a person typed as text, in g and cm."""

from __future__ import annotations

from evenheft.mechanics.units import BY_SYMBOL, read_quantity
from evenheft.python.numbers_or_arrays import typed


def grams(text: str) -> float:
    """Read a mass with its unit as g. One text only: arrays are not taken.

    Args:
        text: such as "7.1 oz", "13 3/4 oz" or "395"; without a unit it is g [-].

    Raises:
        ValueError: it is no mass, or could be read in two ways.

    Source: NIST SP 811 (2008), Appendix B.8: 1 oz = 28.349523125 g.

    >>> grams("13 3/4 oz")
    389.80594
    """
    return typed("text", text, lambda mass: read_quantity(mass, "mass", BY_SYMBOL["g"]))


def cm(text: str) -> float:
    """Read a length with its unit as cm. One text only: arrays are not taken.

    Args:
        text: such as "44 1/2 in", "3 ft 8 1/2 in" or "1.13 m"; without a unit it is cm [-].

    Raises:
        ValueError: it is no length, or could be read in two ways.

    Source: NIST SP 811 (2008), Appendix B.8: 1 in = 2.54 cm.

    >>> cm("44 1/2 in")
    113.03
    """
    return typed("text", text, lambda length: read_quantity(length, "length", BY_SYMBOL["cm"]))
