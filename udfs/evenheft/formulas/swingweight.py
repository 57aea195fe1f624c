"""Formulas: swingweight from mass and balance, as a number and as a label."""

from __future__ import annotations

from evenheft.formulas.answers import off_the_scale
from evenheft.formulas.arguments import (
    ANY_BALANCE,
    BALANCE,
    FULCRUM_PLACE,
    FURTHEST,
    MASS,
    need_beyond_fulcrum,
    need_swingweight_fulcrum,
)
from evenheft.formulas.kinds import Label, Number, Quantity
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import swingweight
from evenheft.ooxml.errors import Refused

CATEGORY = "Swingweight"
_SOURCE = "Common practice, no published source: D0 = 213.5 in oz about 14 in, 1.75 in oz a point."


@formula(
    "HEFT_POINTS",
    category=CATEGORY,
    help="Swingweight as a number from a club's mass and balance point: A0 = 0, B0 = 10, C0 = 20, D0 = 30, E0 = 40.",
    arguments=(MASS, BALANCE, UNITS, FULCRUM_PLACE),
    answers=(Answer("points", "points"),),
    source=_SOURCE,
    examples=(("=HEFT_POINTS(431, 75.3)", "43.9213"), ('=HEFT_POINTS("12.5 oz", "29 1/2 in")', "18.7143")),
)
def points(mass: float, balance: float, fulcrum: float) -> float:
    """Swingweight [points] of a club: mass [g], balance [cm], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    need_beyond_fulcrum(balance, fulcrum)
    return swingweight.points(swingweight.moment(mass, balance, fulcrum))


@formula(
    "HEFT_SWINGWEIGHT",
    category=CATEGORY,
    help='Swingweight as the trade writes it, to a tenth of a point, such as "D2.3".',
    arguments=(MASS, BALANCE, UNITS, FULCRUM_PLACE),
    answers=(Answer("swingweight", "label"),),
    source=_SOURCE,
    examples=(("=HEFT_SWINGWEIGHT(395, 75.3)", "D2.6"),),
)
def label_of_club(mass: float, balance: float, fulcrum: float) -> str:
    """Swingweight label of a club: mass [g], balance [cm], fulcrum [cm]."""
    return label(points(mass, balance, fulcrum))


@formula(
    "HEFT_LABEL",
    category=CATEGORY,
    help='Writes a swingweight number as the trade does: 32.25 becomes "D2.3". Rounded to a tenth first, so 29.96 '
    'is "D0.0".',
    arguments=(Argument("points", "Swingweight as a number: A0 = 0, D0 = 30.", Number(-1000, 1000, "points")),),
    answers=(Answer("swingweight", "label"),),
    source=_SOURCE,
    examples=(("=HEFT_LABEL(29.96)", "D0.0"), ("=HEFT_LABEL(32.25)", "D2.3")),
)
def label(points: float) -> str:
    """Swingweight label of a number [points]."""
    try:
        return swingweight.label(points)
    except ValueError:
        raise Refused(f"{off_the_scale(points)}: off the scale") from None


@formula(
    "HEFT_FROM_LABEL",
    category=CATEGORY,
    help='Reads a swingweight label as a number: "D2" is 32. Understands "d 2.5" and "D2 1/2" too.',
    arguments=(Argument("label", 'Swingweight label from A0 to G9.9, such as "D2".', Label()),),
    answers=(Answer("points", "points"),),
    source=_SOURCE,
    examples=(('=HEFT_FROM_LABEL("D2 1/2")', "32.5"),),
)
def points_from_label(points: float) -> float:
    """Swingweight [points] of a label, which its kind has read already."""
    return points


@formula(
    "HEFT_MOMENT",
    category=CATEGORY,
    help="Moment of a club about the fulcrum in g cm: mass x (balance - fulcrum). A swingweight point is 126.01 g cm.",
    arguments=(MASS, ANY_BALANCE, UNITS, FULCRUM_PLACE),
    answers=(Answer("moment", "g cm"),),
    source="Statics: moment = force x arm.",
    examples=(("=HEFT_MOMENT(430, 75.56)", "17200"),),
)
def moment(mass: float, balance: float, fulcrum: float) -> float:
    """Moment [g cm] of a club: mass [g], balance [cm], fulcrum [cm]."""
    return swingweight.moment(mass, balance, fulcrum)


@formula(
    "HEFT_MOMENT_ABOUT",
    category=CATEGORY,
    help="Moment about another fulcrum in g cm, from that about one: what a scale that pivots elsewhere would have to "
    "balance. moment + mass x (fulcrum - new fulcrum).",
    arguments=(
        Argument("moment", "Moment about the fulcrum in g cm, e.g. from HEFT_MOMENT.", Number(-1e6, 1e6, "g cm")),
        MASS,
        Argument(
            "new_fulcrum",
            "Distance from the butt to the other fulcrum, in cm unless units say otherwise.",
            Quantity("length", 0, FURTHEST),
        ),
        UNITS,
        FULCRUM_PLACE,
    ),
    answers=(Answer("moment", "g cm"),),
    source="Statics: moment = force x arm.",
    examples=(("=HEFT_MOMENT_ABOUT(17200, 430, 30.48)", "19384.4"),),
)
def moment_about(moment: float, mass: float, new_fulcrum: float, fulcrum: float) -> float:
    """Moment [g cm] about another fulcrum [cm]: moment [g cm], mass [g], fulcrum [cm]."""
    return swingweight.moment_about(moment, mass, new_fulcrum, fulcrum)
