"""A package written anew: old records copied packed as they are, changed and added parts packed afresh."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Collection, Mapping
from typing import BinaryIO, TypeAlias

from evenheft.ooxml.cells import Bytes
from evenheft.ooxml.checking import is_xml_by_name
from evenheft.ooxml.encodings import as_before
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package

_COPY = 1 << 20
_LEVEL = 2
"""Of packing: a tenth larger than the usual 6, in a fifth of its time; spreadsheet programs pack no more tightly."""
_UNKNOWN = 0xFFFFFFFF
_UTF_8 = 0x800
"""The flag that says a part's name is written in UTF-8."""
_ALWAYS = (0, 1 << 5 | 1)
"""Time and date of a part that is made here: the same parts give the same bytes, whenever they are put together."""
_Sizes: TypeAlias = tuple[int, int, int]
"""A part's sum, packed size and size."""


def rewritten(package: Package, parts: Mapping[str, bytes], *, dropped: Collection[str] = ()) -> bytes:
    """Return a package's bytes with some parts replaced or, at its end, added; all others as they are.

    Args:
        package: the package as it is [-].
        parts: the new bytes of parts, by the parts' names [-].
        dropped: parts that are left out [-].
    """
    stream = io.BytesIO()
    Rewriting(package, {name: [content] for name, content in parts.items()}, stream, dropped).run()
    return stream.getvalue()


class Rewriting:
    """One package written anew: old records copied packed as they are, changed parts packed afresh."""

    def __init__(
        self,
        package: Package,
        pieces: Mapping[str, list[Bytes]],
        stream: BinaryIO,
        dropped: Collection[str] = (),
    ) -> None:
        """Remember what is to be written.

        Args:
            package: the workbook as it is [-].
            pieces: the new bytes, in pieces, of the parts that differ; parts that it lacks are added at its end [-].
            stream: where to write, open for reading and seeking too [-].
            dropped: parts that are left out [-].
        """
        self._label = package.name
        self._package = package
        self._source = package.source
        self._directory = package.directory
        self._dropped = dropped
        self._start_of_directory = package.start_of_directory
        self._comment = package.comment
        self._pieces = pieces
        self._stream = stream

    def run(self) -> None:
        """Write the package."""
        moved: dict[int, _Sizes | None] = {}  # by old offset: the new sizes and sum where changed
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
        known = {entry.filename for entry in self._directory}
        added = [
            (name, self._stream.tell(), self._add(name, new)) for name, new in self._pieces.items() if name not in known
        ]
        self._write_directory(places, moved, added)

    def _copy(self, start: int, end: int) -> None:
        self._source.seek(start)
        while start < end:
            chunk = self._source.read(min(_COPY, end - start))
            if not chunk:
                raise Refused(f"{self._label} was changed by another program meanwhile: run this again")
            self._stream.write(chunk)
            start += len(chunk)

    def _pack(self, entry: zipfile.ZipInfo, pieces: list[Bytes]) -> _Sizes:
        """Write a part anew, in the encoding that it had; return its sum, packed size and size."""
        wide = self._package.wide(entry.filename) if is_xml_by_name(entry.filename) else None
        if wide is not None:
            pieces = [as_before(b"".join(pieces), wide)]
        name = self._local_name_bytes(entry)
        return self._record(name, entry.flag_bits & ~0x8, entry.compress_type, _dos_time(entry), pieces)

    def _add(self, name: str, pieces: list[Bytes]) -> _Sizes:
        """Write a part that was not there."""
        return self._record(name.encode(), _UTF_8, zipfile.ZIP_DEFLATED, _ALWAYS, pieces)

    def _record(self, name: bytes, flags: int, packing: int, time: tuple[int, int], pieces: list[Bytes]) -> _Sizes:
        start = self._stream.tell()
        header = struct.pack(
            "<4s5H3I2H", b"PK\x03\x04", 20, flags, packing, *time, 0, 0, 0, len(name), 0,
        )  # fmt: skip
        self._stream.write(header + name)
        begin = self._stream.tell()
        crc = size = 0
        stored = packing == zipfile.ZIP_STORED
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

    def _write_directory(
        self,
        places: Mapping[int, int],
        moved: Mapping[int, _Sizes | None],
        added: list[tuple[str, int, _Sizes]],
    ) -> None:
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
        for added_name, place, sizes in added:
            encoded = added_name.encode()
            header = struct.pack(
                "<4s6H3I5H2I", b"PK\x01\x02", 20, 20, _UTF_8, zipfile.ZIP_DEFLATED, *_ALWAYS, *sizes,
                len(encoded), 0, 0, 0, 0, 0, place,
            )  # fmt: skip
            self._stream.write(header + encoded)
        size = self._stream.tell() - start
        count = sum(entry.filename not in self._dropped for entry in self._directory) + len(added)
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
