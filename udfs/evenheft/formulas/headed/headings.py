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
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple

from evenheft.formulas.arguments import (
    ANY_NUMBER,
    BALANCE,
    FULCRUM,
    GRAVITY,
    MASS,
    PERIOD,
    PIVOT,
)
from evenheft.formulas.kinds import PASSED_ON, Kind, Level, Number, Quantity
from evenheft.mechanics import units
from evenheft.mechanics.club import HIGHEST_HEAD_RISE, LOWEST_HEAD_RISE

HeadedDimension = Literal["mass", "length", "moment", "inertia", "angle", "time", "frequency", "points", "share"]

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


@dataclass(frozen=True, slots=True)
class Headed:
    """A quantity that a column may hold."""

    name: str
    """Its key."""
    words: tuple[str, ...]
    """What a heading may call it, with or without a unit; the first is how it is told back."""
    dimension: HeadedDimension | None
    """What it measures; None where any unit will do."""
    kind: Kind
    """How its cells are read, and between which bounds."""
    bare: tuple[str, ...] = ()
    """What calls it so only with a unit of its dimension: "Shaft (g)" is its mass, "Shaft" perhaps its name."""
    part: bool = False
    """Whether it belongs to the loose parts that make up a forecast."""


def _mass(name: str, words: str, bare: str, high: float, typical: tuple[float, float] | None = None) -> Headed:
    return Headed(name, _listed(words), "mass", Quantity("mass", 0, high, typical=typical), _listed(bare), True)


def _place(name: str, words: str, low: float, high: float, bare: str = "") -> Headed:
    return Headed(name, _listed(words), "length", Quantity("length", low, high), _listed(bare), True)


def _listed(words: str) -> tuple[str, ...]:
    return tuple(filter(None, (word.strip() for word in words.split(","))))


_SHAFT_BALANCE = Quantity("length", 8, 120, typical=(30, 80))
_ANY_DOUBT = Number(0, 1e6)

VOCABULARY: dict[str, Headed] = {
    headed.name: headed
    for headed in (
        Headed("head_mass", ("head mass", "clubhead mass", "club head mass", "bare head mass", "raw head mass"), "mass",
               Quantity("mass", 100, 650, typical=(150, 450)), ("head", "clubhead", "club head"), True),
        Headed("club_length", ("club length", "length", "finished length", "finished club length", "final length",
                               "playing length", "overall length", "built length"), "length",
               Quantity("length", 40, 145, typical=(80, 130)), (), True),
        Headed("shaft_mass", ("shaft mass", "raw shaft mass", "uncut shaft mass", "shaft mass uncut"), "mass",
               Quantity("mass", 15, 250, typical=(35, 160)), ("shaft", "raw shaft", "uncut shaft"), True),
        Headed("shaft_length", ("shaft length", "raw shaft length", "uncut shaft length", "shaft length uncut",
                                "raw length", "uncut length"), "length",
               Quantity("length", 25, 160, typical=(75, 130)), ("shaft", "raw shaft", "uncut shaft"), True),
        Headed("shaft_balance", ("shaft balance", "shaft balance from butt"), "length", _SHAFT_BALANCE, (), True),
        Headed("shaft_balance_from_tip", ("shaft balance from tip", "shaft balance above tip"), "length",
               _SHAFT_BALANCE, (), True),
        _place("tip_trim", "tip trim, tip trimming, tip cut, tipping, trim from tip", 0, 60),
        _place("head_rise", "head rise, head rise used, head centre rise, head centre above ground, head rise learned, "
                            "head rise from dry fit", LOWEST_HEAD_RISE, HIGHEST_HEAD_RISE),
        Headed("head_own", ("head inertia", "head own inertia"), "inertia", Number(0, 20, "kg cm2"), (), True),
        _place("bore_to_ground", "bore to ground, bottom bore to ground, ground to bore, bore to ground line, "
                                 "bottom bore to ground line, bbgm, btg", 0, 15),
        _place("grip_cap", "grip cap, grip cap thickness, cap thickness", 0, 3),
        _mass("grip_mass", "grip mass", "grip", 300, (20, 150)),
        _place("grip_balance", "grip balance, grip balance from butt, grip centre, grip from butt, grip position",
               1, 60),
        _mass("tape_mass", "tape mass, grip tape mass, build up tape mass", "tape, grip tape, build up tape", 60),
        _place("tape_from_butt", "tape from butt, tape position, tape balance", 0, 60),
        _mass("ferrule_mass", "ferrule mass", "ferrule", 40),
        _place("ferrule_above_tip", "ferrule above tip, ferrule from tip", -2, 20),
        _mass("epoxy_mass", "epoxy mass, glue mass, adhesive mass", "epoxy, glue, adhesive", 40),
        _place("epoxy_above_tip", "epoxy above tip, epoxy from tip", -2, 20),
        _mass("adapter_mass", "adapter mass, adaptor mass, sleeve mass, hosel sleeve mass",
              "adapter, adaptor, sleeve, hosel sleeve", 60),
        _place("adapter_above_tip", "adapter above tip, adaptor above tip, sleeve above tip, adapter from tip, "
                                    "sleeve from tip", -5, 20),
        _mass("tip_weight_mass", "tip weight, tip weight mass, tip plug mass, tip pin mass, hosel weight",
              "tip plug, tip pin", 60),
        _place("tip_weight_above_tip", "tip weight above tip, tip weight from tip, tip plug above tip", -5, 40),
        _mass("butt_weight_mass", "butt weight, butt weight mass, counterweight, counterweight mass, back weight, "
                                  "counterbalance, counterbalance mass", "", 250),
        _place("butt_weight_from_butt", "butt weight from butt, butt weight position, counterweight from butt, "
                                        "counterweight position", 0, 60),
        _mass("lead_tape_mass", "lead tape mass, lead mass", "lead tape, lead", 60),
        _place("lead_tape_rise", "lead tape rise, lead tape above ground, lead rise", -8, 12),
        _mass("extension_mass", "extension mass, butt extension mass", "extension, butt extension", 60),
        _place("extension_length", "extension length, butt extension length", 0, 20, "extension, butt extension"),
        _mass("other_mass", "other mass, other part mass", "other, other part", 300),
        _place("other_from_butt", "other from butt, other position, other part from butt", 0, 150),
        _mass("cut_grip_mass", "cut grip mass, slit grip mass, test grip mass", "cut grip, slit grip, test grip", 300),
        _place("cut_grip_balance", "cut grip balance, slit grip balance, test grip balance, cut grip from butt", 1, 60),
        Headed("cut_length", ("cut length", "shaft cut length", "cut shaft length"), "length", _SHAFT_BALANCE),
        Headed("butt_trim", ("butt trim", "butt trimming", "butt cut", "trim from butt"), "length",
               Quantity("length", 0, 100)),
        Headed("mass", ("mass", "club mass", "total mass", "finished mass", "finished club mass", "overall mass",
                        "static mass", "dead mass"), "mass", MASS.kind),
        Headed("balance", ("balance", "club balance", "finished balance", "finished club balance",
                           "balance from butt"), "length", BALANCE.kind),
        Headed("dry_mass", ("dry fit mass", "dry mass", "mass dry fit", "mass dry"), "mass", MASS.kind, ("dry fit",)),
        Headed("dry_balance", ("dry fit balance", "dry balance", "balance dry fit", "balance dry"), "length",
               BALANCE.kind, ("dry fit",)),
        Headed("period", ("period", "swing time", "swing period", "pendulum period", "pendulum time",
                          "time one swing"), "time", PERIOD.kind),
        Headed("pivot", ("pivot", "pivot from butt", "axis from butt"), "length", PIVOT.kind),
        Headed("reading", ("reading", "scale reading", "head end reading", "scale shows"), "mass",
               Quantity("mass", 1, 2000)),
        Headed("span", ("span", "edge to scale", "edge to support"), "length", BALANCE.kind),
        Headed("offset", ("offset", "butt to edge", "edge from butt"), "length", PIVOT.kind),
        Headed("fulcrum", ("fulcrum", "fulcrum from butt"), "length", FULCRUM.kind),
        Headed("gravity", ("gravity",), None, GRAVITY.kind),
        Headed("points", ("swingweight", "swingweight points", "points", "sw"), "points", Level(Number(-100, 200))),
        Headed("moment", ("moment", "swingweight moment"), "moment", Number(0, 1e6, "g cm")),
        Headed("inertia", ("inertia", "club inertia"), "inertia", Number(0, 2e4, "kg cm2")),
        Headed("target", ("target", "target swingweight", "target sw", "swingweight target", "wanted swingweight"),
               "points", Level(ANY_NUMBER)),
        Headed("target_mass", ("target mass", "wanted mass"), "mass", MASS.kind),
        Headed("first", ("first", "first value", "first club"), None, Level(ANY_NUMBER)),
        Headed("increment", ("increment", "gradient", "change per club"), None, ANY_NUMBER),
        Headed("place", ("place", "place in set", "club number in set"), None, Number(1, 1000, whole=True)),
        Headed("tolerance", ("tolerance", "plus or minus"), None, _ANY_DOUBT),
        Headed("doubt", ("doubt",), None, _ANY_DOUBT),
        Headed("mass_doubt", ("mass doubt", "scale doubt"), "mass", Quantity("mass", 0, 100)),
        Headed("balance_doubt", ("balance doubt",), "length", Quantity("length", 0, 20)),
        Headed("period_doubt", ("period doubt", "timing doubt"), "time", Number(0, 1, "s")),
        Headed("loft", ("loft", "loft angle"), "angle", Number(-5, 90, "deg")),
        Headed("lie", ("lie", "lie angle"), "angle", Number(40, 90, "deg")),
        Headed("frequency", ("frequency", "shaft frequency", "club frequency", "butt frequency", "freq"), "frequency",
               Number(50, 600, "cpm")),
    )
}  # fmt: skip
"""Every quantity that a heading may name, by its key."""

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
_FILLERS = {"the", "of", "a", "an"}
_CLOSE_ENOUGH = 0.84
_SHORTEST_MISSPELT = 4
_AN: dict[str | None, str] = {"inertia": "an", "angle": "an"}
_INCH_MARK = re.compile(r"(?:[\"″”]|'')\s*$")

_FROM_WHERE = {
    part: f'{part} position may be from the butt or from the tip: write "{part.capitalize()} above tip"'
    for part in ("ferrule", "epoxy", "adapter", "tip weight")
}


def _normal(text: str) -> str:
    """One spelling for all the ways to write the same words."""
    plain = unicodedata.normalize("NFKC", text).lower()
    words = [w for w in re.sub(r"[^a-z0-9]+", " ", plain).split() if w not in _FILLERS]
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


def _index() -> tuple[dict[str, list[Headed]], dict[str, list[Headed]]]:
    """Quantities by their words: those that need no unit, and all with those that do."""
    free: dict[str, list[Headed]] = {}
    every: dict[str, list[Headed]] = {}
    for headed in VOCABULARY.values():
        for word in headed.words:
            free.setdefault(_normal(word), []).append(headed)
        for word in (*headed.words, *headed.bare):
            every.setdefault(_normal(word), []).append(headed)
    return free, every


_FREE, _EVERY = _index()
_UNCLEAR = {_normal(f"{part} position"): line for part, line in _FROM_WHERE.items()}


@lru_cache(maxsize=4096)
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
    if re.search(r"\b(not used|ignored?)\b", text, re.IGNORECASE):
        return HeadingReading(None, None, None)
    words, unit, unknown_unit = _split(text)
    if words in _UNCLEAR:
        return HeadingReading(None, unit, _UNCLEAR[words])
    found = _EVERY.get(words, [])
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
    return units.UNITS[unit].dimension if unit in units.UNITS else OTHER_UNITS[unit]


def needs_unit(reading: HeadingReading) -> bool:
    """Whether plain numbers under a heading say nothing because it names no unit: every length [-].

    A mass without a unit is taken to be in grams: ounces would not be within its bounds.

    Args:
        reading: what was understood [-].
    """
    return reading.quantity is not None and reading.unit is None and VOCABULARY[reading.quantity].dimension == "length"


def told(reading: HeadingReading) -> str:
    """Tell in words, for a cell, what was understood [-].

    Args:
        reading: what was understood, of a heading that is not empty [-].

    >>> told(read_heading("Head (g)")), told(read_heading("Player")), told(read_heading("Grip wt"))
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
    known = [word for word in _EVERY if len(word) >= _SHORTEST_MISSPELT]
    near = difflib.get_close_matches(words, known, n=1, cutoff=_CLOSE_ENOUGH)
    if len(words) >= _SHORTEST_MISSPELT and near:
        headed = _EVERY[near[0]][0]
        meant = next(word for word in (*headed.words, *headed.bare) if _normal(word) == near[0])
        return f'did you mean "{meant.capitalize()}"?'
    if unit is not None and dimension_of(unit) == "mass":
        return f'a mass, but of no known part: call it "Other ({unit})", or write "{NOT_USED}" after it'
    return None
