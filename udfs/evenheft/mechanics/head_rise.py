"""Where a head's mass sits before anybody has dry-fitted one: our own guess, by the kind of club.

The centre of mass lies some height above the ground and some way towards the toe from the point where the
shaft's axis meets the ground line. Along the shaft that is height x sin(lie) - towards the toe x cos(lie). Heights and
ways are our own guesses at usual heads, with no published source; a dry fit knows better.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin


@dataclass(frozen=True, slots=True)
class Head:
    """A usual head of one kind, our own guess."""

    height: float
    """Ground to the head's centre of mass [cm]."""
    toe_ward: float
    """Where the shaft's axis meets the ground line, towards the toe to below the centre of mass [cm]."""
    lie: float
    """Lie angle [degrees]."""
    height_doubt: float
    """Half-width of the height over usual heads of this kind [cm]."""
    toe_ward_doubt: float
    """Half-width of the way towards the toe [cm]."""

    @property
    def rise(self) -> float:
        """Ground line back up the shaft's axis to the centre of mass [cm]."""
        return rise_of(self.height, self.toe_ward, self.lie)

    @property
    def doubt(self) -> float:
        """Half-width of the rise, both doubts together [cm]."""
        return rise_of(self.height_doubt, -self.toe_ward_doubt, self.lie)


def rise_of(height: float, toe_ward: float, lie: float) -> float:
    """Compute a head's rise from where its centre of mass is [cm].

    Args:
        height: ground to the centre of mass [cm].
        toe_ward: from where the shaft's axis meets the ground line towards the toe, to below the centre of mass [cm].
        lie: lie angle [degrees].

    >>> round(rise_of(2.0, 3.1, 62.0), 2)
    0.31
    """
    return height * sin(radians(lie)) - toe_ward * cos(radians(lie))


HEADS: dict[str, Head] = {
    "driver": Head(3.2, 3.4, 58.5, 0.7, 0.8),
    "wood": Head(2.2, 2.9, 57.5, 0.5, 0.8),
    "hybrid": Head(1.9, 2.9, 59.5, 0.5, 0.7),
    "iron": Head(2.0, 3.1, 62.0, 0.4, 0.6),
    "wedge": Head(1.9, 3.1, 64.0, 0.4, 0.6),
    "putter": Head(1.6, 2.0, 71.0, 0.5, 1.5),
}
"""Usual heads by the kind of club, our own guesses without a published source."""
