"""Proof that a write changed nothing but the intended cells, had with another parser than the writer's own scan."""

import re
import struct
import zipfile
from collections.abc import Collection
from pathlib import Path
from xml.etree import ElementTree
from xml.parsers import expat

CELL = re.compile(r"([A-Z]+)([0-9]+)")


def packed_bytes(path: Path, entry: zipfile.ZipInfo) -> bytes:
    """A part as it is packed in the file."""
    with path.open("rb") as file:
        file.seek(entry.header_offset)
        head = file.read(30)
        name_length, extra_length = struct.unpack("<2H", head[26:30])
        file.seek(name_length + extra_length, 1)
        return file.read(entry.compress_size)


def changed_parts(before: Path, after: Path) -> set[str]:
    """The parts that are not the same byte for byte as they are packed; their order and marks must be the same."""
    with zipfile.ZipFile(before) as old, zipfile.ZipFile(after) as new:
        assert new.testzip() is None
        assert [entry.filename for entry in new.infolist()] == [entry.filename for entry in old.infolist()]
        assert new.comment == old.comment
        changed = set()
        for was, entry in zip(old.infolist(), new.infolist(), strict=True):
            assert entry.date_time == was.date_time
            assert entry.compress_type == was.compress_type
            assert entry.external_attr == was.external_attr
            if packed_bytes(before, was) != packed_bytes(after, entry):
                changed.add(entry.filename)
        return changed


def without_cells(text: bytes, cells: Collection[str]) -> bytes:
    """A sheet's XML with the named cells, rows left empty by that, the stated extent and spans taken out."""
    cuts: list[tuple[int, int]] = []
    parser = expat.ParserCreate()
    row = column = 0
    cell_start = row_start = -1
    cell = ""
    kept_in_row = 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal row, column, cell_start, row_start, cell, kept_in_row
        name = tag.rpartition(":")[2]
        at = parser.CurrentByteIndex
        end = text.index(b">", at) + 1
        if name == "dimension":
            cuts.append((at, end))
        elif name == "row":
            row = int(attributes.get("r", row + 1))
            column, kept_in_row, row_start = 0, 0, at
            spans = re.search(rb'\s+spans="[^"]*"', text[at:end])
            if spans:
                cuts.append((at + spans.start(), at + spans.end()))
        elif name == "c":
            found = CELL.fullmatch(attributes["r"]) if "r" in attributes else None
            column = number(found[1]) if found else column + 1
            cell, cell_start = f"{letters(column)}{row}", at

    def end(tag: str) -> None:
        nonlocal kept_in_row
        name = tag.rpartition(":")[2]
        at = parser.CurrentByteIndex
        begun = row_start if name == "row" else cell_start
        first_end = text.index(b">", max(begun, 0)) + 1
        # An element without content has no closing tag to look for.
        at = first_end if text[first_end - 2 : first_end] == b"/>" else text.index(b">", at) + 1
        if name == "c":
            if cell in cells:
                cuts.append((cell_start, at))
            else:
                kept_in_row += 1
        elif name == "row" and not kept_in_row and any(CELL.fullmatch(c)[2] == str(row) for c in cells):
            cuts.append((row_start, at))

    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.Parse(text, True)
    kept, at = [], 0
    for begin, finish in merged(cuts):
        kept.append(text[at:begin])
        at = finish
    return re.sub(rb"<((?:\w+:)?sheetData)\s*/>", rb"<\1></\1>", b"".join([*kept, text[at:]]))


def merged(cuts: list[tuple[int, int]]) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for begin, finish in sorted(cuts):
        if joined and begin < joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], finish))
        else:
            joined.append((begin, finish))
    return joined


def number(column: str) -> int:
    value = 0
    for letter in column:
        value = value * 26 + ord(letter) - 64
    return value


def letters(column: int) -> str:
    text = ""
    while column:
        column, place = divmod(column - 1, 26)
        text = chr(65 + place) + text
    return text


def assert_only(before: Path, after: Path, part: str, cells: Collection[str]) -> None:
    """Every part is byte for byte as before but one sheet, and that sheet but for the named cells."""
    assert changed_parts(before, after) <= {part}
    with zipfile.ZipFile(before) as old, zipfile.ZipFile(after) as new:
        assert without_cells(new.read(part), cells) == without_cells(old.read(part), cells)


def without_additions(text: bytes) -> bytes:
    """A sheet's XML without what comes with new columns: their widths, coloured words, and how the part was."""
    text = re.sub(rb"<!--evenheft-undo .*?-->", b"", text)
    text = re.sub(rb'<(\w+:)?col min="\d+" max="\d+" width="[\d.]+" customWidth="1"/>', b"", text)
    text = re.sub(rb"<((?:\w+:)?)cols>\s*</\1cols>", b"", text)
    return re.sub(
        rb'<(\w+:)?conditionalFormatting sqref="[^"]*"><(\w+:)?cfRule type="cellIs" dxfId="\d+" priority="\d+"'
        rb' operator="equal">.*?conditionalFormatting>',
        b"",
        text,
    )


def assert_only_columns(before: Path, after: Path, part: str, cells: Collection[str]) -> None:
    """As `assert_only`, where columns bring widths and colours along, and the list of looks grows at its ends."""
    assert changed_parts(before, after) <= {part, "xl/styles.xml"}
    with zipfile.ZipFile(before) as old, zipfile.ZipFile(after) as new:
        was, now = (without_additions(book.read(part)) for book in (old, new))
        assert without_cells(now, cells) == without_cells(was, cells)
        for name in ("xf", "dxf", "numFmt", "font", "fill", "border"):
            had, has = (listed(book.read("xl/styles.xml"), name) for book in (old, new))
            assert has[: len(had)] == had


def listed(styles: bytes, name: str) -> list[bytes]:
    """The elements of one name in the list of cell formats, looks for rules, or number formats."""
    parents = {"xf": "cellXfs", "dxf": "dxfs", "numFmt": "numFmts", "font": "fonts", "fill": "fills",
               "border": "borders"}  # fmt: skip
    root = ElementTree.fromstring(styles)
    space = root.tag.rpartition("}")[0] + "}"
    parent = root.find(f"{space}{parents[name]}")
    return [] if parent is None else [ElementTree.tostring(child) for child in parent]
