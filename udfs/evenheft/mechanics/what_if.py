"""What a measured club will be after several changes at once: length, grip, weights, another shaft."""

from __future__ import annotations

from dataclasses import dataclass

from evenheft.mechanics.bodies import Body, combine, moved, spread_from_butt, without
from evenheft.mechanics.length import lengthened

NO_GRIP = Body(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class CutShaft:
    """A shaft as it is cut for the club."""

    mass: float
    """What it weighs [g]."""
    balance: float
    """Its butt end to its balance [cm]."""


@dataclass(frozen=True, slots=True)
class Changes:
    """What is planned for a club; what is left out stays as it is."""

    length: float = 0.0
    """By how much the club becomes longer at the butt; negative for a cut [cm]."""
    shaft_density: float = 0.0
    """Mass of the shaft's butt end, or of the extension, per length [g/cm]."""
    grip: Body = NO_GRIP
    """The grip that is on it, with the tape under it [g, cm]."""
    new_grip: Body | None = None
    """The grip that goes on in its place, with its tape [g, cm]."""
    moving: tuple[Body, ...] = ()
    """Masses at places of the club as it is, which move along with a change of length: the head, the shaft [g, cm]."""
    staying: tuple[Body, ...] = ()
    """Masses at places that keep their distance from the butt: a counterweight [g, cm]."""
    shaft: CutShaft | None = None
    """The shaft that is in it [g, cm]."""
    new_shaft: CutShaft | None = None
    """The shaft that comes in its place, of the same cut length [g, cm]."""
    shaft_length: float = 0.0
    """Cut length of both shafts; where it is nothing, their own inertia is left out [cm]."""
    grip_cap: float = 0.0
    """Butt to the shaft's butt end [cm]."""


def changed(club: Body, changes: Changes) -> Body:
    """Make all changes to a club.

    What sits on the head or the shaft is changed first, in the club as it is; then its length; then
    what has its place at the butt. Grips are spread from the butt as `bodies.spread_from_butt` does.

    Args:
        club: the club as it is [g, cm, g cm2].
        changes: what is planned [g, cm].

    >>> changed(Body(398.0, 75.0), Changes(moving=(Body(2.0, 112.0),))).mass
    400.0
    """
    made = club
    if changes.shaft is not None and changes.new_shaft is not None:
        made = without(made, _in_place(changes.shaft, changes))
        made = combine([made, _in_place(changes.new_shaft, changes)])
    made = combine([made, *changes.moving])
    grip = spread_from_butt(changes.grip.mass, changes.grip.centre)
    if changes.length:
        made = lengthened(made, grip, changes.length, changes.shaft_density)
    if changes.new_grip is not None:
        made = combine([without(made, grip), spread_from_butt(changes.new_grip.mass, changes.new_grip.centre)])
    return combine([made, *changes.staying])


def _in_place(shaft: CutShaft, changes: Changes) -> Body:
    """Return a shaft in the club; about its middle a straight line of density has m L^2 / 12, whatever its slope."""
    off_middle = shaft.balance - changes.shaft_length / 2
    own = shaft.mass * (changes.shaft_length**2 / 12 - off_middle**2) if changes.shaft_length else 0.0
    return moved(Body(shaft.mass, shaft.balance, own), changes.grip_cap)
