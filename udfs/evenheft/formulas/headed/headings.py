"""The vocabulary of headings: which quantity a column of a shop's own sheet holds, and in which unit.

A heading is a quantity's name, in plain or in trade words, with the unit in brackets: "Head
mass (g)", "Shaft length (in)", "Tip wt [g]". `read_heading` reads one; `read_headings` reads a row of
them and finds two headings for one part. What is not understood is said, never guessed.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from evenheft.formulas.headed.foreign import FOREIGN_BARE, FOREIGN_UNCLEAR, FOREIGN_UNITS, FOREIGN_WORDS, words_of
from evenheft.formulas.headed.vocabulary import (
    ABBREVIATED_MASSES,
    ABBREVIATIONS,
    VOCABULARY,
    Headed,
    HeadedDimension,
)
from evenheft.formulas.wording import PASSED_ON
from evenheft.mechanics import units

NOT_USED = "not used"
"""What a heading is told to be that names no quantity; written into a heading, it leaves the column out."""

OTHER_UNITS: dict[str, HeadedDimension] = {
    "deg": "angle", "s": "time", "cpm": "frequency", "points": "points", "%": "share",
}  # fmt: skip
"""Units of headings besides those of mass and length, with what they measure."""

_OTHER_SPELLINGS = {
    **{unit: unit for unit in OTHER_UNITS},
    "°": "deg", "degree": "deg", "degrees": "deg", "º": "deg",
    "sec": "s", "secs": "s", "second": "s", "seconds": "s",
    "cycles per minute": "cpm", "cycles/min": "cpm",
    "point": "points", "pts": "points", "pt": "points",
    "percent": "%", "per cent": "%", "pct": "%",
    **FOREIGN_UNITS,
}  # fmt: skip


class HeadingReading(NamedTuple):
    """What a heading was understood to be."""

    quantity: str | None
    """A key of `VOCABULARY`, or None where the heading names none."""
    unit: str | None
    """Symbol of the unit in the heading: one of `units.UNITS` or of `OTHER_UNITS`; None where it names none."""
    problem: str | None
    """Why the column cannot be used, in one line for a builder, or None.

    With a quantity the column is certainly wrong (unit unknown or of another kind, a second
    heading for one part). Without one it may hold a quantity, so a number in it must not be dropped.
    """


_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_PAIRS = {
    ("tip", "weight"): "tipweight", ("butt", "weight"): "buttweight", ("back", "weight"): "backweight",
    ("hosel", "weight"): "hoselweight", ("counter", "weight"): "counterweight", ("swing", "weight"): "swingweight",
    ("counter", "balance"): "counterbalance", ("balance", "point"): "balance", ("moment", "inertia"): "inertia",
    ("dry", "fitted"): "dryfit", ("dry", "fit"): "dryfit", ("centre", "mass"): "centre",
    ("centre", "gravity"): "centre",
}  # fmt: skip
_WORDS = {"wt": "weight", "wgt": "weight", "center": "centre", "cg": "centre", "cog": "centre", "moi": "inertia",
          "len": "length", "bal": "balance", "pt": "point", "tol": "tolerance"}  # fmt: skip
_FILLERS = {"the", "of", "a", "an", "de", "la", "le", "du", "d", "del", "der", "des", "am"}
_CLOSE_ENOUGH = 0.84
_SHORTEST_MISSPELT = 4
_AN: dict[str | None, str] = {"inertia": "an", "angle": "an"}
_INCH_MARK = re.compile(r"(?:[\"″”]|'')\s*$")

_FROM_WHERE = {
    part: f'{part} position may be from the butt or from the tip: write "{part.capitalize()} above tip"'
    for part in ("ferrule", "epoxy", "adapter", "tip weight")
}


_FULL_WIDTH = str.maketrans("（）［］｛｝", "()[]{}")
_PLUS_OR_MINUS = re.compile(r"\+\s*/?\s*[-−–]|±|[-−–]\s*/\s*\+")
_NOT_A_LETTER = re.compile(r"[^a-z0-9\u3040-\u30ff\u3400-\u9fff]+")
_BESIDE_JAPANESE = re.compile(r"(?<=[\u3040-\u30ff\u3400-\u9fff])(?=[a-z0-9])", re.IGNORECASE)


def _normal(text: str) -> str:
    """One spelling for all the ways to write the same words."""
    lowered = _PLUS_OR_MINUS.sub(" plusminus ", unicodedata.normalize("NFKC", text).lower())
    words = [w for w in _NOT_A_LETTER.sub(" ", _without_accents(lowered)).split() if w not in _FILLERS]
    words = [w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in words]
    words = [_WORDS.get(w, w) for w in words]
    merged: list[str] = []
    for word in words:
        pair = _PAIRS.get((merged[-1], word)) if merged else None
        if pair is not None:
            merged[-1] = pair
        else:
            merged.append(word)
    return " ".join("mass" if word == "weight" else word for word in merged)


def _without_accents(text: str) -> str:
    """Latin letters without their accents; the marks that make another Japanese letter stay."""
    if text.isascii():
        return text
    apart = unicodedata.normalize("NFD", text.replace("ß", "ss"))
    return unicodedata.normalize("NFC", "".join(c for c in apart if not "\u0300" <= c <= "\u036f"))


def _spellings(word: str) -> set[str]:
    """Return a word's spellings in `_normal`: a German umlaut is also written with an e."""
    spelled = word.lower()
    for umlaut, letters in (("ä", "ae"), ("ö", "oe"), ("ü", "ue")):
        spelled = spelled.replace(umlaut, letters)
    return {_normal(word), _normal(spelled)}


def _index() -> tuple[dict[str, list[Headed]], dict[str, list[Headed]]]:
    """Quantities by their words: those that need no unit, and all with those that do."""
    free: dict[str, list[Headed]] = {}
    every: dict[str, list[Headed]] = {}
    foreign, foreign_bare = words_of(FOREIGN_WORDS), words_of(FOREIGN_BARE)
    for name, headed in VOCABULARY.items():
        named, bare = (*headed.words, *foreign.get(name, ())), (*headed.bare, *foreign_bare.get(name, ()))
        for spelled in dict.fromkeys(s for word in named for s in _spellings(word)):
            free.setdefault(spelled, []).append(headed)
        for spelled in dict.fromkeys(s for word in (*named, *bare) for s in _spellings(word)):
            every.setdefault(spelled, []).append(headed)
    return free, every


def _unclear() -> dict[str, str]:
    """Words that are asked about, and the line that asks."""
    lines = {_normal(f"{part} position"): line for part, line in _FROM_WHERE.items()}
    for word, keys in (*ABBREVIATIONS.items(), *FOREIGN_UNCLEAR.items()):
        lines[_normal(word)] = _which(keys)
    for measured in ("mass", "balance", "period"):
        lines[_normal(f"{measured} +/-")] = _which(("tolerance", f"{measured}_doubt"))
    return lines


def _which(keys: Sequence[str]) -> str:
    return "is it " + " or ".join(f'"{VOCABULARY[key].words[0].capitalize()}"' for key in keys) + "?"


_FREE, _EVERY = _index()
_UNCLEAR = _unclear()


LONGEST_HEADING = 120
"""A cell with a longer text is no heading: no pattern is tried on it [characters]."""


def read_heading(text: str) -> HeadingReading:
    """Understand one heading.

    Args:
        text: what the heading's cell holds [-].

    Returns:
        The quantity with the unit it stands in. A heading that is no quantity's, such as
        "Player", has neither and no problem [-].

    >>> read_heading("Shaft length (in)")
    HeadingReading(quantity='shaft_length', unit='in', problem=None)
    >>> read_heading("Shaft wt. [g]").quantity
    'shaft_mass'
    >>> read_heading("Player")
    HeadingReading(quantity=None, unit=None, problem=None)
    >>> read_heading("Epxy (g)").problem
    'did you mean "Epoxy"?'
    """
    return _read_heading(text) if len(text) <= LONGEST_HEADING else HeadingReading(None, None, None)


@lru_cache(maxsize=4096)
def _read_heading(text: str) -> HeadingReading:
    if re.search(r"\b(not used|ignored?)\b", text, re.IGNORECASE):
        return HeadingReading(None, None, None)
    words, unit, unknown_unit = _split(text)
    found = _EVERY.get(words, [])
    if words in _UNCLEAR and (unit is None or not any(_takes(headed, unit) for headed in found)):
        return HeadingReading(None, unit, _UNCLEAR[words])
    if unit is not None and words in ABBREVIATED_MASSES and dimension_of(unit) == "mass":
        return HeadingReading(None, unit, _which(ABBREVIATED_MASSES[words]))
    if unit is not None:
        fitting = [headed for headed in found if _takes(headed, unit)]
        if len(fitting) == 1:
            return HeadingReading(fitting[0].name, unit, None)
        if found:
            return HeadingReading(found[0].name, unit, _wrong_unit(found, unit))
        return HeadingReading(None, unit, _not_understood(words, unit))
    free = _FREE.get(words, [])
    if len(free) == 1:
        problem = None
        if unknown_unit:
            problem = f"the unit {unknown_unit} is not known: use {' or '.join(_usual_units(free[0]))}"
        return HeadingReading(free[0].name, None, problem)
    if found and unknown_unit:
        usual = dict.fromkeys(unit for headed in found for unit in _usual_units(headed))
        return HeadingReading(found[0].name, None, f"the unit {unknown_unit} is not known: use {' or '.join(usual)}")
    if found:
        examples = " or ".join(f'"{found[0].words[0].split()[0].capitalize()} ({_usual_units(h)[0]})"' for h in found)
        return HeadingReading(None, None, f"write the unit, e.g. {examples}")
    return HeadingReading(None, None, _not_understood(words, None))


def read_headings(texts: Sequence[str]) -> list[HeadingReading]:
    """Understand a row of headings; the second heading for one part is told as a problem.

    Args:
        texts: the headings, "" where a cell is empty [-].

    >>> [reading.problem for reading in read_headings(["Grip (g)", "Grip weight (g)"])]
    [None, 'two headings for grip mass: this one and "Grip (g)"']
    """
    readings: list[HeadingReading] = []
    seen: dict[str, str] = {}
    for text in texts:
        reading = read_heading(text)
        name = reading.quantity
        if name is not None and reading.problem is None and VOCABULARY[name].part:
            if name in seen:
                problem = f'two headings for {VOCABULARY[name].words[0]}: this one and "{seen[name]}"'
                reading = reading._replace(problem=problem)
            seen.setdefault(name, " ".join(text.split()))
        readings.append(reading)
    return readings


def dimension_of(unit: str) -> HeadedDimension:
    """Tell what a unit of a heading measures.

    Args:
        unit: its symbol, as in `HeadingReading` [-].
    """
    return units.BY_SYMBOL[unit].dimension if unit in units.BY_SYMBOL else OTHER_UNITS[unit]


def needs_unit(reading: HeadingReading) -> bool:
    """Whether plain numbers under a heading say nothing because it names no unit: every length [-].

    A mass without a unit is taken to be in grams: ounces would not be within its bounds.

    Args:
        reading: what was understood [-].
    """
    return reading.quantity is not None and reading.unit is None and VOCABULARY[reading.quantity].dimension == "length"


def label_of(reading: HeadingReading) -> str:
    """Tell in words, for a cell, what was understood [-].

    Args:
        reading: what was understood, of a heading that is not empty [-].

    >>> label_of(read_heading("Head (g)")), label_of(read_heading("Player")), label_of(read_heading("Grip wt"))
    ('head mass (g)', 'not used', 'grip mass (g, as none is written)')
    """
    if reading.quantity is None:
        return NOT_USED if reading.problem is None else f"{NOT_USED}: {reading.problem}"
    if reading.problem is not None:
        return f"{PASSED_ON}{reading.problem}"
    headed = VOCABULARY[reading.quantity]
    name = headed.words[0]
    if reading.unit is not None:
        return f"{name} ({reading.unit})"
    usual = _usual_units(headed)
    if not usual:
        return name
    if headed.dimension == "length":
        return f"{name}: write the unit, {' or '.join(usual)}"
    return name if headed.dimension == "points" else f"{name} ({usual[0]}, as none is written)"


def _split(text: str) -> tuple[str, str | None, str]:
    """Split a heading into its words, its unit, and what stands in the unit's place but is none."""
    text = _BESIDE_JAPANESE.sub(" ", text.translate(_FULL_WIDTH))
    in_brackets = [" ".join(found.split()) for found in _BRACKETS.findall(text)]
    rest = _BRACKETS.sub(" ", text)
    named = [unit for unit in map(_unit, in_brackets) if unit is not None]
    if named:
        return _normal(rest), named[-1], ""
    words = _normal(rest)
    if not in_brackets and _INCH_MARK.search(rest):
        return words, "in", ""
    if in_brackets or words in _EVERY:
        # A remark in brackets, as in "Head mass (raw)", may be part of a name that is known.
        whole = _normal(" ".join([rest, *in_brackets]))
        return (whole, None, "") if whole in _FREE else (words, None, next(filter(None, in_brackets), ""))
    # Without brackets the unit may stand last: "Head mass, g", "Club length in inches".
    last = re.match(r"(?P<name>.*?\w.*?)(?:[\s,;:/]+in)?[\s,;:/]+(?P<unit>\S+)\s*$", rest, re.DOTALL)
    if last is not None and (unit := _unit(last["unit"])) is not None:
        return _normal(last["name"]), unit, ""
    return words, None, ""


@lru_cache(maxsize=512)
def _unit(text: str) -> str | None:
    """Symbol of the unit that a text names, or None."""
    other = _OTHER_SPELLINGS.get(text.strip().rstrip(".").lower())
    if other is not None:
        return other
    try:
        return units.find_unit(text).symbol
    except ValueError:
        return None


def _takes(headed: Headed, unit: str) -> bool:
    measured = dimension_of(unit)
    # Where a shaft balances is also told as a share of its length.
    share = measured == "share" and headed.name.startswith("shaft_balance")
    return headed.dimension is None or headed.dimension == measured or share


def _wrong_unit(found: Iterable[Headed], unit: str) -> str:
    wanted = dict.fromkeys(f"{_AN.get(h.dimension, 'a')} {h.dimension} ({' or '.join(_usual_units(h))})" for h in found)
    return f"must be {' or '.join(wanted)}: {unit} is a unit of {dimension_of(unit)}"


def _usual_units(headed: Headed) -> tuple[str, ...]:
    """Propose units for a quantity."""
    if headed.dimension is None:
        return ()
    usual: dict[HeadedDimension, tuple[str, ...]] = {
        "mass": ("g", "oz"), "length": ("in", "cm", "mm"), "moment": ("g cm",), "inertia": ("kg cm2",),
    }  # fmt: skip
    return usual.get(headed.dimension) or tuple(
        u for u, measured in OTHER_UNITS.items() if measured == headed.dimension
    )


def _not_understood(words: str, unit: str | None) -> str | None:
    """Why a heading that names no quantity may not be a mere remark."""
    near = _closest(words) if len(words) >= _SHORTEST_MISSPELT else []
    if near:
        headed = _EVERY[near[0]][0]
        # A word of another language stands as it is known: only the English ones have another spelling.
        meant = next((word for word in (*headed.words, *headed.bare) if _normal(word) == near[0]), near[0])
        return f'did you mean "{meant.capitalize()}"?'
    if unit is not None and dimension_of(unit) == "mass":
        return f'a mass, but of no known part: call it "Other ({unit})", or write "{NOT_USED}" after it'
    return None


def _closest(words: str) -> list[str]:
    """Find the known words that misspelt ones are nearest to, at most one.

    Letters that only one of two texts has match nothing, so a text with too many of them cannot be near enough:
    that is seen at once, and few are compared letter by letter.
    """
    letters = _letters(words)
    near = [
        known
        for known, theirs in _KNOWN_LETTERS.items()
        if (letters ^ theirs).bit_count() <= (1 - _CLOSE_ENOUGH) * (len(words) + len(known))
    ]
    return difflib.get_close_matches(words, near, n=1, cutoff=_CLOSE_ENOUGH)


def _letters(text: str) -> int:
    """Mark each letter that a text holds by a bit."""
    marks = 0
    for letter in set(text):
        marks |= 1 << (ord(letter) & 0x7F)
    return marks


_KNOWN_LETTERS = {word: _letters(word) for word in _EVERY if len(word) >= _SHORTEST_MISSPELT}
