"""The safe hand: cells of somebody's workbook changed, and every other part of it left byte for byte.

The parts of the package are copied as they are packed, not unpacked and packed again; only a sheet
whose cells change is written anew, and in it only those cells (see `cells`).
"""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, TypeAlias

from evenheft.formulas.kinds import CellError
from evenheft.ooxml.cells import Bytes, Cached, Edit, SheetText, Written
from evenheft.ooxml.package import Package, Refused, open_package
from evenheft.ooxml.places import Place
from evenheft.ooxml.replace import FileState, state_of, written_beside

CellAt: TypeAlias = tuple[str, int, int]
"""A sheet's name, and a row and a column from 1."""

_COPY = 1 << 20
_LEVEL = 2
"""Of packing: a tenth larger than the usual 6, in a fifth of its time; spreadsheet programs pack no more tightly."""
_UNKNOWN = 0xFFFFFFFF
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
    to: Path | None = None,
    backup: bool = False,
    expected: FileState | None = None,
) -> Outcome:
    """Change cells of a workbook.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        edits: what to do to each cell [-].
        to: a new file to write instead, which must not exist yet [-].
        backup: whether the old file is kept as NAME.bak [-].
        expected: `state_of` the workbook when the edits were thought out; a change since is refused [-].

    Returns:
        How many cells changed. Where none did, the workbook is not written again [-].

    Raises:
        Refused: the workbook cannot be read, the edit would break something in it, or the file
            cannot be written; it is then unchanged.
    """
    before = state_of(path)
    if expected is not None and before != expected:
        raise Refused(f"{path.name} was changed by another program meanwhile: run this again")
    with open_package(path) as package:
        pieces: dict[str, list[Bytes]] = {}
        changed = 0
        for name, places in _by_sheet(edits).items():
            text = sheet_text(package, name)
            _keep_table_headings(package, name, text, places)
            pieces[package.sheet(name).part], count = text.edited(places)
            changed += count
        if changed or to is not None:
            still = before if to is None else None
            _write(package, pieces if changed else {}, to or path, expected=still, new=to is not None, backup=backup)
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
    sheets: Iterable[str] | None = None,
    to: Path | None = None,
    backup: bool = False,
    expected: FileState | None = None,
) -> Outcome:
    """Set the shown results of every formula in a workbook, e.g. from `hosts.embedded.Computed.value`.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        compute: the result of a cell, by its sheet's name, row and column [-].
        sheets: the names of the sheets to refresh; left out, all [-].
        to: as in `edit_cells` [-].
        backup: as in `edit_cells` [-].
        expected: as in `edit_cells` [-].

    Returns:
        How many results changed, and how many were left since they could not be computed [-].

    Raises:
        Refused: as in `edit_cells`.
    """
    values: dict[CellAt, Written] = {}
    left = 0
    with open_package(path) as package:
        for sheet in [package.sheet(name) for name in sheets] if sheets is not None else package.sheets:
            for row, column in sheet_text(package, sheet.name).formula_cells():
                value = compute(sheet.name, row, column)
                if isinstance(value, CellError) and value.code in NOT_COMPUTED:
                    left += 1
                else:
                    values[sheet.name, row, column] = value
    return Outcome(refresh_cached(path, values, to=to, backup=backup, expected=expected).changed, left)


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
    _Rewriting(package, pieces, stream, dropped).run()
    return stream.getvalue()


def _by_sheet(edits: Mapping[CellAt, Edit]) -> dict[str, dict[Place, Edit]]:
    found: dict[str, dict[Place, Edit]] = {}
    for (sheet, row, column), edit in edits.items():
        found.setdefault(sheet, {})[row, column] = edit
    return found


def _without_mention(package: Package, part: str) -> dict[str, list[Bytes]]:
    """Rewrite the two lists that name the part, without it."""
    folder, _, file = package.workbook_part.rpartition("/")
    links = f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels"
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
        told=f'{package.name}, sheet "{sheet.name}",',
        epoch_1904=package.epoch_1904,
    )


def _keep_table_headings(package: Package, name: str, text: SheetText, places: Mapping[Place, Edit]) -> None:
    """Refuse to change a heading that a table knows its column by: the two would no longer agree."""
    for link in package.relationships(package.sheet(name).part).values():
        if link.kind == "table" and link.target in package.entries:
            package.walk(link.target, lambda tag, attributes: text.keep_table_frame(tag, attributes, places))


# ---------------------------------------------------------------------- the package


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
    with written_beside(target, backup=backup, overwrite=not new, expected=expected) as stream:
        _Rewriting(package, pieces, stream).run()


class _Rewriting:
    """One package written anew: old records copied packed as they are, changed parts packed afresh."""

    def __init__(
        self,
        package: Package,
        pieces: Mapping[str, list[Bytes]],
        stream: BinaryIO,
        dropped: Collection[str] = (),
    ) -> None:
        self._told = package.name
        self._source = package.source
        self._directory = package.directory
        self._dropped = dropped
        self._start_of_directory = package.start_of_directory
        self._comment = package.comment
        self._pieces = pieces
        self._stream = stream

    def run(self) -> None:
        """Write the package."""
        moved: dict[int, tuple[int, int, int] | None] = {}  # by old offset: the new sizes and sum where changed
        places: dict[int, int] = {}
        ordered = sorted(self._directory, key=lambda entry: entry.header_offset)
        ends = [entry.header_offset for entry in ordered[1:]] + [self._start_of_directory]
        for entry, end in zip(ordered, ends, strict=True):
            places[entry.header_offset] = self._stream.tell()
            if entry.filename in self._dropped:
                continue
            if entry.filename in self._pieces:
                moved[entry.header_offset] = self._pack(entry, self._pieces[entry.filename])
            else:
                self._copy(entry.header_offset, end)
        self._write_directory(places, moved)

    def _copy(self, start: int, end: int) -> None:
        self._source.seek(start)
        while start < end:
            chunk = self._source.read(min(_COPY, end - start))
            if not chunk:
                raise Refused(f"{self._told} was changed by another program meanwhile: run this again")
            self._stream.write(chunk)
            start += len(chunk)

    def _pack(self, entry: zipfile.ZipInfo, pieces: list[Bytes]) -> tuple[int, int, int]:
        """Write a part anew; its sum, packed size and size."""
        start = self._stream.tell()
        name = self._local_name_bytes(entry)
        header = struct.pack(
            "<4s5H3I2H", b"PK\x03\x04", 20, entry.flag_bits & ~0x8, entry.compress_type,
            *_dos_time(entry), 0, 0, 0, len(name), 0,
        )  # fmt: skip
        self._stream.write(header + name)
        begin = self._stream.tell()
        crc = size = 0
        stored = entry.compress_type == zipfile.ZIP_STORED
        packer = None if stored else zlib.compressobj(_LEVEL, zlib.DEFLATED, -zlib.MAX_WBITS)
        for piece in pieces:
            crc = zlib.crc32(piece, crc)
            size += len(piece)
            self._stream.write(piece if packer is None else packer.compress(piece))
        if packer is not None:
            self._stream.write(packer.flush())
        end = self._stream.tell()
        self._stream.seek(start + 14)
        self._stream.write(struct.pack("<3I", crc, end - begin, size))
        self._stream.seek(end)
        return crc, end - begin, size

    def _local_name_bytes(self, entry: zipfile.ZipInfo) -> bytes:
        self._source.seek(entry.header_offset + 26)
        length, _ = struct.unpack("<2H", self._source.read(4))
        return self._source.read(length)

    def _write_directory(self, places: Mapping[int, int], moved: Mapping[int, tuple[int, int, int] | None]) -> None:
        start = self._stream.tell()
        self._source.seek(self._start_of_directory)
        for entry in self._directory:
            record = bytearray(self._source.read(46))
            lengths = struct.unpack_from("<3H", record, 28)
            name, extra, comment = (self._source.read(length) for length in lengths)
            if entry.filename in self._dropped:
                continue
            new = moved.get(entry.header_offset)
            if new is not None:
                flags = struct.unpack_from("<H", record, 8)[0] & ~0x8
                struct.pack_into("<H", record, 8, flags)
                struct.pack_into("<3I", record, 16, *new)
            elif _UNKNOWN in struct.unpack_from("<2I", record, 20):
                struct.pack_into("<2I", record, 20, entry.compress_size, entry.file_size)
            extra = _without_zip64(extra)  # nothing here is that large, and its numbers would be the old ones
            struct.pack_into("<H", record, 30, len(extra))
            struct.pack_into("<I", record, 42, places[entry.header_offset])
            self._stream.write(bytes(record) + name + extra + comment)
        size = self._stream.tell() - start
        count = sum(entry.filename not in self._dropped for entry in self._directory)
        end = struct.pack("<4s4H2IH", b"PK\x05\x06", 0, 0, count, count, size, start, len(self._comment))
        self._stream.write(end + self._comment)


def _dos_time(entry: zipfile.ZipInfo) -> tuple[int, int]:
    year, month, day, hour, minute, second = entry.date_time
    return hour << 11 | minute << 5 | second // 2, (year - 1980) << 9 | month << 5 | day


def _without_zip64(extra: bytes) -> bytes:
    kept = b""
    while len(extra) >= 4:
        kind, length = struct.unpack_from("<2H", extra)
        if kind != 1:
            kept += extra[: 4 + length]
        extra = extra[4 + length :]
    return kept + extra
