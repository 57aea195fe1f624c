"""Bench: several readings in one cell count by their mean, and are told where they scatter more than they should."""

from __future__ import annotations

from functools import lru_cache

import pytest

from computed_orders import Sheets, put
from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import call
from evenheft.order.demo import build_demo
from evenheft.order.layout import BENCH, SCALE, SET, Table

CLUB = "7-iron"


def bench(**typed: object) -> Sheets:
    """The demo order with a finished 7-iron of whose measurements these were typed."""
    book = build_demo()
    for stage in ("dry", "done", "after"):
        for what in ("mass", "balance"):
            put(book, BENCH, f"{stage}_{what}", CLUB, None)
    for key, value in ({"done_mass": 424.8, "done_balance": 71.9, "done_hooked": None, "period": 56.4} | typed).items():
        put(book, BENCH, key, CLUB, value)
    return Sheets(book)


@lru_cache(maxsize=1)
def plain() -> Sheets:
    """The same with one reading of each."""
    return bench()


READ: tuple[tuple[Table, str], ...] = (
    (SET, "swingweight_number"), (SET, "mass_number"), (SET, "inertia_number"), (BENCH, "mass_used"),
    (BENCH, "balance_used"), (SCALE, "calculated"),
)  # fmt: skip


@pytest.mark.parametrize(
    "typed",
    [
        {"done_balance": "71.8 71.9 72"},
        {"done_balance": "71,8 71,9 72,0"},
        {"done_balance": "71.8 cm; 72 cm"},
        {"done_balance": "71.4 71.5 71.6", "done_hooked": "shaft end"},
        {"done_mass": "424.7 424.8 424.9"},
        {"done_mass": "424,7 g 424,9 g"},
        {"period": "56.3 56.4 56.5"},
        {"period": "56,3\n56,5 s"},
        {"done_mass": "424.7 424.9", "done_balance": "71.8\n72", "period": "56.3; 56.5"},
    ],
)
def test_the_mean_of_several_readings_counts_as_one_reading_would(typed: dict[str, object]) -> None:
    sheets = bench(**typed)
    assert [sheets.number(table, key, CLUB) for table, key in READ] == pytest.approx(
        [plain().number(table, key, CLUB) for table, key in READ], rel=1e-9
    )


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"done_mass": "424.1 425.5"}, "mass: 2 readings lie 1.4 g apart, more than +- 0.1 g explains: read again"),
        ({"done_balance": "71.6 71.9 72.2"}, "balance: 3 readings lie 0.6 cm apart, more than +- "),
        ({"period": "55.9 56.9"}, "period: 2 readings lie 1 s apart, more than +- "),
    ],
)
def test_readings_further_apart_than_the_instrument_explains_are_told_and_doubted(
    typed: dict[str, object], said: str
) -> None:
    sheets = bench(**typed)
    assert said in str(sheets.value(SET, "flags_in_full", CLUB))
    doubted = "inertia_doubt" if "period" in typed else "swingweight_doubt"
    assert sheets.number(SET, doubted, CLUB) > 1.5 * plain().number(SET, doubted, CLUB)
    assert "apart" not in str(plain().value(SET, "flags_in_full", CLUB))


def test_the_doubt_is_that_of_the_mean() -> None:
    typed = "71.6 71.9 72.2"
    half = plain().number(BENCH, "balance_half", CLUB)
    doubt = call(REGISTRY["HEFT_READINGS"], [typed, "doubt", half, "cm"])
    wanted = call(REGISTRY["HEFT_DOUBT"], [424.8, 71.9, plain().number(BENCH, "mass_half", CLUB), doubt])
    assert bench(done_balance=typed).number(SET, "swingweight_doubt", CLUB) == pytest.approx(wanted)


def test_a_mass_with_its_unit_is_shown_in_the_orders_own() -> None:
    assert bench(done_mass="15 oz").number(BENCH, "mass_used", CLUB) == pytest.approx(15 * 28.349523125)
