"""The Scale sheet: the scale's reading against the calculation for the club as it was on the scale."""

import pytest

from evenheft.hosts.embedded import Computed
from evenheft.mechanics import swingweight
from evenheft.order.demo import DEMO_CLUBS, DEMO_READINGS, build_demo
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, LAST_ROW, SCALE


def summary(computed: Computed) -> list[object]:
    return [computed.value("Scale", row, SCALE.at["difference"]) for row in range(LAST_ROW + 3, LAST_ROW + 10)]


def test_reading_is_held_against_the_club_as_it_was_measured() -> None:
    computed = Computed.from_bytes(save_bytes(build_demo()))
    for row, club in enumerate(DEMO_CLUBS, start=FIRST_ROW):
        difference = computed.value("Scale", row, SCALE.at["difference"])
        if club.name not in DEMO_READINGS:
            assert difference == ""
            continue
        balance = club.balance + (0.4 if club.hooked == "shaft end" else 0)
        calculated = swingweight.points(swingweight.moment(mass=club.mass, balance=balance))
        wanted = swingweight.points_from_label(DEMO_READINGS[club.name]) - calculated
        assert difference == round(wanted, 1)
        assert computed.value("Scale", row, SCALE.at["verdict"]) == "agrees"
    count, bias, sd, next_lower, next_upper, lower, upper = summary(computed)
    assert count == len(DEMO_READINGS)
    assert isinstance(next_lower, float)
    assert isinstance(next_upper, float)
    assert next_lower < lower
    assert next_upper > upper
    assert computed.value("Scale", LAST_ROW + 10, 2) == ""  # seven clubs are not few
    assert isinstance(bias, float)
    assert isinstance(sd, float)
    assert 0 < bias < 0.35
    assert lower == pytest.approx(bias - 1.96 * sd, abs=0.02)  # each is rounded
    assert upper == pytest.approx(bias + 1.96 * sd, abs=0.02)


def test_a_reading_beyond_both_doubts_differs_and_points_are_read_as_well_as_labels() -> None:
    book = build_demo()
    book["Bench"].cell(FIRST_ROW, BENCH.at["reading"]).value = 35.2
    computed = Computed.from_bytes(save_bytes(book))
    assert computed.value("Scale", FIRST_ROW, SCALE.at["verdict"]) == "differs"
    assert computed.value("Scale", FIRST_ROW, SCALE.at["scale_label"]) == "D5.2"


def test_few_clubs_are_said_to_be_few() -> None:
    book = build_demo()
    for row, club in enumerate(DEMO_CLUBS, start=FIRST_ROW):
        if club.name not in list(DEMO_READINGS)[:3]:
            book["Bench"].cell(row, BENCH.at["reading"]).value = None
    computed = Computed.from_bytes(save_bytes(book))
    assert computed.value("Scale", LAST_ROW + 10, 2) == (
        "only 3 clubs: these limits are wide for want of more; 6 would narrow them"
    )


def test_without_readings_the_sheet_stays_quiet() -> None:
    computed = Computed.from_bytes(save_bytes(build_order()))
    assert summary(computed) == [""] * 7
    assert all(computed.value("Scale", FIRST_ROW, n) in ("", 1.0) for n in range(1, SCALE.at["verdict"] + 1))
