"""A club of its parts, and a measured one: as the formulas that read a row of a sheet answer."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import evenheft
from evenheft import Club, Parts
from evenheft.formulas import REGISTRY, call
from evenheft.mechanics import club as mechanics
from evenheft.ooxml.errors import Refused

HEADINGS = (("Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Grip (g)", "Epoxy (g)"),)
ROW = (200.0, 114.3, 65.0, 117.0, 50.0, 3.0)
SISTER = (205.0, 113.0, 64.0, 117.0, 51.0, 3.0)
NAMES = ("head_mass", "club_length", "shaft_mass", "shaft_length", "grip_mass", "epoxy_mass")
PARTS = Parts(**dict(zip(NAMES, ROW, strict=True)))
SET = Parts(**{name: np.array(both) for name, both in zip(NAMES, zip(ROW, SISTER, strict=True), strict=True)})


def cell(name: str, *given: object) -> Any:
    answer = call(REGISTRY[name], (HEADINGS, *given))
    return answer[0] if isinstance(answer, tuple) and len(answer) == 1 else answer


def test_a_forecast_is_that_of_the_row() -> None:
    mass, balance, points, label, inertia, *_ = cell("HEFT_CLUB", (ROW,))
    forecast = Club(PARTS)
    assert (forecast.mass, forecast.balance) == pytest.approx((mass, balance), rel=1e-12)
    assert (forecast.points, forecast.inertia) == pytest.approx((points, inertia), rel=1e-12)
    assert forecast.label() == label
    assert evenheft.forecast(PARTS).points == forecast.points


@pytest.mark.parametrize("asked", ["swingweight", "inertia"])
def test_the_doubt_of_a_forecast_is_that_of_the_row(asked: Any) -> None:
    doubt = Club(PARTS).doubt(asked, known=NAMES)
    what = {"swingweight": "doubt", "inertia": "inertia doubt"}[asked]
    assert doubt == pytest.approx(cell("HEFT_CLUB", (ROW,), what), rel=1e-9)


def test_a_set_is_its_clubs_side_by_side() -> None:
    clubs = [Club(Parts(**dict(zip(NAMES, row, strict=True)))) for row in (ROW, SISTER)]
    both = Club(SET)
    for name in ("mass", "balance", "points", "inertia"):
        assert getattr(both, name).tolist() == pytest.approx([getattr(one, name) for one in clubs], rel=1e-12)
    assert both.label().tolist() == [one.label() for one in clubs]
    assert both.doubt(known=NAMES).tolist() == pytest.approx([one.doubt(known=NAMES) for one in clubs], rel=1e-12)
    assert both.correction(32, 110).tolist() == pytest.approx([one.correction(32, 110) for one in clubs])
    assert both.verdict(32, 0.5, doubt=0.1).tolist() == [one.verdict(32, 0.5, doubt=0.1) for one in clubs]
    assert evenheft.head_mass(SET, 32).tolist() == pytest.approx(
        [evenheft.head_mass(one.parts, 32) for one in clubs if one.parts is not None]
    )


def test_a_head_rise_is_learnt_as_in_the_row_and_refused_as_there() -> None:
    known = ["head_mass", "shaft_mass", "grip_mass", "epoxy_mass"]
    rise = evenheft.head_rise(PARTS, mass=311.2, balance=84.95, lacking=["epoxy"], known=known)
    assert rise == pytest.approx(cell("HEFT_HEAD_RISE", (ROW,), 311.2, 84.95, "epoxy"), rel=1e-12)
    dry_fit = Club(replace(PARTS, head_rise=rise), lacking=["epoxy"])
    assert dry_fit.points == pytest.approx(evenheft.points(311.2, 84.95), abs=0.01)
    for mass, balance in ((300.0, 84.95), (311.2, 75.0)):
        with pytest.raises(Refused) as refused:
            evenheft.head_rise(PARTS, mass=mass, balance=balance, lacking=["epoxy"], known=known)
        assert f"! {refused.value}" == cell("HEFT_HEAD_RISE", (ROW,), mass, balance, "epoxy")
    both = evenheft.head_rise(PARTS, mass=np.array([311.2, np.nan]), balance=84.95, lacking=["epoxy"], known=known)
    assert both[0] == rise
    assert np.isnan(both[1])


def test_a_changed_club_is_that_of_the_formulas() -> None:
    club = Club.measured(mass=395, balance=75.3, inertia=2650)
    weighted = club.with_weight(2, position=94)
    after = call(REGISTRY["HEFT_AFTER"], (395, 75.3, 2, 94, None, None, 2650))
    assert isinstance(after, tuple)
    mass, balance, points, label, inertia = after[0]
    assert (weighted.mass, weighted.balance, weighted.points, weighted.inertia) == pytest.approx(
        (mass, balance, points, inertia)
    )
    assert weighted.label() == label
    longer = club.with_length(1.27, grip_mass=50, grip_balance=11, shaft_per_cm=0.6)
    after = call(REGISTRY["HEFT_LENGTHEN"], (395, 75.3, 50, 11, 1.27, None, None, 0.6, 2650))
    assert isinstance(after, tuple)
    assert (longer.points, longer.inertia) == pytest.approx((after[0][2], after[0][4]))


def test_what_nobody_measured_is_not_told() -> None:
    club = Club.measured(mass=395, balance=75.3)
    for ask in (lambda: club.inertia, lambda: club.with_weight(2, 94).inertia):
        with pytest.raises(ValueError, match="inertia is not known"):
            ask()
    with pytest.raises(ValueError, match="needs its parts"):
        club.doubt()
    assert "inertia" not in repr(club)
    assert repr(Club.measured(395, 75.3, 2650)) == "<Club mass=395.0, balance=75.3, inertia=2650.0>"


@pytest.mark.parametrize(
    ("changed", "line"),
    [
        ({"head_mass": 20.0}, "head_mass must be from 100 g to 650 g, got 20"),
        ({"shaft_length": 100.0}, "the shaft is too short by 10.1 cm: it must be at least 110.1 cm, got 100 cm"),
        ({"shaft_balance": 30.0},
         "shaft balance must be from 39 cm to 78 cm from the butt of a 117 cm shaft, got 30 cm"),
        ({"head_own": 30000.0}, "head_own must be from 0 to 20 kg cm2, got 30"),
        ({"shaft_length": np.array([117.0, 100.0])},
         "element 1: the shaft is too short by 10.1 cm: it must be at least 110.1 cm, got 100 cm"),
        ({"grip_mass": np.array([50.0, -1.0])}, "grip_mass must be 0, or from 10 g to 300 g, got -1"),
    ],
)  # fmt: skip
def test_parts_that_make_no_club_are_refused_as_in_a_row(changed: dict[str, Any], line: str) -> None:
    with pytest.raises(Refused) as refused:
        replace(PARTS, **changed)
    assert str(refused.value) == line


def test_names_of_parts_are_held_to_those_there_are() -> None:
    from evenheft.python.club import PART_NAMES

    assert list(PART_NAMES) == list(mechanics.assemble(PARTS))
    for lacking in (["glue"], "glue"):
        with pytest.raises(ValueError, match=r"lacking must name head, shaft.* or other, got glue"):
            Club(PARTS, lacking=lacking)
    assert Club(PARTS, lacking="epoxy").mass == Club(PARTS, lacking=["epoxy"]).mass == Club(PARTS).mass - 3
    with pytest.raises(ValueError, match="known must name fields of Parts, got head"):
        Club(PARTS).doubt(known=["head"])


def test_a_club_that_is_not_known_is_nan_beside_its_sisters() -> None:
    both = Club(replace(PARTS, head_mass=np.array([200.0, np.nan])))
    assert np.isnan(both.points).tolist() == [False, True]
    assert np.isnan(both.doubt()).tolist() == [False, True]
    assert both.label()[1] == ""
