"""Doubt about columns that only the cells below the headings can raise or settle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evenheft.formulas.headed.headings import LONGEST_HEADING, HeadingReading, needs_unit
from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.formulas.wording import is_blank
from evenheft.mechanics import units
from evenheft.shop.clubs import filled
from evenheft.shop.table import ShopColumn
from evenheft.shop.view import View

_NOT_USED = HeadingReading(None, None, None)
_LARGEST_REST = 120.0
"""What a club may hold besides head, shaft and grip, where a total is recognised by its parts [g]."""
_PARTS = ("head_mass", "shaft_mass", "grip_mass")


def settled(view: View, rows: Sequence[int], columns: Sequence[ShopColumn]) -> list[ShopColumn]:
    """Columns with how many cells are filled, and doubt where two hold one quantity or a length has no unit.

    Args:
        view: the sheet, so that clubs stand in rows [-].
        rows: the rows that hold clubs [-].
        columns: as the headings and the builder tell them [-].
    """
    counted = [replace(column, filled=filled(view, rows, column.at)) for column in columns]
    counted = [_without_measures(view, rows, column) for column in counted]
    counted = [_total_by_its_parts(view, rows, column, counted) for column in counted]
    return [_settled(view, rows, column, counted) for column in counted]


def _settled(view: View, rows: Sequence[int], column: ShopColumn, columns: Sequence[ShopColumn]) -> ShopColumn:
    """Doubt where two columns hold one quantity; a merged heading's empty half and a hidden twin do not count."""
    twins = [c for c in columns if c.quantity is not None and c.quantity == column.quantity and c.at != column.at]
    if not twins or column.quantity is None:
        return _without_unit(view, rows, column)
    mapped_twins = [twin for twin in twins if twin.mapped]
    if (
        (not column.filled and any(twin.filled for twin in twins))
        or (mapped_twins and not column.mapped)
        or (column.hidden and any(not twin.hidden and twin.filled for twin in twins))
    ):
        return replace(column, reading=_NOT_USED)
    if any(t.filled and (not t.hidden or column.hidden) and not (column.mapped and not t.mapped) for t in twins):
        letters = " and ".join(c.letter for c in sorted([column, *twins], key=lambda c: c.at))
        name = VOCABULARY[column.quantity].words[0]
        return replace(column, unsure=f"{letters} are both {name}: which one counts?")
    return _without_unit(view, rows, column)


def _without_measures(view: View, rows: Sequence[int], column: ShopColumn) -> ShopColumn:
    """Take a heading that may name a part's measure for its name where no cell begins with a number."""
    if column.quantity is not None or not column.unsure or column.reading.quantity is not None:
        return column
    held = (view.values.get((row, column.at)) for row in rows)
    if any(isinstance(cell, float) or (isinstance(cell, str) and cell.strip()[:1].isdigit()) for cell in held):
        return column
    return replace(column, reading=_NOT_USED, unsure="")


def _without_unit(view: View, rows: Sequence[int], column: ShopColumn) -> ShopColumn:
    """Doubt about a length without a unit, unless every cell carries its own."""
    if column.quantity is None or not needs_unit(column.reading):
        return column
    cells = [view.values.get((row, column.at)) for row in rows]
    if any(not is_blank(cell) for cell in cells) and all(is_blank(c) or _has_own_unit(c) for c in cells):
        return column
    return replace(column, unsure=f"in which unit is {VOCABULARY[column.quantity].words[0]}?")


def _has_own_unit(cell: object) -> bool:
    if not isinstance(cell, str) or len(cell) > LONGEST_HEADING:
        return False
    try:
        # Where a plain number stands the unit given counts: two units that disagree tell it from one with its own.
        read = [units.read_quantity(cell, "length", units.BY_SYMBOL[symbol]) for symbol in ("cm", "in")]
    except ValueError:
        return False
    return read[0] == read[1]


def _total_by_its_parts(
    view: View, rows: Sequence[int], column: ShopColumn, columns: Sequence[ShopColumn]
) -> ShopColumn:
    """Take a column "Total" beside head, shaft and grip masses that add up to it for the club's mass;
    else it is asked.
    """
    if column.mapped or not column.unsure or column.heading.strip(" :").casefold() != "total":
        return column
    parts = [c for name in _PARTS for c in columns if c.quantity == name and c.unit == "g"]
    if len(parts) < len(_PARTS) or any(other.quantity == "mass" for other in columns):
        return column
    for row in rows:
        total, sums = view.values.get((row, column.at)), [view.values.get((row, part.at)) for part in parts]
        if not isinstance(total, float) or not all(isinstance(held, float) for held in sums):
            return column
        rest = total - sum(held for held in sums if isinstance(held, float))
        if not -1e-6 <= rest <= _LARGEST_REST:
            return column
    return replace(column, reading=HeadingReading("mass", "g", None), unsure="")
