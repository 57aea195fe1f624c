"""Why a club stays out of a plan, and what would bring it in: a piece more, a missing gram, another shaft."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from evenheft.mechanics.club import cut_length
from evenheft.mechanics.pairing.combinations import MOST_WAYS, ways_to_weight
from evenheft.mechanics.pairing.plan import Plan, Planned
from evenheft.mechanics.pairing.problem import Batch, ClubToBuild, Leading, PairingError, Piece, Shaft, StockWeight
from evenheft.mechanics.pairing.readings import WHOLE, bare_readings, deviations, read_one
from evenheft.mechanics.swingweight import FULCRUM, POINT
from evenheft.mechanics.units import G_CM2_PER_KG_CM2

LEADING_NAMES: dict[Leading, str] = {
    "points": "swingweight",
    "inertia": "inertia",
    "mass": "total mass",
    "frequency": "frequency",
}
"""What leads, in the trade's words."""
LEADING_UNITS: dict[Leading, str] = {"points": "points", "inertia": "kg cm2", "mass": "g", "frequency": "cpm"}


MOST_APART = 0.1
"""No shaft of a model is further off the others' mass than this share of it (common practice) [-]."""


@dataclass(frozen=True, slots=True)
class LengthSpan:
    """From here to there [g]."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Reason:
    """Why one club stays out, and each thing that would by itself bring it in."""

    club: str
    why: str
    """One line."""
    pieces: tuple[Piece, ...] = ()
    """Pieces more in stock that would do."""
    grams: LengthSpan | None = None
    """Further mass at the head that would do; below 0 to be taken off [g]."""
    shaft_mass: LengthSpan | None = None
    """What a shaft of its own shaft's length and balance would have to weigh, with the planned weights [g]."""
    shaft_length: float | None = None
    """How long a shaft must be at least, where none fits [cm]."""

    @property
    def remedies(self) -> tuple[str, ...]:
        """What would bring it in, a line each."""
        lines = []
        if self.shaft_length is not None:
            lines.append(f"a shaft of at least {self.shaft_length:.1f} cm")
        if self.pieces:
            lines.append("in stock " + " and ".join(_counted(self.pieces)))
        if self.grams is not None and self.grams.low > 0:
            lines.append(f"{_between(self.grams)} g more at the head")
        if self.grams is not None and self.grams.high < 0:
            lines.append(f"{_between(LengthSpan(-self.grams.high, -self.grams.low))} g off the head")
        if self.shaft_mass is not None:
            lines.append(f"a shaft like it of {_between(self.shaft_mass)} g")
        return tuple(lines)


def reasons(batch: Batch, plan: Plan) -> tuple[Reason, ...]:
    """Tell of each club that is not in why, and what would bring it in while all others stay as planned.

    Args:
        batch: what was paired [g, cm].
        plan: its plan.
    """
    shafts = {shaft.label: shaft for shaft in batch.shafts}
    used = {club.shaft for club in plan.clubs}
    free = [one for one in batch.shafts if one.label not in used | batch.reserved | set(batch.decided_shafts)]
    left = _left_in_stock(batch, plan)
    found = []
    for club, planned in zip(batch.clubs, plan.clubs, strict=True):
        if planned.shaft is None:
            found.append(_without_shaft(batch, club, free))
        elif not planned.inside:
            found.append(_out(batch, club, planned, shafts[planned.shaft], left))
    return tuple(found)


def _left_in_stock(batch: Batch, plan: Plan) -> Counter[Piece]:
    left = Counter({Piece(weight.place, weight.mass): weight.count for weight in batch.weights})
    for club, planned in zip(batch.clubs, plan.clubs, strict=True):
        if club.decided != "club":
            left.subtract(planned.pieces)
    return left


def _without_shaft(batch: Batch, club: ClubToBuild, free: Sequence[Shaft]) -> Reason:
    needed = cut_length(club.parts) + club.parts.tip_trim
    limit = batch.most_built
    if limit is not None and limit < len(batch.clubs):
        return Reason(club.label, f"only {limit} clubs were to be built")
    if free:
        longest = max(shaft.length for shaft in free)
        if longest < needed:
            why = f"every shaft left is too short: the longest is {longest:.1f} cm, it needs {needed:.1f} cm"
            return Reason(club.label, why, shaft_length=needed)
        return Reason(club.label, "the shafts left lack a measure that leads, such as the frequency")
    return Reason(club.label, "no shaft is left for it", shaft_length=needed)


def _out(batch: Batch, club: ClubToBuild, planned: Planned, shaft: Shaft, left: Counter[Piece]) -> Reason:
    off = [reading for reading in planned.readings if not reading.inside]
    worst = max(off, key=lambda reading: abs(reading.deviation) / reading.tolerance, default=None)
    if worst is None:
        lacking = [
            LEADING_NAMES[t.leading] for t in club.targets if t.leading not in {r.leading for r in planned.readings}
        ]
        return Reason(club.label, f"its {' and '.join(lacking)} is not known with shaft {shaft.label}")
    unit = LEADING_UNITS[worst.leading]
    side = "low" if worst.deviation < 0 else "high"
    why = (
        f"{LEADING_NAMES[worst.leading]} is {abs(worst.deviation):.2f} {unit} too {side}, "
        f"{worst.tolerance:g} {unit} are accepted"
    )
    if club.decided == "club":
        return Reason(club.label, f"{why}; it is glued and stays as it is")
    grams = _grams(batch, club, planned)
    pieces = _pieces(batch, club, planned, shaft, left)
    mass = _shaft_mass(batch, club, planned, shaft)
    if grams is None and mass is None and not pieces and len(off) + len(planned.readings) > 2:
        names = " and ".join(LEADING_NAMES[reading.leading] for reading in planned.readings)
        why += f"; no mass at the head meets {names} together"
    return Reason(club.label, why, pieces, grams, mass)


def _grams(batch: Batch, club: ClubToBuild, planned: Planned) -> LengthSpan | None:
    """Mass at the head, besides what is planned, with which every target is met [g]."""
    at = batch.position(club, "head")
    effect: dict[Leading, float] = {
        "points": (at - FULCRUM) / POINT,
        "inertia": at**2 / G_CM2_PER_KG_CM2,
        "mass": 1.0,
        "frequency": 0.0,
    }
    return _met(planned, effect)


def _shaft_mass(batch: Batch, club: ClubToBuild, planned: Planned, shaft: Shaft) -> LengthSpan | None:
    """Mass of a shaft of equal length and balance with which every target is met [g]."""
    plain = read_one(batch, club, shaft, 0.0, 0.0)
    heavier = read_one(batch, club, replace(shaft, mass=shaft.mass + 1.0), 0.0, 0.0)
    change = _met(planned, {name: heavier[name] - plain[name] for name in plain})
    if change is None or min(abs(change.low), abs(change.high)) > MOST_APART * shaft.mass:
        return None
    return LengthSpan(shaft.mass + change.low, shaft.mass + change.high)


def _met(planned: Planned, effect: Mapping[Leading, float]) -> LengthSpan | None:
    """Return the amounts with which every target is met, given what one of them does to each reading [per amount]."""
    low, high = -inf, inf
    for reading in planned.readings:
        per = effect.get(reading.leading, 0.0)
        if abs(per) < 1e-9:
            if not reading.inside:
                return None
            continue
        ends = sorted((sign * reading.tolerance - reading.deviation) / per for sign in (-1, 1))
        low, high = max(low, ends[0]), min(high, ends[1])
    return LengthSpan(low, high) if -inf < low <= high < inf else None


def _pieces(batch: Batch, club: ClubToBuild, planned: Planned, shaft: Shaft, left: Counter[Piece]) -> tuple[Piece, ...]:
    """Return the fewest pieces of the stock's own sizes that are wanting for it to be in."""
    plenty = [StockWeight(weight.mass, batch.most_pieces, weight.place) for weight in batch.weights]
    try:
        ways = ways_to_weight(plenty, batch.most_pieces)
    except PairingError:  # more ways than are gone through, which a plan's own stock was not
        return ()
    assert len(ways) <= MOST_WAYS
    at_hand = left + Counter(planned.pieces)
    alone = replace(batch, clubs=(club,), shafts=(shaft,))
    inside = deviations(bare_readings(alone), 0, club, ways.at_place)[0] <= WHOLE
    best: tuple[int, float, tuple[Piece, ...]] | None = None
    for way in inside.nonzero()[0].tolist():
        pieces = ways.pieces(way)
        wanting = Counter(pieces) - at_hand
        rank = (wanting.total(), sum(piece.mass for piece in pieces))
        if best is None or rank < best[:2]:
            best = (*rank, tuple(wanting.elements()))
    return best[2] if best is not None else ()


def _between(span: LengthSpan) -> str:
    """Return a span as a builder uses it: rounded inwards to a tenth where that leaves something."""
    low, high = -(-span.low * 10 // 1) / 10, span.high * 10 // 1 / 10
    if low > high:
        return f"{(span.low + span.high) / 2:.2f}"
    return f"{low:.1f}" if low == high else f"{low:.1f} to {high:.1f}"


def _counted(pieces: Sequence[Piece]) -> list[str]:
    """Pieces in words, e.g. "one more 4 g for the head"."""
    numbers = {1: "one", 2: "two", 3: "three", 4: "four"}
    return [
        f"{numbers.get(count, str(count))} more {piece.mass:g} g for the {piece.place}"
        for piece, count in Counter(pieces).items()
    ]
