"""What the bench measures: balance from a support, inertia from a swing, gravity at a place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, overload

from evenheft.formulas.arguments import CLUB_LENGTH, LONGEST_SWING, SHORTEST_SWING
from evenheft.mechanics import bench
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.mechanics.units import G_CM2_PER_KG_CM2, STANDARD_GRAVITY
from evenheft.python.numbers_or_arrays import answer, one

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given


@overload
def inertia(
    mass: float,
    balance: float,
    period: float,
    pivot: float = ...,
    gravity: float = ...,
    half_angle: float = ...,
    swings: float = ...,
) -> float: ...
@overload
def inertia(
    mass: Given,
    balance: Given,
    period: Given,
    pivot: Given = ...,
    gravity: Given = ...,
    half_angle: Given = ...,
    swings: Given = ...,
) -> Array: ...
def inertia(
    mass: Given,
    balance: Given,
    period: Given,
    pivot: Given = 0.0,
    gravity: Given = STANDARD_GRAVITY,
    half_angle: Given = 0.0,
    swings: Given = 1.0,
) -> float | Array:
    """Moment of inertia about the butt, from a club that swings freely [kg cm2].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing, there and back, or of as many as `swings` [s].
        pivot: distance from the butt to the axis that the club swings about [cm].
        gravity: acceleration of free fall [cm/s2].
        half_angle: how far it swung to each side, at mean [degrees].
        swings: how many swings took that time [-].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: compound pendulum and parallel-axis theorem, any handbook of mechanics; a wider swing by the
    series T = T0 (1 + a^2/16 + 11 a^4/3072).

    >>> inertia(mass=395, balance=75.3, period=19, swings=10)
    2667.23
    """
    return answer(
        "HEFT_INERTIA",
        {
            "mass": mass,
            "balance": balance,
            "period": period,
            "pivot": pivot,
            "gravity": gravity,
            "half_angle": half_angle,
            "swings": swings,
        },
        _inertia,
        _possible,
    )


def _inertia(
    mass: float, balance: float, period: float, pivot: float, gravity: float, half_angle: float, swings: float
) -> float:
    return bench.inertia_from_period(mass, balance, bench.small_period(period, swings, half_angle), pivot, gravity)


def _possible(
    mass: Any, balance: Any, period: Any, pivot: Any, gravity: Any, half_angle: Any, swings: Any, found: Any
) -> Any:
    """Which swings a club can make: the formula looks at all others, and says what is wrong with them."""
    small = bench.small_period(period, swings, half_angle)
    lowest, highest = mass * balance**2 / G_CM2_PER_KG_CM2, mass * balance * CLUB_LENGTH.high / G_CM2_PER_KG_CM2
    sound = (small >= SHORTEST_SWING) & (small <= LONGEST_SWING) & (pivot < balance) & (gravity > 0)
    return sound & (lowest < found) & (found < highest)


@overload
def balance(reading: float, span: float, mass: float, offset: float = ...) -> float: ...
@overload
def balance(reading: Given, span: Given, mass: Given, offset: Given = ...) -> Array: ...
def balance(reading: Given, span: Given, mass: Given, offset: Given = 0.0) -> float | Array:
    """Balance point from a gram scale, the butt end on an edge and the head end on the scale [cm].

    Args:
        reading: what the scale under the head end shows [g].
        span: distance from the edge to the point that rests on the scale [cm].
        mass: mass of the club [g].
        offset: distance from the butt to the edge [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: statics, moments about the edge.

    >>> balance(reading=300, span=100, mass=400, offset=2)
    77.0
    """
    return answer(
        "HEFT_BALANCE",
        {"reading": reading, "span": span, "mass": mass, "offset": offset},
        bench.balance_from_support,
        _balances,
    )


def _balances(reading: Any, _span: Any, mass: Any, _offset: Any, found: Any) -> Any:
    return (reading < mass) & (found > FULCRUM)


def gravity(latitude: float, height: float = 0.0) -> float:
    """Gravity where a shop stands [cm/s2]. One place only: arrays are not taken.

    Args:
        latitude: geographical latitude, north or south [degrees].
        height: height above the sea [m].

    Raises:
        ValueError: out of bounds.

    Source: normal gravity of the Geodetic Reference System 1980 (Moritz 2000).

    >>> gravity(45)
    980.62
    """
    return answer("HEFT_GRAVITY", {"latitude": one("latitude", latitude), "height": one("height", height)})
