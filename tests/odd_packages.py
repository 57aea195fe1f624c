"""Packages as real programs write them and as the format allows, byte by byte where a library would not do it.

What the fields of a zip may hold: PKWARE's APPNOTE 6.3, 4.3 to 4.5. What a workbook's parts may hold: ECMA-376-1 and
-2 (names are equal in any capitals, 6.2.2), MS-OFFMACRO2 2.2.1 (macro sheets). From memory.
"""

from __future__ import annotations

import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

OddParts: TypeAlias = Mapping[str, bytes]

_WIDE, _MOST = 45, 0xFFFFFFFF
_LATER = 0x8
"""The flag that says a part's sizes follow it."""


def parts_of(path: Path) -> dict[str, bytes]:
    """The parts of a package, unpacked."""
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


def packed(path: Path, parts: OddParts) -> Path:
    """A package of some parts, in the ordinary way."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(name, content)
    return path


@dataclass(frozen=True)
class Zip:
    """A way of writing a zip."""

    wide_local: bool = False
    """Sizes of eight bytes before each part, without need."""
    later: str = ""
    """What follows each part: "signed", "bare", or with "wide" in it sizes of eight bytes."""
    wide_directory: bool = False
    wide_places: bool = False
    wide_end: bool = False
    padding: bytes = b""
    """An extra field before each part only."""
    local_flags: int = 0
    directory_flags: int = 0
    time: int = 0
    without_sizes: bool = False
    folders: bool = False
    comment: bytes = b""
    extra: bytes = b""
    """An extra field in the directory only."""
    is_stored: bool = False

    def write(self, path: Path, parts: OddParts) -> Path:
        """Write a package."""
        body, directory = bytearray(), bytearray()
        folders = {"_rels/": b"", "xl/": b""} if self.folders else {}
        listed = {**folders, **parts}
        for name, content in listed.items():
            start = len(body)
            method = zipfile.ZIP_STORED if self.is_stored or name.endswith("/") else zipfile.ZIP_DEFLATED
            data = content if method == zipfile.ZIP_STORED else zlib.compress(content, wbits=-15)
            sizes = zlib.crc32(content), len(data), len(content)
            body += self._local(name.encode(), method, sizes) + data + self._after(sizes)
            directory += self._record(name.encode(), method, sizes, start)
        path.write_bytes(bytes(body + directory + self._end(len(listed), len(directory), len(body))))
        return path

    def _local(self, name: bytes, method: int, sizes: tuple[int, int, int]) -> bytes:
        numbers = (0, 0, 0) if self.later or self.without_sizes else sizes
        extra = struct.pack("<2H2Q", 1, 16, numbers[2], numbers[1]) if self.wide_local else b""
        numbers = (numbers[0], _MOST, _MOST) if self.wide_local else numbers
        extra += self.padding
        flags = self.local_flags | (_LATER if self.later else 0)
        head = struct.pack(
            "<4s5H3I2H", b"PK\3\4", _WIDE, flags, method, self.time, 33, *numbers, len(name), len(extra)
        )  # fmt: skip
        return head + name + extra

    def _after(self, sizes: tuple[int, int, int]) -> bytes:
        if not self.later:
            return b""
        signature = b"PK\7\10" if "signed" in self.later else b""
        return signature + struct.pack("<I2Q" if "wide" in self.later else "<3I", *sizes)

    def _record(self, name: bytes, method: int, sizes: tuple[int, int, int], start: int) -> bytes:
        extra, stated, place = self.extra, sizes, start
        if self.wide_directory:
            wide = (sizes[2], sizes[1], start) if self.wide_places else (sizes[2], sizes[1])
            extra += struct.pack(f"<2H{len(wide)}Q", 1, 8 * len(wide), *wide)
            stated, place = (sizes[0], _MOST, _MOST), _MOST if self.wide_places else start
        flags = self.directory_flags | (_LATER if self.later else 0)
        numbers = (_WIDE, _WIDE, flags, method, 0, 33, *stated, len(name), len(extra), 0, 0, 0, 0, place)
        return struct.pack("<4s6H3I5H2I", b"PK\1\2", *numbers) + name + extra

    def _end(self, count: int, size: int, start: int) -> bytes:
        wide, stated = b"", (count, count, size, start)
        if self.wide_end:
            wide = struct.pack("<4sQ2H2I4Q", b"PK\6\6", 44, _WIDE, _WIDE, 0, 0, count, count, size, start)
            wide += struct.pack("<4sIQI", b"PK\6\7", 0, start + size, 1)
            stated = (0xFFFF, 0xFFFF, _MOST, _MOST)
        return wide + struct.pack("<4s4H2IH", b"PK\5\6", 0, 0, *stated, len(self.comment)) + self.comment


ZIPS = {
    "wide sizes before each part": Zip(wide_local=True),
    "sizes after each part": Zip(later="signed"),
    "sizes after each part, unsigned": Zip(later="bare"),
    "wide sizes after each part": Zip(wide_local=True, later="signed wide"),
    "wide sizes after each part, unsigned": Zip(wide_local=True, later="wide"),
    "a wide directory": Zip(wide_local=True, wide_directory=True),
    "wide places": Zip(wide_local=True, wide_directory=True, wide_places=True),
    "all of it wide": Zip(wide_local=True, wide_directory=True, wide_places=True, wide_end=True, later="signed wide"),
    "a wide end": Zip(wide_end=True),
    "room to grow": Zip(padding=struct.pack("<4H", 0xA220, 260, 0xA028, 0) + bytes(256)),
    "flags of packing before the part": Zip(local_flags=6),
    "flags of packing in the directory": Zip(directory_flags=6),
    "a name in UTF-8, said once": Zip(directory_flags=0x800),
    "another time": Zip(time=4711),
    "no sizes before the part": Zip(without_sizes=True),
    "folders": Zip(folders=True),
    "a comment": Zip(comment=b"made by somebody"),
    "an extra field": Zip(extra=b"\x0a\x00\x04\x00abcd"),
    "not packed": Zip(is_stored=True),
}


# ---------------------------------------------------------------------- what is in the parts


def in_utf16(
    encoding: str, which: str = r"\.(xml|rels)$", *, mark: bool = True
) -> Callable[[OddParts], dict[str, bytes]]:
    """Parts in UTF-16, those whose names match a pattern."""

    def changed(content: bytes) -> bytes:
        text = re.sub(r"^<\?xml[^>]*\?>", "", content.decode("utf-8-sig"))
        whole = '<?xml version="1.0" encoding="UTF-16" standalone="yes"?>' + text
        return (("\ufeff" if mark else "") + whole).encode(encoding)

    return lambda parts: {n: changed(content) if re.search(which, n) else content for n, content in parts.items()}


def marked(parts: OddParts) -> dict[str, bytes]:
    """Each XML part with a mark of UTF-8 in front."""
    return {name: b"\xef\xbb\xbf" + content if name.endswith((".xml", ".rels")) else content
            for name, content in parts.items()}  # fmt: skip


def in_other_capitals(parts: OddParts) -> dict[str, bytes]:
    """Parts whose names have other capitals than the relationships tell."""
    other = {"xl/workbook.xml": "xl/Workbook.xml", "xl/sharedStrings.xml": "xl/SharedStrings.xml",
             "xl/worksheets/sheet1.xml": "xl/worksheets/Sheet1.xml"}  # fmt: skip
    return {other.get(name, name): content for name, content in parts.items()}


def from_the_root(parts: OddParts) -> dict[str, bytes]:
    """Relationships whose targets are told from the package's root."""
    name = "xl/_rels/workbook.xml.rels"
    return {**parts, name: re.sub(rb'Target="(?!/)', b'Target="/xl/', parts[name])}


def strict(parts: OddParts) -> dict[str, bytes]:
    """The strict form of ISO/IEC 29500-1."""
    names = {b"http://schemas.openxmlformats.org/spreadsheetml/2006/main": b"http://purl.oclc.org/ooxml/spreadsheetml/main",
             b"http://schemas.openxmlformats.org/officeDocument/2006/relationships":
             b"http://purl.oclc.org/ooxml/officeDocument/relationships"}  # fmt: skip
    found = dict(parts)
    for usual, other in names.items():
        found = {name: content.replace(usual, other) for name, content in found.items()}
    return found


def prefixed(parts: OddParts) -> dict[str, bytes]:
    """Every element of the workbook's own parts with a prefix."""
    space = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'

    def changed(content: bytes) -> bytes:
        text = re.sub(r"<(/?)([A-Za-z]\w*)(?=[\s/>])", r"<\1x:\2", content.decode("utf-8-sig"))
        return text.replace(space, space.replace("xmlns", "xmlns:x")).encode()

    own = re.compile(r"xl/(workbook|styles|sharedStrings|worksheets/sheet\d+)\.xml")
    return {name: changed(content) if own.fullmatch(name) else content for name, content in parts.items()}


MACRO_SHEETS = {
    "xlMacrosheet": "http://schemas.microsoft.com/office/2006/relationships/xlMacrosheet",
    "xlIntlMacrosheet": "http://schemas.microsoft.com/office/2006/relationships/xlIntlMacrosheet",
}


def with_macro_sheet(kind: str) -> Callable[[OddParts], dict[str, bytes]]:
    """A macro sheet of the old kind as the second sheet, with a cell's last value and a name that calls it."""

    def changed(parts: OddParts) -> dict[str, bytes]:
        links, types, book = (
            parts[name] for name in ("xl/_rels/workbook.xml.rels", "[Content_Types].xml", "xl/workbook.xml")
        )
        link = f'<Relationship Id="rIdOld" Type="{MACRO_SHEETS[kind]}" Target="macrosheets/sheet1.xml"/>'.encode()
        type_ = (b'<Override PartName="/xl/macrosheets/sheet1.xml" '
                 b'ContentType="application/vnd.ms-excel.macrosheet+xml"/>')  # fmt: skip
        space = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships"
        sheet = b'<sheet xmlns:r="' + space + b'" name="Macro1" sheetId="99" r:id="rIdOld"/>'
        second = book.index(b">", book.index(b"<sheet ")) + 1
        cells = (b'<row r="1"><c r="A1" t="b"><f>ALERT("hello")</f><v>1</v></c></row><row r="2"><c r="A2"><f>1+1</f>'
                 b'<v>7</v></c><c r="B2" t="str"><f>"a"</f><v>a &lt; b</v></c></row>')  # fmt: skip
        return {
            **parts,
            "xl/_rels/workbook.xml.rels": links.replace(b"</Relationships>", link + b"</Relationships>"),
            "[Content_Types].xml": types.replace(b"</Types>", type_ + b"</Types>"),
            "xl/workbook.xml": book[:second] + sheet + book[second:],
            "xl/macrosheets/sheet1.xml": b'<xm:macrosheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/'
            b'main" xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><sheetData>' + cells
            + b"</sheetData></xm:macrosheet>",
        }  # fmt: skip

    return changed


CONTENTS: dict[str, Callable[[OddParts], dict[str, bytes]]] = {
    **{
        f"{which} in {encoding}": in_utf16(encoding, pattern)
        for encoding in ("utf-16-le", "utf-16-be")
        for which, pattern in {
            "sheets": "worksheets/sheet", "workbook": r"xl/workbook\.xml$", "looks": "styles", "texts": "sharedStrings",
            "relationships": r"\.rels$", "types": "Content_Types", "all parts": r"\.(xml|rels)$",
        }.items()
    },
    "all parts in UTF-16 without a mark": in_utf16("utf-16-be", mark=False),
    "marks of UTF-8": marked,
    "other capitals": in_other_capitals,
    "targets from the root": from_the_root,
    "strict": strict,
    "prefixed": prefixed,
    **{kind: with_macro_sheet(kind) for kind in MACRO_SHEETS},
}  # fmt: skip
