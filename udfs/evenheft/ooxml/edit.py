"""The safe hand: cells of somebody's workbook changed, and every other part of it left byte for byte.

The parts of the package are copied as they are packed, not unpacked and packed again; only a sheet
whose cells change is written anew, and in it only those cells (see `cells`).
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeAlias

from evenheft.ooxml.additions import Additions, Change, pieces_of
from evenheft.ooxml.cells import Bytes, SheetText
from evenheft.ooxml.edits import Cached, Edit
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package, Sheet, open_package
from evenheft.ooxml.places import Place
from evenheft.ooxml.relationships import relationships_part
from evenheft.ooxml.replace import FileState, state_of, written_beside
from evenheft.ooxml.rewriting import Rewriting
from evenheft.ooxml.undo import with_remark
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
    more: More | None = None,
) -> Outcome:
    """Change cells of a workbook.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        edits: what to do to each cell [-].
        package: the workbook where it has been opened already; give `expected` too [-].
        to: a new file to write instead, which must not exist yet [-].
        backup: whether the old file is kept as NAME.bak [-].
        expected: `state_of` the workbook when the edits were thought out; a change since is refused [-].
        more: what comes along with the cells; nothing when left out [-].

    Returns:
        How many cells changed. Where none did, the workbook is not written again [-].

    Raises:
        Refused: the workbook cannot be read, the edit would break something in it, or the file
            cannot be written; it is then unchanged.
    """
    before = _expected_state(path, expected)
    more = more or More()
    with _opened(path, package) as book:
        pieces, changed = _edited_pieces(book, edits, more)
        if changed or to is not None:
            _write(book, pieces, to or path, expected=before, new=to is not None, backup=backup)
    return Outcome(changed)


def edited(package: Package, edits: Mapping[CellAt, Edit], more: More | None = None) -> bytes:
    """Return a workbook's bytes with cells changed, for whoever does more to it before it becomes a file.

    Args:
        package: the workbook [-].
        edits: what to do to each cell [-].
        more: what comes along with the cells; nothing when left out [-].

    Raises:
        Refused: as in `edit_cells`.
    """
    return _bytes_of(package, _edited_pieces(package, edits, more or More())[0])


def refreshed(package: Package, compute: Callable[[str, int, int], Written]) -> bytes:
    """Return a workbook's bytes with the shown results of every formula set; see `refresh_all`.

    Args:
        package: the workbook [-].
        compute: the result of a cell, by its sheet's name, row and column [-].

    Raises:
        Refused: as in `edit_cells`.
    """
    return _bytes_of(package, _refreshed_pieces(package, package.sheets, compute)[0])


def _edited_pieces(package: Package, edits: Mapping[CellAt, Edit], more: More) -> tuple[dict[str, list[Bytes]], int]:
    """Return the new bytes of the parts that change, none where no cell does, and how many cells do."""
    pieces: dict[str, list[Bytes]] = {}
    changed = 0
    for name, places in _by_sheet(edits).items():
        text = sheet_text(package, name)
        _keep_table_headings(package, name, text, places)
        changes, count = text.changes(places, more.additions.get(name))
        pieces[package.sheet(name).part] = pieces_of(text.text, _remarked(text.text, changes, more))
        changed += count
    for part, changes in more.parts.items():
        content = package.read(part)
        pieces[part] = pieces_of(content, _remarked(content, changes, more))
    return (pieces, changed) if changed else ({}, 0)


def _refreshed_pieces(
    package: Package, sheets: Iterable[Sheet], compute: Callable[[str, int, int], Written]
) -> tuple[dict[str, list[Bytes]], Outcome]:
    """Return the new bytes of the sheets whose results change, and what was done."""
    pieces: dict[str, list[Bytes]] = {}
    changed = left = 0
    for sheet in sheets:
        text = sheet_text(package, sheet.name)
        results, uncomputed = _results(text, sheet.name, compute)
        new, count = text.edited(results)
        if count:
            pieces[sheet.part] = new
        changed, left = changed + count, left + uncomputed
    return pieces, Outcome(changed, left)


def _bytes_of(package: Package, pieces: Mapping[str, list[Bytes]]) -> bytes:
    _need_unsigned(package, pieces)
    stream = io.BytesIO()
    Rewriting(package, pieces, stream).run()
    return stream.getvalue()


@dataclass(frozen=True)
class More:
    """What comes along with changed cells."""

    additions: Mapping[str, Additions] = field(default_factory=dict)
    """Widths and rules, by the sheet's name."""
    parts: Mapping[str, list[Change]] = field(default_factory=dict)
    """Changes of other parts, such as the list of looks."""
    undoable: bool = False
    """Whether each changed part tells at its end how it was."""


def write_parts(path: Path, parts: Mapping[str, bytes], *, to: Path) -> None:
    """Write a copy of a workbook with some parts replaced, every other one as it is packed.

    Args:
        path: the workbook, which is only read [-].
        parts: the new bytes by the parts' names [-].
        to: the copy, which must not exist yet [-].

    Raises:
        Refused: the workbook cannot be read, or the copy cannot be written.
    """
    with open_package(path) as book:
        pieces: dict[str, list[Bytes]] = {name: [content] for name, content in parts.items()}
        _write(book, pieces, to, expected=None, new=True, backup=False)


def _remarked(text: bytes | bytearray, changes: list[Change], more: More) -> list[Change]:
    return with_remark(text, changes) if more.undoable else changes


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
        chosen = [book.sheet(name) for name in sheets] if sheets is not None else book.sheets
        pieces, outcome = _refreshed_pieces(book, chosen, compute)
        if outcome.changed or to is not None:
            _write(book, pieces, to or path, expected=before, new=to is not None, backup=backup)
    return outcome


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
    """Return the two lists that name the part, without it."""
    links = relationships_part(package.workbook_part)
    name = re.escape(part.rpartition("/")[2].encode())
    tag = rb"<(?:\w+:)?%b\b[^<>]*?(?:/>|>\s*</(?:\w+:)?%b\s*>)"
    found: dict[str, list[Bytes]] = {}
    for named, element in ((links, b"Relationship"), ("[Content_Types].xml", b"Override")):
        listed = package.part_named(named)
        text = bytes(package.read(listed))
        for match in re.finditer(tag % (element, element), text):
            if re.search(rb"[\"'/]" + name + rb"[\"']", match[0], re.IGNORECASE):
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
    _need_unsigned(package, pieces)
    with written_beside(target, backup=backup, overwrite=not new, expected=None if new else expected) as stream:
        Rewriting(package, pieces, stream).run()


def _need_unsigned(package: Package, pieces: Mapping[str, list[Bytes]]) -> None:
    if pieces and any(name.lower().startswith("_xmlsignatures/") for name in package.entries):
        package.refuse("is digitally signed: a change would break its signature, so it is left as it is")
