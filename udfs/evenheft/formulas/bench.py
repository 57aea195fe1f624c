"""Formulas: what the bench measures, balance from a support and inertia from a swing."""

from __future__ import annotations

from math import pi

from evenheft.formulas.arguments import (
    BALANCE,
    CLUB_LENGTH,
    GRAVITY,
    HALF_ANGLE,
    LONGEST_SWING,
    MASS,
    PERIOD,
    PIVOT,
    SHORTEST_SWING,
    SWINGS,
    SWUNG_LENGTH,
    TAPED,
    need_club_balance,
)
from evenheft.formulas.kinds import Choice, Number, Quantity
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.formulas.wording import Measured, show
from evenheft.mechanics import bench
from evenheft.mechanics.gravity import normal_gravity
from evenheft.ooxml.errors import Refused

CATEGORY = "Bench"
FOUR_PI_SQUARED = 4 * pi**2
BEYOND_LENGTH = 5.0
"""How far past the club's length mass may lie: a toe can reach past the ground line [cm]."""


def need_possible_swing(
    balance: float,
    period: float,
    pivot: float,
    gravity: float,
    club_length: float | None = None,
    period_doubt: float = 0.0,
) -> None:
    """Refuse a pivot beyond the balance, and a period that no body can have.

    Args:
        balance: distance from the butt to the balance point [cm].
        period: time of one full small swing [s].
        pivot: distance from the butt to the pivot [cm].
        gravity: acceleration of free fall [cm/s2].
        club_length: length of the club, None where it is not known [cm].
        period_doubt: half-width of that time [s].
    """
    if not SHORTEST_SWING <= period <= LONGEST_SWING:
        raise Refused(
            f"period must be from {show(SHORTEST_SWING)} to {show(LONGEST_SWING)} s for one swing, got "
            f"{show(period)} s: is the number of swings in swings?"
        )
    if pivot >= balance:
        raise Refused(
            "pivot must be nearer to the butt than the balance at {0}, got {1}",
            Measured(balance, "length"),
            Measured(pivot, "length"),
        )
    if period * period * gravity <= FOUR_PI_SQUARED * (balance - pivot):  # shortest_period, without its root
        shortest = bench.shortest_period(balance, pivot, gravity)
        raise Refused(
            f"period must be more than {shortest:.3f} s with the balance at {{0}}, got {show(period)}: "
            "half a swing, or the balance in another unit?",
            Measured(balance, "length"),
        )
    reach = CLUB_LENGTH.high if club_length is None else club_length + BEYOND_LENGTH
    if balance >= reach:
        raise Refused(
            "balance must be less than the club's length, {0}, got {1}",
            Measured(reach - BEYOND_LENGTH, "length"),
            Measured(balance, "length"),
        )
    quickest = period - period_doubt
    if quickest > 0 and quickest * quickest * gravity > FOUR_PI_SQUARED * bench.longest_lever(balance, reach, pivot):
        longest = bench.longest_period(balance, reach, pivot, gravity)
        raise Refused(
            f"period must be at most {longest:.3f} s for one swing with the balance at {{0}} and no mass further than "
            f"{{1}} from the butt, got {show(period)}: a swing miscounted, or the balance in another unit?",
            Measured(balance, "length"),
            Measured(reach, "length"),
        )


@formula(
    "HEFT_INERTIA",
    category=CATEGORY,
    help="Moment of inertia about the butt in kg cm2, from a club that swings freely about an axis near its butt: a "
    "little (under 5 degrees each way), or further with its half-angle told.",
    arguments=(
        MASS,
        BALANCE,
        PERIOD,
        UNITS,
        PIVOT,
        GRAVITY,
        HALF_ANGLE,
        SWINGS,
        SWUNG_LENGTH,
        Argument(
            "period_doubt",
            "Half-width of the time in period, in seconds: an impossible time is let pass by so much. 0 when left out.",
            Number(0, 10, "s"),
            0.0,
        ),
    ),
    answers=(Answer("inertia", "kg cm2"),),
    source="Compound pendulum and parallel-axis theorem, any handbook of mechanics; a wider swing by the series "
    "T = T0 (1 + a^2/16 + 11 a^4/3072).",
    examples=(
        ("=HEFT_INERTIA(395, 75.3, 1.9)", "2667.23"),
        ('=HEFT_INERTIA(395, 75.3, 19, "g cm", 0, 980.665, 5, 10)', "2664.69"),
    ),
)
def inertia(
    mass: float,
    balance: float,
    period: float,
    pivot: float,
    gravity: float,
    half_angle: float,
    swings: float,
    club_length: float | None,
    period_doubt: float,
) -> float:
    """Inertia about the butt [kg cm2]: mass [g], lengths [cm], times [s], gravity [cm/s2], half-angle [degrees]."""
    if half_angle or swings != 1:
        period = bench.small_period(period, swings, half_angle)
    need_possible_swing(balance, period, pivot, gravity, club_length, period_doubt / swings)
    return bench.inertia_from_period(mass, balance, period, pivot, gravity)


@formula(
    "HEFT_GRAVITY",
    category=CATEGORY,
    help="Gravity in cm/s2 where the shop stands, from its latitude and its height above the sea: the gravity that "
    "HEFT_INERTIA asks for. The ground itself differs by some 0.05 in most places.",
    arguments=(
        Argument("latitude", "Geographical latitude in degrees; south is negative or not, alike.",
                 Number(-90, 90, "deg")),
        Argument("height", "Height above the sea in metres; 0 when left out.", Number(-500, 6000, "m"), 0.0),
    ),
    answers=(Answer("gravity", "cm/s2"),),
    source="Normal gravity of the Geodetic Reference System 1980 (Moritz 2000): Somigliana's formula, and its series "
    "for a height.",
    examples=(("=HEFT_GRAVITY(45)", "980.62"), ("=HEFT_GRAVITY(40, 1600)", "979.676")),
)  # fmt: skip
def gravity_at(latitude: float, height: float) -> float:
    """Gravity [cm/s2] at a latitude [degrees] and height [m]."""
    return normal_gravity(latitude, height)


@formula(
    "HEFT_BALANCE",
    category=CATEGORY,
    help="Balance point from a gram scale: the butt end rests on an edge, the head end on the scale. "
    "Answers in the length unit of units.",
    arguments=(
        Argument(
            "reading",
            "What the scale under the head end shows, in g unless units say otherwise.",
            Quantity("mass", 1, 2000),
        ),
        Argument(
            "span",
            "Distance from the edge to the point that rests on the scale, in cm unless units say otherwise.",
            CLUB_LENGTH,
        ),
        MASS,
        Argument(
            "offset",
            "Distance from the butt to the edge that the butt end rests on, in cm unless units say otherwise; 0 when "
            "left out.",
            Quantity("length", 0, 100),
            0.0,
        ),
        UNITS,
    ),
    answers=(Answer("balance", "length unit", "length"),),
    source="Statics: moments about the edge.",
    examples=(("=HEFT_BALANCE(300, 100, 400, 2)", "77"),),
)
def balance(reading: float, span: float, mass: float, offset: float) -> float:
    """Balance [cm]: reading [g], span [cm], mass [g], offset [cm]."""
    if reading >= mass:
        raise Refused(
            "reading must be less than the mass of the club, {0}, got {1}",
            Measured(mass, "mass"),
            Measured(reading, "mass"),
        )
    found = bench.balance_from_support(reading, span, mass, offset)
    need_club_balance(found)
    return found


@formula(
    "HEFT_FROM_BUTT",
    category=CATEGORY,
    help="Distance from the butt (outer face of the grip cap) of a point that was measured from what the tape was "
    "hooked on. Answers in the length unit of units.",
    arguments=(
        Argument("distance", "What the tape reads at the point, in cm unless units say otherwise.", TAPED),
        Argument(
            "hooked",
            'What the tape was hooked on: "grip cap" (used when left out), or "shaft end" where the grip was off.',
            Choice(("grip cap", "shaft end")),
            "grip cap",
        ),
        Argument(
            "cap",
            "Thickness of the closed end of the grip that goes on, in cm unless units say otherwise; 0 when left out.",
            Quantity("length", 0, 5),
            0.0,
        ),
        UNITS,
    ),
    answers=(Answer("distance", "length unit", "length"),),
    source="Definition: the shaft's butt end sits one cap thickness below the butt.",
    examples=(('=HEFT_FROM_BUTT(74.9, "shaft end", 0.4)', "75.3"),),
)
def from_butt(distance: float, hooked: str, cap: float) -> float:
    """Distance from the butt [cm] of a point read on a tape [cm], with the cap's thickness [cm]."""
    return distance + cap if hooked == "shaft end" else distance
