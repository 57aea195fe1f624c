"""Formulas: what tolerance the instruments support, what a tolerance asks of them, and whether a set is alike."""

from __future__ import annotations

from itertools import chain

from evenheft.formulas.arguments import (
    ANY_NUMBER,
    BALANCE,
    BALANCE_DOUBT,
    GRAVITY,
    MASS,
    MASS_DOUBT,
    MOST_SWINGS,
    PERIOD,
    PIVOT,
    SWINGS,
    Values,
    complete_pairs,
)
from evenheft.formulas.bench import need_possible_swing
from evenheft.formulas.doubt import CATEGORY, GUARDED, TIME_DOUBT
from evenheft.formulas.kinds import Number
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.formulas.wording import show
from evenheft.mechanics import doubt, tolerance
from evenheft.mechanics.stock_for_set import MOST_CLUBS
from evenheft.mechanics.swingweight import POINT
from evenheft.ooxml.errors import Refused

OWN_RULE = "Our own rule: a doubt may take at most two thirds of a tolerance, so that a third is left to be in."
_ANSWERS = (
    Answer("verdict", "word"),
    Answer("worst", "as the deviations"),
    Answer("offset", "as the deviations"),
    Answer("count", "clubs"),
    Answer("line", "text"),
)


@formula(
    "HEFT_LEAST_TOLERANCE",
    category=CATEGORY,
    help="The smallest tolerance that a doubt supports, in the same unit: half as much again, so that a third of the "
    "tolerance is left in which a club is judged in.",
    arguments=(Argument("doubt", "Doubt U of the value, e.g. from HEFT_DOUBT.", Number(0, 1e6)),),
    answers=(Answer("tolerance", "as the doubt"),),
    source=OWN_RULE,
    examples=(("=HEFT_LEAST_TOLERANCE(HEFT_DOUBT(395, 75.3, 0.2, 0.2))", "1.03498"),),
)
def least_tolerance(doubt_of_value: float) -> float:
    """Tolerance [any unit] that a doubt [the same unit] supports."""
    return tolerance.least_tolerance(doubt_of_value)


@formula(
    "HEFT_BALANCE_NEEDED",
    category=CATEGORY,
    help="How finely the balance must be read for a tolerance of swingweight: the largest half-width of balance that "
    "the tolerance allows. Answers in the length unit of units.",
    arguments=(
        MASS,
        BALANCE,
        Argument("tolerance", "Tolerance of the swingweight, in points.", Number(0, 100, "points", above_low=True)),
        MASS_DOUBT,
        UNITS,
    ),
    answers=(Answer("balance doubt", "length unit", "length"),),
    source=OWN_RULE,
    examples=(("=HEFT_BALANCE_NEEDED(395, 75.3, 0.5, 0.2)", "0.0898686"),),
)
def balance_needed(mass: float, balance: float, wanted: float, mass_doubt: float) -> float:
    """Half-width of balance [cm] for a tolerance [points]: mass [g], balance [cm], half-width [g]."""
    by_mass, _ = doubt.points_parts(mass, balance, mass_doubt, 0.0)
    room = tolerance.room_for(tolerance.most_doubt(wanted), by_mass)
    if room is None:
        least = tolerance.least_tolerance(by_mass)
        raise Refused(
            f"the scale alone leaves {show(round(by_mass, 2))} points in doubt: a tolerance of at least "
            f"{show(round(least, 2))} points, or a finer scale"
        )
    return room * POINT / mass


@formula(
    "HEFT_SWINGS_NEEDED",
    category=CATEGORY,
    help="How many full swings to count so that the inertia is known within a doubt that is wanted.",
    arguments=(
        Argument("doubt", "Doubt U of the inertia that is wanted, in kg cm2; two thirds of a tolerance.",
                 Number(0, 20000, "kg cm2", above_low=True)),
        MASS,
        BALANCE,
        PERIOD,
        MASS_DOUBT,
        BALANCE_DOUBT,
        TIME_DOUBT,
        UNITS,
        PIVOT,
        GRAVITY,
        SWINGS,
    ),
    answers=(Answer("swings", "swings"),),
    source="HEFT_INERTIA_DOUBT, turned round: the stopwatch's half-width is divided by the swings counted.",
    examples=(("=HEFT_SWINGS_NEEDED(30, 395, 75.3, 1.9, 0.2, 0.2, 0.1)", "12"),),
)  # fmt: skip
def swings_needed(
    wanted: float,
    mass: float,
    balance: float,
    period: float,
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float,
    gravity: float,
    swings: float,
) -> float:
    """Swings to count [-] for a doubt [kg cm2]: mass [g], lengths [cm], times [s], half-widths, gravity [cm/s2]."""
    period /= swings
    need_possible_swing(balance, period, pivot, gravity, period_doubt=period_doubt)
    by_mass, by_balance, by_period, *_ = doubt.inertia_parts(
        mass, balance, period, mass_doubt, balance_doubt, period_doubt, pivot, gravity
    )
    needed = tolerance.swings_for(wanted, by_period, by_mass, by_balance)
    if needed is None:
        least = doubt.combined_doubt(by_mass, by_balance)
        raise Refused(
            f"mass and balance alone leave {show(round(least, 1))} kg cm2 in doubt: no number of swings brings it to "
            f"{show(wanted)}"
        )
    if needed > MOST_SWINGS:
        raise Refused(f"{needed} swings would have to be counted, more than {MOST_SWINGS}: read the balance finer")
    return float(needed)


@formula(
    "HEFT_ALIKE",
    category=CATEGORY,
    help='Whether a set is alike: each deviation against the mean of all, "in" where none lies further from it than '
    'the tolerance, "out", or "re-measure"; the worst, the mean, how many clubs, and all of it in a line.',
    arguments=(
        Argument("deviations", "Range with each club's value less its target; blanks are left out.", ANY_NUMBER,
                 takes="range"),
        Argument("tolerance", "How far from the mean of the set a club may lie, in the same unit.", Number(0, 1e6)),
        Argument("doubts", "Range of equal shape with each club's own doubt U, without what shifts every club alike; "
                 "none when left out.", Number(0, 1e6), (), takes="range"),
        what_of(_ANSWERS),
    ),
    answers=_ANSWERS,
    source=f"{GUARDED} What is common to all clubs cancels in a difference from their mean.",
    examples=(
        ('=HEFT_ALIKE({1.1;1.3;0.9}, 0.5, {0.1;0.1;0.1}, "verdict")', "in"),
        ('=HEFT_ALIKE({1.1;1.3;0.9}, 0.5, {0.1;0.1;0.1}, "offset")', "1.1"),
    ),
)  # fmt: skip
def alike(deviations: Values, wanted: float, doubts: Values) -> tuple[float | str, ...]:
    """Word [-], worst and mean deviation [any unit], count and a line [-] of a set."""
    if doubts:
        clubs = complete_pairs(deviations, doubts, "deviations and doubts")
    else:
        clubs = [(value, 0.0) for value in chain.from_iterable(deviations) if value is not None]
    if len(clubs) < 2:
        raise Refused(f"deviations must hold at least two clubs, got {len(clubs)}")
    if len(clubs) > MOST_CLUBS:
        raise Refused(f"deviations must hold at most {MOST_CLUBS} clubs, got {len(clubs)}")
    found = tolerance.alike([value for value, _ in clubs], wanted, [doubted for _, doubted in clubs])
    return found.verdict, found.worst, found.offset, float(len(clubs)), _line(found)


def _line(found: tolerance.Alike) -> str:
    apart, off = show(abs(round(found.worst, 2))), f"{round(found.offset, 2) + 0.0:+g}"
    said = {"in": "alike", "out": "not alike", "re-measure": "perhaps alike (measure again)"}
    return f"{said[found.verdict]}: the clubs lie up to {apart} from their mean, which is {off} from target"
