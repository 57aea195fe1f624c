"""The bench against a handbook's pendulum, an integrated one, and statics done by hand."""

from __future__ import annotations

import re
from math import pi, radians, sin, sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from evenheft.mechanics.bench import (
    balance_from_support,
    inertia_from_period,
    longest_lever,
    longest_period,
    shortest_period,
    small_period,
)
from evenheft.mechanics.units import STANDARD_GRAVITY

masses = st.floats(min_value=50, max_value=2000)
balances = st.floats(min_value=36, max_value=150)


def test_uniform_rod_about_its_end() -> None:
    # Any handbook of mechanics: T = 2 pi sqrt(2 L / 3 g), I = m L^2 / 3. Tolerance: rounding.
    mass, length = 431.0, 112.0
    period = 2 * pi * sqrt(2 * length / (3 * STANDARD_GRAVITY))
    found = inertia_from_period(mass=mass, balance=length / 2, period=period)
    assert found == pytest.approx(mass * length**2 / 3 / 1000, rel=1e-13)


@pytest.mark.parametrize("pivot", [2.0, 10.0, 40.0])
def test_uniform_rod_swung_elsewhere_has_the_same_inertia_about_its_end(pivot: float) -> None:
    # The same rod about an axis p from its end: I_p = m L^2 / 12 + m (L/2 - p)^2 (parallel axes). Tolerance: rounding.
    mass, length = 431.0, 112.0
    arm = length / 2 - pivot
    about_pivot = mass * length**2 / 12 + mass * arm**2
    period = 2 * pi * sqrt(about_pivot / (mass * STANDARD_GRAVITY * arm))
    found = inertia_from_period(mass=mass, balance=length / 2, period=period, pivot=pivot)
    assert found == pytest.approx(mass * length**2 / 3 / 1000, rel=1e-12)


def integrated_period(inertia: float, mass: float, arm: float, amplitude: float) -> float:
    """Period [s] of a physical pendulum let go at an amplitude [rad], from its equation of motion.

    The pendulum passes its lowest point a quarter of a period after it is let go.
    """

    def motion(_: float, state: np.ndarray) -> list[float]:
        return [state[1], -mass * STANDARD_GRAVITY * arm / inertia * sin(state[0])]

    def lowest(_: float, state: np.ndarray) -> float:
        return float(state[0])

    lowest.terminal = True  # type: ignore[attr-defined]
    swing = solve_ivp(motion, (0, 10), [amplitude, 0.0], events=lowest, rtol=1e-12, atol=1e-14)
    return 4 * float(swing.t_events[0][0])


MASS, BALANCE, PIVOT = 395.0, 75.3, 1.5
INERTIA_OF_CLUB = 2.7e6  # g cm2 about the butt
ARM = BALANCE - PIVOT
ABOUT_PIVOT = INERTIA_OF_CLUB - MASS * BALANCE**2 + MASS * ARM**2


def swung(degrees: float) -> float:
    """Inertia [kg cm2] that the formula finds from an integrated swing of so many degrees each way."""
    period = integrated_period(inertia=ABOUT_PIVOT, mass=MASS, arm=ARM, amplitude=radians(degrees))
    return inertia_from_period(mass=MASS, balance=BALANCE, period=period, pivot=PIVOT)


def test_a_swing_so_small_that_amplitude_does_not_matter() -> None:
    # The equation of motion integrated by scipy; at 0.1 degrees the series adds 2e-7 to the period.
    assert swung(degrees=0.1) == pytest.approx(INERTIA_OF_CLUB / 1000, rel=1e-6)


STATED = re.findall(
    r"^\| (\d+) degrees \| (\d\.\d\d) % \|$",
    (Path(__file__).parents[2] / "docs" / "measuring.md").read_text(encoding="utf-8"),
    re.MULTILINE,
)
"""What docs/measuring.md says the formula reads too much, in percent of the inertia about the pivot."""


def test_the_documents_state_the_errors_of_four_amplitudes() -> None:
    assert [degrees for degrees, _ in STATED] == ["5", "10", "15", "20"]


@pytest.mark.parametrize(("degrees", "percent"), [(float(d), float(p)) for d, p in STATED])
def test_the_amplitude_errors_that_the_documents_state(degrees: float, percent: float) -> None:
    # Handbook series T = T0 (1 + theta^2/16 + 11 theta^4/3072 + ...), twice in the square; OEIS A223067/A223068.
    theta = radians(degrees)
    series = (1 + theta**2 / 16 + 11 * theta**4 / 3072) ** 2 - 1
    assert series * 100 == pytest.approx(percent, abs=0.005)
    excess = (swung(degrees=degrees) - INERTIA_OF_CLUB / 1000) / (ABOUT_PIVOT / 1000)
    assert excess == pytest.approx(series, rel=1e-3)


@given(
    mass=masses,
    balance=balances,
    gyration=st.floats(min_value=1, max_value=60),
    pivot=st.floats(min_value=0, max_value=30),
    gravity=st.floats(min_value=970, max_value=990),
)
def test_the_pivot_and_gravity_do_not_change_what_the_club_is(
    mass: float, balance: float, gyration: float, pivot: float, gravity: float
) -> None:
    assume(balance - pivot > 1)
    arm = balance - pivot
    period = 2 * pi * sqrt((gyration**2 + arm**2) / (gravity * arm))
    found = inertia_from_period(mass=mass, balance=balance, period=period, pivot=pivot, gravity=gravity)
    assert found == pytest.approx(mass * (gyration**2 + balance**2) / 1000, rel=1e-9)
    assert period > shortest_period(balance=balance, pivot=pivot, gravity=gravity)


def test_the_shortest_period_is_that_of_a_point() -> None:
    # Simple pendulum, any handbook: T = 2 pi sqrt(L / g); about 2.006 s for 1 m.
    assert shortest_period(balance=100.0) == pytest.approx(2.0064, abs=5e-5)
    assert shortest_period(balance=90.0, pivot=10.0) == shortest_period(balance=80.0)


@given(
    masses=st.lists(st.floats(0.1, 300), min_size=1, max_size=6),
    places=st.lists(st.floats(0, 1), min_size=6, max_size=6),
    length=st.floats(60, 200),
    pivot=st.floats(0, 10),
)
def test_no_masses_along_a_club_swing_slower_than_the_longest_period(
    masses: list[float], places: list[float], length: float, pivot: float
) -> None:
    """Brute force: any points between the butt and the length, and two points at its ends, which reach the bound."""
    along = [place * length for place in places[: len(masses)]]
    mass = sum(masses)
    balance = sum(m * x for m, x in zip(masses, along, strict=True)) / mass
    assume(balance > pivot + 1)

    def period(about_pivot: float) -> float:
        return 2 * pi * sqrt(about_pivot / (mass * STANDARD_GRAVITY * (balance - pivot)))

    longest = longest_period(balance, length, pivot)
    found = period(sum(m * (x - pivot) ** 2 for m, x in zip(masses, along, strict=True)))
    assert found <= longest * (1 + 1e-9)
    at_end = mass * balance / length
    two_points = at_end * (length - pivot) ** 2 + (mass - at_end) * pivot**2
    assert period(two_points) == pytest.approx(longest, rel=1e-9)


def test_about_the_butt_the_longest_period_is_that_of_its_length() -> None:
    # I <= m b L, so T <= 2 pi sqrt(L / g), wherever it balances.
    assert longest_period(60.0, 120.0) == longest_period(90.0, 120.0)
    assert longest_period(90.0, 100.0) == pytest.approx(2.0064, abs=5e-5)


@pytest.mark.parametrize("degrees", [1.0, 5.0, 10.0, 20.0, 30.0])
def test_a_wide_swing_is_reduced_to_a_small_one(degrees: float) -> None:
    # The inverse of the series, against the equation of motion integrated by scipy: within 2e-5 up to 30 degrees.
    wide = integrated_period(inertia=ABOUT_PIVOT, mass=MASS, arm=ARM, amplitude=radians(degrees))
    small = 2 * pi * sqrt(ABOUT_PIVOT / (MASS * STANDARD_GRAVITY * ARM))
    assert small_period(10 * wide, swings=10, half_angle=degrees) == pytest.approx(small, rel=2e-5)


@given(
    mass=masses,
    balance=balances,
    offset=st.floats(min_value=0, max_value=30),
    span=st.floats(min_value=40, max_value=150),
)
def test_a_support_finds_the_balance_whose_moment_loads_the_scale(
    mass: float, balance: float, offset: float, span: float
) -> None:
    reading = mass * (balance - offset) / span  # moments about the edge
    found = balance_from_support(reading=reading, span=span, mass=mass, offset=offset)
    assert found == pytest.approx(balance, rel=1e-12)


@given(rows=st.lists(st.tuples(masses, balances, st.floats(min_value=1.3, max_value=3)), min_size=1, max_size=8))
def test_arrays_and_single_numbers_agree(rows: list[tuple[float, float, float]]) -> None:
    mass, balance, period = np.array(rows).T
    inertia = inertia_from_period(mass, balance, period)  # type: ignore[arg-type]
    support = balance_from_support(0.7 * mass, balance * 1.3, mass)  # type: ignore[arg-type]
    for n, (one_mass, one_balance, one_period) in enumerate(rows):
        alone = inertia_from_period(mass=one_mass, balance=one_balance, period=one_period)
        assert inertia[n] == pytest.approx(alone, rel=1e-13)  # type: ignore[index]
        one_reading = 0.7 * one_mass
        assert support[n] == pytest.approx(  # type: ignore[index]
            balance_from_support(reading=one_reading, span=one_balance * 1.3, mass=one_mass), rel=1e-13
        )


def test_about_the_butt_no_club_swings_slower_than_a_string_as_long_as_itself() -> None:
    assert longest_lever(75.3, 113.0) == 113.0
    assert longest_lever(75.3, 113.0, pivot=2.0) == pytest.approx((75.3 * 113.0 - 4 * 75.3 + 4) / 73.3)
