"""The stages of a plan, each proven before the next: most clubs in, least worst deviation, least mass, least change."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from math import gcd
from typing import Any

from evenheft.mechanics.pairing.columns import Columns, Laid, least_covering, most_covered, needed_within
from evenheft.mechanics.pairing.readings import NEVER, WHOLE
from evenheft.mechanics.pairing.scoring import ClubChoice, Proof, Report, Score
from evenheft.mechanics.pairing.solver import Found, OutOfTime, Rule, Solver

SMALL = 1e-6


def _quiet(stage: str, chosen: dict[int, ClubChoice], score: Score) -> None:
    """Tell nobody."""


class Stages:
    """Goes through the stages, and keeps the best plan seen."""

    def __init__(self, laid: Laid, first: dict[int, ClubChoice], solver: Solver, report: Report | None = None) -> None:
        """Start from a plan.

        Args:
            laid: the batch.
            first: a plan that the stock allows, by club.
            solver: what answers, within its time.
            report: is told what goes on.
        """
        self._laid = laid
        self._solver = solver
        self._report = report or _quiet
        self._clubs = len(laid.open)
        most = laid.batch.most_built
        self._most = self._clubs if most is None else min(self._clubs, most)
        self.best = first
        self.score = self._scored(first)
        self.proofs: list[Proof] = []
        self.columns: Columns | None = None
        self.settled = False
        """Whether every stage was gone through, the ties among them."""

    def run(self) -> None:
        """Go through the stages as far as time allows."""
        try:
            self._run()
            self.settled = True
        except OutOfTime:
            self._tell_the_gap()

    def _run(self) -> None:
        limit, most_in, built = self._closest_if_all_in()
        if limit is None:
            most_in = self._most_in()
            built = self._most_built(most_in)
            limit = self._closest(most_in, built)
        self._settle(limit, most_in, built)

    def _tell_the_gap(self) -> None:
        """Say of the stage that time cut short what was reached, and what no plan can pass."""
        reach = min(most_covered(self._laid.least, self._laid.open, WHOLE), self._most)
        floor = least_covering(self._laid.least, self._laid.open) if self._most == self._clubs else 0
        worst = self.score.worst / WHOLE
        gaps = (
            Proof("clubs in", self._clubs - self.score.out, reach),
            Proof("worst deviation", worst, min(worst, max(self.worst_bound, floor if floor < NEVER else 0) / WHOLE)),
            Proof("added mass", self.score.mass / 1000.0, 0.0),
        )
        for gap in gaps:
            if gap.stage not in {proof.stage for proof in self.proofs}:
                self.proofs.append(gap)
            if not self.proofs[-1].proven:
                break

    # First and second stage where all can be in: the second one's answer is the first one's proof.

    def _closest_if_all_in(self) -> tuple[int | None, int, int]:
        laid = self._laid
        self.columns = laid.up_to(WHOLE)
        bound = NEVER if self._most < self._clubs else least_covering(laid.least, laid.open)
        if bound > WHOLE:
            return None, 0, 0
        self._say("bringing every club in")
        limit = self._least_limit(self.columns, bound, self._clubs, self._clubs)
        if limit is None:
            return None, 0, 0
        self.proofs.append(Proof("clubs in", self._clubs, self._clubs))
        self.proofs.append(Proof("worst deviation", limit / WHOLE, limit / WHOLE))
        return limit, self._clubs, self._clubs

    def _least_limit(self, columns: Columns, bound: int, most_in: int, built: int) -> int | None:
        """Return the smallest deviation within which a plan exists,
        None where there is none within all the columns'.
        """
        import numpy as np

        values = np.unique(columns.off[columns.off >= bound])
        low, step = self._least_relaxed(columns, values, most_in, built), 1
        # Most plans come close to that: look there first, then ever further off.
        while low < len(values):
            at = min(low + step, len(values)) - 1
            found = self._within(columns, int(values[at]), most_in, built)
            if found is not None:
                break
            low, step = at + 1, step * 2
            self._bound_worst(values, low)
        else:
            return None
        high = int(np.searchsorted(values, found))
        while low < high:
            middle = (low + high) // 2
            found = self._within(columns, int(values[middle]), most_in, built)
            if found is None:
                low = middle + 1
                self._bound_worst(values, low)
            else:
                high = int(np.searchsorted(values, found))
        return int(values[low])

    def _least_relaxed(self, columns: Columns, values: Any, most_in: int, built: int) -> int:
        """Return the place of the smallest deviation within which the relaxation has an answer: nothing is closer [-].

        The relaxation is quick where there is nothing, and there the integer programme need not be asked.
        """

        def possible(at: int) -> bool:
            needed = needed_within(columns, int(values[at]))
            rules = self._rules(needed, most_in, built)
            return self._solver.is_possible(needed, rules, every_club=built == self._clubs)

        low, high = 0, len(values)
        for near in (1, 4, 16, len(values) - 1):
            if low >= high or near >= high:
                continue
            if possible(near):
                high = near
            else:
                low = near + 1
                self._bound_worst(values, low)
        while low < high < len(values):
            middle = (low + high) // 2
            if possible(middle):
                high = middle
            else:
                low = middle + 1
                self._bound_worst(values, low)
        return low

    def _bound_worst(self, values: Any, low: int) -> None:
        """Remember below which deviation nothing exists, in case time runs out."""
        self.worst_bound = int(values[low]) if low < len(values) else int(values[-1])

    worst_bound: int = 0
    """No plan with as many clubs in is closer than this [billionths of tolerance]."""

    def _within(self, columns: Columns, limit: int, most_in: int, built: int) -> int | None:
        """Look for any plan within a deviation: the worst deviation of the one found, or None."""
        needed = needed_within(columns, limit)
        rules = self._rules(needed, most_in, built)
        found = self._solver.cheapest(
            needed, needed.mass / self._grid(), rules, every_club=built == self._clubs, worth=float("inf")
        )
        if found.chosen is None:
            return None
        self._keep(needed, found)
        self._say("closing in on the targets")
        return int(needed.off[found.chosen].max(initial=0))

    def _rules(self, columns: Columns, most_in: int, built: int) -> list[Rule]:
        """Require that as many are in and as many are built as can be."""
        import numpy as np

        rules = []
        if most_in < built:
            rules.append(Rule((columns.off <= WHOLE).astype(float), most_in - SMALL, np.inf))
        if built < self._clubs:
            rules.append(Rule(np.ones(len(columns)), built - SMALL, built + SMALL))
        return rules

    # First stage where not all can be in.

    def _most_in(self) -> int:
        import numpy as np

        laid = self._laid
        assert self.columns is not None
        columns = needed_within(self.columns, WHOLE)
        reach = min(most_covered(laid.least, laid.open, WHOLE), self._most)
        self.proofs.append(Proof("clubs in", self._clubs - self.score.out, reach))
        self._say("bringing in as many clubs as possible")
        mass = columns.mass / self._grid()
        big = float(np.ceil(mass.max(initial=0.0))) * self._clubs + 1.0
        rules = [Rule(np.ones(len(columns)), 0, self._most)] if self._most < self._clubs else []
        found = self._solver.cheapest(columns, mass - big, rules, every_club=False, worth=1.0)
        most = len(found.chosen)
        # All that the masses come to is less than one club is worth.
        bound = min(reach, int(-found.bound // big) + (1 if -found.bound % big else 0))
        self.proofs[-1] = Proof("clubs in", most, most if bound <= most else bound)
        if bound > most:
            raise OutOfTime
        return most

    def _most_built(self, most_in: int) -> int:
        """How many clubs can get a shaft while as many are in as can be."""
        import numpy as np

        laid = self._laid
        assert self.columns is not None
        inside = needed_within(self.columns, WHOLE)
        bare = self._bare_choices()
        columns = joined([inside, bare])
        rules = [Rule((columns.off <= WHOLE).astype(float), most_in - SMALL, np.inf)]
        if self._most < self._clubs:
            rules.append(Rule(np.ones(len(columns)), 0, self._most))
        reach = min(most_covered(laid.least, laid.open, NEVER - 1), self._most)
        rank = np.searchsorted(np.unique(columns.off), columns.off).astype(float)
        big = float(rank.max(initial=0.0)) * self._clubs + 1.0
        found = self._solver.cheapest(columns, rank - big, rules, every_club=False, worth=big)
        self._keep(columns, found)
        built = len(found.chosen)
        bound = min(reach, int(-(found.bound // big)))
        self.proofs.append(Proof("clubs built", built, built if bound <= built else bound))
        if bound > built:
            raise OutOfTime
        return built

    def _bare_choices(self) -> Columns:
        """Every shaft for every club without any weight, where that is not in."""
        import numpy as np

        laid = self._laid
        everything = [laid.bare_off(at) for at in laid.open]
        off = np.stack(everything) if everything else np.zeros((0, len(laid.batch.shafts)), dtype=np.int64)
        row, shaft = ((off > WHOLE) & (off < NEVER)).nonzero()
        club = np.array(laid.open, dtype=np.int64)[row]
        nothing = np.zeros(len(row), dtype=np.int64)
        return Columns(club, shaft, nothing, off[row, shaft], np.full(len(row), NEVER), nothing)

    def _closest(self, most_in: int, built: int) -> int:
        """Second stage where some clubs stay out."""
        self._say("closing in on the targets")
        limit = self.score.worst
        self.worst_bound = 0
        self.columns = self._laid.up_to(max(limit, WHOLE))
        floor = 0 if most_in == built else WHOLE + 1
        found = self._least_limit(self.columns, floor, most_in, built) if built else 0
        found = limit if found is None else found
        self.proofs.append(Proof("worst deviation", found / WHOLE, found / WHOLE))
        return found

    # Third stage and what breaks ties.

    def _settle(self, limit: int, most_in: int, built: int) -> None:
        """Least added mass, then least change, then fewest pieces, then the order of the lists."""
        assert self.columns is not None
        columns = needed_within(self.columns, limit)
        rules = self._rules(columns, most_in, built)
        every_club = built == self._clubs
        stages: list[tuple[str, Any, float]] = [("added mass", columns.mass / self._grid(), self._grid() / 1000.0)]
        change = self._change(columns)
        if change.any():
            stages.append(("changes", change, 1.0))
        stages.append(("pieces", self._laid.ways.count[columns.way].astype(float), 1.0))
        stages.append(("order", self._order(columns), 1.0))
        for stage, cost, unit in stages:
            self._say(f"least {stage}" if stage != "order" else "ties")
            found = self._solver.cheapest(columns, cost, rules, every_club=every_club)
            if found.chosen is None:  # no club to choose for, or a plan lost to rounding
                raise ArithmeticError("no plan is left where one was found")
            self._take(columns, found)
            bound = found.cost if found.proven else found.bound
            if stage != "order":
                self.proofs.append(Proof(stage, found.cost * unit, bound * unit))
            if not found.proven:
                raise OutOfTime
            rules.append(Rule(cost, -float("inf"), found.cost + SMALL))

    def _change(self, columns: Columns) -> Any:
        """Tell what each choice changes of what is laid out: a shaft counts more than all weights together can."""
        import numpy as np

        laid = self._laid
        cost = np.zeros(len(columns))
        place = {shaft.label: at for at, shaft in enumerate(laid.batch.shafts)}
        for at in laid.open:
            club = laid.batch.clubs[at]
            mine = columns.club == at
            if club.laid_shaft is not None:
                cost[mine] += 1000.0 * (columns.shaft[mine] != place.get(club.laid_shaft, -1))
            way = laid.ways.way_of(club.laid_pieces) if club.laid_pieces else None
            if way is not None:
                cost[mine] += columns.way[mine] != way
        return cost

    def _order(self, columns: Columns) -> Any:
        """Return a cost that prefers the lists' own order, so that the same plan comes out on every run."""
        import numpy as np

        laid = self._laid
        first = (len(laid.batch.clubs) - columns.club) * (columns.shaft + 1)
        marks = [zlib.crc32(repr(way).encode()) % 61 for way in laid.ways.chosen]
        return (first * 64 + np.array(marks)[columns.way]).astype(float)

    # What is kept.

    def _grid(self) -> int:
        """Return the step of which every size in stock is a multiple [mg]."""
        step = 0
        for size in self._laid.ways.sizes:
            step = gcd(step, round(size.mass * 1000))
        return step or 1000

    def _scored(self, chosen: dict[int, ClubChoice]) -> Score:
        laid = self._laid
        off = {at: laid.off(at, shaft, way) for at, (shaft, way) in chosen.items()}
        return Score(
            out=self._clubs - sum(value <= WHOLE for value in off.values()),
            left=self._clubs - len(chosen),
            worst=max(off.values(), default=0),
            mass=sum(int(laid.ways.mass[way]) for _, way in chosen.values()),
        )

    def _keep(self, columns: Columns, found: Found) -> None:
        """Keep a plan if it is better than the best so far."""
        chosen = plan_of(columns, found)
        score = self._scored(chosen)
        if score.key < self.score.key:
            self.best, self.score = chosen, score

    def _take(self, columns: Columns, found: Found) -> None:
        """Take a plan that is as good or better."""
        self.best = plan_of(columns, found)
        self.score = self._scored(self.best)

    def _say(self, stage: str) -> None:
        self._report(stage, self.best, self.score)


def plan_of(columns: Columns, found: Found) -> dict[int, ClubChoice]:
    """Read the chosen choices as a plan: shaft and way by club.

    Args:
        columns: the choices.
        found: which were chosen.
    """
    return {int(columns.club[n]): (int(columns.shaft[n]), int(columns.way[n])) for n in found.chosen}


def joined(parts: Sequence[Columns]) -> Columns:
    """Put lists of choices behind one another.

    Args:
        parts: the lists.
    """
    import numpy as np

    arrays = ([getattr(part, name) for part in parts] for name in ("club", "shaft", "way", "off", "inside", "mass"))
    return Columns(*(np.concatenate(each) for each in arrays))
