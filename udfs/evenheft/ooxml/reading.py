"""What a sheet of somebody's workbook holds: values as they are stored, never computed."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from functools import cached_property

from evenheft.ooxml.checking import local_name
from evenheft.ooxml.package import Package
from evenheft.ooxml.places import SHEET_COLUMNS, SHEET_ROWS, Area, AreasByRow, Place, area_of, column_number
from evenheft.ooxml.values import CellError, Held, whole_number

MOST_CELLS = 4_000_000
"""Above which a sheet is not read into memory."""

_EMU_WIDE, _EMU_HIGH = 609_600, 190_500
"""A usual column's width and a usual row's height, where a drawing tells its size instead of its end."""
_CORNER = 2
"""Numbers that tell a drawing's corner: column and row."""
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_NAME = re.compile(r"\$?([A-Z]{1,3})\$?([1-9][0-9]*)")


@dataclass
class SheetContent:
    """A sheet's values, and what a reader must know of its layout."""

    values: dict[Place, Held] = field(default_factory=dict)
    formulas: dict[Place, str] = field(default_factory=dict)
    """The text of each formula, "" for a cell that shares another's."""
    shared: dict[Place, str] = field(default_factory=dict)
    """The group of each formula that shares its text with others."""
    arrays: set[Place] = field(default_factory=set)
    """The first cell of each formula that fills a range."""
    styles: dict[Place, int] = field(default_factory=dict)
    merged: list[Area] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: list[tuple[int, int]] = field(default_factory=list)
    is_protected: bool = False

    def value(self, row: int, column: int) -> Held | None:
        """Look up a cell's value; a cell inside merged ones has that of the first."""
        found = self.values.get((row, column))
        if found is None:
            area = self.merged_rows.holding(row, column)
            return None if area is None else self.values.get((area.top, area.left))
        return found

    @cached_property
    def merged_rows(self) -> AreasByRow:
        """The merged areas by their rows; to be asked once the sheet has been read."""
        return AreasByRow(self.merged)

    @cached_property
    def _by_row(self) -> dict[int, dict[int, Held]]:
        rows: dict[int, dict[int, Held]] = {}
        for (row, column), value in self.values.items():
            rows.setdefault(row, {})[column] = value
        return rows

    def row(self, number: int) -> dict[int, Held]:
        """Return a row's values by their column; to be asked once the sheet has been read."""
        return self._by_row.get(number, {})

    def is_hidden(self, column: int) -> bool:
        """Whether a column is hidden."""
        return any(first <= column <= last for first, last in self.hidden_columns)

    @cached_property
    def last_row(self) -> int:
        """The last row that holds something, 0 where none does."""
        return max((row for row, _ in (*self.values, *self.formulas)), default=0)

    @cached_property
    def last_column(self) -> int:
        """The last column that holds something, 0 where none does."""
        return max((column for _, column in (*self.values, *self.formulas)), default=0)


def read_sheet(package: Package, name: str) -> SheetContent:
    """Read a sheet's stored values.

    Args:
        package: the workbook [-].
        name: the sheet's name, in any case [-].

    Raises:
        Refused: there is no such sheet, or it is damaged.
    """
    return read_cells(package, package.sheet(name).part)


def read_cells(package: Package, part: str) -> SheetContent:
    """Read the stored values of a part that holds cells, be it a worksheet's or an old macro sheet's.

    Args:
        package: the workbook [-].
        part: the part's name [-].

    Raises:
        Refused: it is damaged.
    """
    reader = _Reader(package, _shared_texts(package))
    package.walk(part, reader.start, reader.end, reader.text)
    return reader.content


def drawn_over(package: Package, name: str) -> list[Area]:
    """Find the cells that a sheet's charts and pictures lie over.

    Args:
        package: the workbook [-].
        name: the sheet's name, in any case [-].

    Raises:
        Refused: a drawing is damaged.
    """
    areas: list[Area] = []
    places: list[int] = []
    pieces: list[str] = []
    size = (0, 0)
    corner = ""

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal corner, size
        name = local_name(tag)
        pieces.clear()
        if name.endswith("CellAnchor"):
            places.clear()
            size = (0, 0)
        elif name in ("from", "to"):
            corner = name
        elif name == "ext" and "cx" in attributes and size == (0, 0):
            size = (whole_number(attributes["cy"], 0) // _EMU_HIGH, whole_number(attributes["cx"], 0) // _EMU_WIDE)

    def end(tag: str) -> None:
        nonlocal corner
        name = local_name(tag)
        if name in ("col", "row") and corner:
            places.append(whole_number("".join(pieces).strip(), 0) + 1)
        elif name == corner:
            corner = ""
        elif name.endswith("CellAnchor") and len(places) >= _CORNER:
            column, row = places[:_CORNER]
            right, bottom = places[_CORNER:] or (column + size[1], row + size[0])
            areas.append(Area(row, column, bottom, right))

    for link in package.relationships(package.sheet(name).part).values():
        if link.kind == "drawing" and link.target in package.entries:
            package.walk(link.target, start, end, pieces.append)
    return areas


class _Reader:
    """Follows a sheet's XML."""

    def __init__(self, package: Package, texts: list[str]) -> None:
        self.content = SheetContent()
        self._package = package
        self._texts = texts
        self._row = self._column = 0
        self._kind = "n"
        self._pieces: list[str] = []
        self._listening = False
        self._value: str | None = None
        self._phonetic = False

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        name = local_name(tag)
        if name == "c":
            self._begin_cell(attributes)
        elif name == "row":
            self._row = whole_number(attributes["r"], SHEET_ROWS + 1) if "r" in attributes else self._row + 1
            if not 1 <= self._row <= SHEET_ROWS:
                self._package.refuse("is damaged: it holds a row that no sheet has")
            self._column = 0
            if attributes.get("hidden") in ("1", "true"):
                self.content.hidden_rows.add(self._row)
        elif name in ("v", "f", "t") and not self._phonetic:
            self._pieces, self._listening = [], True
            if name == "f" and attributes.get("t") == "shared":
                self.content.shared[self._row, self._column] = attributes.get("si", "")
            elif name == "f" and attributes.get("t") in ("array", "dataTable"):
                self.content.arrays.add((self._row, self._column))
        elif name == "rPh":
            self._phonetic = True
        elif name == "col" and attributes.get("hidden") in ("1", "true"):
            first, last = whole_number(attributes.get("min"), 1), whole_number(attributes.get("max"), 1)
            self.content.hidden_columns.append((first, last))
        elif name == "mergeCell" and (area := area_of(attributes.get("ref", ""))) is not None:
            self.content.merged.append(area)
        elif name == "sheetProtection":
            self.content.is_protected = attributes.get("sheet") in ("1", "true")

    def end(self, tag: str) -> None:
        name = local_name(tag)
        if name == "v":
            self._value = "".join(self._pieces)
        elif name == "t" and not self._phonetic:
            self._value = (self._value or "") + "".join(self._pieces)
        elif name == "f":
            self.content.formulas[self._row, self._column] = "".join(self._pieces)
        elif name == "rPh":
            self._phonetic = False
        elif name == "c":
            self._end_cell()
        if name in ("v", "f", "t"):
            self._listening = False

    def text(self, piece: str) -> None:
        if self._listening:
            self._pieces.append(piece)

    def _begin_cell(self, attributes: dict[str, str]) -> None:
        if self._row < 1:
            self._package.refuse("is damaged: it holds a cell outside of any row")
        found = _NAME.fullmatch(attributes.get("r", ""))
        self._column = column_number(found[1]) if found else self._column + 1
        if self._column > SHEET_COLUMNS:
            self._package.refuse("is damaged: it holds a column that no sheet has")
        self._kind = attributes.get("t", "n")
        self._value = None
        if "s" in attributes:
            self.content.styles[self._row, self._column] = whole_number(attributes["s"], 0)

    def _end_cell(self) -> None:
        held = self._held()
        if held is not None and held != "":
            if len(self.content.values) >= MOST_CELLS:
                self._package.refuse(f"holds more than {MOST_CELLS} cells in one sheet")
            self.content.values[self._row, self._column] = held

    def _held(self) -> Held | None:
        text = self._value
        if text is None:
            return None
        if self._kind == "s":
            place = whole_number(text.strip(), -1)
            return self._texts[place] if 0 <= place < len(self._texts) else None
        if self._kind in ("str", "inlineStr", "d"):
            return _decoded(text)
        if self._kind == "e":
            return CellError(text.strip())
        if self._kind == "b":
            return text.strip() in ("1", "true")
        return _number_or_text(text)


def _shared_texts(package: Package) -> list[str]:
    links = package.relationships(package.workbook_part).values()
    part = next((link.target for link in links if link.kind == "sharedStrings" and link.target in package.entries), "")
    texts: list[str] = []
    pieces: list[str] = []
    listening = phonetic = False

    def start(tag: str, _: dict[str, str]) -> None:
        nonlocal listening, phonetic
        name = local_name(tag)
        phonetic = phonetic or name == "rPh"
        listening = name == "t" and not phonetic
        if name == "si":
            pieces.clear()

    def end(tag: str) -> None:
        nonlocal listening, phonetic
        name = local_name(tag)
        listening = False
        if name == "rPh":
            phonetic = False
        elif name == "si":
            texts.append(_decoded("".join(pieces)))

    if part:
        package.walk(part, start, end, lambda piece: pieces.append(piece) if listening else None)
    return texts


def _number_or_text(text: str) -> float | str:
    """Read a number cell's value; what is none that a sheet can hold (1e999, nan) stays the text that it is."""
    try:
        number = float(text)
    except ValueError:
        return text
    return number if math.isfinite(number) else text


def _decoded(text: str) -> str:
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)
