"""Formulas: what the instruments can support, and the verdict on one club."""

from __future__ import annotations

from itertools import chain

from evenheft.formulas.arguments import (
    BALANCE,
    BALANCE_DOUBT,
    COMMON_BALANCE_DOUBT,
    COMMON_MASS_DOUBT,
    FULCRUM_PLACE,
    GRAVITY,
    HALF_ANGLE,
    MASS,
    MASS_DOUBT,
    PERIOD,
    PIVOT,
    SWINGS,
    SWUNG_LENGTH,
    Values,
    level,
    need_beyond_fulcrum,
    need_swingweight_fulcrum,
)
from evenheft.formulas.bench import need_possible_swing
from evenheft.formulas.kinds import Number, Quantity
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import doubt
from evenheft.mechanics.bench import small_period
from evenheft.ooxml.errors import Refused

CATEGORY = "Judging"
GUM = (
    "JCGM 100:2008 (GUM): 4.3.7 rectangular half-widths, 5.1.2 propagation (clause numbers from memory); stated as U = "
    "min(2 u, sum of the half-widths). Coverage of at least 95 % by Monte Carlo as in JCGM 101."
)
GUARDED = "JCGM 106:2012, 8.3.2 guarded acceptance and 8.3.3 guarded rejection (clause numbers from memory)."
TIME_DOUBT = Argument(
    "period_doubt",
    "Half-width of the time in period, in seconds, as the stopwatch and the thumb admit to it.",
    Number(0, 10, "s"),
)


@formula(
    "HEFT_DOUBT",
    category=CATEGORY,
    help="Doubt U of a swingweight in points, from the plus or minus of the scale and of the balance point: the lesser "
    "of 2 u and of all of it together.",
    arguments=(
        MASS,
        BALANCE,
        MASS_DOUBT,
        BALANCE_DOUBT,
        UNITS,
        FULCRUM_PLACE,
        COMMON_MASS_DOUBT,
        COMMON_BALANCE_DOUBT,
    ),
    answers=(Answer("doubt", "points"),),
    source=GUM,
    examples=(
        ("=HEFT_DOUBT(395, 75.3, 0.5, 0.1)", "0.405166"),
        ('=HEFT_DOUBT(395, 75.3, 0, 0.2, "g cm", 35.56, 0, 0.1)', "0.809345"),
    ),
)
def points_doubt(
    mass: float,
    balance: float,
    mass_doubt: float,
    balance_doubt: float,
    fulcrum: float,
    common_mass_doubt: float,
    common_balance_doubt: float,
) -> float:
    """Doubt [points]: mass [g], balance [cm], half-widths [g, cm], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    need_beyond_fulcrum(balance, fulcrum)
    parts: tuple[float, ...] = doubt.points_parts(mass, balance, mass_doubt, balance_doubt, fulcrum)
    if common_mass_doubt or common_balance_doubt:
        parts += doubt.points_parts(mass, balance, common_mass_doubt, common_balance_doubt, fulcrum)
    return doubt.combined_doubt(*parts)


@formula(
    "HEFT_INERTIA_DOUBT",
    category=CATEGORY,
    help="Doubt U of a moment of inertia in kg cm2, from the plus or minus of scale, balance point and timing, and of "
    "pivot and gravity where they are given.",
    arguments=(
        MASS,
        BALANCE,
        PERIOD,
        MASS_DOUBT,
        BALANCE_DOUBT,
        TIME_DOUBT,
        UNITS,
        PIVOT,
        GRAVITY,
        HALF_ANGLE,
        SWINGS,
        SWUNG_LENGTH,
        Argument(
            "pivot_doubt",
            "Half-width of the pivot, in cm unless units say otherwise: it shifts every club alike. 0 when left out.",
            Quantity("length", 0, 10),
            0.0,
        ),
        Argument(
            "gravity_doubt",
            "Half-width of gravity, in cm/s2: it shifts every club alike. 0 when left out.",
            Number(0, 10, "cm/s2"),
            0.0,
        ),
        COMMON_MASS_DOUBT,
        COMMON_BALANCE_DOUBT,
    ),
    answers=(Answer("doubt", "kg cm2"),),
    source=GUM,
    examples=(
        ("=HEFT_INERTIA_DOUBT(395, 75.3, 1.9, 0.5, 0.1, 0.01)", "32.9082"),
        ('=HEFT_INERTIA_DOUBT(395, 75.3, 19, 0.5, 0.1, 0.1, "g cm", 0, 980.665, 0, 10, 96, 0.1, 2)', "33.6173"),
    ),
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
    half_angle: float,
    swings: float,
    club_length: float | None,
    pivot_doubt: float,
    gravity_doubt: float,
    common_mass_doubt: float,
    common_balance_doubt: float,
) -> float:
    """Doubt [kg cm2]: mass [g], lengths [cm], times [s], half-widths [g, cm, s, cm/s2], gravity [cm/s2]."""
    period = small_period(period, swings, half_angle)
    period_doubt /= swings
    need_possible_swing(balance, period, pivot, gravity, club_length, period_doubt)
    parts: tuple[float, ...] = doubt.inertia_parts(
        mass, balance, period, mass_doubt, balance_doubt, period_doubt, pivot, gravity,
        pivot_doubt=pivot_doubt, gravity_doubt=gravity_doubt,
    )  # fmt: skip
    if common_mass_doubt or common_balance_doubt:
        parts += doubt.inertia_parts(
            mass, balance, period, common_mass_doubt, common_balance_doubt, 0.0, pivot, gravity
        )[:2]  # fmt: skip
    return doubt.combined_doubt(*parts)


@formula(
    "HEFT_COMBINED_DOUBT",
    category=CATEGORY,
    help="Doubt U of a sum or a difference, from the half-widths that go into it, each in the result's unit: the "
    "lesser of 2 u and of all of them together. One alone is stated as it is.",
    arguments=(
        Argument("half_widths", "Range with the half-widths, each times what it does to the result; blanks are left "
                 "out.", Number(0, 1e6), takes="range"),
        Argument("expanded", "Range with further doubts that are stated as U already, e.g. from HEFT_DOUBT; none when "
                 "left out.", Number(0, 1e6), (), takes="range"),
    ),
    answers=(Answer("doubt", "as the half-widths"),),
    source=GUM,
    examples=(("=HEFT_COMBINED_DOUBT({0.3;0.4})", "0.57735"), ("=HEFT_COMBINED_DOUBT(0.25, 0.7)", "0.757188")),
)  # fmt: skip
def combined_doubt(half_widths: Values, expanded: Values) -> float:
    """Doubt [any unit] from half-widths and doubts [the same unit]."""
    halves, doubts = (
        [value for value in chain.from_iterable(cells) if value is not None] for cells in (half_widths, expanded)
    )
    if not halves:
        raise Refused("half_widths must hold at least one number")
    return doubt.combined_doubt(*halves, expanded=doubts)


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
    source=GUARDED,
    examples=(("=HEFT_VERDICT(32.4, \"D2\", 0.5, 0.2)", "re-measure"), ('=HEFT_VERDICT(33, "D2", 0.5, 0.2)', "high")),
)  # fmt: skip
def verdict(value: float, target: float, tolerance: float, doubt_of_value: float) -> str:
    """Judge a value against a target, all in one unit, in a word [-]."""
    return doubt.verdict(value, target, tolerance, doubt_of_value)
