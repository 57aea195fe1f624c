"""Formulas: what to do about a swingweight, with grams at a place or at two."""

from __future__ import annotations

from evenheft.formulas.answers import READINGS
from evenheft.formulas.arguments import (
    BALANCE,
    CLUB_MASS,
    FULCRUM_PLACE,
    INERTIA,
    MASS,
    club_of,
    level,
    need_beyond_fulcrum,
    need_swingweight_fulcrum,
)
from evenheft.formulas.changes import (
    PARALLEL_AXIS,
    POSITION,
    STATICS,
    need_a_club_left,
    need_both_possible,
    need_off_fulcrum,
    need_sensible_grams,
    need_two_places,
    readings_after,
)
from evenheft.formulas.kinds import Quantity
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.mechanics import bodies, correction
from evenheft.mechanics.bodies import Body

CATEGORY = "Correction"

LEVEL_WANTED = level("target", 'Swingweight wanted, as a number or a label such as "D2".')
FIRST_POSITION = Argument(
    "first_position",
    "Distance from the butt to the first place, in cm unless units say otherwise.",
    POSITION.kind,
)
SECOND_POSITION = Argument(
    "second_position",
    "Distance from the butt to the second place, in cm unless units say otherwise.",
    POSITION.kind,
)
TWO = (Answer("first", "mass unit", "mass"), Answer("second", "mass unit", "mass"))


@formula(
    "HEFT_PER_GRAM",
    category=CATEGORY,
    help="Swingweight points that one gram adds at a place. Negative between butt and fulcrum, 0 at the fulcrum.",
    arguments=(POSITION, UNITS, FULCRUM_PLACE),
    answers=(Answer("points per gram", "points/g"),),
    source=STATICS,
    examples=(("=HEFT_PER_GRAM(110)", "0.59073"), ('=HEFT_PER_GRAM("4 in")', "-0.201565")),
)
def per_gram(position: float, fulcrum: float) -> float:
    """Points per gram [points/g] at a position [cm], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    return correction.points_per_gram(position, fulcrum)


@formula(
    "HEFT_GRAMS_TO",
    category=CATEGORY,
    help="Mass to add at a place to reach a swingweight; negative where so much must be removed.",
    arguments=(LEVEL_WANTED, MASS, BALANCE, POSITION, UNITS, FULCRUM_PLACE),
    answers=(Answer("grams", "mass unit", "mass"),),
    source=STATICS,
    examples=(('=HEFT_GRAMS_TO("D2", 395, 75.0, 94)', "0.802364"),),
)
def grams_to(target: float, mass: float, balance: float, position: float, fulcrum: float) -> float:
    """Mass to add [g]: target [points], mass [g], balance [cm], position [cm], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    need_beyond_fulcrum(balance, fulcrum)
    need_off_fulcrum(position, fulcrum)
    grams = correction.grams_to(target, mass, balance, position, fulcrum)
    need_sensible_grams(mass, grams)
    return grams


@formula(
    "HEFT_AFTER",
    category=CATEGORY,
    help="What a club reads after mass is added at a place (negative: removed): mass, balance, points, swingweight, "
    "and its inertia where that before is given.",
    arguments=(
        MASS,
        BALANCE,
        Argument(
            "added",
            "Mass added at the place, in g unless units say otherwise; negative for mass removed.",
            Quantity("mass", -1000, 1000),
        ),
        POSITION,
        what_of(READINGS),
        UNITS,
        INERTIA,
    ),
    answers=READINGS,
    source=PARALLEL_AXIS,
    examples=(
        ('=HEFT_AFTER(395, 75.3, 2, 94, "points")', "33.4958"),
        ('=HEFT_AFTER(395, 75.3, 2, 94, "inertia", "g cm", 2650)', "2667.67"),
    ),
)
def after(mass: float, balance: float, added: float, position: float, inertia: float | None) -> tuple[float | str, ...]:
    """Compute readings [g, cm, points, label, kg cm2] after a mass [g] is added at a position [cm]."""
    need_a_club_left(mass, added)
    return readings_after(bodies.combine([club_of(mass, balance, inertia), Body(added, position)]), inertia)


@formula(
    "HEFT_TWO_WEIGHTS",
    category=CATEGORY,
    help="Masses to add at two places to meet a swingweight and a total mass together; negative where mass must be "
    "removed.",
    arguments=(
        MASS,
        BALANCE,
        FIRST_POSITION,
        SECOND_POSITION,
        LEVEL_WANTED,
        Argument("target_mass", "Mass wanted of the whole club, in g unless units say otherwise.", CLUB_MASS),
        what_of(TWO),
        UNITS,
        FULCRUM_PLACE,
    ),
    answers=TWO,
    source=STATICS,
    examples=(
        ('=HEFT_TWO_WEIGHTS(395, 75, 110, 3, "D2", 410, "first")', "5.00271"),
        ('=HEFT_TWO_WEIGHTS(395, 75, 110, 3, "D2", 410, "second")', "9.99729"),
    ),
)
def two_weights(
    mass: float,
    balance: float,
    first_position: float,
    second_position: float,
    target: float,
    target_mass: float,
    fulcrum: float,
) -> tuple[float, float]:
    """Masses [g] at two positions [cm] for a target [points] and a target mass [g], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    need_beyond_fulcrum(balance, fulcrum)
    need_two_places(first_position, second_position)
    first, second = correction.two_weights(
        target, target_mass, Body(mass, balance), first_position, second_position, fulcrum
    )
    need_both_possible(first, second)
    return first, second
