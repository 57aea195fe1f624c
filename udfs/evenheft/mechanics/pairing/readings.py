"""What each club would read with each shaft and each way to weight it, and which ways can matter at all.

A weight is taken as a point at its place: every reading then changes by so much per gram, so
that a club with a shaft is computed once and each way of weighting it is a sum.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from evenheft.mechanics.bodies import inertia_about_butt
from evenheft.mechanics.club import TAPE_READING, butt_trim, forecast
from evenheft.mechanics.doubt import HAIR
from evenheft.mechanics.pairing.combinations import PLACES, Ways
from evenheft.mechanics.pairing.problem import Batch, ClubToBuild, Leading, Shaft
from evenheft.mechanics.swingweight import FULCRUM, POINT, moment, points
from evenheft.mechanics.units import G_CM2_PER_KG_CM2

_LEADING: tuple[Leading, ...] = ("points", "inertia", "mass", "frequency")
WHOLE = 1_000_000_000
"""A deviation of one tolerance: deviations are counted in whole billionths of it, so that they compare exactly [-]."""
NEVER = 1 << 60
"""The deviation of a club that cannot be built so, or not be judged [-]."""


@dataclass(frozen=True)
class Bare:
    """What each club (rows) reads with each shaft (columns) before any stock weight is added."""

    values: dict[Leading, Any]
    """Of each reading an array [points, kg cm2, g, cpm]."""
    fits: Any
    """Whether the shaft is long enough for the club."""
    lacks: Any
    """By how much it is too short; negative where something is cut off [cm]."""
    per_gram: dict[Leading, Any]
    """What a gram at each of `PLACES` (columns) adds to a reading of each club (rows)."""


def bare_readings(batch: Batch) -> Bare:
    """Compute each club with each shaft.

    Args:
        batch: what is to be paired [g, cm].
    """
    import numpy as np

    mass: Any = np.array([shaft.mass for shaft in batch.shafts])
    length: Any = np.array([shaft.length for shaft in batch.shafts])
    balance: Any = np.array([shaft.length / 2 if shaft.balance is None else shaft.balance for shaft in batch.shafts])
    frequency = np.array([np.nan if shaft.frequency is None else shaft.frequency for shaft in batch.shafts])
    shape = (len(batch.clubs), len(batch.shafts))
    values: dict[Leading, Any] = {name: np.empty(shape) for name in _LEADING}
    lacks = np.empty(shape)
    per_gram: dict[Leading, Any] = {name: np.zeros((len(batch.clubs), len(PLACES))) for name in _LEADING}
    for at, club in enumerate(batch.clubs):
        # The arrays stand in the fields of one number: the mechanics are plain arithmetic.
        parts = replace(club.parts, shaft_mass=mass, shaft_length=length, shaft_balance=balance)
        lacks[at] = -np.asarray(butt_trim(parts))
        body = forecast(parts)
        values["points"][at] = points(moment(body.mass, body.centre))
        values["inertia"][at] = inertia_about_butt(body)
        values["mass"][at] = body.mass
        values["frequency"][at] = frequency
        positions = np.array([batch.position(club, place) for place in ("head", "butt")])
        per_gram["points"][at] = (positions - FULCRUM) / POINT
        per_gram["inertia"][at] = positions**2 / G_CM2_PER_KG_CM2
        per_gram["mass"][at] = 1.0
    return Bare(values, lacks <= TAPE_READING, lacks, per_gram)


def allowed_pairs(batch: Batch, bare: Bare) -> Any:
    """Which shaft may go to which club: it fits, and what is decided stays [an array of booleans].

    Args:
        batch: what is to be paired [g, cm].
        bare: from `bare_readings`.
    """
    import numpy as np

    allowed = bare.fits.copy()
    decided = batch.decided_shafts
    for at, shaft in enumerate(batch.shafts):
        if shaft.label in decided:
            kept = decided[shaft.label]
            allowed[np.arange(len(batch.clubs)) != kept, at] = False
        elif shaft.label in batch.reserved:
            allowed[:, at] = False
    for row, club in enumerate(batch.clubs):
        if club.decided != "nothing":
            allowed[row] &= [shaft.label == club.laid_shaft for shaft in batch.shafts]
    return allowed


def deviations(bare: Bare, club: int, targets: ClubToBuild, at_place: Any, shafts: Any = slice(None)) -> Any:
    """Count a club's worst deviation with each shaft (rows) and each way (columns) [billionths of tolerance].

    Args:
        bare: from `bare_readings`.
        club: the club's place among the rows of `bare` [-].
        targets: the club, for what it must read.
        at_place: added mass of each way at each of `PLACES`: two columns [g].
        shafts: which shafts, all when left out: a slice or places [-].
    """
    import numpy as np

    worst: Any = np.zeros((len(bare.lacks[club, shafts]), len(at_place)))
    for target in targets.targets:
        plain = bare.values[target.leading][club, shafts][:, None]
        value = plain + (at_place @ bare.per_gram[target.leading][club])[None, :]
        off = np.abs(value - target.wanted)
        hair = HAIR * np.maximum(1.0, np.maximum(np.abs(value), abs(target.wanted)))
        inside = off <= target.tolerance + hair
        share = off / target.tolerance
        share = np.where(inside, np.minimum(share, 1.0), np.maximum(share, 1.0 + 2 / WHOLE))
        worst = np.maximum(worst, np.where(np.isnan(share), np.inf, share))
    counted = np.minimum(np.rint(worst * WHOLE), float(NEVER))
    return counted.astype(np.int64)


def least_inside(off: Any, ways: Ways) -> Any:
    """Count the least deviation among all that a way contains, itself left out [as `deviations`].

    A way is needed only if it comes closer than every way that is contained in it: that one
    takes no more from the stock and adds less mass.

    Args:
        off: from `deviations`.
        ways: the ways of its columns.
    """
    import numpy as np

    inside = np.full(off.shape, NEVER, dtype=np.int64)
    for pieces in range(1, int(ways.count.max()) + 1):
        level = np.flatnonzero(ways.count == pieces)
        for slot in range(pieces):
            less = ways.less_one[level, slot]
            has = less >= 0
            here, less = level[has], less[has]
            inside[:, here] = np.minimum(inside[:, here], np.minimum(off[:, less], inside[:, less]))
    return inside


def read_one(batch: Batch, club: ClubToBuild, shaft: Shaft, at_head: float, at_butt: float) -> dict[Leading, float]:
    """Compute one club with one shaft and some weights, by the club model itself [points, kg cm2, g, cpm].

    Args:
        batch: where weights sit [cm].
        club: its other parts [g, cm].
        shaft: the shaft [g, cm].
        at_head: mass added at the head [g].
        at_butt: mass added at the butt [g].
    """
    from evenheft.mechanics.bodies import Body, combine

    parts = replace(club.parts, shaft_mass=shaft.mass, shaft_length=shaft.length, shaft_balance=shaft.balance)
    body = combine([
        forecast(parts),
        Body(at_head, batch.position(club, "head")),
        Body(at_butt, batch.position(club, "butt")),
    ])  # fmt: skip
    values: dict[Leading, float] = {
        "points": points(moment(body.mass, body.centre)),
        "inertia": inertia_about_butt(body),
        "mass": body.mass,
    }
    if shaft.frequency is not None:
        values["frequency"] = shaft.frequency
    return values
