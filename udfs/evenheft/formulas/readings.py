"""Formula: several readings of one thing, their mean, and what they say about the instrument."""

from __future__ import annotations

from evenheft.formulas.bench import CATEGORY
from evenheft.formulas.kinds import TOO_FINE_TO_SHARE, Cells, Typed, finite_number, need_alike
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.formulas.wording import PASSED_ON, is_blank, show, what_is_wrong
from evenheft.mechanics import readings as mechanics
from evenheft.mechanics.typed_readings import SECONDS, read_numbers, read_quantities
from evenheft.mechanics.units import Unit, find_unit
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

_ANSWERS = (
    Answer("mean", "unit"),
    Answer("scatter", "unit"),
    Answer("doubt", "unit"),
    Answer("count", "-"),
    Answer("line", "text"),
)


@formula(
    "HEFT_READINGS",
    category=CATEGORY,
    help="Several readings of one thing, side by side in one cell (75.3 75.4 75.3) or in cells of their own: mean, "
    "scatter (standard deviation), doubt of the mean, count, and a line where they scatter more than the instrument "
    "explains.",
    arguments=(
        Argument(
            "readings",
            'One cell with readings apart by spaces or semicolons, such as "75.3 75.4 75.3", or a range of cells. '
            "Blanks are left out.",
            Cells("readings"),
            takes="table",
        ),
        what_of(_ANSWERS),
        Argument(
            "half_width",
            "Half-width that the instrument admits to (the plus or minus), in the unit; 0 when left out, and then no "
            "line is told.",
            Typed(),
            None,
        ),
        Argument(
            "unit",
            'Unit of plain numbers and of the answers: "g", "oz", "cm", "in", "mm", or "s" for times. Plain numbers '
            "without a unit when left out.",
            Typed("unit"),
            "",
        ),
    ),
    answers=_ANSWERS,
    source="JCGM 100:2008 (GUM), 4.2.1 to 4.2.3 and G.3 (Student's t), where the instrument does not explain the "
    "scatter; otherwise its half-width.",
    examples=(
        ('=HEFT_READINGS("75.3 75.4 75.3", "mean", 0.1, "cm")', "75.3333"),
        ('=HEFT_READINGS("75.3 75.4 75.3", "doubt", 0.1, "cm")', "0.1"),
        (
            '=HEFT_READINGS({75.3;75.9;75.3}, "line", 0.1, "cm")',
            "3 readings lie 0.6 cm apart, more than +- 0.1 cm explains: read again",
        ),
    ),
)
def readings(cells: CellRows, half_width: float | str | None, unit: float | str) -> tuple[float | str, ...] | str:
    """Return the mean, scatter, doubt [unit], count [-] and line [-] of readings, with a half-width [unit]."""
    measured_in, symbol = _unit(unit)
    given = [cell for row in cells for cell in row if not is_blank(cell)]
    if not given:
        return ""
    for cell in given:
        if isinstance(cell, str) and cell.startswith(PASSED_ON):
            return cell
    values = [value for cell in given for value in _read("readings", cell, measured_in)]
    try:
        need_alike(values, symbol, 0.0 if measured_in is None else TOO_FINE_TO_SHARE / measured_in.factor)
    except ValueError as error:
        raise Refused(f"readings {error}") from None
    admitted = 0.0
    if half_width is not None:
        admitted = mechanics.mean(_read("half_width", half_width, measured_in))
        if admitted < 0:
            raise Refused(f"half_width must be 0 or more, got {show(half_width)}")
    line = ""
    if half_width is not None and not mechanics.is_explained(values, admitted):
        apart, width = (f"{show(round(x, 4))} {symbol}".rstrip() for x in (max(values) - min(values), admitted))
        line = f"{len(values)} readings lie {apart} apart, more than +- {width} explains: read again"
    doubt = mechanics.doubt_of_mean(values, admitted) if len(values) > 1 else admitted
    return mechanics.mean(values), mechanics.scatter(values), doubt, float(len(values)), line


def _unit(text: float | str) -> tuple[Unit | None, str]:
    """Find the unit of readings and its symbol; times and plain numbers have none to convert between."""
    name = str(text).strip()
    if name.lower() in SECONDS:
        return None, SECONDS[0]
    if not name:
        return None, ""
    try:
        unit = find_unit(name)
    except ValueError as error:
        raise Refused(f"unit: {error}") from None
    return unit, unit.symbol


def _read(name: str, cell: object, unit: Unit | None) -> list[float]:
    """Read the one or several readings of a cell [unit]."""
    number = finite_number(cell)
    if number is not None:
        return [number]
    text = cell if isinstance(cell, str) else ""
    try:
        if unit is None:
            return read_numbers(text, SECONDS)
        return [value / unit.factor for value in read_quantities(text, unit.dimension, unit)]
    except ValueError as error:
        raise Refused(what_is_wrong(name, cell, error)) from None
