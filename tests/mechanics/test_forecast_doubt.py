"""Doubts of forecasts against the `uncertainties` package and Monte Carlo (JCGM 101; clauses from memory)."""

from __future__ import annotations

import dataclasses
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from uncertainties import ufloat

from evenheft.mechanics.bodies import Body, inertia_about_butt
from evenheft.mechanics.club import Parts, assemble, finished, forecast, head_rise
from evenheft.mechanics.doubt import combined_doubt
from evenheft.mechanics.forecast_doubt import (
    LEAST_UNEXPLAINED,
    Asked,
    Doubts,
    Taught,
    finished_doubt,
    forecast_doubt,
    half_widths,
    rise_doubt,
    swingweight_of,
    trimmed,
    unexplained,
)

IRON = Parts(
    head_mass=256.0, club_length=38 * 2.54, shaft_mass=115.0, shaft_length=39 * 2.54, shaft_balance=48.0,
    head_rise=0.3, grip_mass=50.0, tape_mass=2.0, ferrule_mass=1.5, epoxy_mass=2.0,
)  # fmt: skip
KNOWN = frozenset({"head_mass", "club_length", "shaft_mass", "shaft_length", "shaft_balance", "grip_mass", "tape_mass",
                   "ferrule_mass", "epoxy_mass"})  # fmt: skip
DOUBTS = Doubts()
NONE = Doubts(mass=0, balance=0, length=0, head_rise=0, shaft_balance=0, epoxy=0, grip_balance=0, place=0, head_own=0)
EXACT = frozenset({*KNOWN, "bore_to_ground", "grip_balance", "tape_from_butt", "ferrule_above_tip", "epoxy_above_tip",
                   "head_own"})  # fmt: skip
UNCUT = dataclasses.replace(IRON, shaft_length=38 * 2.54 - 3.8 - 0.4)  # nothing is cut off: no doubt of that
asked: tuple[Asked, ...] = ("mass", "swingweight", "inertia")
VALUES = {"mass": lambda body: body.mass, "swingweight": swingweight_of, "inertia": inertia_about_butt}


def rectangular(value: float, half: float) -> ufloat:
    return ufloat(value, half / sqrt(3))


@pytest.mark.filterwarnings("ignore:AffineScalarFunc.__abs__")  # the package's, of a later release
@pytest.mark.parametrize("what", asked)
def test_an_untaught_forecast_is_propagated_as_the_uncertainties_package_does(
    what: Asked, monkeypatch: pytest.MonkeyPatch
) -> None:
    # JCGM 100:2008 5.1.2 by the independent package; a step of a half-width against its derivative: 1 %. What the cut
    # of a shaft leaves in doubt is no half-width of a part, and is left out of both.
    monkeypatch.setattr("evenheft.mechanics.forecast_doubt.TRIM_SHARE", 0.0)
    halves = half_widths(IRON, KNOWN, DOUBTS) | {"head_rise": DOUBTS.head_rise}
    doubtful = {name: rectangular(getattr(IRON, name), half) for name, half in halves.items()}
    reference = VALUES[what](forecast(dataclasses.replace(IRON, **doubtful)))  # type: ignore[arg-type]
    found = forecast_doubt(what, IRON, KNOWN, DOUBTS)
    assert found == approx(2 * reference.std_dev, rel=1e-2)


def test_a_forecast_is_covered_by_its_doubt() -> None:
    # JCGM 101: 20,000 draws of every half-width; at least 95 % within U, and U at most 1.18 of what covers 95 %.
    generator = np.random.default_rng(7)
    halves = half_widths(UNCUT, KNOWN, DOUBTS) | {"head_rise": DOUBTS.head_rise}
    drawn = {name: getattr(UNCUT, name) + half * generator.uniform(-1, 1, 20_000) for name, half in halves.items()}
    off = np.abs(swingweight_of(forecast(dataclasses.replace(UNCUT, **drawn))) - swingweight_of(forecast(UNCUT)))
    found = forecast_doubt("swingweight", UNCUT, KNOWN, DOUBTS)
    assert np.mean(off <= found) >= 0.95
    assert found <= 1.18 * np.quantile(off, 0.95)


def test_nothing_in_doubt_leaves_no_doubt() -> None:
    for what in asked:
        assert forecast_doubt(what, UNCUT, EXACT, NONE) == approx(0, abs=1e-9)
        assert forecast_doubt(what, UNCUT, EXACT, NONE, Taught(0.0)) == approx(0, abs=1e-9)


def test_a_rise_that_was_taught_is_surer_than_a_guess_and_one_that_is_told_surer_still() -> None:
    guess = forecast_doubt("swingweight", IRON, KNOWN, DOUBTS)
    taught = forecast_doubt("swingweight", IRON, KNOWN, DOUBTS, Taught())
    given = forecast_doubt("swingweight", IRON, KNOWN, DOUBTS, Taught(0.1))
    assert guess > 2 * taught > 2 * given > 0
    # By hand: 1.6 cm of rise carry 256 g x 1.6 cm / 126.01 g cm = 3.25 points, more than all the rest.
    assert 3.25 < guess < 4.2


@pytest.mark.parametrize("name", ["shaft_balance", "epoxy_mass", "grip_mass"])
def test_what_nobody_measured_is_in_more_doubt(name: str) -> None:
    less = forecast_doubt("swingweight", IRON, KNOWN, dataclasses.replace(DOUBTS, head_rise=0.1, epoxy=0.1))
    more = forecast_doubt("swingweight", IRON, KNOWN - {name}, dataclasses.replace(DOUBTS, head_rise=0.1, epoxy=0.5))
    assert more > less * 1.005


def test_the_doubt_of_a_learnt_rise_is_that_of_brute_force() -> None:
    # Monte Carlo: parts and bench drawn within their half-widths; the rise that each draw teaches.
    fit = forecast(UNCUT, ["epoxy"])
    generator = np.random.default_rng(11)
    halves = {
        k: v for k, v in half_widths(UNCUT, EXACT, DOUBTS).items() if k.endswith(("_mass", "_length", "_balance"))
    }
    halves = {k: v for k, v in halves.items() if k not in ("epoxy_mass", "grip_balance")}
    drawn = {name: getattr(UNCUT, name) + half * generator.uniform(-1, 1, 20_000) for name, half in halves.items()}
    bench = Body(fit.mass + 0.1 * generator.uniform(-1, 1, 20_000), fit.centre + 0.2 * generator.uniform(-1, 1, 20_000))
    off = np.abs(head_rise(dataclasses.replace(UNCUT, **drawn), bench, ["epoxy"]) - UNCUT.head_rise)
    found = rise_doubt(UNCUT, EXACT, DOUBTS, fit, ["epoxy"])
    assert np.mean(off <= found) >= 0.95
    assert found <= 1.18 * np.quantile(off, 0.95)


@pytest.mark.parametrize("lacking", [[], ["epoxy"], ["lead tape", "grip"]])
@pytest.mark.parametrize("tape_rise", [None, 2.5])
def test_a_rises_doubt_is_that_of_the_club_put_together_anew_for_each_half_width(
    lacking: list[str], tape_rise: float | None
) -> None:
    parts = dataclasses.replace(IRON, lead_tape_mass=4.0, lead_tape_rise=tape_rise, tip_weight_mass=6.0)
    fit = forecast(parts, lacking)
    missing = {f"{part.replace(' ', '_')}_mass" for part in lacking}
    own = {
        *(f"{part.replace(' ', '_')}_mass" for part in assemble(parts)),
        "club_length",
        "shaft_length",
        "shaft_balance",
    }
    moved = [
        head_rise(dataclasses.replace(parts, **{name: getattr(parts, name) + half}), fit, lacking) - parts.head_rise
        for name, half in half_widths(parts, KNOWN, DOUBTS).items()
        if name in own - missing
    ]
    bench = (Body(fit.mass + DOUBTS.mass, fit.centre), Body(fit.mass, fit.centre + DOUBTS.balance))
    moved += [head_rise(parts, body, lacking) - parts.head_rise for body in bench]
    assert rise_doubt(parts, KNOWN, DOUBTS, fit, lacking) == approx(combined_doubt(*moved), rel=1e-9)


@pytest.mark.parametrize("lacking", [[], ["epoxy"], ["epoxy", "ferrule", "grip"]])
@pytest.mark.parametrize("swung", [False, True])
def test_a_finished_club_is_as_doubtful_as_its_bench_and_what_it_lacked(lacking: list[str], *, swung: bool) -> None:
    # Monte Carlo over the bench's mass and balance, and the mass and place of what lacks.
    fit = forecast(UNCUT, lacking)
    generator = np.random.default_rng(3)
    halves = half_widths(UNCUT, KNOWN, DOUBTS)
    drawn = {name: getattr(UNCUT, name) + half * generator.uniform(-1, 1, 20_000) for name, half in halves.items()}
    mass = fit.mass + DOUBTS.mass * generator.uniform(-1, 1, 20_000)
    centre = fit.centre + DOUBTS.balance * generator.uniform(-1, 1, 20_000)
    about_butt = fit.own + fit.mass * fit.centre**2
    own = about_butt - mass * centre**2 if swung else fit.own
    made = finished(dataclasses.replace(UNCUT, **drawn), Body(mass, centre, own), lacking, swung=swung)
    for what in asked:
        if swung and what == "inertia" and not lacking:
            continue  # then nothing but the swing itself is in doubt
        off = np.abs(VALUES[what](made) - VALUES[what](finished(UNCUT, fit, lacking, swung=swung)))
        found = finished_doubt(what, UNCUT, KNOWN, DOUBTS, fit, lacking, swung=swung)
        assert np.mean(off <= found * 1.002) >= 0.95, what
        assert found <= 1.18 * np.quantile(off, 0.95), what


def test_the_doubt_of_a_swing_goes_on_to_the_finished_club() -> None:
    fit = forecast(UNCUT, ["epoxy"])
    own = finished_doubt("inertia", UNCUT, KNOWN, DOUBTS, fit, ["epoxy"], swung=True)
    both = finished_doubt("inertia", UNCUT, KNOWN, DOUBTS, fit, ["epoxy"], swung=True, inertia_doubt=30.0)
    assert both == approx(min(own + 30, sqrt(own**2 + 30**2)), rel=0.02)
    assert finished_doubt("inertia", UNCUT, KNOWN, DOUBTS, fit, [], swung=True, inertia_doubt=30.0) == approx(30)


@given(st.floats(0.0, 8.0), st.sets(st.sampled_from(["epoxy", "tape", "ferrule"])))
def test_grams_unexplained_are_what_was_put_on_and_not_typed(forgotten: float, lacking: set[str]) -> None:
    fit = forecast(IRON, lacking)
    over, most = unexplained(IRON, KNOWN, DOUBTS, fit.mass + forgotten, lacking)
    assert over == approx(forgotten, abs=1e-9)
    assert LEAST_UNEXPLAINED <= most < 2.0


def test_what_the_weighings_explain_is_their_doubts_together() -> None:
    # Nothing cut off, everything weighed to 0.4 g: 7 weighings with the club's own, U = 2 x 0.4 sqrt(7 / 3).
    doubts = dataclasses.replace(DOUBTS, mass=0.4, epoxy=0.4, length=0.0)
    _, most = unexplained(UNCUT, KNOWN, doubts, 400.0)
    assert trimmed(UNCUT, assemble(UNCUT)["shaft"]) == approx(0.0, abs=1e-9)
    assert most == approx(combined_doubt(*[0.4] * 7))
    assert unexplained(UNCUT, KNOWN, NONE, 400.0)[1] == LEAST_UNEXPLAINED


def test_a_bore_that_was_measured_is_as_sure_as_the_tape_and_an_assumed_one_as_a_place() -> None:
    doubts = Doubts(length=0.1, place=0.7)
    assert half_widths(IRON, KNOWN, doubts)["bore_to_ground"] == 0.7
    assert half_widths(IRON, KNOWN | {"bore_to_ground"}, doubts)["bore_to_ground"] == 0.1
