"""Every plan there is, gone through with the club model and nothing of the planner's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations_with_replacement

from evenheft.mechanics.pairing.plan import read_club
from evenheft.mechanics.pairing.problem import Batch, ClubToBuild, Piece, Shaft

PlanScore = tuple[int, int, int, int]
"""Clubs that are out, clubs without a shaft, worst deviation [billionths of tolerance], added mass [mg]."""


def ways(batch: Batch) -> list[tuple[Piece, ...]]:
    """Every way to lay the stock's weights at one club."""
    by_place: list[list[tuple[Piece, ...]]] = []
    for place in ("head", "butt"):
        stock = {Piece(w.place, w.mass): w.count for w in batch.weights if w.place == place}
        by_place.append(
            [
                way
                for pieces in range(batch.most_pieces + 1)
                for way in combinations_with_replacement(stock, pieces)
                if all(count <= stock[piece] for piece, count in Counter(way).items())
            ]
        )
    return [head + butt for head in by_place[0] for butt in by_place[1]]


def read(batch: Batch, club: ClubToBuild, shaft: Shaft, pieces: tuple[Piece, ...]) -> tuple[bool, int, int] | None:
    """In, worst deviation [billionths] and added mass [mg] of one club; None where the shaft is too short."""
    needed = club.parts.club_length - club.parts.bore_to_ground - club.parts.grip_cap + club.parts.tip_trim
    if shaft.length < needed - 0.1:
        return None
    planned = read_club(batch, club, shaft, pieces)
    return planned.inside, round(planned.share * 1e9), round(1000 * planned.added())


def best_score(batch: Batch) -> PlanScore:
    """The best plan's score: every state of used shafts and weights, club by club, and all that is not beaten in it."""
    every_way = ways(batch)
    sizes = [Piece(w.place, w.mass) for w in batch.weights]
    uses = [tuple(way.count(size) for size in sizes) for way in every_way]
    start = (frozenset[int](), tuple(w.count for w in batch.weights))
    states: dict[tuple[frozenset[int], tuple[int, ...]], list[PlanScore]] = {start: [(0, 0, 0, 0)]}
    for club in batch.clubs:
        options: list[tuple[int, tuple[int, ...], bool, int, int]] = []
        for n, shaft in enumerate(batch.shafts):
            for use, way in zip(uses, every_way, strict=True):
                reading = read(batch, club, shaft, way)
                if reading is not None:
                    options.append((n, use, *reading))
        after: dict[tuple[frozenset[int], tuple[int, ...]], list[PlanScore]] = {}
        for (used, left), scores in states.items():
            keep(after, (used, left), [(out + 1, bare + 1, worst, mass) for out, bare, worst, mass in scores])
            for n, use, inside, off, added in options:
                if n not in used and all(a <= b for a, b in zip(use, left, strict=True)):
                    state = (used | {n}, tuple(b - a for a, b in zip(use, left, strict=True)))
                    more = [(o + (not inside), b, max(w, off), m + added) for o, b, w, m in scores]
                    keep(after, state, more)
        states = after
    return min(score for scores in states.values() for score in scores)


def keep(
    states: dict[tuple[frozenset[int], tuple[int, ...]], list[PlanScore]],
    state: tuple[frozenset[int], tuple[int, ...]],
    scores: list[PlanScore],
) -> None:
    """Keep in a state what no other score there beats in every number."""
    found = states.setdefault(state, [])
    for score in scores:
        if not any(all(a <= b for a, b in zip(other, score, strict=True)) for other in found):
            found[:] = [o for o in found if not all(a <= b for a, b in zip(score, o, strict=True))] + [score]


def every_plan(batch: Batch) -> Iterator[PlanScore]:
    """Score after score of all plans, one by one: for the smallest shops only."""
    every_way = ways(batch)
    stock = {Piece(w.place, w.mass): w.count for w in batch.weights}

    def further(at: int, used: frozenset[int], left: Counter[Piece], score: PlanScore) -> Iterator[PlanScore]:
        if at == len(batch.clubs):
            yield score
            return
        out, bare, worst, mass = score
        yield from further(at + 1, used, left, (out + 1, bare + 1, worst, mass))
        for n, shaft in enumerate(batch.shafts):
            for way in every_way if n not in used else ():
                rest = left.copy()
                rest.subtract(way)
                reading = read(batch, batch.clubs[at], shaft, way)
                if reading is not None and min(rest.values(), default=0) >= 0:
                    inside, off, added = reading
                    after = (out + (not inside), bare, max(worst, off), mass + added)
                    yield from further(at + 1, used | {n}, rest, after)

    yield from further(0, frozenset(), Counter(stock), (0, 0, 0, 0))
