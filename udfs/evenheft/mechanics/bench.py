"""What the bench instruments say of a club: its balance from a support, its inertia from a swing."""

from __future__ import annotations

from math import pi

from evenheft.mechanics.units import G_CM2_PER_KG_CM2, STANDARD_GRAVITY


def balance_from_support(reading: float, span: float, mass: float, offset: float = 0.0) -> float:
    """Balance [cm] of a club whose butt end rests on an edge and whose head end rests on a scale.

    Moments about the edge: reading x span = mass x (balance - offset).

    Args:
        reading: what the scale under the head end shows [g].
        span: distance from the edge to the point of support on the scale [cm].
        mass: mass of the whole club [g].
        offset: distance from the butt to the edge [cm].

    >>> balance_from_support(300.0, 100.0, 400.0, 2.0)
    77.0
    """
    return offset + reading * span / mass


def inertia_from_period(
    mass: float, balance: float, period: float, pivot: float = 0.0, gravity: float = STANDARD_GRAVITY
) -> float:
    """Moment of inertia [kg cm2] about an axis through the butt, from a free swing of small amplitude.

    The compound pendulum gives the inertia about the pivot; the parallel-axis theorem
    carries it through the balance point to the butt.

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        period: time of one full swing, there and back [s].
        pivot: distance from the butt to the pivot, towards the head [cm].
        gravity: acceleration of free fall [cm/s2].

    >>> rod = 1000.0 * 90.0**2 / 3 / 1000   # kg cm2, a uniform rod about its end
    >>> period = 2 * pi * (2 * 90.0 / (3 * 980.665)) ** 0.5
    >>> abs(inertia_from_period(1000.0, 45.0, period) - rod) < 1e-9
    True
    """
    arm = balance - pivot
    about_pivot = mass * gravity * arm * period**2 / (4 * pi**2)
    return (about_pivot - mass * arm**2 + mass * balance**2) / G_CM2_PER_KG_CM2


def shortest_period(balance: float, pivot: float = 0.0, gravity: float = STANDARD_GRAVITY) -> float:
    """Period [s] of a point mass at the balance point: no real club can swing faster.

    Args:
        balance: distance from the butt to the balance point [cm].
        pivot: distance from the butt to the pivot, towards the head [cm].
        gravity: acceleration of free fall [cm/s2].
    """
    root: float = ((balance - pivot) / gravity) ** 0.5
    return 2 * pi * root


def longest_period(balance: float, length: float, pivot: float = 0.0, gravity: float = STANDARD_GRAVITY) -> float:
    """Compute the period [s] of the slowest body that balances there with no mass beyond a length: no club is slower.

    Of all masses between the butt and L that balance at b, the largest inertia about the butt is that of two points at
    its ends, m b L, since x^2 <= L x. About the pivot p it is m (b L - 2 p b + p^2), whence the period.

    Args:
        balance: distance from the butt to the balance point [cm].
        length: distance from the butt beyond which there is no mass, more than the balance [cm].
        pivot: distance from the butt to the pivot, towards the head [cm].
        gravity: acceleration of free fall [cm/s2].

    >>> round(longest_period(75.3, 200.0), 3)   # about the butt it is 2 pi sqrt(L / g), wherever it balances
    2.838
    """
    root: float = (longest_lever(balance, length, pivot) / gravity) ** 0.5
    return 2 * pi * root


def longest_lever(balance: float, length: float, pivot: float = 0.0) -> float:
    """Compute the length [cm] of the string pendulum that swings as slowly as `longest_period`.

    Args:
        balance: distance from the butt to the balance point [cm].
        length: distance from the butt beyond which there is no mass [cm].
        pivot: distance from the butt to the pivot [cm].
    """
    return (balance * length - 2 * pivot * balance + pivot**2) / (balance - pivot)


def small_period(time: float, swings: float = 1.0, half_angle: float = 0.0) -> float:
    """Reduce the time of several swings to the period [s] that one of small amplitude would have.

    The handbook's series, turned round: T0 = T / (1 + a^2/16 + 11 a^4/3072), short of 1e-5 up to 30 degrees.

    Args:
        time: time of so many full swings, there and back [s].
        swings: how many [-].
        half_angle: mean amplitude of these swings, each way from the lowest point [degrees].

    >>> small_period(20.0, swings=10.0)
    2.0
    """
    angle = half_angle * pi / 180
    return time / swings / (1 + angle**2 / 16 + 11 * angle**4 / 3072)
