"""The vocabulary of headings: the quantities that a column of a shop's own sheet may hold, and what they are called."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from evenheft.formulas.arguments import (
    ANY_NUMBER,
    BALANCE,
    FULCRUM_PLACE,
    GRAVITY,
    GRIP_WEIGHED,
    LONGEST_CLUB,
    MASS,
    PERIOD,
    PIVOT,
    TAPED,
)
from evenheft.formulas.kinds import Kind, Level, Number, Quantity
from evenheft.mechanics.club import HIGHEST_HEAD_RISE, LOWEST_HEAD_RISE

HeadedDimension = Literal["mass", "length", "moment", "inertia", "angle", "time", "frequency", "points", "share"]


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


def _mass(name: str, words: str, bare: str, kind: float | Quantity) -> Headed:
    read = kind if isinstance(kind, Quantity) else Quantity("mass", 0, kind)
    return Headed(name, _listed(words), "mass", read, _listed(bare), True)


def _place(name: str, words: str, low: float, high: float, bare: str = "") -> Headed:
    return Headed(name, _listed(words), "length", Quantity("length", low, high), _listed(bare), True)


def _listed(words: str) -> tuple[str, ...]:
    return tuple(filter(None, (word.strip() for word in words.split(","))))


_SHAFT_BALANCE = Quantity("length", 8, 120, typical=(30, 80))
_ANY_DOUBT = Number(0, 1e6)


def _weighed(headed: Headed) -> Headed:
    """Let a part's cell hold several readings of it."""
    if headed.part and isinstance(headed.kind, Quantity):
        return replace(headed, kind=replace(headed.kind, measured=True))
    return headed


SHORTEST_BUILT = 50.0
"""Nobody builds a shorter club (common practice, no published source); as inches 40 to 48 are the long ones [cm]."""
VOCABULARY: dict[str, Headed] = {
    headed.name: _weighed(headed)
    for headed in (
        Headed("head_mass", ("head mass", "clubhead mass", "club head mass", "bare head mass", "raw head mass"), "mass",
               Quantity("mass", 100, 650, typical=(150, 450)), ("head", "clubhead", "club head"), True),
        Headed("club_length", ("club length", "length", "finished length", "finished club length", "final length",
                               "playing length", "overall length", "built length", "total length"), "length",
               Quantity("length", SHORTEST_BUILT, LONGEST_CLUB, typical=(80, 130)), (), True),
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
        _mass("grip_mass", "grip mass", "grip", GRIP_WEIGHED),
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
        _mass("cut_grip_mass", "cut grip mass, slit grip mass, test grip mass", "cut grip, slit grip, test grip",
              GRIP_WEIGHED),
        _place("cut_grip_balance", "cut grip balance, slit grip balance, test grip balance, cut grip from butt", 1, 60),
        Headed("cut_length", ("cut length", "shaft cut length", "cut shaft length"), "length", _SHAFT_BALANCE),
        Headed("butt_trim", ("butt trim", "butt trimming", "butt cut", "trim from butt"), "length",
               Quantity("length", 0, 100)),
        Headed("mass", ("mass", "club mass", "total mass", "finished mass", "finished club mass", "overall mass",
                        "static mass", "dead mass"), "mass", MASS.kind, ("total",)),
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
        Headed("span", ("span", "edge to scale", "edge to support"), "length", TAPED),
        Headed("offset", ("offset", "butt to edge", "edge from butt"), "length", PIVOT.kind),
        Headed("fulcrum", ("fulcrum", "fulcrum from butt"), "length", FULCRUM_PLACE.kind),
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
        Headed("tolerance", ("tolerance", "plus or minus", "+/-"), None, _ANY_DOUBT),
        Headed("doubt", ("doubt",), None, _ANY_DOUBT),
        Headed("mass_doubt", ("mass doubt", "scale doubt"), "mass", Quantity("mass", 0, 100)),
        Headed("balance_doubt", ("balance doubt",), "length", Quantity("length", 0, 20)),
        Headed("common_balance_doubt", ("common balance doubt", "tape zero doubt"), "length",
               Quantity("length", 0, 20)),
        Headed("length_doubt", ("length doubt", "tape doubt"), "length", Quantity("length", 0, 20)),
        Headed("head_rise_doubt", ("head rise doubt", "head rise used doubt"), "length", Quantity("length", 0, 10)),
        Headed("shaft_balance_doubt", ("shaft balance doubt",), "length", Quantity("length", 0, 20)),
        Headed("epoxy_doubt", ("epoxy doubt", "glue doubt"), "mass", Quantity("mass", 0, 20)),
        Headed("grip_balance_doubt", ("grip balance doubt",), "length", Quantity("length", 0, 20)),
        Headed("place_doubt", ("place doubt", "small parts place doubt"), "length", Quantity("length", 0, 20)),
        Headed("period_doubt", ("period doubt", "timing doubt"), "time", Number(0, 10, "s")),
        Headed("loft", ("loft", "loft angle"), "angle", Number(-5, 90, "deg")),
        Headed("lie", ("lie", "lie angle"), "angle", Number(40, 90, "deg")),
        Headed("frequency", ("frequency", "shaft frequency", "club frequency", "butt frequency", "freq"), "frequency",
               Number(50, 600, "cpm")),
    )
}  # fmt: skip
"""Every quantity that a heading may name, by its key."""

ABBREVIATIONS: dict[str, tuple[str, ...]] = {
    "hw": ("head_mass",), "hm": ("head_mass",), "tw": ("mass", "tip_weight_mass"), "cw": ("mass", "butt_weight_mass"),
    "bp": ("balance",), "cb": ("balance", "butt_weight_mass"), "gw": ("grip_mass",), "cl": ("club_length",),
    "sl": ("shaft_length",), "bw": ("butt_weight_mass",), "fl": ("club_length",), "total": ("mass",),
}  # fmt: skip
"""What a shop may shorten a name to, and the quantities that it may then mean: asked about, never guessed."""
ABBREVIATED_MASSES = {"sw": ("shaft_mass",)}
"""The same of what is understood alone, but beside a unit of mass means another thing."""
