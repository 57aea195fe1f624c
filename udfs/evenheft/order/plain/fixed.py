"""What of a plain copy moves nothing any more: its inputs are locked and lose their frame; the first sheet says so.

An input is fixed once anything that follows it in the order stands as a value in the copy: moved in part, it would
look right and be wrong. Lines that only watch over lists are left out of this, where they have nothing to say.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable, Iterator, Mapping

from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import CellAt, More, edited
from evenheft.ooxml.edits import Edit, InPlaceOfFormula, Put, Relooked
from evenheft.ooxml.names import defined_names, unlocked_styles
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.places import Area, column_number
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.styles import StylesText

WATCHING = frozenset({"HEFT_ROLL", "HEFT_TWICE", "HEFT_MESSAGES"})
"""Formulas that look through lists for what is wrong in them."""
_TEXTS = re.compile(r'"[^"]*"')
_REFERENCE = re.compile(
    r"(?:(?:'((?:[^']|'')+)'|(\w+))!)?\$?([A-Z]{1,3})\$?([0-9]+)(?::\$?([A-Z]{1,3})\$?([0-9]+))?(?![\w(])|([A-Za-z_]\w*)"
)
_NOTE_AT = (2, 1)
"""Where a sheet says what it is for."""


def note(today: datetime.date) -> str:
    """Say what the first sheet of a plain copy says."""
    return (
        f"Fixed on {today.isoformat()}: what Evenheft computes stands in this copy as it was on that day. Cells that "
        "are still framed can be changed, and all that they move follows; no other cell is for typing."
    )


class OrderReader:
    """Which cells each formula of an order reads."""

    def __init__(self, package: CheckedPackage, sheets: Mapping[str, SheetContent], computed: Computed) -> None:
        """Remember the order.

        Args:
            package: its file [-].
            sheets: what each of its sheets holds [-].
            computed: the order, computed [-].
        """
        self.package, self.sheets = package, sheets
        self._computed = computed
        self._names = defined_names(package)

    def areas(self, sheet: str, formula: str) -> set[tuple[str, Area]]:
        """Find what a formula on a sheet reads."""
        found: set[tuple[str, Area]] = set()
        for match in _REFERENCE.finditer(_TEXTS.sub("", formula)):
            quoted, plain, left, top, right, bottom, name = match.groups()
            if name:
                if name.lower() in self._names:
                    found.add(self._names[name.lower()])
                continue
            where = quoted.replace("''", "'") if quoted else plain or sheet
            found.add((where, Area(int(top), column_number(left), int(bottom or top), column_number(right or left))))
        return found

    def formula(self, cell: CellAt) -> str:
        """Look up a cell's formula, "" where it holds none; one that shares its text is written by the engine."""
        sheet, row, column = cell
        content = self.sheets.get(sheet)
        if content is None or (row, column) not in content.formulas:
            return ""
        return content.formulas[row, column] or self._computed.formula(sheet, row, column) or ""

    def upstream(self, begin: Iterable[tuple[str, Area]]) -> set[CellAt]:
        """Find every cell of some areas, and every one that their formulas read, by way of others too."""
        seen: set[CellAt] = set()
        areas = set(begin)
        waiting = list(areas)
        while waiting:
            for cell in _cells(*waiting.pop()):
                if cell not in seen:
                    seen.add(cell)
                    new = self.areas(cell[0], self.formula(cell)) - areas
                    areas |= new
                    waiting += new
        return seen


_MOST_ROWS = 2000
"""How far down a range is followed: an order's sheets end long before."""


def _cells(sheet: str, area: Area) -> Iterator[CellAt]:
    for row in range(area.top, min(area.bottom, area.top + _MOST_ROWS) + 1):
        for column in range(area.left, area.right + 1):
            yield sheet, row, column


def with_fixed_inputs(
    made: bytes,
    order: OrderReader,
    frozen: Iterable[CellAt],
    formulas: Mapping[CellAt, str],
    today: datetime.date,
) -> bytes:
    """Lock the inputs of a plain copy that it no longer follows, take their frame, and say so on the first sheet.

    Args:
        made: the copy [-].
        order: the order that it is a copy of [-].
        frozen: the cells whose formula became a value in the copy [-].
        formulas: the ordinary formulas that took the place of others, by their cells [-].
        today: the day that is told [-].

    Raises:
        Refused: a part of the copy is written in a way that is not understood.
    """
    package, sheets = order.package, order.sheets
    unread = {area for cell in frozen for area in order.areas(cell[0], order.formula(cell))}
    for cell, text in formulas.items():  # what was written into a formula as the number it is now
        unread |= order.areas(cell[0], order.formula(cell)) - order.areas(cell[0], text)
    unlocked = unlocked_styles(package)
    fixed = [
        (sheet, row, column)
        for sheet, row, column in order.upstream(unread)
        if sheet in sheets
        and sheets[sheet].styles.get((row, column), 0) in unlocked
        and (row, column) not in sheets[sheet].formulas
    ]
    with CheckedPackage(made, name=package.name) as copy:
        links = copy.relationships(copy.workbook_part).values()
        styles = (link.target for link in links if link.kind == "styles" and link.target in copy.entries)
        part = next(styles, None)
        if part is None:  # without looks nothing is framed for typing
            copy.refuse("has no styles, by which a cell for typing is told from others: save it anew")
        looks = StylesText(copy.read(part), copy.refuse)
        edits: dict[CellAt, Edit] = {
            (sheet, row, column): Relooked(looks.locked(sheets[sheet].styles[row, column]))
            for sheet, row, column in fixed
        }
        first = next((sheet for sheet in copy.sheets if not sheet.hidden), None)
        if first is not None:
            is_formula = _NOTE_AT in read_sheet(copy, first.name).formulas
            edits[first.name, *_NOTE_AT] = InPlaceOfFormula("", note(today)) if is_formula else Put(note(today))
        changes = looks.changes()
        return edited(copy, edits, More(parts={part: changes} if changes else {}))
