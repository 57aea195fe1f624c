"""The Scale sheet: the scale's reading against the calculation for the club as it was on the scale."""

import pytest

from evenheft.hosts.embedded import Computed
from evenheft.mechanics import swingweight
from evenheft.order.demo import CLUBS, READINGS, build_demo
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, LAST_ROW, SCALE


def summary(computed: Computed) -> list[object]:
    return [computed.value("Scale", row, SCALE.at["difference"]) for row in range(LAST_ROW + 3, LAST_ROW + 7)]


def test_reading_is_held_against_the_club_as_it_was_measured() -> None:
    computed = Computed.from_bytes(save_bytes(build_demo()))
    for row, club in enumerate(CLUBS, start=FIRST_ROW):
        difference = computed.value("Scale", row, SCALE.at["difference"])
        if club.name not in READINGS:
            assert difference == ""
            continue
        balance = club.balance + (0.4 if club.hooked == "shaft end" else 0)
        calculated = swingweight.points(swingweight.moment(mass=club.mass, balance=balance))
        wanted = swingweight.points_from_label(READINGS[club.name]) - calculated
        assert difference == pytest.approx(wanted, abs=1e-9)
        assert computed.value("Scale", row, SCALE.at["verdict"]) == "agrees"
    bias, sd, lower, upper = summary(computed)
    assert isinstance(bias, float)
    assert isinstance(sd, float)
    assert 0 < bias < 0.35
    assert lower == pytest.approx(bias - 1.96 * sd)
    assert upper == pytest.approx(bias + 1.96 * sd)


def test_a_reading_beyond_both_doubts_differs_and_points_are_read_as_well_as_labels() -> None:
    book = build_demo()
    book["Bench"].cell(FIRST_ROW, BENCH.at["reading"]).value = 35.2
    computed = Computed.from_bytes(save_bytes(book))
    assert computed.value("Scale", FIRST_ROW, SCALE.at["verdict"]) == "differs"
    assert computed.value("Scale", FIRST_ROW, SCALE.at["scale_label"]) == "D5.2"


def test_without_readings_the_sheet_stays_quiet() -> None:
    computed = Computed.from_bytes(save_bytes(build_order()))
    assert summary(computed) == ["", "", "", ""]
    assert all(computed.value("Scale", FIRST_ROW, n) in ("", 1.0) for n in range(1, SCALE.at["verdict"] + 1))
