"""A Python user's own module, for mypy: numbers and arrays are told apart, and both are accepted."""

from __future__ import annotations

from typing import assert_type

import numpy as np
from numpy.typing import NDArray

import evenheft as heft

Array = NDArray[np.float64]
Words = NDArray[np.str_]


def of_numbers(whole: int, balance: float) -> None:
    assert_type(heft.points(mass=whole, balance=balance), float)
    assert_type(heft.swingweight(395, 75.3), str)
    assert_type(heft.inertia(395, 75.3, period=19, swings=10), float)
    assert_type(heft.doubt(395, 75.3, mass_doubt=0.1, balance_doubt=0.1), float)
    assert_type(heft.verdict(32.4, target=32, tolerance=0.5), str)
    assert_type(heft.two_weights(395, 75, 110, 3, target=32, target_mass=410), tuple[float, float])
    assert_type(heft.combined_doubt(0.3, 0.4), float)
    parts = heft.Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50)
    assert_type(parts, heft.Parts[float])
    club = heft.Club(parts)
    assert_type(club.points, float)
    assert_type(club.label(), str)
    assert_type(club.verdict(target=32, tolerance=0.5, doubt=0.2), str)
    assert_type(club.correction(target=32, position=112), float)
    assert_type(club.doubt("inertia", known=["head_mass"], doubts=heft.Doubts(balance=0.1)), float)
    assert_type(club.with_weight(2, position=112).inertia, float)
    assert_type(heft.Club.measured(395, 75.3).points, float)
    assert_type(heft.head_mass(parts, target=32), float)


def of_arrays(mass: Array, whole: NDArray[np.int64], balance: Array) -> None:
    assert_type(heft.points(mass=mass, balance=balance), Array)
    assert_type(heft.points(mass=whole, balance=75.3), Array)
    assert_type(heft.points(mass=395, balance=balance), Array)
    assert_type(heft.swingweight(mass, 75.3), Words)
    assert_type(heft.inertia(mass, balance, period=19, swings=10), Array)
    assert_type(heft.doubt(mass, 75.3, mass_doubt=0.1, balance_doubt=0.1), Array)
    assert_type(heft.verdict(mass, target=32, tolerance=0.5), Words)
    assert_type(heft.two_weights(mass, 75, 110, 3, target=32, target_mass=410), tuple[Array, Array])
    assert_type(heft.combined_doubt(mass, 0.4), Array)
    parts = heft.Parts(head_mass=mass, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50)
    assert_type(parts, heft.Parts[Array])
    club = heft.forecast(parts)
    assert_type(club.points, Array)
    assert_type(club.label(), Words)
    assert_type(club.verdict(target=32, tolerance=0.5, doubt=club.doubt()), Words)
    assert_type(club.correction(target=32, position=112), Array)
    assert_type(club.with_length(1.27, grip_mass=50, grip_balance=11).points, Array)
    assert_type(heft.Club.measured(mass, 75.3).points, Array)
    assert_type(heft.head_mass(parts, target=balance), Array)


def wrong(text: str) -> None:
    heft.points(mass=text, balance=75.3)  # type: ignore[call-overload]
    heft.Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, wings=2)  # type: ignore[call-overload]
    heft.forecast(1.0)  # type: ignore[arg-type]
    heft.gravity(np.array([45.0]))  # type: ignore[arg-type]
