"""What the instruments can support: propagated doubt and a verdict that respects it.

Half-widths that an instrument or a person admits to are taken as rectangular
distributions, u = a / sqrt(3) (JCGM 100:2008, 4.3.7), combined by the law of propagation
for uncorrelated inputs (5.1.2) and stated as an expanded uncertainty U = 2 u (6.2.1).
"""

from __future__ import annotations

from math import pi
from typing import Literal

from evenheft.mechanics.swingweight import FULCRUM, POINT
from evenheft.mechanics.units import G_CM2_PER_KG_CM2, STANDARD_GRAVITY

Verdict = Literal["in", "low", "high", "re-measure"]
COVERAGE = 2.0
"""The factor k in U = k u [-]."""


def combined_doubt(*contributions: float) -> float:
    """Combine uncorrelated contributions into the expanded doubt U = 2 u of their sum [the contributions' unit].

    Args:
        contributions: sensitivity x half-width of each input [the result's unit].

    >>> round(combined_doubt(3.0, 4.0), 6)   # 2 x 5 / sqrt(3)
    5.773503
    """
    root: float = (sum(c * c for c in contributions) / 3) ** 0.5
    return COVERAGE * root


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
    return combined_doubt((balance - fulcrum) * mass_doubt / POINT, mass * balance_doubt / POINT)


def inertia_doubt(
    mass: float,
    balance: float,
    period: float,
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float = 0.0,
    gravity: float = STANDARD_GRAVITY,
) -> float:
    """Compute the expanded doubt of a moment of inertia from a swing [kg cm2].

    The sensitivities are the partial derivatives of `bench.inertia_from_period`:
    I = m (g d T^2 / (4 pi^2) - d^2 + b^2) with d = b - p.

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing [s].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance measurement [cm].
        period_doubt: half-width of the timing of one swing [s].
        pivot: distance from the butt to the pivot [cm].
        gravity: acceleration of free fall [cm/s2].
    """
    arm = balance - pivot
    swing = gravity * period**2 / (4 * pi**2)
    by_mass = swing * arm - arm**2 + balance**2
    by_balance = mass * (swing - 2 * arm + 2 * balance)
    by_period = mass * arm * gravity * period / (2 * pi**2)
    total = combined_doubt(by_mass * mass_doubt, by_balance * balance_doubt, by_period * period_doubt)
    return total / G_CM2_PER_KG_CM2


def verdict(value: float, target: float, tolerance: float, doubt: float = 0.0) -> Verdict:
    """Judge a value against a target by guarded acceptance (JCGM 106:2012, 8.3).

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
    # Binary fractions must not decide: 0.7 - 0.2 is inside a tolerance of 0.5.
    hair = 1e-9 * max(1.0, abs(value), abs(target))
    if abs(deviation) <= tolerance - doubt + hair:
        return "in"
    if abs(deviation) > tolerance + doubt + hair:
        return "low" if deviation < 0 else "high"
    return "re-measure"
