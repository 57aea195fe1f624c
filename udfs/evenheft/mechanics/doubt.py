"""What the instruments can support: propagated doubt and a verdict that respects it.

Half-widths that an instrument or a person admits to are taken as rectangular
distributions, u = a / sqrt(3) (JCGM 100:2008, 4.3.7), combined by the law of propagation
for uncorrelated inputs (5.1.2). Where one or two of them dominate, twice that u is more than
all of them together can do; so the doubt stated is U = min(2 u, the sum of the half-widths).
It covers at least 95 % for one half-width and for many: tests/mechanics/test_doubt.py does it
by Monte Carlo, as JCGM 101 does. Clause numbers are from memory.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import pi
from typing import Literal

from evenheft.mechanics.swingweight import FULCRUM, POINT
from evenheft.mechanics.units import G_CM2_PER_KG_CM2, STANDARD_GRAVITY

Verdict = Literal["in", "low", "high", "re-measure"]
COVERAGE = 2.0
"""The factor k of U = k u, where that is less than all half-widths together [-]."""


def combined_doubt(*half_widths: float, expanded: Iterable[float] = ()) -> float:
    """Combine half-widths, each with its leverage, to U = min(2 u, their sum) [the half-widths' unit].

    Args:
        expanded: further doubts that are U already, with their leverage; their u is U / 2 [the result's unit].
        half_widths: sensitivity x half-width of each uncorrelated input [the result's unit].

    >>> combined_doubt(3.0)   # one instrument: never more than it admits to
    3.0
    >>> round(combined_doubt(3.0, 4.0), 6)   # 2 x 5 / sqrt(3), less than 3 + 4
    5.773503
    """
    doubts = [abs(doubt) for doubt in expanded]
    squares = sum(half * half for half in half_widths) / 3 + sum(doubt * doubt for doubt in doubts) / 4
    spread = COVERAGE * squares**0.5
    most = sum(abs(half) for half in half_widths) + sum(doubts)
    if isinstance(most, int | float):
        return float(min(spread, most))
    lesser: float = (spread + most - abs(spread - most)) / 2  # of two arrays, element by element
    return lesser


def points_parts(
    mass: float, balance: float, mass_doubt: float, balance_doubt: float, fulcrum: float = FULCRUM
) -> tuple[float, float]:
    """Work out what the half-widths of mass and balance do to a swingweight, each alone [points].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance measurement [cm].
        fulcrum: distance from the butt to the fulcrum [cm].
    """
    return (balance - fulcrum) * mass_doubt / POINT, mass * balance_doubt / POINT


def points_doubt(
    mass: float, balance: float, mass_doubt: float, balance_doubt: float, fulcrum: float = FULCRUM
) -> float:
    """Compute the expanded doubt of a swingweight [points].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance measurement [cm].
        fulcrum: distance from the butt to the fulcrum [cm].
    """
    return combined_doubt(*points_parts(mass, balance, mass_doubt, balance_doubt, fulcrum))


def inertia_parts(
    mass: float,
    balance: float,
    period: float,
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float = 0.0,
    gravity: float = STANDARD_GRAVITY,
    *,
    pivot_doubt: float = 0.0,
    gravity_doubt: float = 0.0,
) -> tuple[float, float, float, float, float]:
    """Work out what each half-width alone does to a moment of inertia from a swing [kg cm2].

    The sensitivities are the partial derivatives of `bench.inertia_from_period`:
    I = m (g d T^2 / (4 pi^2) - d^2 + b^2) with d = b - p.

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing of small amplitude [s].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance measurement [cm].
        period_doubt: half-width of the timing of one swing [s].
        pivot: distance from the butt to the pivot [cm].
        gravity: acceleration of free fall [cm/s2].
        pivot_doubt: half-width of the pivot [cm].
        gravity_doubt: half-width of gravity [cm/s2].

    Returns:
        By mass, balance, period, pivot and gravity.
    """
    arm = balance - pivot
    per_g = period**2 / (4 * pi**2)
    swing = gravity * per_g
    by_mass = swing * arm - arm**2 + balance**2
    by_balance = mass * (swing - 2 * arm + 2 * balance)
    by_period = mass * arm * gravity * period / (2 * pi**2)
    by_pivot = mass * (2 * arm - swing)
    by_gravity = mass * arm * per_g
    return (
        by_mass * mass_doubt / G_CM2_PER_KG_CM2,
        by_balance * balance_doubt / G_CM2_PER_KG_CM2,
        by_period * period_doubt / G_CM2_PER_KG_CM2,
        by_pivot * pivot_doubt / G_CM2_PER_KG_CM2,
        by_gravity * gravity_doubt / G_CM2_PER_KG_CM2,
    )


def inertia_doubt(
    mass: float,
    balance: float,
    period: float,
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float = 0.0,
    gravity: float = STANDARD_GRAVITY,
    *,
    pivot_doubt: float = 0.0,
    gravity_doubt: float = 0.0,
) -> float:
    """Compute the expanded doubt of a moment of inertia from a swing [kg cm2].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing of small amplitude [s].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance measurement [cm].
        period_doubt: half-width of the timing of one swing [s].
        pivot: distance from the butt to the pivot [cm].
        gravity: acceleration of free fall [cm/s2].
        pivot_doubt: half-width of the pivot [cm].
        gravity_doubt: half-width of gravity [cm/s2].
    """
    parts = inertia_parts(
        mass, balance, period, mass_doubt, balance_doubt, period_doubt, pivot, gravity,
        pivot_doubt=pivot_doubt, gravity_doubt=gravity_doubt,
    )  # fmt: skip
    return combined_doubt(*parts)


HAIR = 1e-9
"""Part of a value by which binary fractions must not decide: 0.7 - 0.2 is inside a tolerance of 0.5 [-]."""


def verdict(value: float, target: float, tolerance: float, doubt: float = 0.0) -> Verdict:
    """Judge a value against a target by guarded acceptance and guarded rejection (JCGM 106:2012, 8.3.2 and 8.3.3).

    Args:
        value: what was measured [any unit].
        target: what was wanted [the same unit].
        tolerance: the deviation that is still accepted [the same unit].
        doubt: expanded doubt U of the value [the same unit].

    Returns:
        "in" where the doubt cannot carry the value out, "low" or "high" where it cannot
        carry it in, otherwise "re-measure" [-].

    >>> verdict(32.4, 32.0, 0.5, 0.2), verdict(32.4, 32.0, 0.5), verdict(33.0, 32.0, 0.5, 0.2)
    ('re-measure', 'in', 'high')
    """
    deviation = value - target
    hair = HAIR * max(1.0, abs(value), abs(target))
    if abs(deviation) <= tolerance - doubt + hair:
        return "in"
    if abs(deviation) > tolerance + doubt + hair:
        return "low" if deviation < 0 else "high"
    return "re-measure"
