"""How long a proven plan takes, as ratios: all that the stock allows against the nearest combinations, and growth.

Run it by hand: `.venv-tests/bin/python tests/benchmarks/pairing.py`. Nothing is asserted.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "mechanics" / "pairing"))

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from evenheft.mechanics.pairing.columns import Columns, Laid
from evenheft.mechanics.pairing.combinations import ways_to_weight
from evenheft.mechanics.pairing.plan import Plan, outline, plan_set
from evenheft.mechanics.pairing.problem import Batch
from evenheft.mechanics.pairing.readings import NEVER, WHOLE
from evenheft.mechanics.pairing.solver import Solver
from pairing_shops import shop

NEAREST = 12
"""Of each pair, how many combinations the plain stages below go through [-]."""
LONG = 10.0
"""What takes longer is not run twice [s]."""
PATIENCE = 240.0
"""How long a plan may take; one that is not proven by then is shown as open [s]."""


def nearest(batch: Batch) -> tuple[Laid, Columns]:
    """The nearest combinations of each pair, as a first prototype takes them."""
    laid = Laid(batch, ways_to_weight(batch.weights, batch.most_pieces))
    found = []
    for club in laid.open:
        for shaft in range(len(batch.shafts)):
            off = laid.every_off(club, shaft)
            ways = np.argsort(off, kind="stable")[:NEAREST]
            found += [(club, shaft, way, off[way], NEVER, laid.ways.mass[way]) for way in ways]
    return laid, Columns(*(np.array(column) for column in zip(*found, strict=True)))


def plain_stages(batch: Batch) -> tuple[int, float, float]:
    """Most clubs in, smallest worst deviation by bisection, least mass: each one integer programme, no more."""
    laid, columns = nearest(batch)
    count = len(laid.open)

    def solve(part: Columns, cost: object, *, every: bool) -> object:
        programme = Solver(laid)._programme(part, np.asarray(cost, dtype=float), (), every_club=every)
        rows = LinearConstraint(programme.rows, programme.low, programme.high)
        ones = np.ones(len(part))
        options = {"mip_rel_gap": 0.0, "time_limit": PATIENCE / 4}
        found = milp(cost, integrality=ones, bounds=Bounds(0, 1), constraints=rows, options=options)
        if found.status == 1:
            raise TimeoutError("the plain stages did not end")
        return found

    inside = columns.where(columns.off <= WHOLE)
    most = round(-solve(inside, -np.ones(len(inside)), every=False).fun)
    values = np.unique(columns.off)
    low, high = 0, len(values) - 1
    while most == count and low < high:
        middle = (low + high) // 2
        part = columns.where(columns.off <= values[middle])
        if solve(part, np.zeros(len(part)), every=True).status == 0:
            high = middle
        else:
            low = middle + 1
    part = columns.where(columns.off <= values[low]) if most == count else columns
    mass = solve(part, part.mass / 1000.0, every=most == count)
    return most, float(values[low] / WHOLE), float(mass.fun)


def timed(work: Callable[..., Any], *given: object) -> tuple[float, Any]:
    """Seconds of the faster of two runs, of one where it is long, and the answer."""
    best, answer = float("inf"), None
    for _ in range(2):
        start = time.perf_counter()
        answer = work(*given)
        best = min(best, time.perf_counter() - start)
        if best > LONG:
            break
    return best, answer


def bounded(batch: Batch) -> Plan:
    """Plan as the command does, but not for ever."""
    return plan_set(batch, seconds=PATIENCE)


def compare(size: str, batch: Batch) -> tuple[str, float]:
    """One row: all that the stock allows against the nearest combinations; and the plan's seconds."""
    taken, plan = timed(bounded, batch)
    told = outline(plan.clubs)
    sure = "proven" if plan.proven else "open"
    try:
        plain, found = timed(plain_stages, batch)
    except TimeoutError:
        return f"{size} | {taken:.2f} s, {sure} | not ended | - | {told.inside}, {told.worst:.3f}", taken
    same = f"{told.inside}, {told.worst:.3f}, {told.added:g} g against {found}"
    return f"{size} | {taken:.2f} s, {sure} | {plain:.2f} s | {taken / plain:.2f} | {same}", taken


def main() -> None:
    """Print the table: what ends soon first."""
    from exhaustive import best_score

    plan_set(shop(clubs=2, shafts=2, sizes=1, seed=1))  # what is imported once
    for clubs, shafts in ((4, 5), (5, 6), (6, 8)):
        batch = shop(clubs=clubs, shafts=shafts, sizes=3, seed=1, count=1)
        taken, _ = timed(bounded, batch)
        whole, _ = timed(best_score, batch)
        print(f"{clubs} x {shafts} x 3: {taken:.2f} s, every plan there is {whole:.2f} s, ratio {whole / taken:.0f}",
              flush=True)  # fmt: skip
    print("clubs x shafts x sizes | all the stock allows | 12 nearest | ratio | both find", flush=True)
    before = None
    for clubs, shafts, count in ((14, 30, 4), (28, 60, 8), (56, 120, 16)):
        batch = shop(clubs=clubs, shafts=shafts, sizes=10, seed=1, count=count)
        row, taken = compare(f"{clubs} x {shafts} x 10", batch)
        growth = "" if before is None else f" | {taken / before:.1f} times the size before"
        print(row + growth, flush=True)
        before = taken
    scarce, _ = compare("14 x 30 scarce", shop(clubs=14, shafts=30, sizes=10, seed=1, count=1))
    print(scarce, flush=True)


if __name__ == "__main__":
    main()
