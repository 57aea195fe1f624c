"""What else is on a sheet: charts and pictures over cells, tables of the program's own, the area that is printed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import chain

from evenheft.ooxml.checking import local_name
from evenheft.ooxml.package import Package
from evenheft.ooxml.places import Area, column_number
from evenheft.ooxml.reading import SheetContent, drawn_over
from evenheft.ooxml.values import whole_number

_RANGE = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Z]{1,3})\$?([0-9]{1,7}))?")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What stands on a sheet, or over it, besides the table that is looked at."""

    content: SheetContent
    drawn: tuple[Area, ...]
    framed: tuple[Area, ...]
    """The spreadsheet program's own tables, whose headings are theirs."""
    printed: tuple[Area, ...]
    """What is printed; none where the whole sheet is."""

    def is_free(self, area: Area, taken: tuple[Area, ...] = ()) -> bool:
        """Whether nothing at all stands in a rectangle, or over it, nor in what is taken besides."""
        areas = chain(self.drawn, self.framed, self.content.merged, taken)
        return not any(_overlap(area, other) for other in areas) and not self.used(area)

    def used(self, area: Area) -> bool:
        """Whether a cell in a rectangle holds something."""
        size = area.cells
        places = chain(self.content.values, self.content.formulas)
        if size > len(self.content.values) + len(self.content.formulas):
            return any(place in area for place in places)
        cells = ((row, at) for row in range(area.top, area.bottom + 1) for at in range(area.left, area.right + 1))
        return any(cell in self.content.values or cell in self.content.formulas for cell in cells)


def surroundings_of(package: Package, name: str, content: SheetContent) -> Surroundings:
    """Look at what a sheet holds besides its cells.

    Args:
        package: the workbook [-].
        name: the sheet's name [-].
        content: its cells [-].

    Raises:
        Refused: one of its parts is damaged.
    """
    return Surroundings(content, tuple(drawn_over(package, name)), _framed(package, name), _printed(package, name))


def _framed(package: Package, name: str) -> tuple[Area, ...]:
    found: list[Area] = []

    def note(tag: str, attributes: dict[str, str]) -> None:
        if local_name(tag) == "table" and (area := area_named(attributes.get("ref", ""))) is not None:
            found.append(area)

    for link in package.relationships(package.sheet(name).part).values():
        if link.kind == "table" and link.target in package.entries:
            package.walk(link.target, note)
    return tuple(found)


def _printed(package: Package, name: str) -> tuple[Area, ...]:
    """Return the print area, a name of the workbook that counts for one sheet."""
    sheets: list[str] = []
    texts: list[str] = []
    inside = ""

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal inside
        if local_name(tag) == "sheet":
            sheets.append(attributes.get("name", ""))
        elif local_name(tag) == "definedName" and attributes.get("name") == "_xlnm.Print_Area":
            inside = attributes.get("localSheetId", "")

    def end(tag: str) -> None:
        nonlocal inside
        if local_name(tag) == "definedName":
            inside = ""

    def text(piece: str) -> None:
        at = whole_number(inside, len(sheets))
        if at < len(sheets) and sheets[at] == name:
            texts.append(piece)

    package.walk(package.workbook_part, start, end, text)
    found = (area_named(piece.rpartition("!")[2]) for piece in "".join(texts).split(","))
    return tuple(area for area in found if area is not None)


def area_named(text: str) -> Area | None:
    """Return the rectangle that a text names, e.g. "$A$1:$H$9" or "Q3"; None where it names none."""
    match = _RANGE.fullmatch(text.strip().upper())
    if match is None:
        return None
    top, left = int(match[2]), column_number(match[1])
    bottom, right = (int(match[4]), column_number(match[3])) if match[3] else (top, left)
    return Area(min(top, bottom), min(left, right), max(top, bottom), max(left, right))


def _overlap(one: Area, other: Area) -> bool:
    return one.top <= other.bottom and one.bottom >= other.top and one.left <= other.right and one.right >= other.left
