"""Rows of a shop's own sheet, read by their headings into a club's parts.

The headings are understood once (`columns.plan_for`, remembered between calls), then each row is read by that plan.
Long tables are read in `tables`, as far as they can.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any

from evenheft.formulas.answers import READINGS, readings
from evenheft.formulas.headed.columns import (
    BALANCES,
    DOUBTS,
    NEEDED_PARTS,
    RowPlan,
    listed_with_and,
)
from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.formulas.kinds import finite_number
from evenheft.formulas.wording import PASSED_ON, Scale, is_blank, show
from evenheft.mechanics.bodies import is_possible_shaft
from evenheft.mechanics.club import DEFAULTS, TAPE_READING, Parts, butt_trim, cut_length, forecast, shaft_balance
from evenheft.mechanics.forecast_doubt import Doubts, Taught
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRow, CellRows


@dataclass(frozen=True, slots=True)
class Row:
    """A club's parts as its row gives them, with what only a dry fit needs."""

    parts: Parts
    masses: frozenset[str]
    """Names of the masses that the row or the shop's defaults give."""
    cut_grip_mass: float | None
    cut_grip_balance: float
    known: frozenset[str]
    """Names in `Parts` of what the row itself gives, not the defaults."""
    doubts: Doubts
    """How far its parts may be off."""
    taught: Taught | None
    """How well its head rise is known; None where the row gives none and it is a guess."""


def read_row(plan: RowPlan, cells: CellRow, *, unknown: Collection[str] = ()) -> Row | None:
    """Read one row.

    Args:
        plan: from `plan_for` [-].
        cells: as many as there are headings [-].
        unknown: masses that are asked for, or that nothing depends on: the row need not give them, 0 is taken [-].

    Returns:
        The club's parts [g, cm], or None where the row is blank under every heading of a part.

    Raises:
        Refused: something is missing, out of bounds, given twice or not understood; all of it is told.
    """
    need_width(plan, cells)
    values: dict[str, float] = {}
    wrong: list[str] = []
    for column in plan.columns:
        raw = cells[column.at]
        if column.key not in unknown and not is_blank(raw):
            try:
                values[column.key] = column.read(raw)
            except Refused as refused:
                wrong.append(str(refused))
    wrong += [f"{problem}" for at, problem in plan.doubtful if may_be_a_number(cells[at])]
    if not values and not wrong:
        return None
    if wrong:
        raise Refused("; ".join(dict.fromkeys(wrong)))
    doubts, taught = _doubts(plan, cells, has_rise="head_rise" in values)
    known = frozenset("shaft_balance" if key.startswith(BALANCES) else key for key in values)
    own_balance = any(key.startswith(BALANCES) for key in values)
    for key, value in plan.given:
        if not (own_balance and key.startswith(BALANCES)):
            values.setdefault(key, value)
    values |= dict.fromkeys(unknown, 0.0)
    lacking = [VOCABULARY[name].words[0] for name in NEEDED_PARTS if name not in values]
    if lacking:
        raise Refused(f"the row lacks {listed_with_and(lacking)}")
    masses = frozenset(name for name in values if name.endswith("_mass"))
    cut_grip_mass = values.pop("cut_grip_mass", None)
    grip_balance = values.get("grip_balance", DEFAULTS["grip_balance"])
    assert grip_balance is not None
    cut_grip_balance = values.pop("cut_grip_balance", grip_balance)
    parts = _parts(values)
    need_sound(parts, plan.scale_of("shaft_length"), other_placed="other_from_butt" in values)
    return Row(parts, masses, cut_grip_mass, cut_grip_balance, known, doubts, taught)


def _doubts(plan: RowPlan, cells: CellRow, *, has_rise: bool) -> tuple[Doubts, Taught | None]:
    """Read a row's half-widths, and how well a head rise is known that the row gives.

    A half-width of the rise among the shop's defaults is that of its guess; one in the row, of the row's own rise.
    """
    own = {c.headed.name: c.read(cells[c.at]) for c in plan.doubt_columns if not is_blank(cells[c.at])}
    given = {DOUBTS[key]: value for key, value in (dict(plan.given_doubts) | own).items()}
    return Doubts(**given, stated=frozenset(given)), Taught(own.get("head_rise_doubt")) if has_rise else None


def row_by_row(plan: RowPlan, rows: CellRows, answer: Callable[[Row], float | str]) -> list[float | str]:
    """Answer each row of a table by itself: blank where the row is, and what is wrong with it in its place.

    Args:
        plan: from `plan_for` [-].
        rows: the table's rows [-].
        answer: what is asked of a row that can be read [-].
    """
    answers: list[float | str] = []
    for cells in rows:
        try:
            row = read_row(plan, cells)
            answers.append("" if row is None else answer(row))
        except Refused as refused:
            answers.append(f"{PASSED_ON}{refused}")
    return answers


def need_width(plan: RowPlan, cells: CellRow) -> None:
    """Refuse a row that is not as wide as the headings."""
    if len(cells) != plan.width:
        raise Refused(f"row must be as wide as headers, {plan.width} cells, got {len(cells)}")


def may_be_a_number(raw: object) -> bool:
    """Whether a cell may hold a mass or a length: a number, or a text that begins with one."""
    return finite_number(raw) is not None or (isinstance(raw, str) and raw.strip()[:1].isdigit())


def _parts(values: dict[str, Any]) -> Parts:
    """Parts from values by `Column.key`; of the ways to tell where a shaft balances exactly one may be used."""
    length = values["shaft_length"]
    balances = [key for key in values if key.startswith(BALANCES)]
    if len(balances) > 1:
        raise Refused("shaft balance is given twice, from butt and from tip: keep one of them")
    fields = {key: value for key, value in values.items() if key not in balances}
    for key in balances:
        fields["shaft_balance"] = from_butt(key, values[key], length)
    return Parts(**fields)


def need_sound(parts: Parts, scale: Scale, *, other_placed: bool = True) -> None:
    """Refuse parts that do not make a club, saying which number is odd.

    Args:
        parts: the club's parts [g, cm].
        scale: the units that a message speaks in [-].
        other_placed: whether the place of anything else was given [-].
    """
    wrong: list[str] = []
    length = parts.shaft_length
    balance = shaft_balance(parts)
    if not is_possible_shaft(length, balance):
        low, high, got, whole = (_length_text(x, scale) for x in (length / 3, 2 * length / 3, balance, length))
        wrong.append(f"shaft balance must be from {low} to {high} from the butt of a {whole} shaft, got {got}")
    short = -butt_trim(parts)
    if short > TAPE_READING:
        needed, lack = (_length_text(x, scale) for x in (cut_length(parts) + parts.tip_trim, short))
        wrong.append(
            f"the shaft is too short by {lack}: it must be at least {needed}, got {_length_text(length, scale)}"
        )
    if parts.other_mass > 0 and not other_placed:
        wrong.append("other mass needs its place: add Other from butt (cm)")
    if wrong:
        raise Refused("; ".join(wrong))


def _length_text(length: float, scale: Scale) -> str:
    """Write a length [cm] in the unit of a heading, to what a tape can show."""
    return f"{show(round(length / scale.length.factor, 2))} {scale.length.symbol}"


def from_butt(key: str, place: Any, length: Any) -> Any:
    """Where a shaft balances from its butt end [cm], its place given in one of the ways of `Column.key`."""
    balance = place * length if key.endswith("share") else place
    return length - balance if key.startswith("shaft_balance_from_tip") else balance


_NO_MATTER = ("head_mass", "shaft_mass")
"""Masses on which no cut depends."""
_CUT_ANSWERS = 2
"""Cut length and butt trim."""


def without_a_forecast(plan: RowPlan, row: CellRow, refused: Refused) -> tuple[float | str, ...]:
    """Answer a row of which no forecast can be made: what is wrong with it, and where to cut, if that is known."""
    try:
        cuts = _cuts(plan, row)
    except Refused as why:
        cuts = (f"{PASSED_ON}{why}",) * _CUT_ANSWERS
    return (*[f"{PASSED_ON}{refused}"] * len(READINGS), *cuts)


def _cuts(plan: RowPlan, row: CellRow) -> tuple[float | str, ...]:
    """Work out cut length and butt trim [cm] of a row that is not all weighed yet."""
    read = read_row(plan, row, unknown=_NO_MATTER)
    return ("",) * _CUT_ANSWERS if read is None else cut_answers(read.parts)


def cut_answers(parts: Parts) -> tuple[float, float]:
    """Cut length and butt trim [cm] of a club's parts."""
    return cut_length(parts), max(butt_trim(parts), 0.0)


def club_answers(parts: Parts) -> tuple[float | str, ...]:
    """Compute the readings of a club's forecast [g, cm, points, label, kg cm2], and where to cut [cm]."""
    return (*readings(forecast(parts)), *cut_answers(parts))
