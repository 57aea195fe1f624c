"""What is said to bring a club in does bring it in."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from evenheft.mechanics.pairing.keeping import shafts_to_keep
from evenheft.mechanics.pairing.plan import outline, plan_set
from evenheft.mechanics.pairing.problem import Batch, Piece, StockWeight
from evenheft.mechanics.pairing.reasons import Reason, reasons
from pairing_shops import shop


def with_pieces(batch: Batch, pieces: tuple[Piece, ...]) -> Batch:
    more = Counter(pieces)
    sizes = {Piece(w.place, w.mass): w.count for w in batch.weights}
    counts = Counter(sizes) + more
    return replace(batch, weights=tuple(StockWeight(p.mass, n, p.place) for p, n in counts.items()))


def reasoned(seed: int, **changes: object) -> tuple[Batch, int, tuple[Reason, ...]]:
    given: dict[str, object] = {"clubs": 6, "shafts": 7, "sizes": 4, "count": 1, "tolerance": 0.4} | changes
    batch = shop(seed=seed, **given)  # type: ignore[arg-type]
    plan = plan_set(batch)
    return batch, outline(plan.clubs).inside, reasons(batch, plan)


@pytest.mark.parametrize("seed", range(20))
def test_each_remedy_brings_its_club_in(seed: int) -> None:
    batch, inside, found = reasoned(seed)
    assert len(found) == len(batch.clubs) - inside
    plan = plan_set(batch)
    for reason in found:
        planned = next(club for club in plan.clubs if club.club == reason.club)
        at = next(n for n, club in enumerate(batch.clubs) if club.label == reason.club)
        assert reason.why and reason.remedies
        if reason.pieces:
            assert outline(plan_set(with_pieces(batch, reason.pieces)).clubs).inside > inside
        if reason.grams is not None:
            club = batch.clubs[at]
            parts = replace(
                club.parts,
                lead_tape_mass=(reason.grams.low + reason.grams.high) / 2,
                lead_tape_rise=batch.head_weight_rise,
            )
            clubs = (*batch.clubs[:at], replace(club, parts=parts), *batch.clubs[at + 1 :])
            assert outline(plan_set(replace(batch, clubs=clubs)).clubs).inside > inside
        if reason.shaft_mass is not None:
            like = next(shaft for shaft in batch.shafts if shaft.label == planned.shaft)
            better = replace(like, label="new", mass=(reason.shaft_mass.low + reason.shaft_mass.high) / 2)
            assert outline(plan_set(replace(batch, shafts=(*batch.shafts, better))).clubs).inside > inside


def test_a_set_that_is_in_needs_no_reasons() -> None:
    assert reasoned(1, sizes=8, count=4, tolerance=1.0)[2] == ()


def test_a_shaft_too_short_for_every_club_is_told_with_the_length_wanted() -> None:
    batch = shop(clubs=2, shafts=2, sizes=1, seed=1)
    short = replace(batch, shafts=tuple(replace(s, length=60.0, balance=30.0) for s in batch.shafts))
    plan = plan_set(short)
    assert outline(plan.clubs).built == 0
    first = reasons(short, plan)[0]
    # Cut length: club 96.52 cm, less 3.6 cm bore to ground and 0.4 cm grip cap.
    assert first.shaft_length == pytest.approx(92.52)
    assert first.why == "every shaft left is too short: the longest is 60.0 cm, it needs 92.5 cm"
    assert first.remedies == ("a shaft of at least 92.5 cm",)


def test_fewer_shafts_than_heads_say_which_is_wanting() -> None:
    batch = shop(clubs=4, shafts=3, sizes=4, seed=1, tolerance=3.0)
    plan = plan_set(batch)
    lines = [reason.why for reason in reasons(batch, plan)]
    assert outline(plan.clubs).built == 3
    assert "no shaft is left for it" in lines


def test_targets_that_cannot_be_met_together_are_named() -> None:
    batch = shop(clubs=1, shafts=1, sizes=2, seed=1, tolerance=0.1, inertia=0.1)
    line = reasons(batch, plan_set(batch))[0].why
    assert "no mass at the head meets swingweight and inertia together" in line


@pytest.mark.parametrize("count", [1, 3, 6, 9])
def test_shafts_to_keep_make_a_repeat(count: int) -> None:
    batch = shop(clubs=4, shafts=14, sizes=4, seed=3)
    plan = plan_set(batch)
    kept = shafts_to_keep(batch, plan, count)
    used = {club.shaft for club in plan.clubs}
    assert len(kept) == len(set(kept)) == min(count, 10)
    assert not used & set(kept)
    if count >= 4:  # the set itself can be built from them as well as from all that were left over
        rest = replace(batch, shafts=tuple(s for s in batch.shafts if s.label not in used))
        few = replace(batch, shafts=tuple(s for s in batch.shafts if s.label in kept[:4]))
        assert outline(plan_set(few).clubs) == outline(plan_set(rest).clubs)
