"""HEFT_PLAN in a cell: the plan of the command, row by row, remembered, bounded, plain about what it lacks."""

from __future__ import annotations

import pytest

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.headed import plan as in_a_cell
from evenheft.formulas.headed.pairing import batch_of, pieces_text
from evenheft.mechanics.pairing.plan import plan_set
from evenheft.mechanics.pairing.problem import Batch
from evenheft.mechanics.pairing.reasons import reasons
from pairing_shops import shop
from pairing_tables import tables_of, without_scipy

WORDS = [answer.name for answer in in_a_cell.ANSWERS]


def answer(batch: Batch, *further: object) -> object:
    return call(REGISTRY["HEFT_PLAN"], (*tables_of(batch), *further))


@pytest.mark.parametrize(("seed", "tolerance", "inertia"), [(1, 0.5, None), (2, 0.05, None), (3, 1.0, 25.0)])
def test_a_row_per_club_says_what_the_plan_does(seed: int, tolerance: float, inertia: float | None) -> None:
    batch = shop(clubs=6, shafts=8, sizes=3, seed=seed, tolerance=tolerance, inertia=inertia, butt=(5.0,), count=2)
    read = batch_of(*tables_of(batch))
    plan = plan_set(read)
    assert plan.proven and plan.settled
    out = {reason.club: reason for reason in reasons(read, plan)}
    rows = answer(batch)
    assert isinstance(rows, tuple) and len(rows) == 6
    for club, row in zip(plan.clubs, rows, strict=True):
        answers = dict(zip(WORDS, row, strict=True))
        worst = max(club.readings, key=lambda reading: abs(reading.deviation) / reading.tolerance)
        assert answers["shaft"] == club.shaft
        assert answers["weights"] == pieces_text(club.pieces)
        assert (answers["reads"], answers["deviation"], answers["doubt"]) == (worst.value, worst.deviation, worst.doubt)
        assert answers["verdict"] == ("in" if club.inside else "out")
        assert (answers["head grams"], answers["butt grams"]) == (club.added("head"), club.added("butt"))
        assert answers["points"] == pytest.approx(club.readings[0].value, abs=1e-9)
        assert (answers["why"] == "") == club.inside
        if not club.inside:
            assert str(answers["why"]).startswith(out[club.club].why)
    assert (not all(club.inside for club in plan.clubs)) == bool(out)


def test_the_doubt_is_that_of_the_club_s_own_forecast() -> None:
    batch = shop(clubs=1, shafts=1, sizes=0, seed=1)
    heads, shafts, _ = tables_of(batch)
    headings = (*heads[0][1:8], "Shaft mass (g)", "Shaft length (cm)", "Shaft balance (cm)")
    row = (*heads[1][1:8], *shafts[1][1:4])
    for what, of_plan in (("doubt", "doubt"), ("points", "reads"), ("mass", "mass"), ("inertia", "inertia")):
        club = call(REGISTRY["HEFT_CLUB"], ((headings,), (row,), what))
        assert answer(batch, "club 1", of_plan) == pytest.approx(club, rel=1e-12)


def test_one_number_of_one_club_and_of_all() -> None:
    batch = shop(clubs=4, shafts=6, sizes=3, seed=2)
    rows = answer(batch)
    assert isinstance(rows, tuple)
    for at, word in enumerate(WORDS):
        assert answer(batch, None, word) == tuple((row[at],) for row in rows)
        assert answer(batch, "club 3", word) == rows[2][at]
    assert answer(batch, "club 3") == (rows[2],)
    assert answer(batch, (("club 3",), ("club 1",)), "shaft") == ((rows[2][0],), (rows[0][0],))


def test_clubs_may_be_named_by_number() -> None:
    heads, shafts, weights = tables_of(shop(clubs=3, shafts=4, sizes=2, seed=2))
    numbered = (heads[0], *((float(n), *row[1:]) for n, row in enumerate(heads[1:], start=1)))
    by_name = answer(shop(clubs=3, shafts=4, sizes=2, seed=2), "club 2", "shaft")
    assert call(REGISTRY["HEFT_PLAN"], (numbered, shafts, weights, 2.0, "shaft")) == by_name


def test_a_plan_is_remembered_while_its_tables_stay_as_they_are() -> None:
    in_a_cell._remembered.cache_clear()
    batch = shop(clubs=4, shafts=6, sizes=3, seed=2)
    for club in ("club 1", "club 2"):
        for word in WORDS:
            answer(batch, club, word)
    found = in_a_cell._remembered.cache_info()
    assert (found.misses, found.hits) == (1, 2 * len(WORDS) - 1)
    answer(shop(clubs=4, shafts=6, sizes=3, seed=3), "club 1", "shaft")
    assert in_a_cell._remembered.cache_info().misses == 2


def test_true_is_not_taken_for_the_one_that_was_remembered() -> None:
    heads, shafts, _ = tables_of(shop(clubs=2, shafts=3, sizes=1, seed=2))
    one, yes = ((("Size (g)", "Count"), (2.0, count)) for count in (1.0, True))
    assert not str(call(REGISTRY["HEFT_PLAN"], (heads, shafts, one, "club 1", "shaft"))).startswith("!")
    assert str(call(REGISTRY["HEFT_PLAN"], (heads, shafts, yes, "club 1", "shaft"))).startswith("! weight 2: Count")


def test_what_is_too_large_for_a_cell_is_left_to_the_command() -> None:
    # By its size, before anything is computed: no machine is quick enough for it.
    large = shop(clubs=60, shafts=120, sizes=25, seed=1)
    assert answer(large, "club 1", "shaft") == "! too large for a cell: run evenheft plan"


def test_what_takes_too_long_is_told_and_not_tried_again_by_the_next_cell(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(in_a_cell, "_SECONDS", 0.0)
    in_a_cell._remembered.cache_clear()
    batch = shop(clubs=5, shafts=6, sizes=2, seed=4)
    for word in WORDS:
        assert answer(batch, "club 1", word) == f"! {in_a_cell.TOO_LARGE}"
    assert in_a_cell._remembered.cache_info().misses == 1
    in_a_cell._remembered.cache_clear()


def test_without_scipy_it_says_what_to_do() -> None:
    batch = shop(clubs=2, shafts=3, sizes=1, seed=1)
    good = answer(batch, "club 1", "shaft")
    with without_scipy():
        assert answer(batch, "club 1", "shaft") == f"! {in_a_cell.NO_SOLVER}"
        assert "--vendor" in in_a_cell.NO_SOLVER and "evenheft plan" in in_a_cell.NO_SOLVER
        # What is wrong with the tables is told all the same.
        heads, shafts, _ = tables_of(batch)
        assert "listed 2 times" in str(call(REGISTRY["HEFT_PLAN"], (heads, (*shafts, shafts[1]))))
    assert answer(batch, "club 1", "shaft") == good


def test_a_row_that_cannot_be_read_does_not_spoil_the_others() -> None:
    heads, shafts, weights = tables_of(shop(clubs=3, shafts=5, sizes=3, seed=2))
    blank, heavy = (None,) * len(heads[0]), ("club 9", "heavy", *heads[1][2:])
    rows = call(REGISTRY["HEFT_PLAN"], ((heads[0], blank, heads[1], heavy, *heads[2:]), shafts, weights, None, "shaft"))
    alone = call(REGISTRY["HEFT_PLAN"], (heads, shafts, weights, None, "shaft"))
    message = (("! Head mass (g) must be a mass such as 431 or 15.2 oz, got heavy",),)
    assert rows == (("",), *alone[:1], *message, *alone[1:])
