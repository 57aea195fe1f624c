"""A new order with what was typed in an older one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from evenheft.formulas.wording import is_blank, show
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.names import defined_names
from evenheft.ooxml.package import CheckedPackage, read_package
from evenheft.ooxml.values import CellError
from evenheft.order.carrying.first_layout import guesses_are_shipped, timing, typed_elsewhere
from evenheft.order.carrying.typed import (
    OldOrder,
    TypedValue,
    left_over,
    named_cells,
    need_known_layout,
    open_old,
    stock_weights,
    table_cells,
)
from evenheft.order.files import template_file, write_new
from evenheft.order.layout import (
    CLUB_ROWS,
    CLUB_TABLES,
    EVERY_GROUP,
    GRIPS,
    LAYOUT_VERSION,
    ORDER,
    SHAFTS,
    SHIPPED_USUAL,
    STOCK_ROWS,
    TABLES,
    TARGET,
    USUAL,
)


@dataclass(frozen=True, slots=True)
class Carried:
    """What has become of an older order's typed cells."""

    layout: int
    """The older order's layout."""
    cells: int
    """How many typed values the new order took over."""
    clubs: int
    left: tuple[str, ...]
    """What had no place, a line for each."""
    valued: tuple[str, ...]
    """Formulas of which the value was carried, a line for each."""


def carry(path: Path, to: Path) -> Carried:
    """Write a new order with what was typed in an older one, which is only read.

    Args:
        path: the older order, of any layout up to today's [-].
        to: the new one, .xlsx, .xltx or .ods, which must not exist yet [-].

    Raises:
        Refused: the older one is no order or a newer Evenheft's, or the new one cannot be written.
        EngineError: the embedded engine cannot compute the new one.
    """
    old = open_old(path)
    with old.package:
        need_known_layout(old, LAYOUT_VERSION)
        typed = [*_typed_in(old), *left_over(old)]
        usual = SHIPPED_USUAL if guesses_are_shipped(old) else {}
    with read_package(template_file("xltx" if to.suffix.lower() == ".xltx" else "xlsx")) as template:
        placing = _Placing(template, typed, usual)
        edits = placing.edits()
        if not placing.taken:
            raise Refused(f"nothing is typed in {path.name}: make a new order with evenheft new {to.name}")
        with CheckedPackage(edited(template, edits), name=to.name) as made:
            content = refreshed(made, Computed(made).value)
    write_new(to, content)
    return Carried(
        layout=old.layout,
        cells=len(placing.taken),
        clubs=len({cell.to.row for cell in placing.taken if cell.to is not None and cell.to.table == ORDER.name}),
        left=tuple(_line(cell, why) for cell, why in placing.left),
        valued=tuple(
            f"{cell.at}: {cell.formula} became its value, {_shown(cell)}" for cell in placing.taken if cell.formula
        ),
    )


def _typed_in(old: OldOrder) -> list[TypedValue]:
    typed = [*named_cells(old), *stock_weights(old)]
    typed += typed_elsewhere(old) if old.layout == 1 else ()
    typed += timing(old)
    for table in TABLES.values():
        typed += table_cells(old, table)
    return typed


class _Placing:
    """Gives each typed value its cell in the template."""

    def __init__(
        self, template: CheckedPackage, typed: Iterable[TypedValue], usual: Mapping[str, Mapping[str, object]]
    ) -> None:
        self._typed = tuple(typed)
        self._usual = usual
        self._names = defined_names(template)
        self._numbers = self._clubs()
        self._groups = {table.name: self._rows_of_groups(table.name) for table in (TARGET, USUAL, SHAFTS, GRIPS)}
        self.taken: list[TypedValue] = []
        """The values that had a place, blank ones left out."""
        self.left: list[tuple[TypedValue, str]] = []
        """The values that had none, and why."""

    def edits(self) -> dict[CellAt, Edit]:
        """Return what is to be put into the template's cells."""
        found: dict[CellAt, Edit] = {}
        for row, number in enumerate(self._numbers, start=ORDER.first_row):
            for table in CLUB_TABLES.values():
                found[table.sheet, row, table.at["number"]] = Put(float(number))
        found |= self._group_names()
        given: dict[CellAt, TypedValue] = {}
        for cell in self._typed:
            at, why = self._place(cell)
            if at is None or at in given:
                if not is_blank(cell.value):
                    self.left.append((cell, why or f"{given[at].at} has its place" if at in given else why))
                continue
            given[at] = cell
            if isinstance(cell.value, CellError):
                self.left.append((cell, "it is an error"))
                continue
            found[at] = Put(cell.value)
            if not is_blank(cell.value):
                self.taken.append(cell)
        return found

    def _place(self, cell: TypedValue) -> tuple[CellAt | None, str]:
        """Find the cell of today's layout, or say why there is none."""
        to = cell.to
        if to is None:
            return None, ""
        if to.table == "named" or to.table in self._names:
            named = self._names.get(to.key)
            if named is None:
                return None, "there is no such setting any more"
            sheet, area = named
            row = area.top + int(to.row or 0)
            return ((sheet, row, area.left), "") if row <= area.bottom else (None, f"only {STOCK_ROWS} sizes fit")
        table = TABLES[to.table]
        if to.key not in table.at:
            return None, "there is no such column any more"
        rows = self._groups.get(to.table) or {f"{n:g}": r for r, n in enumerate(self._numbers, start=table.first_row)}
        found = rows.get(to.row)
        if found is None:
            return None, f"there is no room for it ({to.row})"
        return (table.sheet, found, table.at[to.key]), ""

    def _clubs(self) -> list[float]:
        """Return the clubs' numbers in the order of the old list, and the unused ones after them."""
        there: dict[str, None] = {}
        for cell in sorted(self._typed, key=lambda c: c.to is None or c.to.table != ORDER.name):
            if cell.to is not None and cell.to.table in CLUB_TABLES and cell.to.key != "number" and cell.to.row:
                there[cell.to.row] = None
        numbers = [float(number) for number in there if _is_number(number)]
        unused = (float(n) for n in range(1, 10 * CLUB_ROWS) if float(n) not in numbers)
        return [*numbers, *(next(unused) for _ in range(CLUB_ROWS - len(numbers)))][:CLUB_ROWS]

    def _rows_of_groups(self, name: str) -> dict[str, int]:
        """Return the row of each group in today's table of targets, or of what is usual."""
        table = TABLES[name]
        there = dict.fromkeys(c.to.row for c in self._typed if c.to is not None and c.to.table == TARGET.name)
        own = dict.fromkeys(c.to.row for c in self._typed if c.to is not None and c.to.table == USUAL.name)
        if name in (SHAFTS.name, GRIPS.name):
            names = [c.to.row for c in self._typed if c.to is not None and c.to.table == name]
        elif name == TARGET.name:
            names = list(there)
        else:
            names = [EVERY_GROUP, *(group for group in (*there, *own) if group != EVERY_GROUP)]
        return {group: row for row, group in enumerate(dict.fromkeys(names), start=table.first_row)
                if row <= table.last_row}  # fmt: skip

    def _group_names(self) -> dict[CellAt, Edit]:
        """Return the names of the groups, in place of what a new order begins with."""
        found: dict[CellAt, Edit] = {}
        for name, rows in self._groups.items():
            if name in (SHAFTS.name, GRIPS.name):
                continue  # a new order begins with none, and their names are typed like all else
            table = TABLES[name]
            by_row = {row: group for group, row in rows.items()}
            for row in range(table.first_row, table.first_row + table.rows):
                group = by_row.get(row)
                usual = self._usual.get(group or "", {}) if name == USUAL.name else {}
                if group == EVERY_GROUP:
                    continue
                for column in table.columns:
                    if column.role == "input":
                        held = usual.get(column.key)
                        found[table.sheet, row, table.at[column.key]] = Put(str(held) if held is not None else None)
                found[table.sheet, row, table.at["group"]] = Put(group)
        return found


def _is_number(text: str) -> bool:
    try:
        return float(text) == int(float(text))
    except ValueError:
        return False


def _shown(cell: TypedValue) -> str:
    return cell.value.code if isinstance(cell.value, CellError) else show(cell.value)


def _line(cell: TypedValue, why: str) -> str:
    """Say of a value that it had no place, and why."""
    reason = f" ({why})" if why else ""
    label = f", {cell.label}" if cell.label else ""
    return f"{cell.at}{label}: {_shown(cell)}{reason}"
