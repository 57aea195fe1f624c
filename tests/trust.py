"""How far what Evenheft says can be trusted: simulated shops, whose clubs are truly known, on three benches.

By hand, for the table in docs/trust.md: `PYTHONPATH=udfs:tests .venv-tests/bin/python tests/trust.py 60`.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from evenheft.mechanics.bench import inertia_from_period, small_period
from evenheft.mechanics.bodies import Body, inertia_about_butt
from evenheft.mechanics.club import finished, forecast, head_rise
from evenheft.mechanics.doubt import combined_doubt, inertia_parts, points_parts, verdict
from evenheft.mechanics.forecast_doubt import Taught, finished_doubt, forecast_doubt, swingweight_of
from simulated_shop import BENCHES, Bench, SimulatedClub, SimulatedShop, guessed

SISTERS = 5
ROWS = (
    "swingweight, measured",
    "inertia, swung",
    "swingweight, finished from its dry fit",
    "swingweight, forecast of a sister",
    "swingweight, forecast with no dry fit",
)


@dataclass(frozen=True)
class ClaimRow:
    """One row of the table: how far it was off, and what was said of that."""

    off: np.ndarray
    doubt: np.ndarray

    @property
    def coverage(self) -> float:
        """The share of the true values that lies within U [-]."""
        return float(np.mean(np.abs(self.off) <= self.doubt))

    @property
    def width(self) -> float:
        """U, in parts of the half-width that holds 95 % of the true errors [-]."""
        return float(np.median(self.doubt) / np.quantile(np.abs(self.off), 0.95))

    def within(self, much: float) -> float:
        """The share that is off by no more than so much [-]."""
        return float(np.mean(np.abs(self.off) <= much))


@dataclass(frozen=True)
class JudgedSet:
    """Verdicts of one quantity on clubs that truly deviate evenly over twice the tolerance each way."""

    said_in: float
    """The share that was judged in [-]."""
    false_in: float
    """Of these, the share that is not [-]."""
    false_out: float
    """Of those judged low or high, the share that is neither [-]."""


@dataclass(frozen=True)
class Trust:
    """What came of one bench."""

    rows: dict[str, ClaimRow]
    swingweight: JudgedSet
    inertia: JudgedSet


def simulate(bench: Bench, shops: int, models: int = 6) -> Trust:
    """Run so many shops with a bench, each with some head models of `SISTERS` clubs."""
    rows: dict[str, list[tuple[float, float]]] = {row: [] for row in ROWS}
    for seed in range(shops):
        shop = SimulatedShop(bench, seed)
        for _ in range(models):
            for row, off, doubt in _of_model(shop, list(shop.model(SISTERS))):
                rows[row].append((off, doubt))
    found = {row: ClaimRow(*np.array(pairs).T) for row, pairs in rows.items()}
    return Trust(
        found,
        _judged(found[ROWS[0]], bench.tolerance),
        _judged(found[ROWS[1]], bench.inertia_tolerance),
    )


def _of_model(shop: SimulatedShop, clubs: list[SimulatedClub]) -> Iterator[tuple[str, float, float]]:
    """What is said of the clubs of one model: row, how far off, and the doubt stated."""
    bench, first = shop.bench, clubs[0]
    doubts = bench.written
    fit = shop.on_bench(first.dry_fit)
    made = finished(first.seen, fit, ["epoxy"])
    of_finished = finished_doubt("swingweight", first.seen, first.known, doubts, fit, ["epoxy"])
    yield ROWS[2], swingweight_of(made) - swingweight_of(first.finished), of_finished
    rise = head_rise(first.seen, fit, ["epoxy"])
    for club in clubs:
        truth = swingweight_of(club.finished)
        if club is not first:
            taught = replace(club.seen, head_rise=rise)
            by_sister = forecast_doubt("swingweight", taught, club.known, doubts, Taught())
            yield ROWS[3], swingweight_of(forecast(taught)) - truth, by_sister
            guess = forecast_doubt("swingweight", club.seen, club.known, guessed(bench, club.kind))
            yield ROWS[4], swingweight_of(forecast(club.seen)) - truth, guess
        yield from _measured(shop, club.finished)


def _measured(shop: SimulatedShop, club: Body) -> Iterator[tuple[str, float, float]]:
    bench, doubts = shop.bench, shop.bench.written
    seen = shop.on_bench(club)
    parts = points_parts(seen.mass, seen.centre, doubts.mass, doubts.balance)
    parts += points_parts(seen.mass, seen.centre, 0.0, doubts.common_balance)
    yield ROWS[0], swingweight_of(seen) - swingweight_of(club), combined_doubt(*parts)
    time, half_angle = shop.time(club)
    period = small_period(time, bench.swings, half_angle)
    swung = inertia_from_period(seen.mass, seen.centre, period, pivot=1.0)
    of_swing = inertia_parts(
        seen.mass, seen.centre, period, doubts.mass, doubts.balance, bench.written_watch / bench.swings, 1.0,
        pivot_doubt=bench.written_pivot, gravity_doubt=bench.written_gravity,
    )  # fmt: skip
    of_zero = inertia_parts(seen.mass, seen.centre, period, 0.0, doubts.common_balance, 0.0, 1.0)
    yield ROWS[1], swung - inertia_about_butt(club), combined_doubt(*of_swing, *of_zero)


def _judged(found: ClaimRow, tolerance: float) -> JudgedSet:
    """Judge clubs that deviate evenly over twice the tolerance each way, with the errors and doubts of a bench."""
    generator = np.random.default_rng(106)
    words: Counter[tuple[str, bool]] = Counter()
    for off, doubt in zip(np.tile(found.off, 10), np.tile(found.doubt, 10), strict=True):
        true = float(generator.uniform(-2 * tolerance, 2 * tolerance))
        word = verdict(true + float(off), target=0.0, tolerance=tolerance, doubt=float(doubt))
        words[word, abs(true) <= tolerance] += 1
    said_in = words["in", True] + words["in", False]
    said_out = sum(words[word, inside] for word in ("low", "high") for inside in (True, False))
    false_out = words["low", True] + words["high", True]
    return JudgedSet(said_in / sum(words.values()), words["in", False] / said_in, false_out / said_out)


def _percent(share: float, digits: int = 1) -> str:
    return f"{share * 100:.{digits}f} %"


def tables(shops: int) -> str:
    """Write the tables of docs/trust.md."""
    found = {bench.name: simulate(bench, shops) for bench in BENCHES}
    lines = ["| what is told | bench | covered by U | U against the true 95 % | within half a point |",
             "|---|---|---|---|---|"]  # fmt: skip
    for row in ROWS:
        for name, trust in found.items():
            found_row = trust.rows[row]
            half = _percent(found_row.within(0.5), 0) if row.startswith("swingweight") else "-"
            lines.append(f"| {row} | {name} | {_percent(found_row.coverage)} | {found_row.width:.2f} | {half} |")
    lines += ["", "| judged | bench | tolerance | judged in | of these not in | of low and high wrongly |",
              "|---|---|---|---|---|---|"]  # fmt: skip
    for bench in BENCHES:
        trust = found[bench.name]
        for what, judged, tolerance in (
            ("swingweight", trust.swingweight, f"{bench.tolerance:g} points"),
            ("inertia", trust.inertia, f"{bench.inertia_tolerance:g} kg cm2"),
        ):
            shares = (judged.said_in, judged.false_in, judged.false_out)
            lines.append(f"| {what} | {bench.name} | {tolerance} | {' | '.join(_percent(s) for s in shares)} |")
    return "\n".join(lines)


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("shops", type=int, help="of each bench")
    sys.stdout.write(tables(asked.parse_args().shops) + "\n")
