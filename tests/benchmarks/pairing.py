"""How long a proven plan takes, as ratios: all that the stock allows against the nearest combinations, and growth.

Run it by hand: `.venv-tests/bin/python tests/benchmarks/pairing.py`. Nothing is asserted.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "mechanics" / "pairing"))

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from evenheft.mechanics.pairing.columns import Columns, Laid
from evenheft.mechanics.pairing.combinations import ways_to_weight
from evenheft.mechanics.pairing.plan import outline, plan_set
from evenheft.mechanics.pairing.problem import Batch
from evenheft.mechanics.pairing.readings import NEVER, WHOLE
from evenheft.mechanics.pairing.solver import Solver
from pairing_shops import shop

NEAREST = 12
"""Of each pair, how many combinations the plain stages below go through [-]."""


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
        return milp(cost, integrality=ones, bounds=Bounds(0, 1), constraints=rows, options={"mip_rel_gap": 0.0})

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


def timed(work: object, *given: object) -> tuple[float, object]:
    """Seconds of the faster of two runs, and the answer."""
    best, answer = float("inf"), None
    for _ in range(2):
        start = time.perf_counter()
        answer = work(*given)
        best = min(best, time.perf_counter() - start)
    return best, answer


def main() -> None:
    """Print the table."""
    plan_set(shop(clubs=2, shafts=2, sizes=1, seed=1))  # what is imported once
    print("clubs x shafts x sizes | all the stock allows | 12 nearest | ratio | both find")
    before = None
    for clubs, shafts, count in ((14, 30, 4), (28, 60, 8), (56, 120, 16)):
        batch = shop(clubs=clubs, shafts=shafts, sizes=10, seed=1, count=count)
        taken, plan = timed(plan_set, batch)
        plain, found = timed(plain_stages, batch)
        growth = "" if before is None else f" | {taken / before:.1f} times the size before"
        outlined = outline(plan.clubs)
        size = f"{clubs} x {shafts} x 10"
        sure = "proven" if plan.proven else "open"
        same = f"{outlined.inside}, {outlined.worst:.3f}, {outlined.added:g} g against {found}"
        print(f"{size} | {taken:.2f} s, {sure} | {plain:.2f} s | {taken / plain:.2f} | {same}{growth}")
        before = taken
    from exhaustive import best_score

    for clubs, shafts in ((4, 5), (5, 6), (6, 8)):
        batch = shop(clubs=clubs, shafts=shafts, sizes=3, seed=1, count=1)
        taken, _ = timed(plan_set, batch)
        whole, _ = timed(best_score, batch)
        print(f"{clubs} x {shafts} x 3: {taken:.2f} s, every plan there is {whole:.2f} s, ratio {whole / taken:.0f}")


if __name__ == "__main__":
    main()
