"""Stock weights: which of them come closest to what is wanted, for one club and for a set."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple, TypeAlias


class Picked(NamedTuple):
    """Stock weights that come closest to what is wanted."""

    pieces: tuple[float, ...]
    """The chosen weights, heaviest first [g]."""
    total: float
    """Their sum [g]."""


MOST_PIECES = 4
"""More pieces than this have no room at one place of a club [-]."""
MOST_SIZES = 40
"""More sizes than this no shop keeps: from 0.5 g to 20 g by halves [-]. Every combination of them is looked at."""


def pick(grams: float, stock: Sequence[float], most: int = 1, counts: Sequence[float | None] = ()) -> Picked:
    """Choose stock weights whose sum comes closest to what is wanted; a size may be used as often as it is there.

    Among equally close ones the fewest pieces win, then the lighter sum. It is as exact as trying every combination.

    Args:
        grams: mass wanted; nothing is picked where it is not positive [g].
        stock: the sizes at hand [g].
        most: pieces at most, up to `MOST_PIECES` [-].
        counts: how many of each size are there, as many as sizes; None, or no counts at all, where nobody
            has counted them [-].

    >>> pick(9.0, [2.0, 4.0, 6.0], most=2)
    Picked(pieces=(4.0, 4.0), total=8.0)
    >>> pick(9.0, [2.0, 4.0, 6.0], most=2, counts=[None, 1, 0])
    Picked(pieces=(4.0, 2.0), total=6.0)
    """
    shelf = shelf_of(stock, counts, most)
    halves = _halves(shelf, most)
    best: tuple[float, int, float, tuple[float, ...]] | None = None
    for half, rest in halves:
        totals = [total for total, _ in rest]
        for total, pieces in half:
            at = bisect_left(totals, grams - total)
            for other, others in rest[max(at - 1, 0) : at + 1]:
                whole = total + other
                both = tuple(sorted(pieces + others, reverse=True))
                chosen = (round(abs(grams - whole), 9), len(both), whole, both)
                if best is None or chosen < best:
                    best = chosen
    assert best is not None  # choosing nothing is always among the halves
    return Picked(best[3], best[2])


Shelf: TypeAlias = tuple[tuple[float, int], ...]
"""Each size [g] with how many of it can be used [-], in rising order."""


def shelf_of(stock: Sequence[float], counts: Sequence[float | None], most: int) -> Shelf:
    """Put equal sizes together; what nobody has counted is there as often as it can be used.

    Args:
        stock: the sizes at hand [g].
        counts: how many of each are there, None where nobody has counted; may be shorter than the stock [-].
        most: how many of one size can be used [-].
    """
    there: dict[float, int] = {}
    for at, size in enumerate(stock):
        count = counts[at] if at < len(counts) else None
        there[size] = there.get(size, 0) + (most if count is None else int(count))
    return tuple(sorted((size, count) for size, count in there.items() if count > 0))


_Sums: TypeAlias = list[tuple[float, tuple[float, ...]]]


def _halves(shelf: Shelf, most: int) -> list[tuple[_Sums, _Sums]]:
    """Pairs of lists of sums, each of which can be added to any in the other.

    Where every size may be used as often as there are pieces, two halves of the choice are looked up in each
    other; where one is counted, every combination stands in one list.
    """
    if all(count >= most for _, count in shelf):
        sizes = tuple(size for size, _ in shelf)
        return [(_sums(sizes, (most + 1) // 2), _sums(sizes, most // 2))]
    return [([(0.0, ())], _counted_sums(shelf, most))]


@lru_cache(maxsize=64)
def _counted_sums(shelf: Shelf, most: int) -> _Sums:
    """Every sum of at most so many pieces from a shelf, with the fewest pieces that make it, in rising order."""
    fewest: dict[float, tuple[float, ...]] = {}
    for pieces in combinations_of(shelf, most):
        total = round(sum(pieces), 9)
        if total not in fewest or len(pieces) < len(fewest[total]):
            fewest[total] = pieces
    return sorted(fewest.items())


def combinations_of(shelf: Shelf, most: int) -> Iterator[tuple[float, ...]]:
    """Every choice of at most so many pieces from a shelf, none included [g].

    Args:
        shelf: each size with how many of it can be used [g, -].
        most: pieces at most [-].

    >>> list(combinations_of(((2.0, 1), (4.0, 2)), 2))
    [(), (4.0,), (4.0, 4.0), (2.0,), (2.0, 4.0)]
    """
    if not shelf or most == 0:
        yield ()
        return
    (size, count), rest = shelf[0], shelf[1:]
    for used in range(min(count, most) + 1):
        for others in combinations_of(rest, most - used):
            yield (size,) * used + others


@lru_cache(maxsize=64)
def _sums(sizes: tuple[float, ...], most: int) -> list[tuple[float, tuple[float, ...]]]:
    """Every sum of at most so many pieces, with the fewest pieces that make it, in rising order."""
    found: dict[float, tuple[float, ...]] = {0.0: ()}
    newest = dict(found)
    for _ in range(most):
        newest = {
            total: (*pieces, size)
            for before, pieces in newest.items()
            for size in sizes
            if (total := round(before + size, 9)) not in found
        }
        found |= newest
    return sorted(found.items())
