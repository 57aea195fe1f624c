"""What is to be paired: heads that want a shaft, shafts of a batch, weights in stock, and what each club must read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, fields
from typing import Literal

from evenheft.mechanics.bodies import is_possible_shaft
from evenheft.mechanics.club import Parts
from evenheft.mechanics.forecast_doubt import Doubts, Taught

Leading = Literal["points", "inertia", "mass", "frequency"]
"""What may lead a plan: swingweight [points], inertia [kg cm2], total mass [g], the shaft's frequency [cpm]."""
Decided = Literal["nothing", "shaft", "club"]
"""What of a club is decided: nothing; its shaft, set aside for it; or the whole club, glued and weighted."""
PlaceName = Literal["head", "butt"]
MEASURED = frozenset(field.name for field in fields(Parts))
"""Every part weighed and measured, by the names in `Parts` [-]."""
NEWCOMER = Doubts()
SISTER = Taught()
"""A rise that one dry fit of a sister taught."""
LONGEST_LIST = 400
"""More clubs or shafts than this are no batch that a person lays out [-]."""


class PairingError(ValueError):
    """What is wrong with the clubs, shafts or weights, a line each."""

    def __init__(self, lines: Iterable[str]) -> None:
        """Make it of the lines [-]."""
        self.lines = tuple(lines)
        super().__init__("; ".join(self.lines))


@dataclass(frozen=True, slots=True)
class Target:
    """What one reading of a club must be."""

    leading: Leading
    wanted: float
    """The value wanted [points, kg cm2, g or cpm]."""
    tolerance: float
    """The deviation that is still accepted, more than nothing [the same unit]."""


@dataclass(frozen=True, slots=True)
class Shaft:
    """A shaft of the batch, as weighed and measured."""

    label: str
    mass: float
    """As weighed, before any trimming that is still to come [g]."""
    length: float
    """As weighed [cm]."""
    balance: float | None = None
    """From its butt end; half its length where it is not known [cm]."""
    frequency: float | None = None
    """What the frequency meter shows of it, None where it was not measured [cpm]."""


@dataclass(frozen=True, slots=True)
class StockWeight:
    """A size of weight that is in stock."""

    mass: float
    """One piece [g]."""
    count: int
    """How many pieces there are [-]."""
    place: PlaceName = "head"
    """Where it goes."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A weight at its place in a club."""

    place: PlaceName
    mass: float
    """[g]."""


@dataclass(frozen=True, slots=True)
class ClubToBuild:
    """A club to be: all of its parts but the shaft, what it must read, and what is laid out or decided already."""

    label: str
    parts: Parts
    """Its parts; the shaft's own numbers among them are not used [g, cm]."""
    targets: tuple[Target, ...]
    """What leads, at least one; the deviation that counts is the worst of them in units of its tolerance."""
    laid_shaft: str | None = None
    """The label of the shaft that lies beside it now, or None."""
    laid_pieces: tuple[Piece, ...] = ()
    """The weights that are planned for it now."""
    decided: Decided = "nothing"
    known: frozenset[str] = MEASURED
    """Names in `Parts` of what was weighed or measured for this very club; the rest is assumed [-]."""
    doubts: Doubts = NEWCOMER
    """How far its parts may be off: for the doubt that is told beside each forecast [g, cm]."""
    taught: Taught | None = SISTER
    """How well its head rise is known; None where it is a guess."""
    head_half_width: float | None = None
    """How far the head's mass may be off: a supplier's tolerance; the gram scale's where None [g]."""
    head_weight_rise: float | None = None
    """Ground line back up the shaft axis to the weights at this head; the batch's where None [cm]."""
    butt_weight_from_butt: float | None = None
    """Butt to the weights in this butt; the batch's where None [cm]."""


@dataclass(frozen=True, slots=True)
class Batch:
    """All that is to be paired."""

    clubs: tuple[ClubToBuild, ...]
    shafts: tuple[Shaft, ...]
    weights: tuple[StockWeight, ...] = ()
    head_weight_rise: float = 5.3
    """Ground line back up the shaft axis to the weights at the head [cm]."""
    butt_weight_from_butt: float = 2.5
    """Butt to the weights there [cm]."""
    most_pieces: int = 2
    """How many pieces have room at one place of one club [-]."""
    most_built: int | None = None
    """How many clubs are to be built at most; all when None [-]."""
    reserved: frozenset[str] = field(default=frozenset())
    """Labels of shafts that are set aside for something else: no club of this batch gets one."""

    def position(self, club: ClubToBuild, place: PlaceName) -> float:
        """Butt to the weights at a place of a club [cm]."""
        if place == "butt":
            own = club.butt_weight_from_butt
            return self.butt_weight_from_butt if own is None else own
        rise = self.head_weight_rise if club.head_weight_rise is None else club.head_weight_rise
        return club.parts.club_length - rise

    @property
    def decided_shafts(self) -> dict[str, int]:
        """Which shaft is decided for which club: the club's place by the shaft's label."""
        return {
            club.laid_shaft: at
            for at, club in enumerate(self.clubs)
            if club.decided != "nothing" and club.laid_shaft is not None
        }


def need_sound(batch: Batch) -> None:
    """Refuse what cannot be planned, all of it at once.

    Args:
        batch: what is to be paired [g, cm].

    Raises:
        PairingError: what is wrong, a line each.
    """
    lines = [*_wrong_lists(batch), *_wrong_clubs(batch), *_wrong_shafts(batch), *_wrong_weights(batch)]
    if lines:
        raise PairingError(lines)


def _wrong_lists(batch: Batch) -> Iterator[str]:
    if not batch.clubs:
        yield "there is no club to plan"
    if not batch.shafts:
        yield "there is no shaft to choose from"
    for what, given in (("club", batch.clubs), ("shaft", batch.shafts)):
        if len(given) > LONGEST_LIST:
            yield f"at most {LONGEST_LIST} {what}s can be planned at once, got {len(given)}"
        labels = [one.label for one in given]
        for label in dict.fromkeys(label for label in labels if labels.count(label) > 1):
            yield f"{what} {label} is listed {labels.count(label)} times: give each {what} a label of its own"


def _wrong_clubs(batch: Batch) -> Iterator[str]:
    known = {shaft.label for shaft in batch.shafts}
    taken: dict[str, str] = {}
    for club in batch.clubs:
        if not club.targets:
            yield f"{club.label} has no target: say what it must read"
        for target in club.targets:
            if not target.tolerance > 0:
                yield f"{club.label}: the tolerance of its {target.leading} must be more than 0"
        leading = [target.leading for target in club.targets]
        for twice in dict.fromkeys(name for name in leading if leading.count(name) > 1):
            yield f"{club.label} has two targets for its {twice}"
        if club.decided == "nothing":
            continue
        if club.laid_shaft is None:
            yield f"{club.label} is said to be decided, but no shaft lies beside it"
        elif club.laid_shaft not in known:
            yield f"{club.label} is decided with shaft {club.laid_shaft}, which is not among the shafts"
        elif club.laid_shaft in taken:
            yield f"shaft {club.laid_shaft} is decided for {taken[club.laid_shaft]} and for {club.label}"
        else:
            taken[club.laid_shaft] = club.label


def _wrong_shafts(batch: Batch) -> Iterator[str]:
    for shaft in batch.shafts:
        if not (shaft.mass > 0 and shaft.length > 0):
            yield f"shaft {shaft.label} must have a mass and a length"
        elif shaft.balance is not None and not is_possible_shaft(shaft.length, shaft.balance):
            low, high = shaft.length / 3, 2 * shaft.length / 3
            yield (
                f"shaft {shaft.label}: balance must be from {low:.1f} cm to {high:.1f} cm for a shaft of "
                f"{shaft.length:.1f} cm, got {shaft.balance:.1f} cm"
            )


def _wrong_weights(batch: Batch) -> Iterator[str]:
    seen: set[tuple[str, float]] = set()
    for weight in batch.weights:
        if not weight.mass > 0:
            yield f"a weight in stock must weigh more than 0 g, got {weight.mass:g} g"
        if weight.count < 0:
            yield f"the count of the {weight.mass:g} g weights must be 0 or more, got {weight.count}"
        if (weight.place, weight.mass) in seen:
            yield f"the {weight.mass:g} g weight for the {weight.place} is listed twice: add the counts up"
        seen.add((weight.place, weight.mass))
    if not 0 <= batch.most_pieces <= 4:
        yield f"the pieces at one place must be 0 to 4, got {batch.most_pieces}"
