"""The copy of a workbook without what was added to it before."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evenheft.ooxml.dangers import reaching
from evenheft.ooxml.edit import CellAt, edit_cells, write_parts
from evenheft.ooxml.edits import Edit, Emptied
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package, open_package
from evenheft.ooxml.reading import read_sheet
from evenheft.ooxml.undo import undone
from evenheft.shop.earlier import find_own, places_of


def remove(path: Path, to: Path, sheets: Sequence[str] = ()) -> int:
    """Write a copy without what was added: byte for byte as it was, where no other program has saved it since.

    Args:
        path: the workbook, which is only read [-].
        to: the copy, which must not exist yet [-].
        sheets: the sheets' names; left out, all [-].

    Returns:
        How many cells were emptied; 0 where the workbook is byte for byte as it was before [-].

    Raises:
        Refused: nothing was added to it, or the copy cannot be written.
    """
    with open_package(path) as package:
        names = [package.sheet(name).name for name in sheets] or [sheet.name for sheet in package.sheets]
        before = _before(package, names) if len(names) == len(package.sheets) else {}
        edits: dict[CellAt, Edit] = {}
        for name in names if not before else ():
            for place in places_of(find_own(read_sheet(package, name))):
                edits[name, *place] = Emptied()
        if not before and not edits:
            raise Refused(f"{path.name} holds nothing that was added")
    if before:
        write_parts(path, before, to=to)
        return 0
    edit_cells(path, edits, to=to)
    return len(edits)


def acting_in(path: Path) -> tuple[str, ...]:
    """Return a line for each kind of thing in a workbook that could act, or is hidden."""
    with open_package(path) as package:
        return (*package.warnings, *reaching(package))


def _before(package: Package, names: Sequence[str]) -> dict[str, bytes]:
    """Every part as it was before the first change, as far as the parts tell; none where one of them no longer does."""
    links = package.relationships(package.workbook_part).values()
    parts = [package.sheet(name).part for name in names]
    found: dict[str, bytes] = {}
    for part in [*parts, *(link.target for link in links if link.kind == "styles" and link.target in package.entries)]:
        text: bytes | None = bytes(package.read(part, to_scan=True))
        while text is not None and (text := undone(text)) is not None:
            found[part] = text
    for name in names:
        if package.sheet(name).part not in found and places_of(find_own(read_sheet(package, name))):
            return {}  # another program has saved this sheet since
    return found
