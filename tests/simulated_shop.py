"""Invented shops whose true clubs are known: what their benches read, and what Evenheft then says of them.

Nothing here uses the model of the forecast for what is true. Shafts are stepped steel tubes or composite ones of a
crooked density, summed centimetre by centimetre; grips are tapered; heads lie off the shaft's axis and have an inertia
of their own; a swing is a little wide and moves some air. What a bench reads is drawn with errors that are fixed
here, whatever the shop writes as its doubt. All numbers are our own invention, within what clubs usually are.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import pi, sqrt

from evenheft.mechanics.bodies import Body, combine
from evenheft.mechanics.club import Parts
from evenheft.mechanics.forecast_doubt import Doubts
from evenheft.mechanics.head_rise import HEADS
from evenheft.mechanics.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class Bench:
    """A bench: its true errors, and what docs/measuring.md tells such a bench to write."""

    name: str
    scale: float
    """Half-width of a weighing [g]."""
    edge: float
    """Half-width of a balance point [cm], or its standard deviation where `by_hand`."""
    zero: float
    """Half-width of the tape's zero, the same for every club of a shop [cm]."""
    tape: float
    """Half-width of a length as built [cm]."""
    watch: float
    """Half-width of a time [s], or its standard deviation where `by_hand`."""
    swings: int
    """Swings counted."""
    pivot: float
    """Half-width of the swing's axis, the same for every club of a shop [cm]."""
    gravity: float
    """Half-width of gravity, the same for every club of a shop [cm/s2]."""
    epoxy: float
    """Half-width of the epoxy that stays [g]."""
    written: Doubts
    """The half-widths that it writes."""
    written_watch: float
    written_pivot: float
    written_gravity: float
    tolerance: float
    """The tolerance of swingweight that its doubts support [points]."""
    inertia_tolerance: float
    """The tolerance of inertia that its doubts support [kg cm2]."""
    tells_angle: bool = False
    """Whether it tells how wide a swing was."""
    by_hand: bool = False
    """Whether errors of edge and watch are normal, as a hand's are, and have no end."""


CAREFUL = Bench(
    "careful", scale=0.1, edge=0.05, zero=0.02, tape=0.1, watch=0.1, swings=30, pivot=0.05, gravity=0.1, epoxy=0.2,
    written=Doubts(mass=0.1, balance=0.05, common_balance=0.02, length=0.1, epoxy=0.2, place=0.3),
    written_watch=0.1, written_pivot=0.05, written_gravity=0.1,
    tolerance=0.4, inertia_tolerance=25.0, tells_angle=True,
)  # fmt: skip
ORDINARY = Bench(
    "ordinary", scale=0.1, edge=0.2, zero=0.05, tape=0.2, watch=0.1, swings=10, pivot=0.1, gravity=1.7, epoxy=0.5,
    written=Doubts(), written_watch=0.1, written_pivot=0.1, written_gravity=2.0,
    tolerance=1.2, inertia_tolerance=60.0,
)  # fmt: skip
ROUGH = Bench(
    "rough", scale=0.5, edge=0.25, zero=0.1, tape=0.4, watch=0.12, swings=10, pivot=0.2, gravity=1.7, epoxy=1.0,
    written=Doubts(mass=0.5, balance=0.5, length=0.4, epoxy=1.0),
    written_watch=0.2, written_pivot=0.2, written_gravity=2.0,
    tolerance=3.0, inertia_tolerance=120.0, by_hand=True,
)  # fmt: skip
BENCHES = (CAREFUL, ORDINARY, ROUGH)

STEP = 0.25
"""Length of a slice of a shaft or a grip [cm]."""


def stepped_steel(chance: random.Random, length: float, mass: float) -> list[float]:
    """Slices [g] of a stepped steel tube from its butt end: parallel butt, steps of 4.4 cm, parallel tip."""
    butt, tip = 1.52 + chance.uniform(-0.02, 0.02), chance.choice((0.94, 1.0))
    first, last = chance.uniform(15, 32), length - chance.uniform(15, 28)
    wall = chance.uniform(-0.12, 0.12)  # thicker towards one end
    slices = []
    for n in range(round(length / STEP)):
        at = (n + 0.5) * STEP
        step = min(max((at - first) // 4.4 * 4.4 / (last - first), 0.0), 1.0)
        slices.append((butt + (tip - butt) * step) * (1 + wall * (at / length - 0.5)))
    return _scaled(slices, mass)


def composite(chance: random.Random, length: float, mass: float) -> list[float]:
    """Slices [g] of a composite tube from its butt end: tapered, thicker at the tip, with a crooked middle."""
    bend, tip = chance.uniform(-0.15, 0.15), chance.uniform(0.2, 0.6)
    slices = []
    for n in range(round(length / STEP)):
        s = (n + 0.5) * STEP / length
        slices.append((1.5 - 0.65 * s) * (1 + tip * s**3) * (1 + bend * (1 - (2 * s - 1) ** 2)))
    return _scaled(slices, mass)


def _scaled(slices: list[float], mass: float) -> list[float]:
    share = mass / sum(slices)
    return [slice * share for slice in slices]


def as_body(slices: list[float], start: float = 0.0) -> Body:
    """Sum slices up to a body, the first of which begins so far from the butt [g, cm, g cm2]."""
    return combine(
        Body(mass, start + (n + 0.5) * STEP, mass * STEP**2 / 12) for n, mass in enumerate(slices) if mass > 0
    )


def tapered_grip(chance: random.Random, mass: float) -> Body:
    """Describe a tapered grip: a cap, and rubber that thins from the butt to its mouth [g, cm, g cm2]."""
    length, thin = chance.uniform(26, 27.5), chance.uniform(0.35, 0.6)
    slices = [1 - (1 - thin) * (n + 0.5) * STEP / length for n in range(round(length / STEP))]
    slices[0] += chance.uniform(4, 8)  # the cap
    return as_body(_scaled(slices, mass))


@dataclass(frozen=True)
class SimulatedKind:
    """A kind of club: what its parts usually are [g, cm]."""

    head: str
    mass: tuple[float, float]
    length: tuple[float, float]
    shaft_mass: tuple[float, float]
    steel: bool
    uncut: float
    own: tuple[float, float]
    """The head's inertia about its own centre [kg cm2]."""
    aside: tuple[float, float]
    """How far its centre lies beside the shaft's axis [cm]."""


KINDS = (
    SimulatedKind("driver", (190, 204), (112, 116), (48, 72), False, 117.0, (3.5, 5.0), (2.5, 4.0)),
    SimulatedKind("wood", (208, 224), (106, 109), (55, 80), False, 110.0, (2.5, 3.8), (2.2, 3.5)),
    SimulatedKind("iron", (245, 285), (91, 98), (95, 130), True, 99.5, (2.2, 3.2), (2.4, 3.4)),
    SimulatedKind("iron", (245, 285), (91, 98), (60, 95), False, 99.5, (2.2, 3.2), (2.4, 3.4)),
    SimulatedKind("wedge", (290, 306), (88, 91), (105, 132), True, 93.0, (2.2, 3.0), (2.4, 3.4)),
    SimulatedKind("putter", (335, 370), (83, 90), (105, 130), True, 91.0, (3.0, 6.0), (0.5, 3.0)),
)


@dataclass(frozen=True)
class SimulatedClub:
    """One club: what it truly is, dry-fitted and finished, and its parts as the shop sees them."""

    kind: SimulatedKind
    dry_fit: Body
    """The dry fit that lacks its epoxy; own is across the shaft, with what lies beside the axis [g, cm, g cm2]."""
    finished: Body
    seen: Parts
    known: frozenset[str]


SEEN = frozenset(
    {"head_mass", "club_length", "shaft_mass", "shaft_length", "shaft_balance", "grip_mass", "tape_mass",
     "ferrule_mass", "epoxy_mass"}
)  # fmt: skip


class SimulatedShop:
    """One shop with one bench: draws head models and reads their clubs."""

    def __init__(self, bench: Bench, seed: int) -> None:
        """Set a shop up; what is the same for all its clubs is drawn here."""
        self.bench, self.chance = bench, random.Random(seed)
        draw = self.chance.uniform
        self.zero = draw(-bench.zero, bench.zero)
        self.true_pivot = 1.0 + draw(-bench.pivot, bench.pivot)
        self.true_gravity = STANDARD_GRAVITY + draw(-bench.gravity, bench.gravity)

    def weigh(self, mass: float) -> float:
        """Read the scale [g]."""
        return mass + self.chance.uniform(-self.bench.scale, self.bench.scale)

    def find_balance(self, balance: float) -> float:
        """Find a balance point [cm]."""
        bench = self.bench
        error = self.chance.gauss(0, bench.edge) if bench.by_hand else self.chance.uniform(-bench.edge, bench.edge)
        return balance + self.zero + error

    def time(self, club: Body) -> tuple[float, float]:
        """Time so many swings of a club that hangs about the true pivot, a little wide and in air.

        Returns:
            The time [s], and the half-angle that the bench tells: to a degree, or none [degrees].
        """
        bench, chance = self.bench, self.chance
        air = chance.uniform(1000, 3000)  # g cm2; about 3 kg cm2 on a driver
        arm = club.centre - self.true_pivot
        inertia = club.own + air + club.mass * arm**2
        half_angle = chance.uniform(2, 5)
        angle = half_angle * pi / 180
        one = 2 * pi * sqrt(inertia / (club.mass * self.true_gravity * arm)) * (1 + angle**2 / 16)
        error = chance.gauss(0, bench.watch) if bench.by_hand else chance.uniform(-bench.watch, bench.watch)
        return one * bench.swings + error, half_angle + chance.uniform(-1, 1) if bench.tells_angle else 0.0

    def model(self, sisters: int) -> Iterator[SimulatedClub]:
        """Draw the clubs of one head model; what they share is drawn once."""
        chance = self.chance
        kind = chance.choice(KINDS)
        draw = chance.uniform
        usual = HEADS[kind.head]
        shared = {
            "rise": usual.rise + draw(-usual.doubt, usual.doubt),
            "bore": 3.8 + draw(-0.4, 0.4),
            "tape": 13.0 + draw(-0.7, 0.7),
            "ferrule": 4.2 + draw(-0.5, 0.5),
            "joint": 1.5 + draw(-0.4, 0.4),
            "head": draw(*kind.mass),
            "length": draw(*kind.length),
            "shaft": draw(*kind.shaft_mass),
            "grip": draw(45, 55),
        }
        grain = chance.getrandbits(32)
        for _ in range(sisters):
            yield self._club(kind, shared, grain)

    def _club(self, kind: SimulatedKind, shared: dict[str, float], grain: int) -> SimulatedClub:
        chance, bench = self.chance, self.bench
        draw = chance.uniform
        wanted = round(shared["length"] + draw(-1.5, 1.5), 1)
        length = wanted + draw(-bench.tape, bench.tape)
        make = stepped_steel if kind.steel else composite
        # Shafts and grips of one model are alike: the same seed draws their shape, another their mass.
        uncut = make(random.Random(grain), kind.uncut, shared["shaft"] + draw(-1.5, 1.5))
        grip = tapered_grip(random.Random(grain + 1), shared["grip"] + draw(-1.5, 1.5))
        cap = 0.4
        tip_at = length - shared["bore"]
        cut = round((tip_at - cap) / STEP)
        shaft = as_body(uncut[len(uncut) - cut :], tip_at - cut * STEP)
        head_mass = shared["head"] + draw(-3, 3)
        own = draw(*kind.own) * 1000 + head_mass * draw(*kind.aside) ** 2
        head = Body(head_mass, length - shared["rise"] - draw(-0.1, 0.1), own)
        tape = Body(draw(1, 3), shared["tape"])
        ferrule = Body(draw(0.8, 1.6), tip_at - shared["ferrule"])
        guess = 2.5
        epoxy = Body(guess + draw(-bench.epoxy, bench.epoxy), tip_at - shared["joint"])
        dry_fit = combine([head, shaft, grip, tape, ferrule])
        whole = as_body(uncut)
        seen = Parts(
            head_mass=self.weigh(head_mass),
            club_length=wanted,
            shaft_mass=self.weigh(whole.mass),
            shaft_length=kind.uncut + draw(-bench.tape, bench.tape),
            shaft_balance=self.find_balance(whole.centre),
            head_rise=usual_rise(kind),
            grip_mass=self.weigh(grip.mass),
            tape_mass=self.weigh(tape.mass),
            ferrule_mass=self.weigh(ferrule.mass),
            epoxy_mass=guess,
        )
        return SimulatedClub(kind, dry_fit, combine([dry_fit, epoxy]), seen, SEEN)

    def on_bench(self, club: Body) -> Body:
        """Weigh and balance a club; nothing is known of its inertia [g, cm]."""
        return Body(self.weigh(club.mass), self.find_balance(club.centre))


def usual_rise(kind: SimulatedKind) -> float:
    """Take the group's default of the head rise [cm]."""
    return round(HEADS[kind.head].rise, 1)


def guessed(bench: Bench, kind: SimulatedKind) -> Doubts:
    """The half-widths a bench writes, with the guess of the head's rise that goes with the kind."""
    return replace(bench.written, head_rise=round(HEADS[kind.head].doubt, 1))
