"""What the bench's formulas refuse, at the very edge of what a club can do, and what they answer."""

from __future__ import annotations

import math

import pytest

from evenheft.formulas.bench import BEYOND_LENGTH
from evenheft.mechanics import bench
from formula_answers import heft


def inertia(mass: float, balance: float, period: float, *, pivot: float = 0.0, length: float | None = None) -> object:
    return heft("HEFT_INERTIA", mass, balance, period, None, pivot, None, None, None, length)


@pytest.mark.parametrize("pivot", [0.0, 5.0])
def test_no_club_swings_as_fast_as_a_point_at_its_balance(pivot: float) -> None:
    edge = bench.shortest_period(75.3, pivot)
    answer = inertia(395.0, 75.3, edge * (1 - 1e-6), pivot=pivot)
    assert answer == (
        f"! period must be more than {edge:.3f} s with the balance at 75.3 cm, got {edge * (1 - 1e-6):.5f}".rstrip("0")
        + ": half a swing, or the balance in another unit?"
    ) or str(answer).startswith(f"! period must be more than {edge:.3f} s with the balance at 75.3 cm, got ")
    found = inertia(395.0, 75.3, edge * (1 + 1e-6), pivot=pivot)
    assert found == pytest.approx(395.0 * 75.3**2 / 1000, rel=1e-4)


@pytest.mark.parametrize(("length", "reach"), [(None, 200.0), (96.0, 96.0 + BEYOND_LENGTH)])
def test_no_club_swings_more_slowly_than_its_ends_would(length: float | None, reach: float) -> None:
    edge = bench.longest_period(75.3, reach)
    assert isinstance(inertia(395.0, 75.3, edge * (1 - 1e-6), length=length), float)
    assert str(inertia(395.0, 75.3, edge * (1 + 1e-6), length=length)).startswith(
        f"! period must be at most {edge:.3f} s for one swing with the balance at 75.3 cm and no mass further than "
        f"{reach:g} cm from the butt"
    )


def test_a_doubtful_time_is_let_pass_by_its_doubt() -> None:
    edge = bench.longest_period(75.3, 96.0 + BEYOND_LENGTH)
    given = (395.0, 75.3, 10 * (edge + 0.004), None, None, None, None, 10.0, 96.0)
    assert str(heft("HEFT_INERTIA", *given)).startswith("! period must be at most")
    assert isinstance(heft("HEFT_INERTIA", *given, 0.05), float)
    assert str(heft("HEFT_INERTIA", *given, 0.03)).startswith("! period must be at most")


def test_a_club_swings_about_an_axis_nearer_than_its_balance() -> None:
    for pivot in (75.3, 80.0):
        assert inertia(395.0, 75.3, 1.9, pivot=pivot) == (
            f"! pivot must be nearer to the butt than the balance at 75.3 cm, got {pivot:g} cm"
        )
    assert "nearer to the butt" not in str(inertia(395.0, 75.3, 1.9, pivot=75.2))


def test_a_balance_at_the_end_of_a_club_is_refused() -> None:
    assert inertia(395.0, 96.0 + BEYOND_LENGTH, 2.2, length=96.0) == (
        "! balance must be less than the club's length, 96 cm, got 101 cm"
    )


@pytest.mark.parametrize(("period", "swings"), [(4.9, 10.0), (5.1, 1.0), (10.2, 2.0)])
def test_one_swing_takes_half_a_second_to_five(period: float, swings: float) -> None:
    message = heft("HEFT_INERTIA", 395.0, 75.3, period, None, None, None, None, swings)
    assert str(message).startswith("! period must be from 0.5 to 5 s for one swing")


def test_a_support_weighs_less_than_the_club_and_balances_where_clubs_do() -> None:
    assert (
        heft("HEFT_BALANCE", 400.0, 100.0, 400.0)
        == "! reading must be less than the mass of the club, 400 g, got 400 g"
    )
    assert heft("HEFT_BALANCE", 399.9, 100.0, 400.0) == pytest.approx(99.975)
    assert str(heft("HEFT_BALANCE", 140.0, 100.0, 400.0)).startswith("! a club's balance must be more than 35.56 cm")


def test_gravity_is_that_of_the_place() -> None:
    assert heft("HEFT_GRAVITY", 0.0) == pytest.approx(978.0327, abs=1e-4)  # GRS80 at the equator
    assert heft("HEFT_GRAVITY", -45.0, 1000.0) == heft("HEFT_GRAVITY", 45.0, 1000.0)
    free_air = float(str(heft("HEFT_GRAVITY", 45.0))) - float(str(heft("HEFT_GRAVITY", 45.0, 1000.0)))
    assert math.isclose(free_air, 0.3086, abs_tol=1e-3)  # the free-air gradient, 0.3086 mGal/m, of any handbook


def test_a_tape_hooked_on_the_shafts_end_misses_the_cap() -> None:
    assert heft("HEFT_FROM_BUTT", 74.9) == heft("HEFT_FROM_BUTT", 74.9, "grip cap", 0.4) == 74.9
    assert heft("HEFT_FROM_BUTT", 74.9, "shaft end", 0.4) == pytest.approx(75.3)
