"""Bodies on a club's axis: what each weighs, where its centre lies, and how they add up.

A body is known by its mass, its centre on the shaft axis and its own moment of inertia about
that centre. Adding bodies and moving them needs nothing but the parallel-axis theorem. All of
it is plain arithmetic, so that numpy arrays (one element per club) serve as well as numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from evenheft.mechanics.units import G_CM2_PER_KG_CM2


class Body(NamedTuple):
    """A part of a club, or a whole club."""

    mass: float
    """What it weighs [g]."""
    centre: float
    """Distance from the butt to its centre of mass; for a whole club, its balance [cm]."""
    own: float = 0.0
    """Moment of inertia about its own centre, across the shaft [g cm2]."""


class DensityLine(NamedTuple):
    """A shaft as a straight line of linear density, `constant` + `slope` s, s from its butt end."""

    constant: float
    """Linear density at the butt end [g/cm]."""
    slope: float
    """Change of the linear density on the way to the tip [g/cm2]."""
    length: float
    """Length [cm]."""


def combine(bodies: Iterable[Body]) -> Body:
    """Add bodies up to one.

    The result is a body like any other: combining in any order or in any grouping comes to the same.

    Args:
        bodies: the parts; their masses may not all be nothing [g, cm, g cm2].

    Raises:
        ZeroDivisionError: the parts weigh nothing together.

    >>> combine([Body(200.0, 110.0), Body(200.0, 30.0)])
    Body(mass=400.0, centre=70.0, own=640000.0)
    """
    parts = list(bodies)
    mass = sum(part.mass for part in parts)
    centre = sum(part.mass * part.centre for part in parts) / mass
    own = sum(part.own + part.mass * (part.centre - centre) ** 2 for part in parts)
    return Body(mass, centre, own)


def without(whole: Body, part: Body) -> Body:
    """Take a part out of a whole again: the inverse of `combine`.

    Args:
        whole: the whole body [g, cm, g cm2].
        part: the part to take out, lighter than the whole [g, cm, g cm2].

    >>> without(Body(400.0, 70.0, 640000.0), Body(200.0, 30.0))
    Body(mass=200.0, centre=110.0, own=0.0)
    """
    mass = whole.mass - part.mass
    centre = (whole.mass * whole.centre - part.mass * part.centre) / mass
    own = whole.own - part.own - part.mass * (part.centre - whole.centre) ** 2 - mass * (centre - whole.centre) ** 2
    return Body(mass, centre, own)


def moved(body: Body, distance: float) -> Body:
    """Move a body further from the butt by a distance [cm].

    >>> moved(Body(50.0, 10.0, 600.0), 2.5)
    Body(mass=50.0, centre=12.5, own=600.0)
    """
    return body._replace(centre=body.centre + distance)


def spread_from_butt(mass: float, centre: float) -> Body:
    """Take a grip or a tape as spread evenly from the butt to twice the distance of its centre.

    Args:
        mass: what it weighs [g].
        centre: distance from the butt to its centre of mass [cm].

    >>> spread_from_butt(50.0, 12.0).own
    2400.0
    """
    return Body(mass, centre, mass * centre**2 / 3)


def inertia_about_butt(body: Body) -> float:
    """Moment of inertia about an axis through the butt, across the shaft [kg cm2].

    >>> inertia_about_butt(Body(300.0, 50.0, 250000.0))   # a uniform rod of 1 m: m L^2 / 3
    1000.0
    """
    return (body.own + body.mass * body.centre**2) / G_CM2_PER_KG_CM2


def density_line(mass: float, length: float, balance: float) -> DensityLine:
    """Solve for the straight line of linear density that reproduces a shaft's mass and balance.

    It is nowhere negative only where the balance lies in the middle third, see `is_possible_shaft`.

    Args:
        mass: what the shaft weighs [g].
        length: its length [cm].
        balance: distance from its butt end to the point where it balances [cm].

    >>> density_line(100.0, 100.0, 50.0)
    DensityLine(constant=1.0, slope=0.0, length=100.0)
    """
    mean = mass / length
    share = balance / length
    return DensityLine(mean * (4 - 6 * share), mean * (12 * share - 6) / length, length)


def is_possible_shaft(length: float, balance: float) -> bool:
    """Whether a straight line of density can balance there: only in the middle third of the shaft [-].

    Args:
        length: the shaft's length [cm].
        balance: distance from its butt end to the point where it balances [cm].

    >>> is_possible_shaft(117.0, 58.5), is_possible_shaft(117.0, 30.0)
    (True, False)
    """
    hair = 1e-9 * length
    return length / 3 - hair <= balance <= 2 * length / 3 + hair


def cut(line: DensityLine, tip_trim: float, butt_trim: float) -> DensityLine:
    """Trim a shaft; what is left is measured from its new butt end.

    Args:
        line: the shaft before the cut [g/cm, g/cm2, cm].
        tip_trim: length taken off the tip [cm].
        butt_trim: length taken off the butt end [cm].

    >>> cut(DensityLine(1.0, 0.01, 100.0), 10.0, 20.0)
    DensityLine(constant=1.2, slope=0.01, length=70.0)
    """
    return DensityLine(line.constant + line.slope * butt_trim, line.slope, line.length - tip_trim - butt_trim)


def body_of(line: DensityLine) -> Body:
    """Mass, centre (from its own butt end) and own inertia of a shaft [g, cm, g cm2].

    >>> body_of(DensityLine(1.0, 0.0, 12.0))
    Body(mass=12.0, centre=6.0, own=144.0)
    """
    constant, slope, length = line
    mass = constant * length + slope * length**2 / 2
    centre = (constant * length**2 / 2 + slope * length**3 / 3) / mass
    about_end = constant * length**3 / 3 + slope * length**4 / 4
    return Body(mass, centre, about_end - mass * centre**2)
