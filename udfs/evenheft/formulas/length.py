"""Formulas: what a change of length at the butt does to a club, and how much of it meets a target."""

from __future__ import annotations

from evenheft.formulas.answers import READINGS
from evenheft.formulas.arguments import BALANCE, FURTHEST, INERTIA, MASS, club_of
from evenheft.formulas.changes import (
    GRIP_BALANCE,
    GRIP_MASS,
    PARALLEL_AXIS,
    SHAFT_PER_CM,
    STATICS,
    need_rest_of_club,
    readings_after,
)
from evenheft.formulas.correction import CATEGORY, LEVEL_WANTED
from evenheft.formulas.inertia_correction import CLUB_INERTIA, TARGET_INERTIA
from evenheft.formulas.kinds import Quantity
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.formulas.wording import Measured
from evenheft.mechanics import length
from evenheft.mechanics.bodies import Body
from evenheft.ooxml.errors import Refused

DEEPEST_CUT = -30.0
"""The deepest cut that a builder makes: a grown-up's club for a child [cm] (common practice, no published source)."""
LONGEST_EXTENSION = 10.0
"""The longest extension that a builder glues in [cm] (common practice, no published source)."""
CHANGE = (Answer("change", "length unit", "length"),)


@formula(
    "HEFT_LENGTHEN",
    category=CATEGORY,
    help="What a club reads after it is cut or extended at the butt: the grip keeps its place at the new butt, "
    "everything else moves by the change.",
    arguments=(
        MASS,
        BALANCE,
        GRIP_MASS,
        GRIP_BALANCE,
        Argument(
            "change",
            "How much longer the club becomes, in cm unless units say otherwise; negative for a cut.",
            Quantity("length", -40, 40),
        ),
        what_of(READINGS),
        UNITS,
        SHAFT_PER_CM,
        INERTIA,
    ),
    answers=READINGS,
    source=PARALLEL_AXIS,
    examples=(
        ('=HEFT_LENGTHEN(395, 75.3, 50, 11, 1.27, "points")', "36.0453"),
        ('=HEFT_LENGTHEN(395, 75.3, 50, 11, "1/2 in", "points", "g cm", 0.6)', "35.8341"),
    ),
)
def lengthen(
    mass: float,
    balance: float,
    grip_mass: float,
    grip_balance: float,
    change: float,
    shaft_per_cm: float,
    inertia: float | None,
) -> tuple[float | str, ...]:
    """Compute readings [g, cm, points, label, kg cm2] after the club becomes longer by a change [cm]."""
    club, grip = club_of(mass, balance, inertia), Body(grip_mass, grip_balance)
    need_rest_of_club(mass, grip_mass)
    longer = length.lengthened(club, grip, change, shaft_per_cm)
    if not 0 < longer.centre < FURTHEST:
        raise Refused("change would leave no club, its balance at {0}", Measured(round(longer.centre, 2), "length"))
    return readings_after(longer, inertia)


@formula(
    "HEFT_LENGTH_TO",
    category=CATEGORY,
    help="How much longer the club must become at the butt to reach a swingweight; negative for a cut. The grip keeps "
    "its place at the new butt. HEFT_LENGTHEN tells what it then reads.",
    arguments=(LEVEL_WANTED, MASS, BALANCE, GRIP_MASS, GRIP_BALANCE, UNITS, SHAFT_PER_CM),
    answers=CHANGE,
    source=STATICS,
    examples=(
        ('=HEFT_LENGTH_TO("D4", 395, 75.3, 50, 11, "g cm", 0.6)', "0.557134"),
        ('=HEFT_LENGTH_TO("D4", 395, 29.65, 50, 4.3, "g in")', "0.200927"),
    ),
)
def length_to(
    target: float, mass: float, balance: float, grip_mass: float, grip_balance: float, shaft_per_cm: float
) -> float:
    """Return the change of length [cm] for a target [points]: mass [g], balance [cm], grip [g, cm], shaft [g/cm]."""
    need_rest_of_club(mass, grip_mass)
    return _need_possible_change(
        length.change_to(
            target,
            Body(mass, balance),
            Body(grip_mass, grip_balance),
            shaft_per_cm,
            lowest=_deepest(balance),
            highest=LONGEST_EXTENSION,
        )
    )


@formula(
    "HEFT_LENGTH_TO_INERTIA",
    category=CATEGORY,
    help="How much longer the club must become at the butt to reach a moment of inertia; negative for a cut. The grip "
    "keeps its place at the new butt. HEFT_LENGTHEN tells what it then reads.",
    arguments=(TARGET_INERTIA, MASS, BALANCE, CLUB_INERTIA, GRIP_MASS, GRIP_BALANCE, UNITS, SHAFT_PER_CM),
    answers=CHANGE,
    source=PARALLEL_AXIS,
    examples=(('=HEFT_LENGTH_TO_INERTIA(2700, 395, 75.3, 2670, 50, 11, "g cm", 0.6)', "0.512262"),),
)
def length_to_inertia(
    target: float,
    mass: float,
    balance: float,
    inertia: float,
    grip_mass: float,
    grip_balance: float,
    shaft_per_cm: float,
) -> float:
    """Return the change of length [cm] for a target [kg cm2]: club [g, cm, kg cm2], grip [g, cm], shaft [g/cm]."""
    club, grip = club_of(mass, balance, inertia), Body(grip_mass, grip_balance)
    need_rest_of_club(mass, grip_mass)
    change = _need_possible_change(
        length.change_to_inertia(target, club, grip, shaft_per_cm, lowest=_deepest(balance), highest=LONGEST_EXTENSION)
    )
    readings_after(length.lengthened(club, grip, change, shaft_per_cm), inertia)  # it must leave a possible club
    return change


def _deepest(balance: float) -> float:
    """Return the deepest cut of a club [cm]: what is left of it must still balance beyond its butt."""
    return max(DEEPEST_CUT, -balance / 2)


def _need_possible_change(change: float | None) -> float:
    """Refuse a change of length that no builder makes."""
    if change is None:
        raise Refused(
            "no change of length does it, neither a cut of {0} nor an extension of {1}: add or take off mass",
            Measured(-DEEPEST_CUT, "length"),
            Measured(LONGEST_EXTENSION, "length"),
        )
    return change
