"""Every way to lay stock weights at one club: how much at each place, of which sizes, and what each contains."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import Any

from evenheft.mechanics.pairing.problem import PairingError, Piece, StockWeight

MOST_WAYS = 40_000
"""More ways than this to lay weights at one club are not gone through [-]."""
PLACES = ("head", "butt")
MILLIGRAMS = 1000.0
"""Added mass is counted in whole milligrams, so that sums of sizes compare exactly [mg/g]."""


@dataclass(frozen=True)
class Ways:
    """All ways to lay weights at one club, fewest pieces first; the first is none at all."""

    sizes: tuple[StockWeight, ...]
    chosen: tuple[tuple[int, ...], ...]
    """Of each way, the places among `sizes` of its pieces, in rising order."""
    count: Any
    """Pieces of each way: integers [-]."""
    at_place: Any
    """Added mass of each way at each of `PLACES`: an array of two columns [g]."""
    mass: Any
    """Added mass of each way in whole milligrams: integers [mg]."""
    uses: Any
    """Pieces of each size (columns) that each way (rows) takes: integers [-]."""
    less_one: Any
    """The ways that each way becomes when one piece is left out: integers, padded with -1 [-]."""

    def __len__(self) -> int:
        """How many ways there are [-]."""
        return len(self.chosen)

    def pieces(self, way: int) -> tuple[Piece, ...]:
        """Return the pieces of a way, at the head first, heaviest first."""
        found = [Piece(self.sizes[at].place, self.sizes[at].mass) for at in self.chosen[way]]
        return tuple(sorted(found, key=lambda piece: (PLACES.index(piece.place), -piece.mass)))

    def way_of(self, pieces: Sequence[Piece]) -> int | None:
        """Return the way that consists of some pieces, or None where the stock has none such."""
        at = {(size.place, size.mass): n for n, size in enumerate(self.sizes)}
        wanted = [at.get((piece.place, piece.mass)) for piece in pieces]
        if None in wanted:
            return None
        try:
            return self.chosen.index(tuple(sorted(n for n in wanted if n is not None)))
        except ValueError:
            return None


def ways_to_weight(weights: Sequence[StockWeight], most_pieces: int) -> Ways:
    """Lay out every way that the stock allows for one club.

    Args:
        weights: the sizes in stock with their counts [g].
        most_pieces: pieces at one place, at most [-].

    Raises:
        PairingError: there are more than `MOST_WAYS`.
    """
    import numpy as np

    sizes = tuple(
        sorted((w for w in weights if w.count > 0), key=lambda weight: (PLACES.index(weight.place), weight.mass))
    )
    by_place = [_at_one_place(sizes, place, most_pieces) for place in PLACES]
    total = len(by_place[0]) * len(by_place[1])
    if total > MOST_WAYS:
        raise PairingError(
            [
                f"{len(sizes)} sizes with up to {most_pieces} pieces at a place can be laid in {total} ways, more than "
                f"{MOST_WAYS}: allow fewer pieces or leave sizes out"
            ]
        )
    chosen = sorted(((*head, *butt) for head in by_place[0] for butt in by_place[1]), key=lambda way: (len(way), way))
    at = {way: n for n, way in enumerate(chosen)}
    uses = np.zeros((len(chosen), len(sizes)), dtype=np.int16)
    deepest = max(map(len, chosen))
    less_one = np.full((len(chosen), max(deepest, 1)), -1, dtype=np.int64)
    for n, way in enumerate(chosen):
        for size in way:
            uses[n, size] += 1
        for slot, left_out in enumerate(dict.fromkeys(way)):
            rest = list(way)
            rest.remove(left_out)
            less_one[n, slot] = at[tuple(rest)]
    masses = np.array([size.mass for size in sizes])
    in_place = np.array([[size.place == place for size in sizes] for place in PLACES], dtype=float).reshape(2, -1)
    milligrams = np.rint(masses * MILLIGRAMS).astype(np.int64)
    return Ways(
        sizes=sizes,
        chosen=tuple(chosen),
        count=uses.sum(axis=1, dtype=np.int64),
        at_place=uses @ (in_place * masses).T,
        mass=uses.astype(np.int64) @ milligrams,
        uses=uses,
        less_one=less_one,
    )


def _at_one_place(sizes: Sequence[StockWeight], place: str, most_pieces: int) -> list[tuple[int, ...]]:
    here = [n for n, size in enumerate(sizes) if size.place == place]
    return [
        way
        for pieces in range(most_pieces + 1 if here else 1)
        for way in combinations_with_replacement(here, pieces)
        if all(way.count(n) <= sizes[n].count for n in set(way))
    ]
