"""A change of length at the butt: what it does to a club, and how much of it meets a target.

The grip keeps its place at the new butt; all the rest comes to lie further from it by the change. The piece of
shaft or extension between the old butt and the new counts with its own mass, negative when it is cut off.
"""

from __future__ import annotations

from collections.abc import Callable

from evenheft.mechanics.bodies import Body, combine, inertia_about_butt, moved, without
from evenheft.mechanics.swingweight import FULCRUM, moment, moment_at
from evenheft.mechanics.units import G_CM2_PER_KG_CM2


def lengthened(club: Body, grip: Body, change: float, shaft_density: float = 0.0) -> Body:
    """Return a club cut or extended at the butt end: the grip keeps its place there, the rest moves by the change.

    Args:
        club: the club as it is [g, cm, g cm2].
        grip: its grip, with all that moves with it [g, cm, g cm2].
        change: by how much the club becomes longer; negative for a cut [cm].
        shaft_density: mass of the shaft's butt end per length, 0 to leave the piece itself out [g/cm].

    >>> lengthened(Body(400.0, 75.0), Body(50.0, 11.0), 2.54).centre
    77.2225
    """
    rest = moved(without(club, grip), change)
    # The piece lies between the new butt and the old; when cut off its mass is negative and so is its place.
    piece = shaft_density * change
    return combine([rest, grip, Body(piece, change / 2, piece * change**2 / 12)])


def change_to(
    target: float, club: Body, grip: Body, shaft_density: float, lowest: float, highest: float
) -> float | None:
    """Change of length that brings a club to a swingweight [cm]; None where none within the bounds does.

    Args:
        target: swingweight wanted [points].
        club: the club as it is; its own inertia is not used [g, cm].
        grip: its grip, with all that moves with it [g, cm].
        shaft_density: mass of the shaft's butt end per length [g/cm].
        lowest: the deepest cut, negative [cm].
        highest: the longest extension [cm].

    >>> change = change_to(33.0, Body(395.0, 75.3), Body(50.0, 11.0), 0.6, lowest=-10.0, highest=10.0)
    >>> changed = lengthened(Body(395.0, 75.3), Body(50.0, 11.0), change, 0.6)
    >>> abs(moment(changed.mass, changed.centre) - moment_at(33.0)) < 1e-6
    True
    """
    rest = without(club, grip)
    # The grip keeps its place, the rest moves by the change, and the piece between sits at half of it (`lengthened`).
    constant = moment(rest.mass, rest.centre) + moment(grip.mass, grip.centre) - moment_at(target)
    linear, square = rest.mass - shaft_density * FULCRUM, shaft_density / 2
    return _root(lambda change: constant + change * (linear + change * square), lowest, highest)


def change_to_inertia(
    target: float, club: Body, grip: Body, shaft_density: float, lowest: float, highest: float
) -> float | None:
    """Change of length that brings a club to a moment of inertia [cm]; None where none within the bounds does.

    Args:
        target: inertia wanted, about the butt [kg cm2].
        club: the club as it is [g, cm, g cm2].
        grip: its grip, with all that moves with it [g, cm].
        shaft_density: mass of the shaft's butt end per length [g/cm].
        lowest: the deepest cut, negative [cm].
        highest: the longest extension [cm].
    """
    rest = without(club, grip)
    constant = inertia_about_butt(rest) + inertia_about_butt(grip) - target
    linear, square = 2 * rest.mass * rest.centre / G_CM2_PER_KG_CM2, rest.mass / G_CM2_PER_KG_CM2
    cube = shaft_density / 3 / G_CM2_PER_KG_CM2  # of the piece, a rod about its end
    return _root(lambda change: constant + change * (linear + change * (square + change * cube)), lowest, highest)


def _root(off: Callable[[float], float], lowest: float, highest: float) -> float | None:
    """Where a function that rises from the lowest to the highest is nothing; None where it is not between them.

    Bisection and the secant in turn: sixty halvings alone would do, and the secant spares most of them.
    """
    low, high = lowest, highest
    below, above = off(low), off(high)
    if below > 0 or above < 0:
        return None
    for turn in range(120):
        middle = (low + high) / 2 if turn % 2 or above == below else low - below * (high - low) / (above - below)
        here = off(middle)
        if here == 0 or high - low < 1e-12:
            return middle
        if here < 0:
            low, below = middle, here
        else:
            high, above = middle, here
    return (low + high) / 2
