"""Invented shops to pair in: heads, shafts and weights drawn from a seed."""

from __future__ import annotations

import random

from evenheft.mechanics.club import Parts
from evenheft.mechanics.pairing.problem import Batch, ClubToBuild, PlaceName, Shaft, StockWeight, Target


def parts_of(*, head_mass: float, club_length: float, head_rise: float = 1.5) -> Parts:
    """A club without its shaft, whose own numbers are nonsense on purpose: they may not count."""
    return Parts(
        head_mass=head_mass,
        club_length=club_length,
        shaft_mass=999.0,
        shaft_length=999.0,
        head_rise=head_rise,
        bore_to_ground=3.6,
        grip_mass=50.0,
        tape_mass=1.4,
        epoxy_mass=2.5,
    )


def shop(
    *,
    clubs: int,
    shafts: int,
    sizes: int,
    seed: int,
    count: int = 4,
    most_pieces: int = 2,
    tolerance: float = 0.5,
    inertia: float | None = None,
    butt: tuple[float, ...] = (),
) -> Batch:
    """An invented shop; `inertia` is the tolerance of a second target [kg cm2]."""
    draw = random.Random(seed)
    heads = []
    for n in range(clubs):
        step = n % 9
        mass = round(264.0 + 7.0 * step + draw.gauss(0, 2), 1)
        targets = [Target("points", 32.0, tolerance)]
        if inertia is not None:
            targets.append(Target("inertia", 2690.0 - 5.0 * step, inertia))
        parts = parts_of(head_mass=mass, club_length=96.52 - 1.27 * step)
        heads.append(ClubToBuild(f"club {n + 1}", parts, tuple(targets)))
    batch = [
        Shaft(
            f"S{n + 1}",
            round(draw.gauss(101.0, 2.0), 1),
            99.06,
            round(draw.gauss(48.5, 0.3), 2),
            draw.randint(300, 320),
        )
        for n in range(shafts)
    ]
    places: list[tuple[float, PlaceName]] = [(float(n + 1), "head") for n in range(sizes)]
    places += [(mass, "butt") for mass in butt]
    stock = [StockWeight(mass, count, place) for mass, place in places]
    return Batch(tuple(heads), tuple(batch), tuple(stock), most_pieces=most_pieces)
