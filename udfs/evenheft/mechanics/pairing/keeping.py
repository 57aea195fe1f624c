"""Which shafts of a batch to keep for a repeat of the set."""

from __future__ import annotations

import time
from dataclasses import replace

from evenheft.mechanics.pairing.plan import Plan, plan_set
from evenheft.mechanics.pairing.problem import Batch


def shafts_to_keep(batch: Batch, plan: Plan, count: int, *, seconds: float = float("inf")) -> tuple[str, ...]:
    """Choose shafts of those that a plan leaves over, for a repeat of the same clubs with a full stock of weights.

    The repeat is planned as the set was, from what is left over. Where more are to be kept than a
    repeat takes, a second repeat is planned, and so on; where fewer, as many clubs of the repeat as
    that makes, most of them in.

    Args:
        batch: what was paired [g, cm].
        plan: its plan.
        count: how many shafts to keep [-].
        seconds: the time allowed in all [s].

    Returns:
        Labels, in the order in which they were chosen; fewer than asked for where no more fit any club.
    """
    end = time.monotonic() + seconds
    used = {club.shaft for club in plan.clubs} | batch.reserved | set(batch.decided_shafts)
    left = tuple(shaft for shaft in batch.shafts if shaft.label not in used)
    again = tuple(replace(club, laid_shaft=None, laid_pieces=(), decided="nothing") for club in batch.clubs)
    kept: list[str] = []
    while left and len(kept) < count:
        wanted = min(count - len(kept), len(again))
        repeat = replace(batch, clubs=again, shafts=left, most_built=wanted, reserved=frozenset())
        chosen = [club.shaft for club in plan_set(repeat, seconds=end - time.monotonic()).clubs]
        new = [label for label in chosen if label is not None]
        if not new:
            break
        kept += new
        left = tuple(shaft for shaft in left if shaft.label not in new)
    return tuple(kept)
