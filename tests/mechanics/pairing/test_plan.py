"""A plan against every plan there is, against two other solvers, against the hand rule."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from evenheft.mechanics.forecast_doubt import Taught
from evenheft.mechanics.pairing.plan import Plan, outline, plan_set, read_club
from evenheft.mechanics.pairing.problem import Batch, ClubToBuild, PairingError, Piece, Shaft, StockWeight, Target
from pairing_shops import parts_of, shop

from .exhaustive import best_score, every_plan


def score(batch: Batch, plan: Plan) -> tuple[int, int, int, int]:
    outlined = outline(plan.clubs)
    count = len(batch.clubs)
    return count - outlined.inside, count - outlined.built, round(outlined.worst * 1e9), round(outlined.added * 1000)


def need_allowed(batch: Batch, plan: Plan) -> None:
    """No shaft twice, no piece that is not in stock, nothing too short."""
    labels = [club.shaft for club in plan.clubs if club.shaft is not None]
    assert len(set(labels)) == len(labels)
    stock = Counter({Piece(w.place, w.mass): w.count for w in batch.weights})
    stock.subtract(piece for club in plan.clubs for piece in club.pieces)
    assert min(stock.values(), default=0) >= 0
    for club in plan.clubs:
        for place in ("head", "butt"):
            assert sum(piece.place == place for piece in club.pieces) <= batch.most_pieces


def near(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    """Equal, but for the last billionths of a deviation, which two ways of adding up may round apart."""
    return all(abs(a - b) <= (5 if at == 2 else 0) for at, (a, b) in enumerate(zip(one, other, strict=True)))


@pytest.mark.parametrize("sizes", [0, 1, 2])
@pytest.mark.parametrize("shafts", [1, 2, 3, 4])
@pytest.mark.parametrize("clubs", [1, 2, 3])
def test_the_smallest_shops_against_every_plan_one_by_one(clubs: int, shafts: int, sizes: int) -> None:
    for seed in range(2):
        batch = shop(clubs=clubs, shafts=shafts, sizes=sizes, seed=seed, count=1 + seed, most_pieces=1 + seed % 2)
        plan = plan_set(batch)
        assert plan.proven
        need_allowed(batch, plan)
        assert near(score(batch, plan), min(every_plan(batch)))


@pytest.mark.parametrize("seed", range(12))
def test_six_heads_eight_shafts_three_sizes_against_every_plan(seed: int) -> None:
    batch = shop(clubs=6, shafts=8, sizes=3, seed=seed, count=1 + seed % 2, tolerance=(0.5, 1.5, 4.0)[seed % 3])
    plan = plan_set(batch)
    assert plan.proven
    need_allowed(batch, plan)
    assert near(score(batch, plan), best_score(batch))


@pytest.mark.parametrize("seed", range(6))
def test_two_targets_and_weights_at_both_ends_against_every_plan(seed: int) -> None:
    batch = shop(
        clubs=4, shafts=5, sizes=2, seed=seed, count=2, most_pieces=1, tolerance=1.0, inertia=25.0, butt=(5, 10)
    )
    plan = plan_set(batch)
    assert plan.proven
    need_allowed(batch, plan)
    assert near(score(batch, plan), best_score(batch))


@pytest.mark.parametrize("seed", range(4))
def test_fewer_shafts_than_heads_and_some_too_short_against_every_plan(seed: int) -> None:
    whole = shop(clubs=5, shafts=6, sizes=2, seed=seed, count=1)
    shafts = [replace(s, length=90.5, balance=45.0) if n % 2 else s for n, s in enumerate(whole.shafts[: 3 + seed])]
    batch = replace(whole, shafts=tuple(shafts))
    plan = plan_set(batch)
    assert plan.proven
    assert near(score(batch, plan), best_score(batch))


@pytest.mark.parametrize("seed", range(20))
def test_without_weights_it_is_the_assignment_problem(seed: int) -> None:
    # scipy.optimize.linear_sum_assignment: most clubs in, then the smallest worst deviation that allows it.
    batch = shop(clubs=9, shafts=13, sizes=0, seed=seed, tolerance=1.0 + seed % 5)
    share = np.array([[read_club(batch, club, shaft, ()).share for shaft in batch.shafts] for club in batch.clubs])
    inside = share <= 1.0
    rows, columns = linear_sum_assignment(~inside)
    most = inside[rows, columns].sum()
    for worst in np.unique(share):
        cost = np.where(share > worst, 1e6, np.where(inside, 0.0, 1.0))
        rows, columns = linear_sum_assignment(cost)
        if cost[rows, columns].sum() <= len(batch.clubs) - most:
            break
    outlined = outline(plan_set(batch).clubs)
    assert (outlined.inside, outlined.built) == (most, 9)
    assert outlined.worst == pytest.approx(worst, abs=1e-8)


@pytest.mark.parametrize("seed", range(50))
def test_a_second_solver_agrees(seed: int) -> None:
    from .second_solver import best_by_cp_sat

    tolerance = (0.4, 0.2, 0.6, 1.0, 0.1)[seed % 5]
    batch = shop(clubs=7, shafts=9, sizes=4, seed=100 + seed, count=2 + seed % 3, tolerance=tolerance)
    plan = plan_set(batch)
    assert plan.proven
    assert near(score(batch, plan), best_by_cp_sat(batch))


@pytest.mark.parametrize("tens", range(10))
def test_never_worse_than_the_hand_rule_in_five_hundred_shops(tens: int) -> None:
    better = 0
    for seed in range(50 * tens, 50 * tens + 50):
        draw = random.Random(seed)
        batch = shop(
            clubs=draw.randint(2, 7), shafts=draw.randint(2, 11), sizes=draw.randint(0, 4), seed=seed,
            count=draw.randint(0, 4), most_pieces=draw.randint(1, 2), tolerance=draw.choice((0.2, 0.5, 1.0, 2.0)),
            inertia=draw.choice((None, None, 20.0)),
        )  # fmt: skip
        plan = plan_set(batch)
        need_allowed(batch, plan)
        hand = replace(plan, clubs=plan.by_hand)
        need_allowed(batch, hand)
        assert plan.proven
        assert score(batch, plan) <= score(batch, hand)
        better += score(batch, plan)[:3] < score(batch, hand)[:3]
    assert better > 25  # else there would be nothing to plan


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_the_order_of_the_lists_does_not_matter_and_every_run_is_alike(seed: int) -> None:
    batch = shop(clubs=5, shafts=8, sizes=3, seed=seed % 7, count=2)
    # Three shafts and two heads alike, so that there are ties to break.
    twins = tuple(replace(s, mass=100.0, balance=48.5) if n < 3 else s for n, s in enumerate(batch.shafts))
    heads = (batch.clubs[0], replace(batch.clubs[0], label="its twin"), *batch.clubs[2:])
    batch = replace(batch, shafts=twins, clubs=heads)
    shuffled = random.Random(seed)
    shafts, weights = list(batch.shafts), list(batch.weights)
    shuffled.shuffle(shafts)
    shuffled.shuffle(weights)
    other = replace(batch, shafts=tuple(shafts), weights=tuple(weights))
    assert plan_set(other).clubs == plan_set(batch).clubs


def test_least_added_mass_among_equally_close_plans() -> None:
    # Total mass leads: 3 g of weights at the head of one club or of the other, with a light and a heavy shaft,
    # 3 g apart. Where the heavier head gets the heavy shaft, both weights are needed twice.
    light, heavy = Shaft("light", 98.0, 99.0, 48.5), Shaft("heavy", 101.0, 99.0, 48.5)
    heads = [parts_of(head_mass=mass, club_length=95.0) for mass in (270.0, 273.0)]
    bare = (
        read_club(Batch((), ()), ClubToBuild("", heads[1], (Target("mass", 400.0, 1.0),)), light, ()).readings[0].value
    )
    clubs = tuple(
        ClubToBuild(name, parts, (Target("mass", bare, 1.0),)) for name, parts in zip("ab", heads, strict=True)
    )
    plan = plan_set(Batch(clubs, (light, heavy), (StockWeight(1.0, 4), StockWeight(3.0, 4))))
    assert [(club.shaft, club.pieces) for club in plan.clubs] == [("heavy", ()), ("light", ())]
    assert outline(plan.clubs).added == 0.0


def test_what_is_laid_out_stays_where_nothing_is_gained() -> None:
    batch = shop(clubs=4, shafts=6, sizes=2, seed=5)
    alike = replace(batch, shafts=tuple(replace(s, mass=100.0, balance=48.5) for s in batch.shafts))
    laid = replace(
        alike,
        clubs=tuple(
            replace(c, laid_shaft=label) for c, label in zip(alike.clubs, ("S6", "S2", "S5", "S1"), strict=True)
        ),
    )
    assert [club.shaft for club in plan_set(alike).clubs] == ["S1", "S2", "S3", "S4"]
    assert [club.shaft for club in plan_set(laid).clubs] == ["S6", "S2", "S5", "S1"]


def test_what_is_decided_stays() -> None:
    batch = shop(clubs=5, shafts=8, sizes=3, seed=9)
    first, second, *others = batch.clubs
    glued = replace(first, laid_shaft="S8", laid_pieces=(Piece("head", 7.0),), decided="club")
    kept = replace(second, laid_shaft="S7", decided="shaft")
    decided = replace(batch, clubs=(glued, kept, *others), reserved=frozenset({"S1"}))
    plan = plan_set(decided)
    assert (plan.clubs[0].shaft, plan.clubs[0].pieces) == ("S8", (Piece("head", 7.0),))
    assert plan.clubs[1].shaft == "S7"
    assert not {"S8", "S7", "S1"} & {club.shaft for club in plan.clubs[2:]}
    # A glued club's weight is on it already: it is not taken from the stock once more, which has no such size.
    assert [proof.value for proof in plan.proofs if proof.stage == "clubs in"] == [
        sum(c.inside for c in plan.clubs[1:])
    ]


def test_a_frequency_may_lead() -> None:
    parts = parts_of(head_mass=270.0, club_length=95.0)
    clubs = tuple(ClubToBuild(f"c{n}", parts, (Target("frequency", 300.0 + 4 * n, 1.0),)) for n in range(3))
    measured = (Shaft(f"S{n}", 100.0, 99.0, None, 308.5 - 4 * n) for n in range(3))
    shafts = (*measured, Shaft("S9", 100.0, 99.0))
    assert [club.shaft for club in plan_set(Batch(clubs, shafts)).clubs] == ["S2", "S1", "S0"]


def test_the_doubt_is_told_beside_and_a_supplier_s_tolerance_widens_it() -> None:
    batch = shop(clubs=1, shafts=1, sizes=1, seed=1)
    sure = replace(batch.clubs[0], taught=Taught(0.0))
    alone, loose = replace(batch, clubs=(sure,)), replace(batch, clubs=(replace(sure, head_half_width=2.0),))
    weighed, promised = (plan_set(one).clubs[0].readings[0] for one in (alone, loose))
    assert weighed.deviation == promised.deviation
    # 2 g at the head are a little more than a point (common practice, no published source).
    assert 0.2 < weighed.doubt < 1.0 < promised.doubt < 1.8
    guessed = plan_set(replace(batch, clubs=(replace(sure, taught=None),))).clubs[0].readings[0]
    assert guessed.doubt > 3 * weighed.doubt


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"clubs": ()}, "there is no club to plan"),
        ({"shafts": ()}, "there is no shaft to choose from"),
        ({"shafts": (Shaft("S1", 100.0, 99.0), Shaft("S1", 101.0, 99.0))}, "shaft S1 is listed 2 times"),
        ({"shafts": (Shaft("S1", 100.0, 99.0, 10.0),)}, "shaft S1: balance must be from 33.0 cm to 66.0 cm"),
        ({"weights": (StockWeight(2.0, -1),)}, "the count of the 2 g weights must be 0 or more, got -1"),
        ({"weights": (StockWeight(2.0, 1), StockWeight(2.0, 1))}, "the 2 g weight for the head is listed twice"),
        ({"most_pieces": 5}, "the pieces at one place must be 0 to 4, got 5"),
    ],
)
def test_what_cannot_be_planned_is_told_in_a_line(change: dict[str, object], line: str) -> None:
    batch = replace(shop(clubs=2, shafts=2, sizes=1, seed=1), **change)
    with pytest.raises(PairingError) as caught:
        plan_set(batch)
    assert len(caught.value.lines) == 1
    assert line in caught.value.lines[0]


def test_all_that_is_wrong_with_clubs_is_told_at_once() -> None:
    one, two = shop(clubs=2, shafts=3, sizes=1, seed=1).clubs
    clubs = (
        replace(one, targets=()),
        replace(two, targets=(Target("points", 32.0, 0.0), Target("points", 33.0, 1.0)), decided="club"),
        replace(two, label=one.label, decided="shaft", laid_shaft="S9"),
    )
    with pytest.raises(PairingError) as caught:
        plan_set(replace(shop(clubs=2, shafts=3, sizes=1, seed=1), clubs=clubs))
    for line in (
        "club 1 has no target",
        "tolerance of its points must be more than 0",
        "two targets for its points",
        "no shaft lies beside it",
        "shaft S9, which is not among",
        "club club 1 is listed 2 times",
    ):
        assert line in str(caught.value)


def test_a_plan_that_runs_out_of_time_says_so_and_is_still_a_plan() -> None:
    batch = shop(clubs=14, shafts=30, sizes=10, seed=1)
    plan = plan_set(batch, seconds=0.0)
    assert not plan.proven and plan.proofs
    need_allowed(batch, plan)
    assert score(batch, plan) <= score(batch, replace(plan, clubs=plan.by_hand))
    gap = plan.proofs[-1]
    assert gap.value < gap.bound if gap.stage == "clubs in" else gap.value > gap.bound
