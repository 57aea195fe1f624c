"""Normal gravity against the published values of GRS80 and the weight of a kilometre of height."""

from __future__ import annotations

import pytest

from evenheft.mechanics.gravity import normal_gravity


@pytest.mark.parametrize(
    ("latitude", "gravity", "digits"),
    # Moritz, Geodetic Reference System 1980 (J. Geodesy 74, 2000): equator and poles, as a published table of its
    # constants prints them (m/s2: 9.7803267715, 9.8321863685); 45 degrees (9.806199203) from memory.
    [(0.0, 978.03267715, 8), (90.0, 983.21863685, 8), (45.0, 980.6199203, 6)],
)
def test_published_values(latitude: float, gravity: float, digits: int) -> None:
    assert normal_gravity(latitude) == pytest.approx(gravity, abs=0.5 * 10**-digits)
    assert normal_gravity(-latitude) == normal_gravity(latitude)


def test_the_mean_over_the_earth() -> None:
    # Moritz 2000 gives a mean of normal gravity over the ellipsoid of 9.797644656 m/s2 (from memory); averaged here
    # with the sphere's weights, which is good to 3e-4.
    from math import cos, radians

    latitudes = [n / 10 for n in range(-900, 901)]
    weights = [cos(radians(latitude)) for latitude in latitudes]
    mean = sum(w * normal_gravity(x) for w, x in zip(weights, latitudes, strict=True)) / sum(weights)
    assert mean == pytest.approx(979.7644656, abs=0.03)


def test_a_kilometre_up() -> None:
    # Free-air gradient of a handbook: 0.3086 mGal a metre at middle latitudes; 1 mGal is 0.001 cm/s2.
    assert normal_gravity(45.0) - normal_gravity(45.0, height=1000.0) == pytest.approx(0.3085, abs=2e-4)


def test_height_weighs_less_at_the_poles_than_at_the_equator() -> None:
    # The second-order free-air correction of GRS80 in mGal (Li and Goetze 2001, from memory):
    # (0.3087691 - 0.0004398 sin2) h - 7.2125e-8 h2; here at 1,000 m, 1 mGal being 0.001 cm/s2.
    for latitude, gradient in ((0.0, 0.3087691), (90.0, 0.3083293)):
        less = normal_gravity(latitude) - normal_gravity(latitude, height=1000.0)
        assert less == pytest.approx(gradient - 7.2125e-5, abs=2e-5)
