"""How sure a value is, and whether it is within its tolerance."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, overload

from evenheft.mechanics import agreement as comparison
from evenheft.mechanics import doubt as propagation
from evenheft.mechanics import tolerance as tolerances
from evenheft.mechanics.agreement import Agreement
from evenheft.mechanics.units import STANDARD_GRAVITY
from evenheft.python.numbers_or_arrays import answer, listed, plain

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given, Words


@overload
def doubt(
    mass: float,
    balance: float,
    mass_doubt: float,
    balance_doubt: float,
    common_mass_doubt: float = ...,
    common_balance_doubt: float = ...,
) -> float: ...
@overload
def doubt(
    mass: Given,
    balance: Given,
    mass_doubt: Given,
    balance_doubt: Given,
    common_mass_doubt: Given = ...,
    common_balance_doubt: Given = ...,
) -> Array: ...
def doubt(
    mass: Given,
    balance: Given,
    mass_doubt: Given,
    balance_doubt: Given,
    common_mass_doubt: Given = 0.0,
    common_balance_doubt: Given = 0.0,
) -> float | Array:
    """Doubt U of a swingweight from the plus or minus of scale and balance point [points].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance point [cm].
        common_mass_doubt: half-width of mass that shifts every club alike [g].
        common_balance_doubt: half-width of balance that shifts every club alike [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: JCGM 100:2008 (GUM), 4.3.7 and 5.1.2 (clause numbers from memory); U = min(2 u, sum of the half-widths).

    >>> doubt(mass=395, balance=75.3, mass_doubt=0.5, balance_doubt=0.1)
    0.405166
    """
    return answer(
        "HEFT_DOUBT",
        {
            "mass": mass,
            "balance": balance,
            "mass_doubt": mass_doubt,
            "balance_doubt": balance_doubt,
            "common_mass_doubt": common_mass_doubt,
            "common_balance_doubt": common_balance_doubt,
        },
        _doubt,
    )


def _doubt(
    mass: float, balance: float, mass_doubt: float, balance_doubt: float, common_mass: float, common_balance: float
) -> float:
    own = propagation.points_parts(mass, balance, mass_doubt, balance_doubt)
    common = propagation.points_parts(mass, balance, common_mass, common_balance)
    return propagation.combined_doubt(*own, *common)


@overload
def inertia_doubt(
    mass: float,
    balance: float,
    period: float,
    mass_doubt: float,
    balance_doubt: float,
    period_doubt: float,
    pivot: float = ...,
    gravity: float = ...,
    half_angle: float = ...,
    swings: float = ...,
    pivot_doubt: float = ...,
    gravity_doubt: float = ...,
    common_mass_doubt: float = ...,
    common_balance_doubt: float = ...,
) -> float: ...
@overload
def inertia_doubt(
    mass: Given,
    balance: Given,
    period: Given,
    mass_doubt: Given,
    balance_doubt: Given,
    period_doubt: Given,
    pivot: Given = ...,
    gravity: Given = ...,
    half_angle: Given = ...,
    swings: Given = ...,
    pivot_doubt: Given = ...,
    gravity_doubt: Given = ...,
    common_mass_doubt: Given = ...,
    common_balance_doubt: Given = ...,
) -> Array: ...
def inertia_doubt(
    mass: Given,
    balance: Given,
    period: Given,
    mass_doubt: Given,
    balance_doubt: Given,
    period_doubt: Given,
    pivot: Given = 0.0,
    gravity: Given = STANDARD_GRAVITY,
    half_angle: Given = 0.0,
    swings: Given = 1.0,
    pivot_doubt: Given = 0.0,
    gravity_doubt: Given = 0.0,
    common_mass_doubt: Given = 0.0,
    common_balance_doubt: Given = 0.0,
) -> float | Array:
    """Doubt U of a moment of inertia from a swing [kg cm2].

    Answered element by element.

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing, there and back, or of as many as `swings` [s].
        mass_doubt: half-width of the scale [g].
        balance_doubt: half-width of the balance point [cm].
        period_doubt: half-width of the time in `period` [s].
        pivot: distance from the butt to the axis that the club swings about [cm].
        gravity: acceleration of free fall [cm/s2].
        half_angle: how far it swung to each side, at mean [degrees].
        swings: how many swings took that time [-].
        pivot_doubt: half-width of the pivot [cm].
        gravity_doubt: half-width of gravity [cm/s2].
        common_mass_doubt: half-width of mass that shifts every club alike [g].
        common_balance_doubt: half-width of balance that shifts every club alike [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: JCGM 100:2008 (GUM), 4.3.7 and 5.1.2 (clause numbers from memory); U = min(2 u, sum of the half-widths).

    >>> inertia_doubt(395, 75.3, period=1.9, mass_doubt=0.5, balance_doubt=0.1, period_doubt=0.01)
    32.9082
    """
    return answer(
        "HEFT_INERTIA_DOUBT",
        {
            "mass": mass,
            "balance": balance,
            "period": period,
            "mass_doubt": mass_doubt,
            "balance_doubt": balance_doubt,
            "period_doubt": period_doubt,
            "pivot": pivot,
            "gravity": gravity,
            "half_angle": half_angle,
            "swings": swings,
            "pivot_doubt": pivot_doubt,
            "gravity_doubt": gravity_doubt,
            "common_mass_doubt": common_mass_doubt,
            "common_balance_doubt": common_balance_doubt,
        },
    )


@overload
def verdict(value: float, target: float, tolerance: float, doubt: float = ...) -> str: ...
@overload
def verdict(value: Given, target: Given, tolerance: Given, doubt: Given = ...) -> Words: ...
def verdict(value: Given, target: Given, tolerance: Given, doubt: Given = 0.0) -> str | Words:
    """Judge a value: "in", "low", "high", or "re-measure" where the doubt could carry it across the tolerance [-].

    Args:
        value: what was measured [any unit].
        target: what is wanted [the same unit].
        tolerance: the deviation that is still accepted [the same unit].
        doubt: doubt U of the value [the same unit].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: JCGM 106:2012, 8.3.2 guarded acceptance and 8.3.3 guarded rejection (clause numbers from memory).

    >>> verdict(32.4, target=32, tolerance=0.5, doubt=0.2)
    're-measure'
    """
    return answer("HEFT_VERDICT", {"value": value, "target": target, "tolerance": tolerance, "doubt": doubt})


@overload
def least_tolerance(doubt: float) -> float: ...
@overload
def least_tolerance(doubt: Given) -> Array: ...
def least_tolerance(doubt: Given) -> float | Array:
    """Return the smallest tolerance that a doubt supports [the doubt's unit].

    Args:
        doubt: doubt U of the value [any unit].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: our own rule: a doubt may take at most two thirds of a tolerance.

    >>> least_tolerance(0.5)
    0.75
    """
    return answer("HEFT_LEAST_TOLERANCE", {"doubt": doubt}, tolerances.least_tolerance)


@overload
def combined_doubt(*half_widths: float, expanded: Iterable[float] = ...) -> float: ...
@overload
def combined_doubt(*half_widths: Given, expanded: Iterable[Given] = ...) -> Array: ...
def combined_doubt(*half_widths: Given, expanded: Iterable[Given] = ()) -> float | Array:
    """Doubt U of a sum or a difference, from what goes into it [the result's unit].

    Args:
        half_widths: each times what it does to the result [the result's unit].
        expanded: further doubts that are U already [the result's unit].

    Raises:
        TypeError: one of them is no number.

    Source: JCGM 100:2008 (GUM), 5.1.2 (clause number from memory); U = min(2 u, sum of the half-widths).

    >>> combined_doubt(0.3, 0.4)
    0.57735
    """
    halves = (plain("half_widths", half) for half in half_widths)
    return propagation.combined_doubt(*halves, expanded=[plain("expanded", doubted) for doubted in expanded])


def agreement(first: Sequence[float] | Array, second: Sequence[float] | Array) -> Agreement:
    """Compare two ways to measure the same clubs [the values' unit].

    Args:
        first: values by the first way, one per club [any unit].
        second: values of the same clubs by the second way [the same unit].

    Raises:
        ValueError: fewer than two clubs, or not as many in both.

    Source: Bland and Altman, Lancet 1986; i: 307-310.

    >>> agreement([30.0, 31.0, 32.0], [30.5, 31.0, 33.0]).bias
    0.5
    """
    return comparison.agree(listed("first", first), listed("second", second))


@overload
def length_limit(length: float, putter: bool = ..., *, local_rule: bool = ...) -> str: ...
@overload
def length_limit(length: Given, putter: bool = ..., *, local_rule: bool = ...) -> Words: ...
def length_limit(length: Given, putter: bool = False, *, local_rule: bool = False) -> str | Words:
    """Say whether a club's length is "within" the equipment rules, "too short" or "too long" [-].

    Args:
        length: club length by the 60 degree plane, a putter's along its shaft [cm].
        putter: whether the clubs are putters [-].
        local_rule: whether Model Local Rule G-10 is in effect [-].

    Raises:
        ValueError: out of bounds.

    Source: R&A and USGA Equipment Rules, Part 2, 1c; Model Local Rule G-10 (from memory).

    >>> length_limit(48.25 * 2.54)
    'too long'
    """
    words = {"putter": "putter" if putter else "other", "local_rule": "G-10" if local_rule else "none"}
    return answer("HEFT_LENGTH_LIMIT", {"length": length}, words=words)
