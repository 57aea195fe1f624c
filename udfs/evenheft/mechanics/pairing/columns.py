"""The choices that a plan is made of: this shaft and these weights for that club."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from evenheft.mechanics.pairing.combinations import Ways
from evenheft.mechanics.pairing.problem import Batch
from evenheft.mechanics.pairing.readings import (
    NEVER,
    WHOLE,
    Bare,
    allowed_pairs,
    bare_readings,
    deviations,
    least_inside,
)


@dataclass(frozen=True)
class Columns:
    """Choices, one element of each array per choice."""

    club: Any
    """The club's place in the batch: integers [-]."""
    shaft: Any
    """The shaft's place in the batch: integers [-]."""
    way: Any
    """The way to lay weights: integers [-]."""
    off: Any
    """The club's worst deviation: integers [billionths of its tolerance]."""
    inside: Any
    """The least deviation among all ways that this one contains [billionths of tolerance]."""
    mass: Any
    """Added mass: integers [mg]."""

    def __len__(self) -> int:
        """How many choices [-]."""
        return len(self.club)

    def where(self, chosen: Any) -> Columns:
        """Take some of them: a mask or places [-]."""
        return Columns(
            self.club[chosen],
            self.shaft[chosen],
            self.way[chosen],
            self.off[chosen],
            self.inside[chosen],
            self.mass[chosen],
        )


class Laid:
    """A batch with all that its clubs can read; choices are made from it as far as a question needs them."""

    def __init__(self, batch: Batch, ways: Ways) -> None:
        """Compute every club with every shaft bare.

        Args:
            batch: what is to be paired [g, cm].
            ways: every way to weight one club.
        """
        import numpy as np

        self.batch = batch
        self.ways = ways
        self.bare: Bare = bare_readings(batch)
        self.open = tuple(n for n, club in enumerate(batch.clubs) if club.decided != "club")
        """The clubs of which something is to be chosen."""
        self.allowed = allowed_pairs(batch, self.bare)
        self.least = np.full(self.allowed.shape, NEVER, dtype=np.int64)
        """The least deviation of each club (rows) with each shaft (columns), whatever others take from the stock."""
        for at, off, _ in self._each(self.open):
            self.least[at] = np.where(self.allowed[at], off.min(axis=1), NEVER)

    def _each(self, clubs: Iterable[int]) -> Iterable[tuple[int, Any, Any]]:
        for at in clubs:
            off = deviations(self.bare, at, self.batch.clubs[at], self.ways.at_place)
            yield at, off, least_inside(off, self.ways)

    def up_to(self, limit: int) -> Columns:
        """Choices up to a deviation, but for those that contain one which is no further off.

        What is contained takes no more from the stock and adds less mass, so the other is never needed.

        Args:
            limit: the deviation up to which choices are wanted [billionths of tolerance].
        """
        import numpy as np

        found: list[tuple[Any, ...]] = []
        for at, off, inside in self._each(self.open):
            needed = (off <= min(limit, NEVER - 1)) & (inside > off) & self.allowed[at][:, None]
            shaft, way = needed.nonzero()
            found.append((np.full(len(shaft), at), shaft, way, off[shaft, way], inside[shaft, way]))
        club, shaft, way, off, inside = (np.concatenate(arrays) for arrays in zip(*found, strict=True))
        return Columns(club, shaft, way, off, inside, self.ways.mass[way])

    def off(self, club: int, shaft: int, way: int) -> int:
        """Count how far one club is off with one shaft and one way to weight it [billionths of tolerance]."""
        at_place = self.ways.at_place[[way]]
        return int(deviations(self.bare, club, self.batch.clubs[club], at_place, [shaft])[0, 0])

    def bare_off(self, club: int) -> Any:
        """Count how far one club is off with each shaft, `NEVER` where it may not have it [billionths of tolerance]."""
        import numpy as np

        off = deviations(self.bare, club, self.batch.clubs[club], self.ways.at_place[:1])[:, 0]
        return np.where(self.allowed[club], off, NEVER)

    def every_off(self, club: int, shaft: int) -> Any:
        """Count how far one club is off with one shaft and each way to weight it [billionths of tolerance]."""
        return deviations(self.bare, club, self.batch.clubs[club], self.ways.at_place, [shaft])[0]

    def row_limits(self) -> Any:
        """How often each shaft and each size of weight may be taken: integers, shafts first [-]."""
        import numpy as np

        return np.array([1] * len(self.batch.shafts) + [size.count for size in self.ways.sizes], dtype=float)


def needed_within(columns: Columns, limit: int) -> Columns:
    """Leave out what is not needed where no club may be further off than a limit, and most clubs are in already.

    A choice that is in is replaced by one that it contains and that is in and within the limit; one
    that is out, by any that it contains and that is within the limit: fewer weights, no club less.

    Args:
        columns: from `Laid.up_to`, up to the limit or further.
        limit: the deviation [billionths of tolerance].
    """
    import numpy as np

    enough = np.where(columns.off <= WHOLE, min(limit, WHOLE), limit)
    return columns.where(((columns.off <= limit) & (columns.inside > enough)).nonzero()[0])


def least_covering(least: Any, clubs: Any) -> int:
    """Find the smallest deviation within which each club can get a shaft of its own, if the stock had no end.

    No plan is better than that.

    Args:
        least: the least deviation of each club (rows) with each shaft [billionths of tolerance].
        clubs: the rows that want one [-].

    Returns:
        The deviation, `NEVER` where there is none [billionths of tolerance].
    """
    import numpy as np
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_bipartite_matching

    wanted = least[list(clubs)]
    values = np.unique(wanted[wanted < NEVER])
    low, high = 0, len(values)
    while low < high:
        middle = (low + high) // 2
        pairs = maximum_bipartite_matching(csr_array(wanted <= values[middle]), perm_type="column")
        if (pairs >= 0).all():
            high = middle
        else:
            low = middle + 1
    return int(values[low]) if low < len(values) else NEVER


def most_covered(least: Any, clubs: Any, limit: int) -> int:
    """Count how many clubs can get a shaft of their own within a deviation, if the stock had no end [-].

    Args:
        least: as in `least_covering`.
        clubs: the rows that want one [-].
        limit: the deviation [billionths of tolerance].
    """
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_bipartite_matching

    pairs = maximum_bipartite_matching(csr_array(least[list(clubs)] <= limit), perm_type="column")
    return int((pairs >= 0).sum())
