"""Reading an order: the workbook is computed, and each club's verdicts are taken from its Set sheet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from evenheft.formulas.answers import label_or_message
from evenheft.formulas.kinds import finite_number
from evenheft.formulas.telling import ALL_IN, Judged, leave_out_repeats
from evenheft.formulas.wording import PASSED_ON
from evenheft.hosts.calc.open_document import is_open_document, read_workbook
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import refresh_all, refreshed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.replace import FileState, other_names, state_of
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import CellError, Value
from evenheft.order.layout import (
    BENCH,
    FIRST_ROW,
    FIX,
    LAST_ROW,
    LOST_NAME,
    NOTICES,
    PARTS,
    QUANTITIES,
    SET,
    SLOT_ROW,
    JudgedQuantity,
    Table,
    judged,
)
from evenheft.order.recognising import need_order


@dataclass(frozen=True, slots=True)
class Judgement:
    """One quantity of one club against its target."""

    quantity: str
    """The quantity's key, e.g. "swingweight"."""
    value: float | None
    """The number [the quantity's unit], None where a message stands instead."""
    shown: str
    """The value as the sheet shows it, e.g. "D2.3"."""
    target: float | None
    target_shown: str
    deviation: float | None
    tolerance: float | None
    doubt: float
    verdict: str
    """"in", "low", "high", "re-measure", or a message that begins "! "."""


@dataclass(frozen=True, slots=True)
class ClubReport:
    """What the Set sheet says of one club."""

    number: int
    name: str
    group: str
    flags: str
    """What is flagged, in words; begins "all in" where nothing is; "" where nothing is judged."""
    length_rule: str
    stage: str
    """What the verdicts rest on, e.g. "dry fit" or "finished"."""
    advice: str
    """What the Fix sheet says to do."""
    forecast: str
    """What a club that was not on the bench yet will read by its loose parts, e.g. "D1.8", or a message; else ""."""
    lesson: str
    """Why the bench does not teach the forecast where the head's mass sits, a message; else ""."""
    judgements: tuple[Judgement, ...]

    @property
    def flagged(self) -> bool:
        """Whether something about the club is out, doubtful or unreadable."""
        return bool(self.flags) and not self.flags.startswith(ALL_IN)


@dataclass(frozen=True, slots=True)
class OrderReport:
    """An order, computed and read."""

    name: str
    number: str
    customer: str
    units: tuple[tuple[str, str], ...]
    """The unit of each quantity, by its key."""
    clubs: tuple[ClubReport, ...]
    notices: tuple[str, ...]
    """What the Set sheet says at its top of the whole order: tolerances that no instrument here supports, and the like.
    """
    warnings: tuple[str, ...]
    lost: str = ""
    """What gestures have done that formulas cannot follow, as Set tells it; "" where every row is known."""

    @property
    def judged(self) -> tuple[ClubReport, ...]:
        """The clubs of which at least one quantity is judged."""
        return tuple(club for club in self.clubs if club.judgements)

    @property
    def flagged(self) -> tuple[ClubReport, ...]:
        """The clubs that want attention."""
        return tuple(club for club in self.clubs if club.flagged)

    @property
    def forecast(self) -> tuple[ClubReport, ...]:
        """The clubs of which only their loose parts are known."""
        return tuple(club for club in self.clubs if club.forecast)


@dataclass(frozen=True, slots=True)
class OpenedOrder:
    """An order opened once: its checked parts and its computed values, for whatever reads or saves it."""

    path: Path
    state: FileState | None
    """The file as it was when it was read."""
    package: CheckedPackage
    computed: Computed


def open_order(path: Path) -> OpenedOrder:
    """Open, compute and recognise an order workbook; the file is only read.

    Raises:
        Refused: the file is no workbook, not safe to open, or no order of this layout.
        EngineError: the embedded engine cannot compute it.
    """
    state = state_of(path)
    package = read_workbook(path)
    computed = Computed(package)
    need_order(computed, path.name)
    return OpenedOrder(path, state, package, computed)


def read_order(order: Path | OpenedOrder) -> OrderReport:
    """Read an order's verdicts.

    Args:
        order: the order, its file or opened already [-].

    Raises:
        Refused: as `open_order`, or no club has a value and a target, or a forecast.
        EngineError: as `open_order`.
    """
    return _report_with_clubs(order if isinstance(order, OpenedOrder) else open_order(order))


def saved_order(order: Path | OpenedOrder, *, backup: bool = False) -> OrderReport:
    """Read an order's verdicts, and keep what was computed in the file, beside its formulas, once something is judged.

    Args:
        order: the order, its file or opened already; only the shown results of formulas change in it [-].
        backup: whether the old file is kept as NAME.bak [-].

    Raises:
        Refused: as `read_order`, or the file cannot be written; it is then unchanged.
        EngineError: as `open_order`.
    """
    path = order.path if isinstance(order, OpenedOrder) else order
    if is_open_document(path):
        raise Refused(
            f"{path.name} is an OpenDocument sheet: LibreOffice keeps the results in it whenever it saves it, and here "
            "they are kept in .xlsx and .xlsm only"
        )
    opened = order if isinstance(order, OpenedOrder) else open_order(order)
    report = _report_with_clubs(opened)
    report = replace(report, warnings=(*report.warnings, *other_names(path)))
    if report.judged or report.flagged:
        refresh_all(path, opened.computed.value, package=opened.package, backup=backup, expected=opened.state)
    return report


def computed_order(content: bytes, name: str) -> tuple[bytes, OrderReport]:
    """Compute an order in memory.

    Args:
        content: the bytes of an order [-].
        name: how messages call it [-].

    Returns:
        Its bytes with the results beside its formulas, and its report [-].

    Raises:
        Refused: it is no order.
        EngineError: the embedded engine cannot compute it.
    """
    with CheckedPackage(content, name=name) as package:
        computed = Computed(package)
        need_order(computed, name)
        return refreshed(package, computed.value), report_of(computed, name, package.warnings)


def _report_with_clubs(order: OpenedOrder) -> OrderReport:
    report = report_of(order.computed, order.path.name, order.package.warnings)
    if not (report.judged or report.flagged or report.forecast):
        name = order.path.name
        raise Refused(f"{name} holds no club to judge yet: type clubs and targets on Order, measures on Bench")
    return report


def report_of(computed: Computed, name: str, warnings: tuple[str, ...] = ()) -> OrderReport:
    """Read the report off a computed order."""
    units = {q.key: _unit(computed, q) for q in QUANTITIES}
    rows = {table.name: rows_by_number(computed, table) for table in (SET, FIX, PARTS, BENCH)}
    numbers = sorted(rows[SET.name])
    clubs = tuple(club for number in numbers if (club := _read_club(computed, number, rows, units)) is not None)
    return OrderReport(
        name=name,
        number=_text(computed.named_cell("order_number")),
        customer=_text(computed.named_cell("order_customer")),
        units=tuple(units.items()),
        clubs=clubs,
        notices=tuple(filter(None, (_text(computed.value(SET.sheet, SLOT_ROW, SET.at[key])) for key in NOTICES))),
        warnings=warnings,
        lost=_text(computed.named_cell(LOST_NAME)).removeprefix(PASSED_ON),
    )


def as_json(report: OrderReport) -> dict[str, Any]:
    """Lay out the report as plain data for other programs."""
    return {
        "order": report.number,
        "file": report.name,
        "units": dict(report.units),
        "clubs": [{**asdict(club), "flagged": club.flagged} for club in report.clubs],
        "judged": len(report.judged),
        "flagged": len(report.flagged),
        "notices": list(report.notices),
        "warnings": list(report.warnings),
        "not_followed": report.lost,
    }


ROOM = 40
"""How far below its last row a table's rows are still looked for, where rows were inserted [rows]."""


def rows_by_number(computed: Computed, table: Table) -> dict[int, int]:
    """Return the row of each club on a sheet, by its number, wherever gestures have left it."""
    found: dict[int, int] = {}
    for row in range(FIRST_ROW, LAST_ROW + ROOM):
        number = computed.value(table.sheet, row, table.at["number"])
        if isinstance(number, float) and number == int(number):
            found.setdefault(int(number), row)
    return found


def _read_club(
    computed: Computed, number: int, rows: Mapping[str, Mapping[int, int]], units: Mapping[str, str]
) -> ClubReport | None:
    def read(table: Table, key: str) -> Value:
        row = rows[table.name].get(number)
        return None if row is None else computed.value(table.sheet, row, table.at[key])

    def cell(key: str) -> Value:
        return read(SET, key)

    def fix(key: str) -> str:
        return _text(read(FIX, key))

    name = _text(cell("club"))
    all_judged = (_read_judgement(q, cell, units[q.key]) for q in QUANTITIES)
    judgements = _leave_out_repeats(tuple(j for j in all_judged if j is not None))
    flags = _text(cell("flags_in_full"))
    learned = _text(read(PARTS, "learned"))
    if not name and not judgements and not flags:
        return None
    return ClubReport(
        number=number,
        name=name,
        group=_text(cell("group")),
        flags=flags,
        length_rule=_text(cell("rule")),
        stage=_text(read(BENCH, "stage")),
        advice=fix("advice"),
        forecast=fix("now") if fix("basis") == "forecast" else "",
        lesson=learned if learned.startswith(PASSED_ON) and learned not in (j.verdict for j in judgements) else "",
        judgements=judgements,
    )


def _leave_out_repeats(judgements: tuple[Judgement, ...]) -> tuple[Judgement, ...]:
    """Leave out what would be told again, as the Set sheet does."""
    judged = [Judged(j.quantity, bool(j.target_shown), j.verdict) for j in judgements]
    kept = leave_out_repeats(judged)
    return tuple(j for j, one in zip(judgements, judged, strict=True) if any(one is k for k in kept))


def _read_judgement(quantity: JudgedQuantity, cell: Callable[[str], Value], unit: str) -> Judgement | None:
    keys = judged(quantity)
    verdict = _text(cell(keys.verdict))
    if not verdict:
        return None
    digits = decimals(quantity, unit)
    value, goal = finite_number(cell(keys.number)), finite_number(cell(keys.goal))
    return Judgement(
        quantity=quantity.key,
        value=value,
        shown=_shown(quantity, cell(keys.number), digits),
        target=goal,
        target_shown=_shown(quantity, cell(keys.goal), digits),
        deviation=None if value is None or goal is None else value - goal,
        tolerance=finite_number(cell(keys.tolerance)),
        doubt=finite_number(cell(keys.doubt)) or 0.0,
        verdict=verdict,
    )


def _unit(computed: Computed, quantity: JudgedQuantity) -> str:
    return _text(computed.named_cell(quantity.unit)) if quantity.has_order_unit else quantity.unit


def _text(value: Value) -> str:
    if isinstance(value, CellError):
        return f"{PASSED_ON}the cell shows {plain_text(value)}"
    return plain_text(value)


def decimals(quantity: JudgedQuantity, unit: str) -> int:
    """How many decimals the sheet shows of a quantity in a unit: a tenth of an ounce is two points of swingweight."""
    return len(quantity.number.partition(".")[2]) + (quantity.key == "mass" and unit == "oz")


def _shown(quantity: JudgedQuantity, value: Value, digits: int) -> str:
    """Return a value or a target as the report prints it:
    a swingweight as its label, another number with its decimals.
    """
    number = finite_number(value)
    if number is None:
        return _text(value)
    return label_or_message(number) if quantity.key == "swingweight" else f"{number:.{digits}f}"
