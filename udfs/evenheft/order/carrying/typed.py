"""What was typed in an order of any layout, found by sheet, band and heading, never by a column's number."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from evenheft.formulas.wording import is_blank
from evenheft.hosts.calc.open_document import read_workbook
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.names import defined_names, unlocked_styles
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.places import Area, Place, column_number, reference
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.values import Held
from evenheft.order.layout import (
    EVERY_GROUP,
    HEADER_FIELDS,
    KIND_NAME,
    SETTINGS,
    STOCKS,
    TABLES,
    TYPED_ON_ORDER,
    Column,
    Table,
)
from evenheft.order.recognising import layout_number, words

_GUIDE = "Guide"
_MOST_ROWS = 200
"""How far down a sheet of an order is looked at [rows]."""
_REFERENCE = re.compile(r"=?'?([^'!]+)'?!\$?([A-Z]{1,3})\$?([1-9][0-9]{0,6})")


class Address(NamedTuple):
    """Where a typed value belongs, in the words of the layout of today."""

    table: str
    """A table's name in the layout, "named" for a cell with a name, or the name of a list of stock weights."""
    row: str
    """The club's number, the group's name, or the place in a list of stock weights; "" for a named cell."""
    key: str
    """The column's key, or the cell's name."""


@dataclass(frozen=True, slots=True)
class TypedValue:
    """A value that somebody typed."""

    at: str
    """The cell, as a person would name it, e.g. "Bench G9"."""
    value: Held | None
    to: Address | None
    """Where it belongs; None where it has no place in the layout of today."""
    label: str = ""
    """What the sheet calls the value, where it has no place; or why it has none."""
    formula: str = ""
    """The formula that stood there, of which only the value is carried."""


@dataclass
class OldOrder:
    """An order of any layout as its file holds it; nothing in it is computed."""

    path: Path
    package: CheckedPackage
    names: dict[str, tuple[str, Area]] = field(init=False)
    layout: int = field(init=False)
    used: set[tuple[str, int, int]] = field(init=False, default_factory=set)
    """The cells whose content has been understood."""

    def __post_init__(self) -> None:
        self.names = defined_names(self.package)
        self.layout = layout_number(self.named_value(KIND_NAME), self.path.name)

    @cached_property
    def unlocked(self) -> set[int]:
        """The cell formats that let a person type on a protected sheet."""
        return unlocked_styles(self.package)

    @cached_property
    def sheets(self) -> dict[str, SheetContent]:
        """What each sheet holds, by its name."""
        return {sheet.name: read_sheet(self.package, sheet.name) for sheet in self.package.sheets}

    def named(self, name: str) -> tuple[str, Area] | None:
        """Find the sheet and the area of a name; None where the workbook has no such name, or its sheet is gone."""
        found = self.names.get(name.lower())
        return found if found is not None and found[0] in self.sheets else None

    def named_value(self, name: str) -> Held | None:
        """Look up the value of a named cell."""
        found = self.named(name)
        return None if found is None else self.sheets[found[0]].value(found[1].top, found[1].left)

    def followed(self, sheet: str, row: int, column: int) -> Held | None:
        """Look up a cell's value; where none was ever computed, that of the cell that it only refers to."""
        content = self.sheets[sheet]
        value = content.value(row, column)
        found = _REFERENCE.fullmatch(content.formulas.get((row, column), "")) if value is None else None
        if found is None or found[1] not in self.sheets:
            return value
        return self.sheets[found[1]].value(int(found[3]), column_number(found[2]))

    def typed(self, sheet: str, place: Place, to: Address | None, label: str = "") -> TypedValue:
        """Take note of a cell, which is understood from now on."""
        self.used.add((sheet, *place))
        content = self.sheets[sheet]
        formula = content.formulas.get(place)
        return TypedValue(
            at=f"{sheet} {reference(*place)}",
            value=content.values.get(place),
            to=to,
            label=label,
            formula="" if formula is None else f"={formula}" if formula else "a formula",
        )


def open_old(path: Path) -> OldOrder:
    """Open an order of any layout up to today's.

    Raises:
        Refused: it is no workbook, is not safe to open, or is no order that this Evenheft knows.
    """
    return OldOrder(path, read_workbook(path))


def named_cells(old: OldOrder) -> Iterator[TypedValue]:
    """Find the cells that have names: who the order is for, reference clubs, the shop's settings; blank ones too."""
    settings = (setting.name for setting in SETTINGS if not setting.computed)
    for name in (*(name for name, _ in HEADER_FIELDS), *TYPED_ON_ORDER, *settings):
        found = old.named(name)
        if found is not None:
            sheet, area = found
            yield old.typed(sheet, (area.top, area.left), Address("named", "", name))


def stock_weights(old: OldOrder) -> Iterator[TypedValue]:
    """Find the lists of stock weights and their counts, each from its top; blank rows too."""
    for name in (name for sizes, counts, _, _ in STOCKS for name in (sizes, counts)):
        found = old.named(name)
        if found is not None:
            sheet, area = found
            for at, row in enumerate(range(area.top, area.bottom + 1)):
                yield old.typed(sheet, (row, area.left), Address(name, str(at), name))


def table_cells(old: OldOrder, table: Table) -> Iterator[TypedValue]:
    """Find what was typed in a table, found by its headings; rows by the club's number or the group's name."""
    content = old.sheets.get(table.sheet)
    heading_row = None if content is None else _heading_row(content, table)
    if content is None or heading_row is None:
        return
    columns = _columns(content, heading_row, table)
    key = table.columns[0].key
    if key not in columns:
        return
    for row in _rows(content, heading_row, columns[key], by_number=key == "number"):
        name = _row_name(old.followed(table.sheet, row, columns[key]), by_number=key == "number")
        for column in table.columns:
            at = columns.get(column.key)
            if at is None or column.role != "input":
                continue
            if column.key == "number":
                old.used.add((table.sheet, row, at))
                continue
            if (table.sheet, row, at) in old.used or (is_blank(content.values.get((row, at))) and name != EVERY_GROUP):
                continue
            if not name and content.styles.get((row, at), 0) not in old.unlocked:
                continue
            label = "" if name else f"{column.key.replace('_', ' ')}: its row has no {key}"
            yield old.typed(table.sheet, (row, at), Address(table.name, name, column.key) if name else None, label)


def left_over(old: OldOrder) -> Iterator[TypedValue]:
    """Find what stands in cells that are for typing, or beside and under the tables, and was not understood."""
    known = {table.sheet for table in TABLES.values()} | {_GUIDE}
    for name, content in old.sheets.items():
        if name not in known:
            yield TypedValue(name, "a sheet of your own", None, "copy it by hand")
            continue
        edge = _right_edge(content)
        for (row, column), value in sorted(content.values.items()):
            place = (row, column)
            free = (content.styles.get(place, 0) in old.unlocked and name != _GUIDE) or column > edge
            if not free or is_blank(value) or (name, *place) in old.used or place in content.formulas:
                continue
            yield old.typed(name, place, None, _label(content, row, column))


def _right_edge(content: SheetContent) -> int:
    """Return the last column that is drawn above a sheet's table or under its headings."""
    row = next((row for row in range(1, _MOST_ROWS) if _text(content, row, 1) == "No."), None)
    drawn = [column for at, column in content.styles if row is None or at <= row]
    return max(drawn, default=content.last_column)


def _label(content: SheetContent, row: int, column: int) -> str:
    """Return the nearest words above a cell or to its left, which say what it holds."""
    for above in range(row - 1, 0, -1):
        cell = (above, column)
        text = _text(content, *cell)
        if text and isinstance(content.values.get(cell), str):
            return text
    return next((text for left in range(column - 1, 0, -1) if (text := _text(content, row, left))), "")


def _text(content: SheetContent, row: int, column: int) -> str:
    formula = content.formulas.get((row, column))
    if formula:
        found = words(f"={formula}")
        if not found.startswith("="):
            return found
    value = content.value(row, column)
    return words(value) if isinstance(value, str) else ""


def _heading_row(content: SheetContent, table: Table) -> int | None:
    """Find the row that holds most of a table's headings, its first one among them."""
    wanted = {words(column.heading) for column in table.columns}
    best, most = None, 1
    for row in range(1, _MOST_ROWS):
        places = set(content.row(row)) | {c for r, c in content.formulas if r == row}
        found = {_text(content, row, column) for column in places} & wanted
        if words(table.columns[0].heading) in found and len(found) > most:
            best, most = row, len(found)
    return best


def _columns(content: SheetContent, row: int, table: Table) -> dict[str, int]:
    """Find the columns of a table: by heading and band, else by a heading that stands only once."""
    places = sorted(set(content.row(row)) | {c for r, c in content.formulas if r == row})
    there = [(column, _text(content, row, column), _band(content, row - 1, column)) for column in places]
    inputs = [column for column in table.columns if column.role == "input" or column is table.columns[0]]
    found: dict[str, int] = {}
    for column in inputs:
        named = words(column.heading)
        same = [at for at, text, band in there if text == named and band == words(column.band)]
        once = [at for at, text, _ in there if text == named]
        if not same and len(once) == 1 and _stands_once(inputs, column):
            same = once
        if same:
            found[column.key] = same[0]
    return found


def _stands_once(columns: list[Column], column: Column) -> bool:
    return sum(words(other.heading) == words(column.heading) for other in columns) == 1


def _band(content: SheetContent, row: int, column: int) -> str:
    """Return the words over a run of columns: merged in older layouts, since then in the run's first column."""
    merged = [area for area in content.merged if area.top <= row <= area.bottom]
    for area in merged:
        if (row, column) in area:
            return _text(content, area.top, area.left)
    if merged:
        return _text(content, row, column)
    return next((found for at in range(column, 0, -1) if (found := _text(content, row, at))), "")


def _rows(content: SheetContent, heading_row: int, column: int, *, by_number: bool) -> Iterator[int]:
    """Go through the rows under a heading; groups end at the first row without a name, clubs may have gaps."""
    for row in range(heading_row + 1, min(content.last_row, heading_row + _MOST_ROWS) + 1):
        if not by_number and is_blank(content.value(row, column)):
            if is_blank(content.value(row + 1, column)):
                return
            continue
        yield row


def _row_name(value: Held | None, *, by_number: bool) -> str:
    """Return what a row is found by, "" where it has none."""
    if by_number:
        return f"{value:g}" if isinstance(value, float) else ""
    # A shaft's number may be a plain number too.
    return value.strip() if isinstance(value, str) else f"{value:g}" if isinstance(value, float) else ""


def need_known_layout(old: OldOrder, newest: int) -> None:
    """Refuse an order that a newer Evenheft has made: what its cells mean is not known here."""
    if old.layout > newest:
        raise Refused(f"{old.path.name} was made by a newer Evenheft (layout {old.layout}): update Evenheft to read it")
