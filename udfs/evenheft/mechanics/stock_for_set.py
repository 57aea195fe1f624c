"""Stock weights for all clubs of a set, none of them promised twice."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from evenheft.mechanics.stock import Picked, Shelf, combinations_of, shelf_of

CHOICES = 200
"""How many of the closest choices of a club are weighed against the other clubs' [-]."""
WAYS = 40
"""How many ways to come to one sum are weighed [-]."""
MOST_CLUBS = 60
"""More clubs than this no set has [-]."""
EXCHANGES = 8000
"""How many exchanges between two clubs are tried at most [-]: a cell must answer within a second."""
STEPS = 1000
"""How many steps the search for the best sharing takes before it is content with the best that it found [-]."""


def _cost(off: float, pieces: int, used: float) -> int:
    """Make one number of what a choice costs, so that sums of it compare as the parts do, one after the other.

    First the grams off [1e-6 g], then their square, so that no club is left far behind [1e-6 g2], then the
    pieces, then the grams used [1e-3 g]: each in a field of bits that the clubs of a set cannot fill.
    """
    fields = ((round(off * 1e6), 0), (round(off * off * 1e6), 56), (pieces, 16), (round(used * 1e3), 32))
    cost = 0
    for value, bits in fields:
        cost = (cost << bits) + value
    return cost


class _Choice(NamedTuple):
    """Pieces for one club, and what they leave to be desired."""

    cost: int
    pieces: tuple[float, ...]
    need: tuple[tuple[float, int], ...]
    """Each size with how many of it the pieces are."""


def pick_for_set(
    wanted: Sequence[float], stock: Sequence[float], most: int = 1, counts: Sequence[float | None] = ()
) -> list[Picked]:
    """Share stock weights out over the clubs of a set, so that the fewest grams are lacking or too many in all.

    Among equally good ones the differences are shared as evenly as can be, then the fewest pieces win.
    A search by branch and bound, which is as exact as trying everything where it ends within `STEPS` steps;
    otherwise it is the best sharing that was found.

    Args:
        wanted: mass wanted for each club; nothing is picked where it is not positive [g].
        stock: the sizes at hand [g].
        most: pieces at most in one club, up to `stock.MOST_PIECES` [-].
        counts: how many of each size are there; None, or no counts at all, where nobody has counted them [-].

    >>> [picked.pieces for picked in pick_for_set([6.0, 5.0], [4.0, 6.0], counts=[1, 1])]
    [(6.0,), (4.0,)]
    """
    return list(_shared(tuple(wanted), shelf_of(stock, counts, most * max(len(wanted), 1)), most))


@lru_cache(maxsize=32)  # every row of a sheet asks for the same sharing
def _shared(wanted: tuple[float, ...], shelf: Shelf, most: int) -> tuple[Picked, ...]:
    sums = _by_total(shelf, most)
    clubs = [_choices(grams, sums) for grams in wanted]
    # The club with the most to lose chooses first: so the search finds good sharings early.
    order = sorted(range(len(clubs)), key=lambda n: clubs[n][0].cost - clubs[n][-1].cost)
    found = _Search([clubs[n] for n in order], Counter(dict(shelf))).best()
    chosen = dict(zip(order, found, strict=True))
    return tuple(
        Picked(tuple(sorted(chosen[n].pieces, reverse=True)), round(sum(chosen[n].pieces), 9))
        for n in range(len(clubs))
    )


_Sums: TypeAlias = list[tuple[float, list[tuple[float, ...]]]]
"""Every sum that a shelf can give [g], in rising order, with what makes it, the fewest pieces first."""


def _by_total(shelf: Shelf, most: int) -> _Sums:
    sums: dict[float, list[tuple[float, ...]]] = {}
    for pieces in combinations_of(shelf, most):
        sums.setdefault(round(sum(pieces), 9), []).append(pieces)
    return sorted((total, sorted(ways, key=lambda pieces: (len(pieces), pieces))) for total, ways in sums.items())


def _choices(grams: float, sums: _Sums) -> list[_Choice]:
    """Return the choices of one club, the best first; doing nothing is always the last."""
    nothing = _Choice(_cost(abs(grams), 0, 0.0), (), ())
    found: list[tuple[int, tuple[float, ...]]] = []
    above = bisect_left(sums, grams, key=lambda entry: entry[0])
    below = above - 1
    while len(found) < CHOICES and (below >= 0 or above < len(sums)):  # outwards from what is wanted
        if above == len(sums) or (below >= 0 and grams - sums[below][0] <= sums[above][0] - grams):
            total, ways = sums[below]
            below -= 1
        else:
            total, ways = sums[above]
            above += 1
        found += [(_cost(abs(grams - total), len(pieces), total), pieces) for pieces in ways[:WAYS]]
    closer = sorted(choice for choice in found if choice[0] < nothing.cost)
    return [*(_Choice(cost, pieces, tuple(Counter(pieces).items())) for cost, pieces in closer), nothing]


class _Search:
    """A search for the cheapest sharing of a shelf among clubs."""

    def __init__(self, clubs: list[list[_Choice]], shelf: Counter[float]) -> None:
        self.clubs = clubs
        self.shelf = shelf
        self.steps = 0
        self.alone = [0]
        """What the clubs from each one on cost if every one of them gets its best."""
        for choices in reversed(clubs):
            self.alone.insert(0, choices[0].cost + self.alone[0])
        self.found = self._improved(self._in_turn())
        self.cost = sum(choice.cost for choice in self.found)

    def best(self) -> list[_Choice]:
        """Return the cheapest choice of every club that the search came to."""
        self._branch([], 0, Counter(self.shelf))
        return self.found

    def _first_that_fits(self, choices: list[_Choice], left: Counter[float]) -> _Choice:
        return next(choice for choice in choices if _fits(choice, left))

    def _in_turn(self) -> list[_Choice]:
        """Let each club take the best that the ones before it have left."""
        left = Counter(self.shelf)
        chosen = []
        for choices in self.clubs:
            choice = self._first_that_fits(choices, left)
            left.subtract(choice.pieces)
            chosen.append(choice)
        return chosen

    def _improved(self, chosen: list[_Choice]) -> list[_Choice]:
        """Let two clubs choose anew together, as long as that betters something."""
        left = Counter(self.shelf)
        for choice in chosen:
            left.subtract(choice.pieces)
        pairs = [(a, b) for a in range(len(chosen)) for b in range(len(chosen)) if a != b]
        bettered, exchanges = True, 0
        while bettered and exchanges < EXCHANGES:
            bettered = False
            for a, b in pairs:
                if exchanges >= EXCHANGES:
                    break
                now = chosen[a].cost + chosen[b].cost
                left.update(chosen[a].pieces)
                left.update(chosen[b].pieces)
                first, second = chosen[a], chosen[b]
                for choice in self.clubs[a]:
                    if choice.cost + self.clubs[b][0].cost >= now:  # however well the other one then does
                        break
                    if _fits(choice, left):
                        exchanges += 1
                        left.subtract(choice.pieces)
                        other = self._first_that_fits(self.clubs[b], left)
                        left.update(choice.pieces)
                        if (both := choice.cost + other.cost) < now:
                            now, first, second, bettered = both, choice, other, True
                chosen[a], chosen[b] = first, second
                left.subtract(first.pieces)
                left.subtract(second.pieces)
        return chosen

    def _branch(self, chosen: list[_Choice], cost: int, left: Counter[float]) -> None:
        """Try every choice of the next club that can still lead to something cheaper."""
        at = len(chosen)
        if at == len(self.clubs):
            if cost < self.cost:
                self.found, self.cost = list(chosen), cost
            return
        for choice in self.clubs[at]:
            here = cost + choice.cost
            if here + self.alone[at + 1] >= self.cost:
                return  # and the choices after this one cost more
            if not _fits(choice, left):
                continue
            self.steps += 1
            if self.steps > STEPS:
                return
            left.subtract(choice.pieces)
            if self._least(here, at + 1, left) < self.cost:
                self._branch([*chosen, choice], here, left)
            left.update(choice.pieces)

    def _least(self, cost: int, at: int, left: Counter[float]) -> int:
        """Return the least that the clubs from one on can come to, each as if what is left were there for it alone."""
        for later in self.clubs[at:]:
            cost += self._first_that_fits(later, left).cost
        return cost


def _fits(choice: _Choice, left: Counter[float]) -> bool:
    """Whether what is left of the shelf holds the pieces of a choice."""
    for size, count in choice.need:  # noqa: SIM110  a loop is twice as fast here, where the search spends its time
        if left[size] < count:
            return False
    return True
