"""Formulas: what to do about a moment of inertia, and the inertia about another axis."""

from __future__ import annotations

from evenheft.formulas.arguments import (
    BALANCE,
    FURTHEST,
    INERTIA,
    MASS,
    club_of,
)
from evenheft.formulas.changes import (
    NEAREST,
    PARALLEL_AXIS,
    POSITION,
    need_both_possible,
    need_sensible_grams,
    need_two_places,
)
from evenheft.formulas.correction import CATEGORY, FIRST_POSITION, LEVEL_WANTED, SECOND_POSITION, TWO
from evenheft.formulas.kinds import Number, Quantity
from evenheft.formulas.registry import REQUIRED, UNITS, Answer, Argument, formula, what_of
from evenheft.formulas.wording import Measured, show
from evenheft.mechanics import inertia_correction as mechanics
from evenheft.ooxml.errors import Refused

INERTIA_KIND = Number(1, 20000, "kg cm2")
CLUB_INERTIA = Argument("inertia", "Moment of inertia of the club as it is, about the butt, in kg cm2.", INERTIA_KIND)
TARGET_INERTIA = Argument("target", "Moment of inertia wanted, about the butt, in kg cm2.", INERTIA_KIND)
AXIS = Quantity("length", -100, FURTHEST)

_LEAST_INDEPENDENCE = 2000.0
"""Below this, two places add swingweight and inertia in one proportion, as far as a bench can tell [cm3]."""


@formula(
    "HEFT_GRAMS_TO_INERTIA",
    category=CATEGORY,
    help="Mass to add at a place to reach a moment of inertia about the butt; negative where so much must be removed.",
    arguments=(TARGET_INERTIA, MASS, BALANCE, CLUB_INERTIA, POSITION, UNITS),
    answers=(Answer("grams", "mass unit", "mass"),),
    source=PARALLEL_AXIS,
    examples=(("=HEFT_GRAMS_TO_INERTIA(2700, 395, 75.3, 2670, 94)", "3.39520"),),
)
def grams_to_inertia(target: float, mass: float, balance: float, inertia: float, position: float) -> float:
    """Return the mass to add [g]: target [kg cm2], mass [g], balance [cm], inertia [kg cm2], position [cm]."""
    club_of(mass, balance, inertia)  # an inertia that no such club has is refused
    if position < NEAREST:
        raise Refused(
            "position must be at least {0} from the butt, where added mass does nothing for the inertia, got {1}",
            Measured(NEAREST, "length"),
            Measured(position, "length"),
        )
    grams = mechanics.grams_to_inertia(target, inertia, position)
    need_sensible_grams(mass, grams)
    return grams


@formula(
    "HEFT_TWO_WEIGHTS_INERTIA",
    category=CATEGORY,
    help="Masses to add at two places to meet a swingweight and a moment of inertia together; negative where mass must "
    "be removed.",
    arguments=(
        MASS,
        BALANCE,
        CLUB_INERTIA,
        FIRST_POSITION,
        SECOND_POSITION,
        LEVEL_WANTED,
        Argument("target_inertia", TARGET_INERTIA.help, INERTIA_KIND),
        what_of(TWO),
        UNITS,
    ),
    answers=TWO,
    source=PARALLEL_AXIS,
    examples=(
        ('=HEFT_TWO_WEIGHTS_INERTIA(395, 75.3, 2670, 94, 3, "D2", 2700, "first")', "3.38677"),
        ('=HEFT_TWO_WEIGHTS_INERTIA(395, 75.3, 2670, 94, 3, "D2", 2700, "second")', "8.27803"),
    ),
)
def two_weights_inertia(
    mass: float,
    balance: float,
    inertia: float,
    first_position: float,
    second_position: float,
    target: float,
    target_inertia: float,
) -> tuple[float, float]:
    """Return the masses [g] at two positions [cm] for a target [points] and a target inertia [kg cm2]."""
    club = club_of(mass, balance, inertia)
    need_two_places(first_position, second_position)
    if abs(mechanics.independence(first_position, second_position)) < _LEAST_INDEPENDENCE:
        raise Refused(
            "a gram at {0} and one at {1} do the same to swingweight and inertia: choose another second_position",
            Measured(first_position, "length"),
            Measured(second_position, "length"),
        )
    first, second = mechanics.two_weights_for_inertia(target, target_inertia, club, first_position, second_position)
    need_both_possible(first, second)
    need_sensible_grams(mass, first, second)
    return first, second


@formula(
    "HEFT_INERTIA_ABOUT",
    category=CATEGORY,
    help="Moment of inertia in kg cm2 about another axis across the shaft, from that about the butt or another axis: "
    "I - 2 a m b + m a^2.",
    arguments=(
        Argument(INERTIA.name, "Moment of inertia of the club about the axis, in kg cm2.", INERTIA_KIND, REQUIRED),
        MASS,
        BALANCE,
        Argument(
            "new_axis",
            "Distance from the butt to the new axis, in cm unless units say otherwise; negative where it lies beyond "
            "the butt, such as a wrist.",
            AXIS,
        ),
        UNITS,
        Argument(
            "axis",
            "Distance from the butt to the axis that the given inertia holds for, in cm unless units say otherwise; 0 "
            "(the butt) when left out.",
            AXIS,
            0.0,
        ),
    ),
    answers=(Answer("inertia", "kg cm2"),),
    source="Parallel-axis theorem, any handbook of mechanics.",
    examples=(
        ("=HEFT_INERTIA_ABOUT(2667.23, 395, 75.3, 75.3)", "427.544"),
        ("=HEFT_INERTIA_ABOUT(2667.23, 395, 75.3, -10)", "3301.6"),
    ),
)
def inertia_about(inertia: float, mass: float, balance: float, new_axis: float, axis: float) -> float:
    """Return the inertia [kg cm2] about a new axis [cm]: inertia [kg cm2], mass [g], balance [cm], axis [cm]."""
    least = mechanics.inertia_about(0.0, mass, balance, axis, balance)  # of a point mass at the balance
    if inertia < least:
        raise Refused(
            f"inertia must be at least mass x (balance - axis) squared, {show(least)} kg cm2, got {show(inertia)}"
        )
    return mechanics.inertia_about(inertia, mass, balance, new_axis, axis)
