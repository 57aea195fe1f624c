"""Formulas: what the instruments can support, and the verdict on one club."""

from __future__ import annotations

from evenheft.formulas.arguments import (
    BALANCE,
    FULCRUM,
    GRAVITY,
    MASS,
    PERIOD,
    PIVOT,
    balance_doubt,
    level,
    mass_doubt,
    need_beyond_fulcrum,
)
from evenheft.formulas.bench import need_possible_swing
from evenheft.formulas.kinds import Number
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import doubt

CATEGORY = "Judging"
GUM = "JCGM 100:2008 (GUM), 4.3.7 rectangular half-widths, 5.1.2 propagation, 6.2.1 with k = 2."


@formula(
    "HEFT_DOUBT",
    category=CATEGORY,
    help="Doubt of a swingweight in points (U = 2 u), from the plus or minus of the scale and of the balance point.",
    arguments=(MASS, BALANCE, mass_doubt(), balance_doubt(), UNITS, FULCRUM),
    answers=(Answer("doubt", "points"),),
    source=GUM,
    examples=(("=HEFT_DOUBT(395, 75.3, 0.5, 0.1)", "0.405166"),),
)
def points_doubt(mass: float, balance: float, mass_doubt: float, balance_doubt: float, fulcrum: float) -> float:
    """Doubt [points]: mass [g], balance [cm], half-widths [g, cm], fulcrum [cm]."""
    need_beyond_fulcrum(balance, fulcrum)
    return doubt.points_doubt(mass, balance, mass_doubt, balance_doubt, fulcrum)


@formula(
    "HEFT_INERTIA_DOUBT",
    category=CATEGORY,
    help="Doubt of a moment of inertia in kg cm2 (U = 2 u), from the plus or minus of scale, balance point and timing.",
    arguments=(
        MASS,
        BALANCE,
        PERIOD,
        mass_doubt(),
        balance_doubt(),
        Argument(
            "period_doubt",
            "Half-width of the time of one swing in seconds: the stopwatch's divided by the number of swings timed.",
            Number(0, 1, "s"),
        ),
        UNITS,
        PIVOT,
        GRAVITY,
    ),
    answers=(Answer("doubt", "kg cm2"),),
    source=GUM,
    examples=(("=HEFT_INERTIA_DOUBT(395, 75.3, 1.9, 0.5, 0.1, 0.01)", "32.9082"),),
)
def inertia_doubt(
    mass: float,
    balance: float,
    period: float,
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float,
    gravity: float,
) -> float:
    """Doubt [kg cm2]: mass [g], balance [cm], period [s], half-widths [g, cm, s], pivot [cm], gravity [cm/s2]."""
    need_possible_swing(balance, period, pivot, gravity)
    return doubt.inertia_doubt(mass, balance, period, mass_doubt, balance_doubt, period_doubt, pivot, gravity)


@formula(
    "HEFT_VERDICT",
    category=CATEGORY,
    help='Judges a value: "in", "low", "high", or "re-measure" where the doubt could carry it across the tolerance. '
    "With no doubt given it is a plain comparison.",
    arguments=(
        level("value", 'What was measured, in any unit, or a swingweight label such as "D2".'),
        level("target", 'What is wanted, in the same unit, or a swingweight label such as "D2".'),
        Argument("tolerance", "The deviation that is still accepted, in the same unit.", Number(0, 1e6)),
        Argument(
            "doubt", "Doubt of the value in the same unit, e.g. from HEFT_DOUBT; 0 when left out.",
            Number(0, 1e6), 0.0,
        ),
    ),
    answers=(Answer("verdict", "word"),),
    source="JCGM 106:2012, 8.3, guarded acceptance.",
    examples=(("=HEFT_VERDICT(32.4, \"D2\", 0.5, 0.2)", "re-measure"), ('=HEFT_VERDICT(33, "D2", 0.5, 0.2)', "high")),
)  # fmt: skip
def verdict(value: float, target: float, tolerance: float, doubt_of_value: float) -> str:
    """Judge a value against a target, all in one unit, in a word [-]."""
    return doubt.verdict(value, target, tolerance, doubt_of_value)
