"""The mixed-integer programmes behind a plan, solved by HiGHS through scipy.

A choice takes one club, one shaft and some pieces of stock. A programme asks for the choices whose
whole-number cost is least, with no shaft and no piece taken twice. Of a long list, the linear
relaxation tells by how much a plan with each choice is dearer at least (its reduced cost): only
choices that can be part of a better plan join the integer programme, which is exact.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from evenheft.mechanics.pairing.columns import Columns, Laid

ALL_AT_ONCE = 300
"""So many choices are handed to the integer programme as they are [-]."""
_NOTHING = 1e-6
"""What the solver takes for nothing, as a share [-]."""


STARVED = 10
"""So many times slower than alone a machine may compute, before a limit of computing time is one of the clock [-]."""


class OutOfTime(Exception):  # noqa: N818  it ends a search; what was found so far stands
    """The time allowed is over."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A further limit on what is chosen: the sum of some amounts lies between two bounds."""

    amounts: Any
    """What each choice counts: an array, an element per choice [-]."""
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Found:
    """What the solver answers."""

    chosen: Any
    """Places of the chosen choices among the columns, or None where nothing was found."""
    cost: float
    """Their cost; infinite where nothing was found [the costs' unit]."""
    bound: float
    """No choice is cheaper than this [the costs' unit]."""

    @property
    def proven(self) -> bool:
        """Whether nothing cheaper exists, or nothing at all."""
        return self.cost - self.bound < 0.5 or self.bound == float("inf")


@dataclass(frozen=True)
class _Programme:
    """A programme's rows with their bounds, and the cost of each choice."""

    rows: Any
    low: Any
    high: Any
    cost: Any


NOTHING = Found(None, float("inf"), float("inf"))
"""No choice obeys the rules."""


def _within(dearer: Any, reach: float, relaxed: float) -> Any:
    """Find the choices with which a plan may be dearer than the relaxation by no more than so much [places]."""
    import numpy as np

    return np.flatnonzero(dearer <= reach + _NOTHING * max(1.0, abs(relaxed)))


class Solver:
    """Asks for the cheapest choice for every club, within a time."""

    def __init__(
        self, laid: Laid, deadline: float = float("inf"), clock: Callable[[], float] = time.monotonic
    ) -> None:  # fmt: skip
        """Take the batch's limits.

        Args:
            laid: the batch.
            deadline: when to stop, on the clock [s].
            clock: `time.monotonic`, or `time.process_time` where only what is computed counts.
        """
        self._clock = clock
        self._laid = laid
        self._limits = laid.row_limits()
        self._deadline = deadline

    @property
    def time_left(self) -> float:
        """What is left of the time; raises OutOfTime where nothing is [s]."""
        left = self._deadline - self._clock()
        if left <= 0.01:
            raise OutOfTime
        return left

    def cheapest(
        self, columns: Columns, cost: Any, rules: Sequence[Rule] = (), *, every_club: bool, worth: float = 0.5
    ) -> Found:
        """Choose so that the cost is least.

        Args:
            columns: the choices.
            cost: of each choice, whole numbers [any unit].
            rules: further limits.
            every_club: whether each open club must get a shaft; else each gets one at most [-].
            worth: what is dearer than the cheapest by less than this will do [the costs' unit].
        """
        import numpy as np

        if len(columns) == 0:
            possible = not (every_club and self._laid.open) and all(rule.low <= 0 <= rule.high for rule in rules)
            return Found(np.zeros(0, dtype=int), 0.0, 0.0) if possible else NOTHING
        cost = np.asarray(cost, dtype=float)
        programme = self._programme(columns, cost, rules, every_club=every_club)
        everything = np.arange(len(columns))
        if len(columns) <= ALL_AT_ONCE:
            return self._whole(programme, everything)
        relaxed, dearer = self._relaxed(programme)
        if dearer is None:
            return NOTHING
        bound = float(np.ceil(relaxed - _NOTHING * max(1.0, abs(relaxed))))
        best = NOTHING
        reach, hopeful = 0.0, _within(dearer, 0.0, relaxed)
        while True:
            found = self._whole(programme, hopeful)
            best = min(best, found, key=lambda one: one.cost)
            # Whatever beats what was found is made of choices that are dearer by less than it is above the relaxation.
            reach = max(2 * reach, 1.0) if best.chosen is None else best.cost - relaxed
            wider = _within(dearer, reach, relaxed)
            proven = len(hopeful) == len(columns) or (best.chosen is not None and len(wider) <= len(hopeful))
            if proven or best.cost - bound < worth:
                break
            hopeful = wider
        if best.chosen is None:
            return NOTHING
        return Found(best.chosen, best.cost, min(best.cost, found.bound) if proven else bound)

    def is_possible(self, columns: Columns, rules: Sequence[Rule] = (), *, every_club: bool) -> bool:
        """Tell whether the relaxation of the programme has any answer: where not, there is no plan.

        Args:
            columns: the choices.
            rules: further limits.
            every_club: as in `cheapest` [-].
        """
        import numpy as np

        if len(columns) <= ALL_AT_ONCE:
            return True  # the integer programme says so as quickly
        programme = self._programme(columns, np.zeros(len(columns)), rules, every_club=every_club)
        return self._relaxed(programme)[1] is not None

    def _whole(self, programme: _Programme, part: Any) -> Found:
        """Solve the integer programme with some of its choices."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp

        if not len(part):
            return NOTHING
        for presolve in (True, False):  # HiGHS now and then stumbles over its own presolve
            answer = milp(
                programme.cost[part],
                integrality=np.ones(len(part)),
                bounds=Bounds(0, 1),
                constraints=LinearConstraint(programme.rows[:, part], programme.low, programme.high),
                options={"mip_rel_gap": 0.0, "presolve": presolve, **self._limit()},
            )
            if answer.status in (0, 1, 2):
                break
        if answer.status == 2:  # infeasible
            return NOTHING
        if answer.x is None:
            if answer.status == 1:
                raise OutOfTime
            raise ArithmeticError(f"the solver stopped: {answer.message}")
        chosen = part[answer.x > 0.5]
        paid = float(programme.cost[chosen].sum())
        return Found(chosen, paid, paid if answer.status == 0 else float(answer.mip_dual_bound))

    def _limit(self) -> dict[str, float]:
        """Tell what is left of the time, as the solver wants it."""
        left = self.time_left
        # The solver looks at the clock on the wall, which runs on while other programs have the processor.
        return {} if left == float("inf") else {"time_limit": left if self._clock is time.monotonic else STARVED * left}

    def _relaxed(self, programme: _Programme) -> tuple[float, Any]:
        """Solve the linear relaxation: its cost, and by how much a plan with each choice is dearer at least.

        No choice takes more than one club, so that a choice's bound of 1 need not be told. Where the
        relaxation has no answer, none is told in place of the choices.
        """
        import numpy as np
        from scipy.optimize import linprog
        from scipy.sparse import vstack

        equal = programme.low == programme.high
        above, below = ~equal & np.isfinite(programme.high), ~equal & np.isfinite(programme.low)
        rows = programme.rows.tocsr()

        answer = linprog(
            programme.cost,
            A_ub=vstack([rows[above], -rows[below]], format="csr"),
            b_ub=np.concatenate([programme.high[above], -programme.low[below]]),
            A_eq=rows[equal] if equal.any() else None,
            b_eq=programme.high[equal] if equal.any() else None,
            bounds=(0, None),
            method="highs",
            options=self._limit(),
        )
        if answer.status == 2:
            return float("inf"), None
        if answer.status == 1:
            raise OutOfTime
        if answer.x is None:
            raise ArithmeticError(f"the solver stopped: {answer.message}")
        prices = np.zeros(len(equal))
        prices[above] += answer.ineqlin.marginals[: above.sum()]
        prices[below] -= answer.ineqlin.marginals[above.sum() :]
        if equal.any():
            prices[equal] = answer.eqlin.marginals
        return float(answer.fun), programme.cost - rows.T @ prices

    def _programme(self, columns: Columns, cost: Any, rules: Sequence[Rule], *, every_club: bool) -> _Programme:
        """Return the rows of a programme: open clubs, shafts, sizes of weights, rules; with their bounds."""
        import numpy as np
        from scipy.sparse import coo_array, vstack

        count = len(columns)
        clubs = len(self._laid.batch.clubs)
        here = np.arange(count)
        ones = np.ones(count)
        taken, size = self._laid.ways.uses[columns.way].nonzero()
        pieces = self._laid.ways.uses[columns.way][taken, size]
        first_size = clubs + len(self._laid.batch.shafts)
        rows = coo_array(
            (
                np.concatenate([ones, ones, pieces]),
                (
                    np.concatenate([columns.club, clubs + columns.shaft, first_size + size]),
                    np.concatenate([here, here, taken]),
                ),
            ),
            shape=(clubs + len(self._limits), count),
        )
        low = np.full(rows.shape[0] + len(rules), -np.inf)
        high = np.concatenate([np.ones(clubs), self._limits, [rule.high for rule in rules]])
        if every_club:
            low[list(self._laid.open)] = 1.0
        low[rows.shape[0] :] = [rule.low for rule in rules]
        further = [coo_array(np.asarray(rule.amounts, dtype=float)[None, :]) for rule in rules]
        return _Programme(vstack([rows, *further], format="csc"), low, high, cost)
