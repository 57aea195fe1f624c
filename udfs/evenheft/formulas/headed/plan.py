"""Formula: which shaft of a batch and which stock weights each club of a set gets, proven best, in a cell."""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import lru_cache
from math import comb
from typing import TYPE_CHECKING, Any, TypeAlias

from evenheft.formulas.answers import label_or_message
from evenheft.formulas.fit import too_many_filled
from evenheft.formulas.headed.pairing import batch_with, club_column, club_rows, pieces_text
from evenheft.formulas.headed.parts import SHOP_DEFAULTS
from evenheft.formulas.kinds import Cells, Typed
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.formulas.wording import PASSED_ON, is_blank, show
from evenheft.mechanics.pairing.problem import Batch, ClubToBuild
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import one_line
from evenheft.ooxml.values import CellRows

if TYPE_CHECKING:
    from evenheft.mechanics.pairing.plan import Plan, Planned

_SECONDS = 2.0
"""A cell computes no longer: a spreadsheet stands still meanwhile [s of the processor]."""
_MOST_ROWS = 5000
"""Rows of a table, which no batch has, however much of its sheet is named [-]."""
_LARGEST = 2_000_000
"""So many clubs x shafts x ways to weight one are read within a cell; the rest is for the command [-]."""
TOO_LARGE = "too large for a cell: run evenheft plan"
NO_SOLVER = (
    "HEFT_PLAN needs scipy, which the Python of this program does not have: run evenheft plan, or install the add-in "
    "anew with --vendor (docs/calc.md)"
)
ANSWERS = (
    Answer("shaft", "text"),
    Answer("weights", "text"),
    Answer("reads", "as what leads"),
    Answer("deviation", "as what leads"),
    Answer("doubt", "as what leads"),
    Answer("verdict", "text"),
    Answer("leads", "text"),
    Answer("head grams", "g"),
    Answer("butt grams", "g"),
    Answer("swingweight", "text"),
    Answer("points", "points"),
    Answer("inertia", "kg cm2"),
    Answer("mass", "g"),
    Answer("why", "text"),
)
_Row: TypeAlias = tuple[Any, ...]
_Frozen: TypeAlias = tuple[tuple[tuple[type, object], ...], ...] | None
"""A table that can be remembered; each cell with its type, since TRUE is not 1."""


@formula(
    "HEFT_PLAN",
    category="Set",
    help="Which shaft and which stock weights each club of a set gets, proven best: as many clubs in as can be, then "
    "the smallest worst deviation in units of its tolerance, then the least added mass. Tables are read by their "
    "headings (docs/plan.md).",
    arguments=(
        Argument(
            "heads",
            "Range of heads, headings first, e.g. Club, Head mass (g), Club length (in), Grip (g), Swingweight target "
            "and Swingweight tolerance; or those of Inertia, Total mass or Frequency.",
            Cells("range with headings"),
            takes="table",
        ),
        Argument(
            "shafts",
            "Range of shafts, headings first: Number, Mass (g), Length (in), Balance (in), Frequency, Set aside for. "
            "One that is set aside is left alone.",
            Cells("range with headings"),
            takes="table",
        ),
        Argument(
            "weights",
            "Range of stock weights, headings first: Size (g), Where (head or butt), Count. None are added when left "
            "out.",
            Cells("range with headings"),
            None,
            takes="table",
        ),
        Argument(
            "club",
            "Which club's answer is wanted, as it is named under Club; all come back, a row for each row of heads, "
            "when left out.",
            Typed("a club's name"),
            None,
        ),
        what_of(ANSWERS),
        Argument(
            "targets",
            "Range with targets and tolerances by Club, headings first, where another table than heads holds them.",
            Cells("range with headings"),
            None,
            takes="table",
        ),
        SHOP_DEFAULTS,
    ),
    answers=ANSWERS,
    source="A mixed-integer programme, each stage solved to proven optimality by HiGHS through scipy; forecasts as "
    f"HEFT_CLUB. What takes longer than {_SECONDS:g} s is left to evenheft plan.",
    examples=(
        (
            '=HEFT_PLAN({"Club","Head mass (g)","Club length (in)","Grip (g)","Swingweight target","Swingweight '
            'tolerance";"8-iron",284,36.5,50,"D2",0.5;"9-iron",292,36,50,"D2",0.5}, '
            '{"Number","Mass (g)","Length (in)";"S1",98,39;"S2",104,39}, {"Size (g)","Count";2,2;4,1}, '
            '"9-iron", "weights")',
            "2 g head",
        ),
    ),
)  # fmt: skip
def plan_in_a_cell(
    heads: CellRows,
    shafts: CellRows,
    weights: CellRows | None,
    club: float | str | None,
    targets: CellRows | None,
    defaults: CellRows | None,
) -> tuple[_Row, ...] | _Row | str:
    """Answer `ANSWERS` of each club, or of one [as they tell]."""
    for name, table in (("heads", heads), ("shafts", shafts), ("weights", weights)):
        if table is not None and (filled := too_many_filled(table, _MOST_ROWS)):
            raise Refused(f"{name} must be at most {_MOST_ROWS} rows, got {filled}")
    named = _clubs_named(heads)
    if not any(named):
        return ""
    wanted = None if club in (None, 0.0) else show(club)
    if wanted is not None and wanted not in named:
        raise Refused(f"club must be one of those in heads, got {wanted}")
    planned = _remembered(_frozen(heads), _frozen(shafts), *map(_frozen, map(_given, (weights, targets, defaults))))
    if isinstance(planned, str):
        raise Refused(planned)
    if wanted is None:
        rows = tuple((row,) * len(ANSWERS) if isinstance(row, str) else row for row in planned)
        return rows[0] if len(rows) == 1 else rows
    answer = planned[named.index(wanted)]
    if isinstance(answer, str):
        raise Refused(answer.removeprefix(PASSED_ON))
    return answer


def _clubs_named(heads: CellRows) -> list[str]:
    """Return the clubs' names, row by row below the headings, blank where a row names none."""
    _need_no_message(heads)
    at = club_column(heads)
    return ["" if is_blank(row[at]) else show(row[at]) for row in heads[1:]]


def _need_no_message(table: CellRows) -> None:
    """Hand on what another formula says in place of a table."""
    if len(table) == len(table[0]) == 1 and isinstance(cell := table[0][0], str) and cell.startswith(PASSED_ON):
        raise Refused(cell.removeprefix(PASSED_ON))


def _given(table: CellRows | None) -> CellRows | None:
    """Return an optional table; some programs hand over 0 for a cell that is empty or an argument that is left out."""
    return None if table is None or [list(row) for row in table] == [[0.0]] else table


def _frozen(table: CellRows | None) -> _Frozen:
    if table is None:
        return None
    _need_no_message(table)
    return tuple(tuple((type(cell), cell) for cell in row) for row in table)


def _thawed(table: _Frozen) -> CellRows | None:
    return None if table is None else [[cell for _, cell in row] for row in table]


@lru_cache(maxsize=16)
def _remembered(
    heads: _Frozen, shafts: _Frozen, weights: _Frozen, targets: _Frozen, defaults: _Frozen
) -> tuple[_Row | str, ...] | str:
    """Plan once for all cells that ask about the same tables; a refusal is remembered too, it may have taken long."""
    try:
        return _planned(*map(_thawed, (heads, shafts, weights, targets, defaults)))
    except Refused as refused:
        return str(refused)


def _planned(
    heads: CellRows | None,
    shafts: CellRows | None,
    weights: CellRows | None,
    targets: CellRows | None,
    defaults: CellRows | None,
) -> tuple[_Row | str, ...]:
    assert heads is not None and shafts is not None
    read = club_rows(heads, targets, defaults)
    clubs = [row for row in read if isinstance(row, ClubToBuild)]
    batch = batch_with(clubs, shafts, weights) if clubs else Batch((), ())
    if clubs:
        plan = _plan(batch)
        reasons = _reasons(batch, plan)
        answers = iter([_answers(batch, plan, at, reasons) for at in range(len(clubs))])
    return tuple(
        next(answers) if isinstance(row, ClubToBuild) else "" if row is None else f"{PASSED_ON}{row}" for row in read
    )


def _plan(batch: Batch) -> Plan:
    """Plan within the time and the size that a cell has."""
    from evenheft.mechanics.pairing.plan import plan_set

    if len(batch.clubs) * len(batch.shafts) * _most_ways(batch) > _LARGEST:
        raise Refused(TOO_LARGE)
    try:
        import scipy.optimize
        import scipy.sparse.csgraph  # noqa: F401  loading it is not planning
    except ImportError:
        raise Refused(NO_SOLVER) from None
    plan = plan_set(batch, seconds=_SECONDS, clock=time.process_time)
    if not (plan.proven and plan.settled):
        raise Refused(TOO_LARGE)
    return plan


def _most_ways(batch: Batch) -> int:
    """How many ways to weight one club there are at most, before any is laid out [-]."""
    ways = 1
    for place in ("head", "butt"):
        sizes = sum(weight.place == place and weight.count > 0 for weight in batch.weights)
        ways *= comb(sizes + batch.most_pieces, batch.most_pieces)
    return ways


def _answers(batch: Batch, plan: Plan, at: int, reasons: Callable[[], dict[str, str]]) -> _Row:
    planned = plan.clubs[at]

    def why() -> str:
        return reasons().get(planned.club, "")

    if planned.shaft is None:
        return ("none", "none", *("",) * 3, "not built", *("",) * 7, why)
    worst = max(planned.readings, key=lambda reading: abs(reading.deviation) / reading.tolerance, default=None)
    of_worst: _Row = ("", "", "") if worst is None else (worst.value, worst.deviation, worst.doubt)
    return (
        planned.shaft,
        pieces_text(planned.pieces),
        *of_worst,
        "in" if planned.inside else "out",
        "" if worst is None else _name(worst.leading),
        planned.added("head"),
        planned.added("butt"),
        *_whole(batch, planned, at),
        why,
    )


def _name(leading: str) -> str:
    from evenheft.mechanics.pairing.reasons import LEADING_NAMES

    return {str(key): name for key, name in LEADING_NAMES.items()}[leading]


def _whole(batch: Batch, planned: Planned, at: int) -> _Row:
    """Tell what the club will read, whether that leads or not:
    label, points, inertia, mass; worked out where asked for.
    """
    from evenheft.mechanics.pairing.readings import read_one

    shaft = next(one for one in batch.shafts if one.label == planned.shaft)

    @lru_cache(maxsize=1)
    def read() -> dict[Any, float]:
        return read_one(batch, batch.clubs[at], shaft, planned.added("head"), planned.added("butt"))

    def value_of(name: str) -> Callable[[], float]:
        return lambda: read()[name]

    return (lambda: label_or_message(read()["points"])), value_of("points"), value_of("inertia"), value_of("mass")


def _reasons(batch: Batch, plan: Plan) -> Callable[[], dict[str, str]]:
    """Why clubs are not in, and what would bring them in, as cells can show it: worked out once somebody asks."""
    from evenheft.mechanics.pairing.reasons import reasons

    @lru_cache(maxsize=1)
    def texts() -> dict[str, str]:
        return {
            reason.club: one_line(
                reason.why + (f". Would bring it in: {'; or '.join(reason.remedies)}" if reason.remedies else "")
            )
            for reason in reasons(batch, plan)
        }

    return texts
