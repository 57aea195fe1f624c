"""Formulas: what the bench measures, balance from a support and inertia from a swing."""

from __future__ import annotations

from math import pi

from evenheft.formulas.arguments import (
    BALANCE,
    CLUB_BALANCE,
    CLUB_LENGTH,
    GRAVITY,
    MASS,
    PERIOD,
    PIVOT,
    need_club_balance,
)
from evenheft.formulas.kinds import Choice, Measured, Quantity, Refusal, show
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import bench

CATEGORY = "Bench"
FOUR_PI_SQUARED = 4 * pi**2


def need_possible_swing(balance: float, period: float, pivot: float, gravity: float) -> None:
    """Refuse a balance that no club has, a pivot beyond it, and a period that no body can have.

    Args:
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing [s].
        pivot: distance from the butt to the pivot [cm].
        gravity: acceleration of free fall [cm/s2].
    """
    need_club_balance(balance)
    if pivot >= balance:
        raise Refusal(
            "pivot must be nearer to the butt than the balance at {0}, got {1}",
            Measured(balance, "length"),
            Measured(pivot, "length"),
        )
    if period * period * gravity <= FOUR_PI_SQUARED * (balance - pivot):  # shortest_period, without its root
        shortest = bench.shortest_period(balance, pivot, gravity)
        raise Refusal(
            f"period must be more than {shortest:.3f} s with the balance at {{0}}, got {show(period)}: "
            "half a swing, or the balance in another unit?",
            Measured(balance, "length"),
        )


@formula(
    "HEFT_INERTIA",
    category=CATEGORY,
    help="Moment of inertia about the butt in kg cm2, from a club that swings freely and a little (under 5 degrees "
    "each way) about an axis near its butt.",
    arguments=(MASS, BALANCE, PERIOD, UNITS, PIVOT, GRAVITY),
    answers=(Answer("inertia", "kg cm2"),),
    source="Compound pendulum and parallel-axis theorem, any handbook of mechanics.",
    examples=(("=HEFT_INERTIA(395, 75.3, 1.9)", "2667.23"),),
)
def inertia(mass: float, balance: float, period: float, pivot: float, gravity: float) -> float:
    """Inertia about the butt [kg cm2]: mass [g], balance [cm], period [s], pivot [cm], gravity [cm/s2]."""
    need_possible_swing(balance, period, pivot, gravity)
    return bench.inertia_from_period(mass, balance, period, pivot, gravity)


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
        raise Refusal(
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
        Argument("distance", "What the tape reads at the point, in cm unless units say otherwise.", CLUB_BALANCE),
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
