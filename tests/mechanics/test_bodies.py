from __future__ import annotations

import math

import pytest
import trimesh
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import quad

from evenheft.mechanics.bodies import (
    Body,
    DensityLine,
    body_of,
    combine,
    cut,
    density_line,
    inertia_about_butt,
    is_possible_shaft,
    moved,
    spread_from_butt,
    without,
)

masses = st.floats(0.1, 500)
places = st.floats(-20, 200)
bodies = st.builds(Body, masses, places, st.floats(0, 1e5))
shares = st.floats(1 / 3, 2 / 3)


def about_zero(body: Body) -> tuple[float, float, float]:
    """Mass, first and second moment: what must be kept whatever is added or moved."""
    return body.mass, body.mass * body.centre, body.own + body.mass * body.centre**2


def close(found: tuple[float, ...], expected: tuple[float, ...]) -> bool:
    scale = 1 + max(map(abs, expected))
    return all(abs(f - e) <= 1e-9 * scale for f, e in zip(found, expected, strict=True))


RADIUS = 0.5
"""Mean radius of the tube [cm]."""


def tube_mesh(first: float, last: float, length: float, walls: tuple[float, float]) -> trimesh.Trimesh:
    """The piece from `first` to `last` of a tube whose wall thins in a straight line [cm]."""

    def half_wall(s: float) -> float:
        return (walls[0] + (walls[1] - walls[0]) * s / length) / 2

    profile = [
        (RADIUS - half_wall(first), first),
        (RADIUS + half_wall(first), first),
        (RADIUS + half_wall(last), last),
        (RADIUS - half_wall(last), last),
        (RADIUS - half_wall(first), first),
    ]
    tube = trimesh.creation.revolve(profile, sections=720)
    tube.density = 1.6
    assert tube.is_watertight
    return tube


def test_a_uniform_rod_is_the_handbooks() -> None:
    # Any handbook of mechanics: I = m L^2 / 12 about the centre, m L^2 / 3 about the end. Exact to rounding.
    rod = body_of(density_line(mass=90.0, length=110.0, balance=55.0))
    assert (rod.mass, rod.centre, rod.own) == approx((90.0, 55.0, 90 * 110**2 / 12), rel=1e-12)
    assert inertia_about_butt(rod) == approx(90 * 110**2 / 3 / 1000, rel=1e-12)


def test_a_triangular_rod_is_the_handbooks() -> None:
    # Density rising from nothing as c s: centre 2 L / 3, I about the light end m L^2 / 2 (handbook). Exact.
    rod = body_of(density_line(mass=60.0, length=90.0, balance=60.0))
    assert rod.centre == approx(60.0, rel=1e-12)
    assert inertia_about_butt(rod) == approx(60 * 90**2 / 2 / 1000, rel=1e-12)


@given(mass=st.floats(20, 200), length=st.floats(60, 130), share=shares, tip=st.floats(0, 20), butt=st.floats(0, 20))
def test_a_cut_shaft_is_the_integral_of_its_density(
    mass: float, length: float, share: float, tip: float, butt: float
) -> None:
    # scipy.integrate.quad over the part that is left; its own error is below 1e-8 relative.
    line = density_line(mass=mass, length=length, balance=share * length)

    def density(s: float) -> float:
        return line.constant + line.slope * s

    end = length - tip
    expected_mass = quad(density, butt, end)[0]
    first = quad(lambda s: (s - butt) * density(s), butt, end)[0]
    second = quad(lambda s: (s - butt) ** 2 * density(s), butt, end)[0]
    left = body_of(cut(line, tip_trim=tip, butt_trim=butt))
    assert about_zero(left) == approx((expected_mass, first, second), rel=1e-8)


def test_a_tapered_tube_in_a_mesh_has_the_readings_of_its_density_line() -> None:
    """A shaft drawn as a real tube, against trimesh's mass properties of the meshed solid.

    A tube of constant mean radius and a wall that thins in a straight line has a straight line of
    density. Outside and inside are cones; 720 facets make the mesh light by less than 2e-5. The
    tube's own thickness (radius 0.5 cm) adds r^2 / 2 to its inertia about the end, less than 1e-4 here.
    """
    length, walls = 110.0, (0.06, 0.03)
    tube = tube_mesh(0.0, length, length, walls)
    mass, balance = float(tube.mass), float(tube.center_mass[2])
    line = density_line(mass=mass, length=length, balance=balance)
    # The wall's line: 2 pi r w(s) times the density of the stuff, here carbon fibre's 1.6 g/cm3.
    assert line.constant == approx(1.6 * 2 * math.pi * RADIUS * walls[0], rel=1e-4)
    body = body_of(line)
    across = float(tube.moment_inertia[0, 0])  # about its own centre, across the axis
    assert body.own == approx(across, rel=1e-3)
    assert body.own < across  # a line has no thickness
    for tip, butt in ((4.0, 0.0), (0.0, 7.5), (3.0, 5.0)):
        piece = tube_mesh(butt, length - tip, length, walls)
        left = body_of(cut(line, tip_trim=tip, butt_trim=butt))
        assert left.mass == approx(float(piece.mass), rel=1e-4)
        assert left.centre == approx(float(piece.center_mass[2]) - butt, rel=1e-4)
        assert left.own == approx(float(piece.moment_inertia[0, 0]), rel=1e-3)


def test_parallel_axis_against_a_mesh_of_two_boxes() -> None:
    # trimesh adds the two boxes up itself; box meshes are exact.
    head = trimesh.creation.box((3.0, 4.0, 2.0))
    head.apply_translation((0, 0, 110.0))
    grip = trimesh.creation.box((2.5, 2.5, 26.0))
    grip.apply_translation((0, 0, 13.0))
    both = trimesh.util.concatenate([head, grip])
    parts = [Body(float(b.mass), float(b.center_mass[2]), float(b.moment_inertia[0, 0])) for b in (head, grip)]
    whole = combine(parts)
    assert whole.mass == approx(float(both.mass), rel=1e-9)
    assert whole.centre == approx(float(both.center_mass[2]), rel=1e-9)
    assert whole.own == approx(float(both.moment_inertia[0, 0]), rel=1e-9)


@given(st.lists(bodies, min_size=2, max_size=6), st.randoms(use_true_random=False))
def test_combining_is_order_free_and_groups_as_it_likes(parts: list[Body], chance: object) -> None:
    whole = combine(parts)
    shuffled = sorted(parts, key=lambda _: chance.random())  # type: ignore[attr-defined]
    assert close(about_zero(combine(shuffled)), about_zero(whole))
    first, *rest = parts
    assert close(about_zero(combine([first, combine(rest)])), about_zero(whole))


@given(st.lists(bodies, min_size=1, max_size=6))
def test_mass_and_moments_are_conserved(parts: list[Body]) -> None:
    sums = tuple(math.fsum(column) for column in zip(*map(about_zero, parts), strict=True))
    assert close(about_zero(combine(parts)), (sums[0], sums[1], sums[2]))


@given(bodies, bodies)
def test_taking_out_undoes_adding(one: Body, other: Body) -> None:
    assume(one.mass > 0.01 * other.mass)
    back = without(combine([one, other]), other)
    assert back.mass == approx(one.mass, rel=1e-9)
    assert back.centre == approx(one.centre, rel=1e-6, abs=1e-6)


@given(
    mass=st.floats(20, 200),
    length=st.floats(80, 130),
    share=shares,
    trims=st.tuples(*[st.floats(0, 15)] * 4),
)
def test_cutting_twice_is_cutting_once(
    mass: float, length: float, share: float, trims: tuple[float, float, float, float]
) -> None:
    line = density_line(mass=mass, length=length, balance=share * length)
    tip, butt, more_tip, more_butt = trims
    twice = cut(cut(line, tip_trim=tip, butt_trim=butt), tip_trim=more_tip, butt_trim=more_butt)
    once = cut(line, tip_trim=tip + more_tip, butt_trim=butt + more_butt)
    assert close(about_zero(body_of(twice)), about_zero(body_of(once)))


@given(mass=st.floats(20, 200), length=st.floats(60, 130), share=shares, at=st.floats(0.1, 0.9))
def test_the_pieces_of_a_shaft_make_the_shaft(mass: float, length: float, share: float, at: float) -> None:
    line = density_line(mass=mass, length=length, balance=share * length)
    butt_piece = body_of(cut(line, tip_trim=length * (1 - at), butt_trim=0.0))
    tip_piece = moved(body_of(cut(line, tip_trim=0.0, butt_trim=length * at)), length * at)
    assert close(about_zero(combine([butt_piece, tip_piece])), about_zero(body_of(line)))


@given(mass=st.floats(20, 200), length=st.floats(60, 130), share=st.floats(0.2, 0.8))
def test_a_shaft_is_possible_where_its_density_is_nowhere_negative(mass: float, length: float, share: float) -> None:
    assume(min(abs(share - 1 / 3), abs(share - 2 / 3)) > 1e-6)
    line = density_line(mass=mass, length=length, balance=share * length)
    lowest = min(line.constant, line.constant + line.slope * line.length)
    assert is_possible_shaft(length, share * length) == (lowest >= 0)


def test_a_grip_is_spread_from_the_butt() -> None:
    # A uniform rod of 24 cm about its centre, m L^2 / 12 (handbook). Exact.
    assert spread_from_butt(50.0, 12.0) == Body(50.0, 12.0, 50 * 24**2 / 12)


def test_parts_without_mass_have_no_centre() -> None:
    with pytest.raises(ZeroDivisionError):
        combine([Body(0.0, 10.0)])


def test_a_shaft_uncut_is_as_it_was() -> None:
    line = DensityLine(1.0, -0.002, 117.0)
    assert cut(line, tip_trim=0.0, butt_trim=0.0) == line
