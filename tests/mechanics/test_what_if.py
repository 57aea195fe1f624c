"""Several changes at once, held against one after the other and against a club built anew from its parts."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.bodies import Body, body_of, combine, cut, density_line, inertia_about_butt, spread_from_butt
from evenheft.mechanics.club import Parts, assemble, cut_length, forecast
from evenheft.mechanics.length import lengthened
from evenheft.mechanics.what_if import Changes, CutShaft, changed

PARTS = Parts(head_mass=200.0, club_length=114.3, shaft_mass=65.0, shaft_length=117.0, grip_mass=50.0, epoxy_mass=3.0)
grams = st.floats(-10, 30)


def same(one: Body, other: Body) -> None:
    assert (one.mass, one.centre) == approx((other.mass, other.centre), rel=1e-9)
    assert inertia_about_butt(one) == approx(inertia_about_butt(other), rel=1e-9)


def test_nothing_changes_nothing() -> None:
    same(changed(forecast(PARTS), Changes()), forecast(PARTS))


@given(st.floats(190, 220), grams, grams, st.floats(30, 80))
def test_head_butt_weight_grip_and_a_free_place_make_the_club_that_the_parts_would(
    head: float, butt: float, other: float, grip: float
) -> None:
    plan = Changes(
        grip=Body(PARTS.grip_mass, PARTS.grip_balance),
        new_grip=Body(grip, 12.0),
        moving=(Body(head - PARTS.head_mass, assemble(PARTS)["head"].centre), Body(other, 60.0)),
        staying=(Body(butt, PARTS.butt_weight_from_butt),),
    )
    anew = replace(
        PARTS, head_mass=head, grip_mass=grip, grip_balance=12.0, butt_weight_mass=butt, other_mass=other,
        other_from_butt=60.0,
    )  # fmt: skip
    same(changed(forecast(PARTS), plan), forecast(anew))


@given(st.floats(-8, 2), grams)
def test_a_change_of_length_makes_the_club_that_the_parts_would(change: float, head: float) -> None:
    # An even shaft, so that a centimetre of it weighs the same at the butt as anywhere; its own length is cut there.
    even = replace(PARTS, shaft_balance=PARTS.shaft_length / 2)
    plan = Changes(
        length=change,
        shaft_density=even.shaft_mass / even.shaft_length,
        grip=Body(even.grip_mass, even.grip_balance),
        moving=(Body(head, assemble(even)["head"].centre),),
    )
    anew = replace(even, club_length=even.club_length + change, head_mass=even.head_mass + head)
    # The piece of shaft lies between the old butt and the new; in the club it is the grip cap nearer to the head.
    piece = plan.shaft_density * change
    built = forecast(anew)
    got = changed(forecast(even), plan)
    assert got.mass == approx(built.mass, rel=1e-9)
    assert got.mass * got.centre == approx(built.mass * built.centre - piece * even.grip_cap, rel=1e-9)
    assert inertia_about_butt(got) == approx(inertia_about_butt(built), rel=1e-9, abs=abs(piece) * 0.01)


@given(st.floats(50, 130), st.floats(48, 68))
def test_another_shaft_makes_the_club_that_the_parts_would(mass: float, balance: float) -> None:
    # Both shafts are cut as the club wants them, so that what the builder weighs is what HEFT_SHAFT_CUT answers.
    def fitted(parts: Parts) -> CutShaft:
        line = density_line(parts.shaft_mass, parts.shaft_length, parts.shaft_balance or 0.5 * parts.shaft_length)
        body = body_of(cut(line, 0.0, parts.shaft_length - cut_length(parts)))
        return CutShaft(body.mass, body.centre)

    anew = replace(PARTS, shaft_mass=mass, shaft_balance=balance)
    plan = Changes(shaft=fitted(PARTS), new_shaft=fitted(anew), shaft_length=cut_length(PARTS), grip_cap=PARTS.grip_cap)
    same(changed(forecast(PARTS), plan), forecast(anew))


@given(grams, grams, grams, st.floats(-5, 5), st.floats(20, 90))
def test_all_at_once_is_one_after_the_other(head: float, other: float, butt: float, change: float, grip: float) -> None:
    club, old = Body(395.0, 75.3, 430000.0), Body(50.0, 11.0)
    plan = Changes(
        length=change,
        shaft_density=0.6,
        grip=old,
        new_grip=Body(grip, 12.0),
        moving=(Body(head, 110.0), Body(other, 40.0)),
        staying=(Body(butt, 2.5),),
    )
    on_it = spread_from_butt(*old[:2])
    turn = lengthened(combine([club, Body(head, 110.0), Body(other, 40.0)]), on_it, change, 0.6)
    turn = combine([turn, on_it._replace(mass=-on_it.mass, own=-on_it.own), spread_from_butt(grip, 12.0)])
    same(changed(club, plan), combine([turn, Body(butt, 2.5)]))
