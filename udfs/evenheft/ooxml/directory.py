"""A zip's directory, checked before any part is unpacked: names, sizes and places that no workbook has are refused."""

from __future__ import annotations

import io
import struct
import zipfile
from collections.abc import Callable
from typing import BinaryIO, NoReturn

from evenheft.ooxml.limits import MB, Limits
from evenheft.ooxml.text import shown_name

_RECORD = 46
"""Of a directory's record, before its name, its extra field and its comment [bytes]."""
_AFTER_RECORDS = (b"PK\x05\x06", b"PK\x06\x06", b"PK\x05\x05")
"""What may follow the last record: the end, the end of a large zip, a signature (APPNOTE.TXT 6.3.10, 4.3)."""
DAMAGED = "is damaged or cut off: copy or download it again"


class DirectoryCheck:
    """Looks at what a file claims to hold."""

    def __init__(self, source: BinaryIO, limits: Limits, refuse: Callable[[str], NoReturn]) -> None:
        """Remember what is checked.

        Args:
            source: the file, open for reading and seeking [-].
            limits: what is accepted [-].
            refuse: raises Refused with a reason that goes on from the file's name [-].
        """
        self._source = source
        self._limits = limits
        self._refuse = refuse

    def need_zip(self) -> None:
        """Refuse what is no zip of a workbook by its first bytes, saying what it is."""
        size = self._source.seek(0, io.SEEK_END)
        if size > self._limits.file_bytes:
            self._refuse(f"is too large: {size // MB} MB, at most {self._limits.file_bytes // MB} MB are opened")
        self._source.seek(0)
        head = self._source.read(8)
        if not head:
            self._refuse("is empty: it holds no bytes at all")
        if head == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
            self._source.seek(0)
            if "EncryptedPackage".encode("utf-16-le") in self._source.read(8 * MB):
                self._refuse("is protected by a password to open: take it off in your spreadsheet program first")
            self._refuse("is in the old .xls format: save it as .xlsx in your spreadsheet program first")
        if not head.startswith(b"PK\x03\x04"):
            self._refuse("is not a workbook (.xlsx, .xlsm, .xltx)")

    def checked_entries(self, listed: list[zipfile.ZipInfo], start_of_directory: int) -> dict[str, zipfile.ZipInfo]:
        """Return the parts by name, once no record of the directory lies."""
        if len(listed) > self._limits.entries:
            self._refuse(f"holds {len(listed)} parts, at most {self._limits.entries} are accepted")
        seen: set[str] = set()
        for entry in listed:
            self._check_entry(entry)
            if entry.filename.lower() in seen:
                self._refuse(f"holds the part {shown_name(entry.filename)} twice")
            seen.add(entry.filename.lower())
        expanded = sum(entry.file_size for entry in listed)
        if expanded > self._limits.expanded_bytes:
            most = self._limits.expanded_bytes // MB
            self._refuse(f"would expand to {expanded // MB} MB, at most {most} MB are accepted")
        self._check_places(listed, start_of_directory)
        self._check_records(len(listed), start_of_directory)
        return {entry.filename: entry for entry in listed if not entry.is_dir()}

    def _check_records(self, count: int, start: int) -> None:
        """Refuse a directory whose records claim more bytes than it has: zipfile reads on, other programs do not."""
        self._source.seek(start)
        for _ in range(count):
            record = self._source.read(_RECORD)
            lengths = struct.unpack_from("<3H", record, 28) if len(record) == _RECORD else (0, 0, 0)
            if not record.startswith(b"PK\x01\x02") or len(self._source.read(sum(lengths))) < sum(lengths):
                self._refuse(DAMAGED)
        if self._source.read(4) not in _AFTER_RECORDS:
            self._refuse(DAMAGED)

    def _check_entry(self, entry: zipfile.ZipInfo) -> None:
        name = entry.orig_filename
        label = shown_name(name)
        pieces = name.split("/")
        if name.startswith("/") or ".." in pieces or "." in pieces or any(c in name for c in "\\:\0"):
            self._refuse(f"holds a part whose name leaves the workbook: {label}")
        if entry.flag_bits & 0x1:
            self._refuse("is encrypted: take its password off in your spreadsheet program first")
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            self._refuse(f"packs its part {label} in a way that workbooks do not use")
        if entry.compress_type == zipfile.ZIP_STORED and entry.compress_size != entry.file_size:
            self._refuse(f"is damaged: its part {label} has two sizes")
        if entry.file_size > self._limits.part_bytes:
            self._refuse(f"would expand its part {label} to {entry.file_size // MB} MB")
        if entry.file_size > self._limits.ratio_from and entry.file_size > self._limits.ratio * entry.compress_size:
            self._refuse(f"would expand its part {label} more than {self._limits.ratio} times")

    def _check_places(self, listed: list[zipfile.ZipInfo], start_of_directory: int) -> None:
        """Parts that share bytes are how a small file expands to a large one unseen."""
        end = 0
        for entry in sorted(listed, key=lambda entry: entry.header_offset):
            if entry.header_offset < end:
                self._refuse("is damaged: its parts overlap")
            end = entry.header_offset + 30 + len(entry.orig_filename) + entry.compress_size
        if listed and min(entry.header_offset for entry in listed) != 0:
            self._refuse("has something in front of its first part, which no workbook has")
        if end > start_of_directory:
            self._refuse("is damaged: its last part is cut off")
