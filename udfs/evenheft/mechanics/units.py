"""Units of mass and length, and the many ways a shop writes them.

The factors are exact by definition (NIST SP 811, 2008, Appendix B.8: the inch and the
avoirdupois pound; the ounce is the sixteenth part of the pound).
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from math import isinf
from typing import Literal

Dimension = Literal["mass", "length", "moment", "inertia"]

CM_PER_INCH = 2.54
"""Centimetres in an inch [cm/in], exact."""
GRAMS_PER_OUNCE = 28.349523125
"""Grams in an avoirdupois ounce [g/oz], exact."""
G_CM2_PER_KG_CM2 = 1000.0
"""Gram square centimetres in a kilogram square centimetre [g cm2 / kg cm2]."""
STANDARD_GRAVITY = 980.665
"""Standard acceleration of free fall [cm/s2] (3rd CGPM, 1901)."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: what it measures and how many base units (g, cm, g cm, g cm2) it holds."""

    symbol: str
    dimension: Dimension
    factor: float
    plural: str


BY_SYMBOL: dict[str, Unit] = {
    unit.symbol: unit
    for unit in (
        Unit("g", "mass", 1.0, "grams"),
        Unit("oz", "mass", GRAMS_PER_OUNCE, "ounces"),
        Unit("kg", "mass", 1000.0, "kilograms"),
        Unit("lb", "mass", 16 * GRAMS_PER_OUNCE, "pounds"),
        Unit("mg", "mass", 0.001, "milligrams"),
        Unit("cm", "length", 1.0, "centimetres"),
        Unit("in", "length", CM_PER_INCH, "inches"),
        Unit("mm", "length", 0.1, "millimetres"),
        Unit("m", "length", 100.0, "metres"),
        Unit("ft", "length", 12 * CM_PER_INCH, "feet"),
        Unit("g cm", "moment", 1.0, "gram centimetres"),
        Unit("in oz", "moment", CM_PER_INCH * GRAMS_PER_OUNCE, "inch ounces"),
        Unit("kg cm2", "inertia", G_CM2_PER_KG_CM2, "kilogram square centimetres"),
        Unit("g cm2", "inertia", 1.0, "gram square centimetres"),
        Unit("oz in2", "inertia", GRAMS_PER_OUNCE * CM_PER_INCH**2, "ounce square inches"),
    )
}

_SPELLINGS: dict[str, str] = {
    **{symbol: symbol for symbol in BY_SYMBOL},
    "gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "gm": "g", "gms": "g",
    "kilogram": "kg", "kilograms": "kg", "kilo": "kg",
    "milligram": "mg", "milligrams": "mg",
    "ounce": "oz", "ounces": "oz",
    "lbs": "lb", "pound": "lb", "pounds": "lb",
    "inch": "in", "inches": "in", "ins": "in", '"': "in", "''": "in",
    "foot": "ft", "feet": "ft", "'": "ft",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "oz in": "in oz", "in.oz": "in oz", "in-oz": "in oz", "oz.in": "in oz", "g.cm": "g cm", "gcm": "g cm",
    "kgcm2": "kg cm2", "gcm2": "g cm2", "ozin2": "oz in2", "in2 oz": "oz in2",
}  # fmt: skip

UNIT_PAIRS: dict[str, tuple[Unit, Unit]] = {
    f"{mass} {length}": (BY_SYMBOL[mass], BY_SYMBOL[length])
    for mass, length in (("g", "cm"), ("g", "in"), ("g", "mm"), ("oz", "in"), ("oz", "cm"))
}
"""What the `units` argument may say: a unit of mass and a unit of length."""

DEFAULT_UNITS = "g cm"

_WANTED: dict[Dimension, str] = {
    "mass": "must be a mass such as 431 or 15.2 oz",
    "length": "must be a length such as 75.3 or 29 1/2 in",
    "moment": "must be a moment such as 17000 or 236 in oz",
    "inertia": "must be an inertia such as 2700 kg cm2",
}

_PRIMES = str.maketrans({
    "″": '"', "“": '"', "”": '"', "„": '"', "＂": '"',
    "′": "'", "‘": "'", "’": "'",
    "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-",
    "⁄": "/", "∕": "/",
})  # fmt: skip

_FRACTION = r"(?P<over>\d{1,2})/(?P<under>\d{1,2})"
_DECIMAL = r"\d[\d.,]*(?:[eE][+-]?\d{1,3})?|[.,]\d+"
_NUMBER = re.compile(rf"(?P<sign>[+-])?(?:(?:(?P<whole>\d{{1,4}})(?:\s+|-))?{_FRACTION}|(?P<decimal>{_DECIMAL}))")
_SQUARED = re.compile(r"(?<=[a-zA-Z])²")
_UNIT_TEXT = re.compile(r"\s*(?P<unit>''|[\"']|[a-zA-Z][a-zA-Z²2.\-]*(?:\s[a-zA-Z]+2?)?)?\.?\s*")


LONGEST_TYPED = 400
"""A text that is longer is no number, unit or label: no pattern is tried on it [characters]."""


def find_unit(text: str) -> Unit:
    """Return the unit that a text names.

    Args:
        text: a unit's symbol or name, in any case, e.g. "in", "Inches", "kg cm2" [-].

    Raises:
        ValueError: the text names no known unit; the message says what is known.

    >>> find_unit(" Inches ").factor
    2.54
    """
    if text in BY_SYMBOL:  # as most are typed
        return BY_SYMBOL[text]
    spelled = _fold(text[:LONGEST_TYPED]).lower().rstrip(".")
    if spelled in ("gr", "grs"):
        raise ValueError(f"the unit {text.strip()} may be grams or grains: write g")
    symbol = _SPELLINGS.get(spelled)
    if symbol is None:
        quoted = text.strip() if len(text.strip()) <= 20 else f"{text.strip()[:17]}..."
        raise ValueError(f"the unit {quoted} is not known: use {', '.join(BY_SYMBOL)}")
    return BY_SYMBOL[symbol]


def find_unit_pair(text: str) -> tuple[Unit, Unit]:
    """Return the units of mass and length that a `units` argument names, e.g. "g cm", "oz in".

    Raises:
        ValueError: it is not one of the pairs in `UNIT_PAIRS`.

    >>> [unit.symbol for unit in find_unit_pair("G  IN")]
    ['g', 'in']
    """
    pair = UNIT_PAIRS.get(_fold(text[:LONGEST_TYPED]).replace(",", " ").replace("  ", " ").lower())
    if pair is None:
        raise ValueError("must be one of " + ", ".join(f'"{name}"' for name in UNIT_PAIRS))
    return pair


def read_quantity(text: str, dimension: Dimension, default: Unit) -> float:
    """Return, in g or cm, the mass or length that a person typed as text.

    Fractions (`44 1/2 in`, `44-1/2"`, `44½"`), a joined unit (`1.13m`), a decimal comma
    (`75,3 cm`) and feet with inches (`3' 8 1/2"`) are understood. Text with two readings
    is refused, never guessed.

    Args:
        text: what the cell holds [-].
        dimension: "mass" or "length" [-].
        default: the unit meant where the text names none [-].

    Raises:
        ValueError: the text is no such quantity, or could be read in two ways.

    >>> read_quantity("44 1/2 in", "length", BY_SYMBOL["cm"])
    113.03
    >>> read_quantity("75,3", "length", BY_SYMBOL["cm"])
    75.3
    >>> read_quantity("1,130 cm", "length", BY_SYMBOL["cm"])
    Traceback (most recent call last):
    ...
    ValueError: 1,130 may be 1.130 or 1130: write one of them
    """
    if len(text) > LONGEST_TYPED:
        raise ValueError(_WANTED[dimension])
    parts: list[tuple[float, Unit | None]] = []
    for value, named in numbers_with_units(text, wrong=_WANTED[dimension]):
        unit = find_unit(named) if named else None
        if unit is not None and unit.dimension != dimension:
            raise ValueError(f"must be a {dimension}: {unit.plural} are a unit of {unit.dimension}")
        parts.append((value, unit))
    return _add_parts(parts, dimension, default)


def numbers_with_units(text: str, wrong: str = "must be a number") -> list[tuple[float, str]]:
    """Cut a text that holds nothing but numbers, each with or without a unit, into them.

    Args:
        text: what the cell holds [-].
        wrong: what is said of another text [-].

    Returns:
        Each number with the unit's text behind it, "" where there is none [-].

    Raises:
        ValueError: something else is in the text, or a number can be read in two ways.

    >>> numbers_with_units("3 ft 8 1/2 in")
    [(3.0, 'ft'), (8.5, 'in')]
    """
    folded = _fold(text)
    found: list[tuple[float, str]] = []
    at = 0
    while at < len(folded):
        number = _NUMBER.match(folded, at)
        if number is None:
            raise ValueError(wrong)
        named = _UNIT_TEXT.match(folded, number.end())
        assert named is not None  # every piece of the pattern is optional
        if named.end() == at:
            raise ValueError(wrong)
        found.append((_read_number(number), named["unit"] or ""))
        at = named.end()
    return found


def read_number(text: str) -> float:
    """Return the number that a text holds, by the same rules as `read_quantity`, without a unit.

    Raises:
        ValueError: the text is no number, or could be read in two ways.

    >>> read_number("2 1/2")
    2.5
    """
    number = _NUMBER.fullmatch(_fold(text)) if len(text) <= LONGEST_TYPED else None
    if number is None:
        raise ValueError("must be a number")
    return _read_number(number)


def _fold(text: str) -> str:
    """One kind of space, quote, dash and fraction, so that one pattern reads them all."""
    if text.isascii():  # there is nothing in it to be folded but spaces
        return " ".join(text.split())
    plain = "".join(map(_plain_character, _SQUARED.sub("2", text))).translate(_PRIMES)
    return " ".join(plain.split())


def _plain_character(character: str) -> str:
    """Set a fraction apart from the number before it; leave a raised digit as it is: 5² is not 52."""
    plain = unicodedata.normalize("NFKC", character)
    if unicodedata.category(character) != "No":
        return plain
    return f" {plain}" if "⁄" in plain else character


def _read_number(number: re.Match[str]) -> float:
    sign = -1.0 if number["sign"] == "-" else 1.0
    if number["decimal"] is not None:
        value = _read_decimal(number["decimal"])
        if isinf(value):
            raise ValueError("must be a number")
        return sign * value
    over, under = int(number["over"]), int(number["under"])
    if not 0 < over < under:
        raise ValueError(f"{over}/{under} is not a fraction below one")
    return sign * (int(number["whole"] or 0) + over / under)


def _read_decimal(text: str) -> float:
    """Read a decimal number with a point or a comma; refuse `1,234`, which means either."""
    commas, points = text.count(","), text.count(".")
    if not commas and points <= 1:
        return float(text)
    if commas and points:
        mark = max(",.", key=text.rfind)
        group = "," if mark == "." else "."
        head, _, tail = text.partition(mark)
        if text.count(mark) > 1 or not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(group)}\d{{3}})+", head):
            raise ValueError("must be a number")
        return float(f"{head.replace(group, '')}.{tail}")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", text):
        raise ValueError(f"{text} may be {text.replace(',', '.')} or {text.replace(',', '')}: write one of them")
    if commas > 1 or points > 1:
        raise ValueError("must be a number")
    return float(text.replace(",", "."))


def _add_parts(parts: list[tuple[float, Unit | None]], dimension: Dimension, default: Unit) -> float:
    if not parts:
        raise ValueError(_WANTED[dimension])
    if len(parts) == 1:
        value, unit = parts[0]
        return value * (unit or default).factor
    # Several parts, as in 3 ft 8 1/2 in: each with its unit, each smaller than one of the unit before.
    total, above = 0.0, None
    for value, unit in parts:
        if unit is None or value < 0 or (above is not None and value * unit.factor >= above):
            raise ValueError(_WANTED[dimension])
        total, above = total + value * unit.factor, unit.factor
    return total
