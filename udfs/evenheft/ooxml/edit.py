"""The safe hand: cells of somebody's workbook changed, and every other part of it left byte for byte.

The parts of the package are copied as they are packed, not unpacked and packed again; only a sheet
whose cells change is written anew, and in it only those cells (see `cells`).
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from evenheft.ooxml.cells import Bytes, SheetText
from evenheft.ooxml.edits import Cached, Edit
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package, open_package, relationships_part
from evenheft.ooxml.places import Place
from evenheft.ooxml.replace import FileState, state_of, written_beside
from evenheft.ooxml.rewriting import Rewriting
from evenheft.ooxml.values import CellError, Written

CellAt: TypeAlias = tuple[str, int, int]
"""A sheet's name, and a row and a column from 1."""

NOT_COMPUTED = ("#NAME?", "#N/IMPL!", "#ERROR!", "#CANCELLED!", "#CIRC!")
"""Error values by which an engine says that it cannot compute a formula, not that its answer is an error."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What an edit has done."""

    changed: int
    """Cells that hold something else than before; with none, the file was not written."""
    left: int = 0
    """Formulas whose shown value was kept, since it could not be computed."""


def edit_cells(
    path: Path,
    edits: Mapping[CellAt, Edit],
    *,
    package: Package | None = None,
    to: Path | None = None,
    backup: bool = False,
    expected: FileState | None = None,
) -> Outcome:
    """Change cells of a workbook.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        edits: what to do to each cell [-].
        package: the workbook where it has been opened already; give `expected` too [-].
        to: a new file to write instead, which must not exist yet [-].
        backup: whether the old file is kept as NAME.bak [-].
        expected: `state_of` the workbook when the edits were thought out; a change since is refused [-].

    Returns:
        How many cells changed. Where none did, the workbook is not written again [-].

    Raises:
        Refused: the workbook cannot be read, the edit would break something in it, or the file
            cannot be written; it is then unchanged.
    """
    before = _expected_state(path, expected)
    with _opened(path, package) as book:
        pieces: dict[str, list[Bytes]] = {}
        changed = 0
        for name, places in _by_sheet(edits).items():
            text = sheet_text(book, name)
            _keep_table_headings(book, name, text, places)
            pieces[book.sheet(name).part], count = text.edited(places)
            changed += count
        if changed or to is not None:
            _write(book, pieces if changed else {}, to or path, expected=before, new=to is not None, backup=backup)
    return Outcome(changed)


def refresh_cached(
    path: Path,
    values: Mapping[CellAt, Written],
    *,
    to: Path | None = None,
    backup: bool = False,
    expected: FileState | None = None,
) -> Outcome:
    """Set the shown results of formulas, so that previews and phones tell what was computed.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        values: the result of each cell; every cell must hold a formula [-].
        to: as in `edit_cells` [-].
        backup: as in `edit_cells` [-].
        expected: as in `edit_cells` [-].

    Returns:
        How many results changed [-].

    Raises:
        Refused: as in `edit_cells`.
    """
    edits = {place: Cached(value) for place, value in values.items()}
    return edit_cells(path, edits, to=to, backup=backup, expected=expected)


def refresh_all(
    path: Path,
    compute: Callable[[str, int, int], Written],
    *,
    package: Package | None = None,
    sheets: Iterable[str] | None = None,
    to: Path | None = None,
    backup: bool = False,
    expected: FileState | None = None,
) -> Outcome:
    """Set the shown results of every formula in a workbook, e.g. from `hosts.embedded.Computed.value`.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        compute: the result of a cell, by its sheet's name, row and column [-].
        package: as in `edit_cells` [-].
        sheets: the names of the sheets to refresh; left out, all [-].
        to: as in `edit_cells` [-].
        backup: as in `edit_cells` [-].
        expected: as in `edit_cells` [-].

    Returns:
        How many results changed, and how many were left since they could not be computed [-].

    Raises:
        Refused: as in `edit_cells`.
    """
    before = _expected_state(path, expected)
    with _opened(path, package) as book:
        pieces: dict[str, list[Bytes]] = {}
        changed = left = 0
        for sheet in [book.sheet(name) for name in sheets] if sheets is not None else book.sheets:
            text = sheet_text(book, sheet.name)
            results, uncomputed = _results(text, sheet.name, compute)
            new, count = text.edited(results)
            if count:
                pieces[sheet.part] = new
            changed, left = changed + count, left + uncomputed
        if changed or to is not None:
            _write(book, pieces, to or path, expected=before, new=to is not None, backup=backup)
    return Outcome(changed, left)


def _results(text: SheetText, name: str, compute: Callable[[str, int, int], Written]) -> tuple[dict[Place, Edit], int]:
    """Return the results of a sheet's formulas, and how many could not be computed."""
    results: dict[Place, Edit] = {}
    left = 0
    for row, column in text.formula_cells():
        value = compute(name, row, column)
        if isinstance(value, CellError) and value.code in NOT_COMPUTED:
            left += 1
        else:
            results[row, column] = Cached(value)
    return results, left


def _expected_state(path: Path, expected: FileState | None) -> FileState | None:
    """Return the state that the file must still have when it is replaced; refused where it is another already."""
    before = state_of(path)
    if expected is not None and before != expected:
        raise Refused(f"{path.name} was changed by another program meanwhile: run this again")
    return before


@contextmanager
def _opened(path: Path, package: Package | None) -> Iterator[Package]:
    """Hand on a package that is open already, or open the file for as long as it is needed."""
    if package is not None:
        yield package
        return
    with open_package(path) as opened:
        yield opened


def replaced_formulas(package: Package, edits: Mapping[CellAt, Edit]) -> bytes:
    """Replace some formulas of a workbook by others or by values, and return its bytes.

    The list of the order in which formulas are computed may no longer fit, so it is left out; a
    spreadsheet program makes its own when it opens the file. Every other part stays as it was.

    Args:
        package: the workbook [-].
        edits: what stands in the place of each formula [-].

    Raises:
        Refused: a sheet is not understood.
    """
    pieces: dict[str, list[Bytes]] = {}
    for name, places in _by_sheet(edits).items():
        pieces[package.sheet(name).part], _ = sheet_text(package, name).edited(places)
    links = package.relationships(package.workbook_part).values()
    dropped = {link.target for link in links if link.kind == "calcChain" and link.target in package.entries}
    for part in dropped:
        pieces |= _without_mention(package, part)
    stream = io.BytesIO()
    Rewriting(package, pieces, stream, dropped).run()
    return stream.getvalue()


def _by_sheet(edits: Mapping[CellAt, Edit]) -> dict[str, dict[Place, Edit]]:
    found: dict[str, dict[Place, Edit]] = {}
    for (sheet, row, column), edit in edits.items():
        found.setdefault(sheet, {})[row, column] = edit
    return found


def _without_mention(package: Package, part: str) -> dict[str, list[Bytes]]:
    """The two lists that name the part, without it."""
    links = relationships_part(package.workbook_part)
    name = re.escape(part.rpartition("/")[2].encode())
    tag = rb"<(?:\w+:)?%b\b[^>]*?(?:/>|>\s*</(?:\w+:)?%b\s*>)"
    found: dict[str, list[Bytes]] = {}
    for listed, element in ((links, b"Relationship"), ("[Content_Types].xml", b"Override")):
        text = bytes(package.read(listed))
        for match in re.finditer(tag % (element, element), text):
            if re.search(rb"[\"'/]" + name + rb"[\"']", match[0]):
                text = text.replace(match[0], b"")
        found[listed] = [text]
    return found


def sheet_text(package: Package, name: str) -> SheetText:
    """Open a sheet of a package, ready to be read and changed; refused where it is not understood."""
    sheet = package.sheet(name)
    return SheetText(
        package.read(sheet.part, to_scan=True),
        label=f'{package.name}, sheet "{sheet.name}",',
        epoch_1904=package.epoch_1904,
    )


def _keep_table_headings(package: Package, name: str, text: SheetText, places: Mapping[Place, Edit]) -> None:
    """Refuse to change a heading that a table knows its column by: the two would no longer agree."""
    for link in package.relationships(package.sheet(name).part).values():
        if link.kind == "table" and link.target in package.entries:
            package.walk(link.target, lambda tag, attributes: text.keep_table_frame(tag, attributes, places))


def _write(
    package: Package,
    pieces: Mapping[str, list[Bytes]],
    target: Path,
    *,
    expected: FileState | None,
    new: bool,
    backup: bool,
) -> None:
    if pieces and any(name.lower().startswith("_xmlsignatures/") for name in package.entries):
        package.refuse("is digitally signed: a change would break its signature, so it is left as it is")
    with written_beside(target, backup=backup, overwrite=not new, expected=None if new else expected) as stream:
        Rewriting(package, pieces, stream).run()
