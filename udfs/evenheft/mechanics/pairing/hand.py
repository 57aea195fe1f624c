"""How a builder pairs by hand: the heaviest shaft to the head that needs most, then weights club by club."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from evenheft.mechanics.pairing.columns import Laid
from evenheft.mechanics.pairing.readings import NEVER

Chosen = dict[int, tuple[int, int]]


def by_hand(laid: Laid) -> Chosen:
    """Pair by the hand rule.

    Heads are put in the order of what they lack of the first target with a shaft of middling mass,
    shafts in the order of their mass, and each head gets the next shaft that is long enough. Where there
    are more shafts than heads, every run of neighbours in that order is tried and the best kept: no
    builder does better by this rule. Then each club in that order gets the nearest weights that are left.

    Args:
        laid: the batch.

    Returns:
        Shaft and way to lay weights, by club.
    """
    free = list(laid.open)
    most = laid.batch.most_built
    kept = [at for at in free if laid.batch.clubs[at].decided == "shaft"]
    others = sorted((at for at in free if at not in kept), key=lambda at: -_lack(laid, at))
    order = (kept + others)[:most]
    taken = set(laid.batch.decided_shafts) | laid.batch.reserved
    shafts = [n for n, shaft in enumerate(laid.batch.shafts) if shaft.label not in taken]
    shafts.sort(key=lambda n: -laid.batch.shafts[n].mass)
    runs = range(max(1, len(shafts) - len(order) + len(kept) + 1))
    plans = [weighted(laid, _dealt(laid, order, shafts[first:])) for first in runs]
    return min(plans, key=lambda plan: _rank(laid, plan))


def _dealt(laid: Laid, order: Sequence[int], shafts: Sequence[int]) -> dict[int, int]:
    """Give each club in turn the next shaft that it may have."""
    left = list(shafts)
    dealt: dict[int, int] = {}
    for at in order:
        own = laid.batch.clubs[at].laid_shaft if laid.batch.clubs[at].decided == "shaft" else None
        candidates = [n for n, shaft in enumerate(laid.batch.shafts) if shaft.label == own] if own is not None else left
        fitting = next((n for n in candidates if laid.least[at, n] < NEVER), None)
        if fitting is not None:
            dealt[at] = fitting
            if fitting in left:
                left.remove(fitting)
    return dealt


def weighted(laid: Laid, shafts: dict[int, int]) -> Chosen:
    """Give each club in turn the weights that bring it closest with what is left in stock, the lightest of them.

    Args:
        laid: the batch.
        shafts: each club's shaft, in the order in which they are weighted.
    """
    import numpy as np

    left: Any = np.array([size.count for size in laid.ways.sizes], dtype=np.int64)
    plan: Chosen = {}
    for at, shaft in shafts.items():
        possible = (laid.ways.uses <= left[None, :]).all(axis=1) if len(left) else np.ones(len(laid.ways), dtype=bool)
        off = np.where(possible, laid.every_off(at, shaft), NEVER + 1)
        nearest = np.flatnonzero(off == off.min())
        way = int(nearest[laid.ways.mass[nearest].argmin()])
        plan[at] = (shaft, way)
        left = left - laid.ways.uses[way]
    return plan


def _lack(laid: Laid, at: int) -> float:
    """How much a club lacks of its first target with a shaft of middling mass that it may have [the target's unit]."""
    import numpy as np

    target = laid.batch.clubs[at].targets[0]
    possible = np.flatnonzero(laid.least[at] < NEVER)
    if not len(possible):
        return 0.0
    return float(target.wanted - np.median(laid.bare.values[target.leading][at][possible]))


def _rank(laid: Laid, plan: Chosen) -> tuple[int, int, int, int]:
    from evenheft.mechanics.pairing.readings import WHOLE

    off = [laid.off(at, *chosen) for at, chosen in plan.items()]
    mass = sum(int(laid.ways.mass[way]) for _, way in plan.values())
    return -sum(value <= WHOLE for value in off), -len(plan), max(off, default=0), mass
