"""Gravity where the shop stands, by the normal field of the Geodetic Reference System 1980.

H. Moritz, Geodetic Reference System 1980, Journal of Geodesy 74 (2000): the formula of Somigliana
with the reference ellipsoid's constants, and the series for a height above it. The normal gravities
at equator and pole were read in a published table of these constants; the form factors are from memory.
"""

from __future__ import annotations

from math import radians, sin

AT_EQUATOR = 978.03267715
"""Normal gravity at the equator [cm/s2]."""
AT_POLE = 983.21863685
"""Normal gravity at the poles [cm/s2]."""
EQUATORIAL_RADIUS = 6378137.0
"""Of the reference ellipsoid [m]."""
POLAR_RADIUS = 6356752.3141
"""Of the reference ellipsoid [m]."""
FLATTENING = 1 / 298.257222101
"""Of the reference ellipsoid [-]."""
CENTRIFUGAL = 0.00344978600308
"""m = omega^2 a^2 b / GM of the reference ellipsoid [-]."""


def normal_gravity(latitude: float, height: float = 0.0) -> float:
    """Tell gravity at a place [cm/s2]; the ground differs from it by some 0.05 cm/s2 in most places.

    Args:
        latitude: geographical latitude, north or south [degrees].
        height: height above the sea [m].

    >>> round(normal_gravity(0.0), 3), round(normal_gravity(45.0), 3), round(normal_gravity(90.0), 3)
    (978.033, 980.62, 983.219)
    """
    squared = sin(radians(latitude)) ** 2
    ratio = POLAR_RADIUS * AT_POLE / (EQUATORIAL_RADIUS * AT_EQUATOR) - 1
    eccentricity = 1 - (POLAR_RADIUS / EQUATORIAL_RADIUS) ** 2
    root: float = (1 - eccentricity * squared) ** 0.5
    on_ellipsoid = AT_EQUATOR * (1 + ratio * squared) / root
    up = height / EQUATORIAL_RADIUS
    return on_ellipsoid * (1 - 2 * (1 + FLATTENING + CENTRIFUGAL - 2 * FLATTENING * squared) * up + 3 * up**2)
