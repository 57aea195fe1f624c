"""Years of invented shops, drawn: six orders are dry-fitted and kept, the seventh is forecast before any dry fit.

The shops, their true clubs and their benches are those of docs/trust.md (tests/simulated_shop.py): what is true does
not use the model of the forecast. What the seventh order's clubs truly read is held against the forecast that the
book's rises give, and against the doubt that goes with it (Monte Carlo as JCGM 101 does it).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from evenheft.mechanics.club import forecast, head_rise
from evenheft.mechanics.forecast_doubt import Taught, forecast_doubt, rise_doubt, swingweight_of
from evenheft.shop.book.drawing import USUAL_SPREAD
from evenheft.shop.book.taught import Fit, best_rises
from simulated_shop import CAREFUL, ORDINARY, Bench, SimulatedClub, SimulatedShop

ORDERS, HEADS, YEARS = 6, 8, 50
DOCS = Path(__file__).parents[3] / "docs" / "shop-book.md"


@dataclass(frozen=True)
class Missed:
    """How far the seventh order's clubs lie off their forecasts."""

    within_half_a_point: float
    covered: float


def fit_of(shop: SimulatedShop, club: SimulatedClub) -> Fit:
    """A dry fit as an order keeps it: the rise it teaches, and that rise's doubt."""
    bench = shop.on_bench(club.dry_fit)
    doubt = rise_doubt(club.seen, club.known, shop.bench.written, bench, ["epoxy"])
    return Fit("Invented", "club", head_rise(club.seen, bench, ["epoxy"]), doubt)


def drawn(bench: Bench) -> Missed:
    misses, covered = [], []
    for year in range(YEARS):
        shop = SimulatedShop(bench, year)
        for _ in range(HEADS):
            *kept, last = shop.model(ORDERS + 1)
            (known,) = best_rises([fit_of(shop, club) for club in kept], USUAL_SPREAD).values()
            assert known.fits == ORDERS
            parts = replace(last.seen, head_rise=known.rise)
            miss = abs(swingweight_of(forecast(parts)) - swingweight_of(last.finished))
            misses.append(miss)
            stated = forecast_doubt("swingweight", parts, last.known, bench.written, Taught(known.doubt))
            covered.append(miss <= stated)
    return Missed(sum(miss <= 0.5 for miss in misses) / len(misses), sum(covered) / len(covered))


@pytest.mark.parametrize(("bench", "least"), [(CAREFUL, 0.85), (ORDINARY, 0.70)], ids=lambda given: str(given)[:20])
def test_the_seventh_order_is_forecast_before_any_dry_fit(bench: Bench, least: float) -> None:
    found = drawn(bench)
    print(f"{bench.name}: {found.within_half_a_point:.1%} within half a point, {found.covered:.1%} within the doubt")
    assert found.within_half_a_point >= least
    assert found.covered >= 0.95
    # The page says what was found, to the percent.
    percentages = re.search(rf"{bench.name} bench[^|]*\|\s*(\d+) %\s*\|\s*(\d+) %", DOCS.read_text(encoding="utf-8"))
    assert percentages is not None
    assert float(percentages[1]) == pytest.approx(100 * found.within_half_a_point, abs=1)
    assert float(percentages[2]) == pytest.approx(100 * found.covered, abs=1)


def test_a_shop_that_never_dry_fitted_misses_by_more_than_half_a_point() -> None:
    clubs = [club for year in range(YEARS) for club in SimulatedShop(CAREFUL, year).model(2)]
    misses = [abs(swingweight_of(forecast(club.seen)) - swingweight_of(club.finished)) for club in clubs]
    assert sum(miss <= 0.5 for miss in misses) / len(misses) < 0.5
