"""The plan of a set: which shaft and which weights for which head, what each club will read, and the proof."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from evenheft.mechanics.doubt import HAIR, combined_doubt
from evenheft.mechanics.forecast_doubt import Asked, forecast_doubt
from evenheft.mechanics.pairing.columns import Laid
from evenheft.mechanics.pairing.combinations import PLACES, ways_to_weight
from evenheft.mechanics.pairing.hand import by_hand
from evenheft.mechanics.pairing.problem import (
    Batch,
    ClubToBuild,
    Leading,
    PairingError,
    Piece,
    Shaft,
    need_sound,
)
from evenheft.mechanics.pairing.readings import read_one
from evenheft.mechanics.pairing.scoring import ClubChoice, Proof, Report, Score
from evenheft.mechanics.pairing.solver import Solver
from evenheft.mechanics.pairing.stages import Stages
from evenheft.mechanics.swingweight import FULCRUM, POINT
from evenheft.mechanics.units import G_CM2_PER_KG_CM2

OFF_THE_MARK = float("inf")
ASKED: dict[Leading, Asked] = {"points": "swingweight", "inertia": "inertia", "mass": "mass"}
"""What a forecast's doubt is asked of; a frequency is the shaft's own reading."""


@dataclass(frozen=True, slots=True)
class PlannedReading:
    """One reading that leads, of one club as planned."""

    leading: Leading
    value: float
    """What it will read [points, kg cm2, g or cpm]."""
    deviation: float
    """Less what is wanted [the same unit]."""
    tolerance: float
    """[the same unit]."""
    doubt: float
    """How far the forecast may be off, U; it is told beside, not taken off the tolerance [the same unit]."""

    @property
    def inside(self) -> bool:
        """Whether it is within its tolerance, by the rule of `doubt.verdict` with no doubt."""
        hair = HAIR * max(1.0, abs(self.value), abs(self.value - self.deviation))
        return abs(self.deviation) <= self.tolerance + hair


@dataclass(frozen=True, slots=True)
class Planned:
    """One club as planned."""

    club: str
    shaft: str | None
    """The shaft's label, None where it gets none."""
    pieces: tuple[Piece, ...] = ()
    """Its weights, at the head first, heaviest first."""
    readings: tuple[PlannedReading, ...] = ()
    """What leads, as its targets are listed; what cannot be read is left out."""
    targets: int = 1
    """How many targets it has [-]."""

    @property
    def inside(self) -> bool:
        """Whether every target is met."""
        return len(self.readings) == self.targets and all(reading.inside for reading in self.readings)

    @property
    def share(self) -> float:
        """Its worst deviation in units of the tolerance; infinite where it cannot be read [-]."""
        if len(self.readings) < self.targets:
            return OFF_THE_MARK
        return max(abs(reading.deviation) / reading.tolerance for reading in self.readings)

    def added(self, place: str | None = None) -> float:
        """Weights at a place, or in all [g]."""
        return sum(piece.mass for piece in self.pieces if place in (None, piece.place))


@dataclass(frozen=True, slots=True)
class Outline:
    """A plan in four numbers."""

    inside: int
    """Clubs that are in [-]."""
    built: int
    """Clubs that have a shaft [-]."""
    worst: float
    """The worst deviation among them in units of its tolerance; 0 where there is none [-]."""
    added: float
    """Stock weights in all [g]."""


@dataclass(frozen=True)
class Plan:
    """The best plan that was found, how good it is, and what it is compared with."""

    clubs: tuple[Planned, ...]
    """In the order of the batch."""
    proofs: tuple[Proof, ...]
    """Stage by stage, what was reached and what no plan can pass."""
    by_hand: tuple[Planned, ...]
    """The same clubs by the hand rule."""
    as_it_stands: tuple[Planned, ...]
    """The same clubs as they are laid out now; a club without a shaft beside it has none."""
    seconds: float
    """What it took [s]."""
    settled: bool = True
    """Whether there was time to break every tie, so that the same plan comes out on every run."""

    @property
    def proven(self) -> bool:
        """Whether every stage was proven."""
        return bool(self.proofs) and all(proof.proven for proof in self.proofs)


def outline(clubs: Sequence[Planned]) -> Outline:
    """Tell a plan in four numbers.

    Args:
        clubs: planned clubs.
    """
    built = [club for club in clubs if club.shaft is not None]
    return Outline(
        inside=sum(club.inside for club in built),
        built=len(built),
        worst=max((club.share for club in built), default=0.0),
        added=sum(club.added() for club in built),
    )


def plan_set(
    batch: Batch,
    *,
    seconds: float = float("inf"),
    report: Report | None = None,
    clock: Callable[[], float] = time.monotonic,
) -> Plan:
    """Pair heads, shafts and weights: provably best, or as good as time allows.

    As many clubs in as possible; then as many built; then the smallest worst deviation in units of the
    tolerances; then the least added mass; then the least change from what is laid out; then the fewest
    pieces, and the order of the lists. Clubs that are decided keep what they have and do not count in
    the stages. The order in which shafts are listed does not matter: they are taken by their labels.

    Args:
        batch: what is to be paired [g, cm].
        seconds: the time allowed; the stages that are not done by then are told with their gap [s].
        report: is told what goes on, with the best plan so far.
        clock: what the time is told by; `time.process_time` where only what is computed counts.

    Raises:
        PairingError: the batch is unsound, a line for each thing that is wrong.
        ImportError: numpy or scipy cannot be had.
    """
    start, began = time.monotonic(), clock()
    need_sound(batch)
    batch = replace(batch, shafts=tuple(sorted(batch.shafts, key=lambda shaft: label_order(shaft.label))))
    laid = Laid(batch, ways_to_weight(batch.weights, batch.most_pieces))
    first = by_hand(laid)
    stages = Stages(laid, first, Solver(laid, began + seconds, clock), report)
    stages.run()
    return Plan(
        clubs=planned_clubs(laid, stages.best),
        proofs=tuple(stages.proofs),
        by_hand=planned_clubs(laid, first),
        as_it_stands=tuple(_as_it_stands(batch, club) for club in batch.clubs),
        seconds=time.monotonic() - start,
        settled=stages.settled,
    )


def label_order(label: str) -> tuple[tuple[int, int, str], ...]:
    """Order labels as a person does, 2 before 10.

    Args:
        label: a shaft's label [-].

    >>> sorted(["S10", "S2", "s1"], key=label_order)
    ['s1', 'S2', 'S10']
    """
    runs = re.findall(r"\d+|\D+", label.casefold())
    return tuple((0, int(run), "") if run.isdecimal() else (1, 0, run) for run in runs)


def planned_clubs(laid: Laid, chosen: dict[int, ClubChoice]) -> tuple[Planned, ...]:
    """Tell a choice club by club, as the club model itself reads it.

    Args:
        laid: the batch.
        chosen: shaft and way to lay weights, by club.
    """
    clubs = []
    for at, club in enumerate(laid.batch.clubs):
        if at in chosen:
            shaft, way = chosen[at]
            clubs.append(read_club(laid.batch, club, laid.batch.shafts[shaft], laid.ways.pieces(way)))
        elif club.decided == "club":
            clubs.append(_as_it_stands(laid.batch, club))
        else:
            clubs.append(Planned(club.label, None, targets=len(club.targets)))
    return tuple(clubs)


def read_club(batch: Batch, club: ClubToBuild, shaft: Shaft, pieces: tuple[Piece, ...]) -> Planned:
    """Read one club with a shaft and weights.

    Args:
        batch: where weights sit, and what the instruments admit to [g, cm].
        club: its other parts and its targets [g, cm].
        shaft: the shaft [g, cm].
        pieces: the weights [g].
    """
    at_head, at_butt = (sum(piece.mass for piece in pieces if piece.place == place) for place in PLACES)
    values = read_one(batch, club, shaft, at_head, at_butt)
    readings = tuple(
        PlannedReading(
            target.leading,
            values[target.leading],
            values[target.leading] - target.wanted,
            target.tolerance,
            _doubt(batch, club, shaft, target.leading, len(pieces)),
        )
        for target in club.targets
        if target.leading in values
    )
    return Planned(club.label, shaft.label, pieces, readings, len(club.targets))


def _doubt(batch: Batch, club: ClubToBuild, shaft: Shaft, leading: Leading, pieces: int) -> float:
    """How far a forecast may be off [the reading's unit], as HEFT_CLUB tells it of the same parts, with the weights."""
    asked = ASKED.get(leading)
    if asked is None:
        return 0.0
    parts = replace(club.parts, shaft_mass=shaft.mass, shaft_length=shaft.length, shaft_balance=shaft.balance)
    weighed = {"shaft_mass", "shaft_length", *({"shaft_balance"} if shaft.balance is not None else ())}
    known = {name for name in club.known if not name.startswith("shaft_")} | weighed
    stated = {} if club.head_half_width is None else {"head_mass": club.head_half_width}
    of_parts = forecast_doubt(asked, parts, known, club.doubts, club.taught, stated)
    at_head = batch.position(club, "head")
    per_gram = {"points": (at_head - FULCRUM) / POINT, "inertia": at_head**2 / G_CM2_PER_KG_CM2, "mass": 1.0}[leading]
    return combined_doubt(*[per_gram * club.doubts.mass] * pieces, expanded=[of_parts])


def _as_it_stands(batch: Batch, club: ClubToBuild) -> Planned:
    """Return a club as it is laid out now."""
    shaft = next((one for one in batch.shafts if one.label == club.laid_shaft), None)
    if shaft is None:
        return Planned(club.label, None, targets=len(club.targets))
    return read_club(batch, club, shaft, club.laid_pieces)


__all__ = [
    "Outline",
    "PairingError",
    "Plan",
    "Planned",
    "PlannedReading",
    "Proof",
    "Score",
    "outline",
    "plan_set",
    "read_club",
]
