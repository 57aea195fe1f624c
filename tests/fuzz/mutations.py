"""Workbooks changed as no spreadsheet program would: any text, any piece, any byte of them."""

from __future__ import annotations

import io
import random
import re
import zipfile
from collections.abc import Callable

ODD = (
    "", "0", "-1", "x", "999999999999", "A1:", "1:1", "$A$1", "é", "1e999", "true", "&#0;", "&#27;[2J", "..", "  ",
    "xl/workbook.xml", "nan", "inf", "-0", "&#x202e;abc", "A1:XFD1048576", "#REF!", "&#x9b;", "veryHidden", "shared",
    "array", "xl/worksheets/sheet1.xml", "External", "1048577", "XFE1", "a" * 300,
)  # fmt: skip
HOSTILE_FORMULAS = (
    "SUM(A:XFD)", "A1", "[" * 9000, "(" * 5000 + ")" * 5000, "HEFT_POINTS(A:A,B:B)", "REPT(&quot;(&quot;,32767)",
    "HEFT_CLUB_READS(REPT(&quot;a&quot;,32767))", "cmd|'/C calc'!A0", "WEBSERVICE(&quot;http://example.invalid&quot;)",
    "[1]Sheet1!A1", "OFFSET(A1,1E9,1E9)", "1/0", "HEFT_PICK(237.137,SEQUENCE(5000)/10,4)", "INDIRECT(&quot;A1&quot;)",
    "LAMBDA(x,x(x))(LAMBDA(x,x(x)))", "&quot;" * 3, "HEFT_" + "X" * 8000, "SEQUENCE(1048576,50)", "1E400", "{1,2;3}",
)  # fmt: skip
_TEXTS = re.compile(rb'(?<==")[^"<>]*(?=")|(?<=>)[^<>]+(?=</)')
_ELEMENTS = re.compile(rb"<([\w:]+)(?:\s[^<>]*)?/>|<([\w:]+)(?:\s[^<>]*)?>[^<>]*</\2>")
_TELLING = re.compile(r"worksheets/[^/]*\.xml$|workbook|rels$|Types|shared|styles|table|content\.xml$|drawing")

ChangedParts = dict[str, bytes]
Mutation = Callable[[ChangedParts, random.Random], ChangedParts]


def parts_of(workbook: bytes) -> ChangedParts:
    with zipfile.ZipFile(io.BytesIO(workbook)) as package:
        return {name: package.read(name) for name in package.namelist()}


def packed(parts: ChangedParts, packing: int = zipfile.ZIP_DEFLATED) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", packing) as package:
        for name, content in parts.items():
            package.writestr(name, content)
    return stream.getvalue()


def _victim(parts: ChangedParts, chance: random.Random) -> str:
    telling = [name for name in parts if _TELLING.search(name)] or list(parts)
    return chance.choice(telling)


def other_texts(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """Some attributes and texts of a part become others."""
    name = _victim(parts, chance)
    text = parts[name]
    places = list(_TEXTS.finditer(text))
    for match in sorted(chance.sample(places, min(chance.choice((1, 3, 9)), len(places))), key=lambda m: -m.start()):
        text = text[: match.start()] + chance.choice(ODD).encode() + text[match.end() :]
    return {**parts, name: text}


def other_elements(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """An element is left out, stands twice, or stands where another did."""
    name = _victim(parts, chance)
    text = parts[name]
    places = list(_ELEMENTS.finditer(text))
    if len(places) < 2:
        return other_texts(parts, chance)
    one, two = chance.sample(places, 2)
    new = chance.choice((b"", one[0] * 2, two[0], one[0] * 300, b"<!-- <f " + b"<f " * 2000 + b"-->" + one[0]))
    return {**parts, name: text[: one.start()] + new + text[one.end() :]}


def hostile_formula(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """A cell's formula becomes one that would keep an engine busy, reach outside, or name nothing."""
    name = chance.choice([name for name in parts if "worksheets/sheet" in name] or list(parts))
    text = parts[name]
    formula = b"<f>" + chance.choice(HOSTILE_FORMULAS).encode() + b"</f>"
    places = list(re.finditer(rb"<f[ >][^<]*</f>", text)) or list(re.finditer(rb"<v>[^<]*</v>", text))
    if not places:
        return other_texts(parts, chance)
    match = chance.choice(places)
    return {**parts, name: text[: match.start()] + formula + text[match.end() :]}


def long_text(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """A text becomes as long as a cell can hold, of letters that are dear to read."""
    name = _victim(parts, chance)
    places = list(_TEXTS.finditer(parts[name]))
    if not places:
        return parts
    match = chance.choice(places)
    letters = chance.choice(
        ("a", "(", "[", "1 ", "D2 ", "1/", ",", "'", "tape,", "　", "A1:B2 ", "._", "é\u0301", "of the ", "SUM(")
    )
    new = (letters * 32_767)[: chance.choice((32_767, 200_000))].encode()
    return {**parts, name: parts[name][: match.start()] + new + parts[name][match.end() :]}


def other_parts(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """A part is gone, empty, another's, no XML, cut off or called otherwise."""
    name = chance.choice(list(parts))
    text = parts[name]
    left = {one: content for one, content in parts.items() if one != name}
    new = chance.choice((b"", text[: len(text) // 2], parts[chance.choice(list(parts))], bytes(200), text + b"<x>",
                         b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "c">]>' + text, b"\xef\xbb\xbf" + text,
                         text.decode("utf-8", "replace").encode("utf-16"), b"<x>" * 500 + b"</x>" * 500))  # fmt: skip
    return chance.choice(
        ({**left, name: new}, left, {**left, chance.choice(("/", "../x", name.upper(), "a/" * 90)): text})
    )


def merged_far(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """A sheet has merges, links or rules over all of it, or cells at its far end."""
    names = [name for name in parts if "worksheets/sheet" in name]
    if not names:
        return other_texts(parts, chance)
    name = chance.choice(names)
    new = chance.choice((
        b'</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>',
        b'</sheetData><mergeCells>' + b'<mergeCell ref="A1:B900000"/>' * 200 + b"</mergeCells>",
        b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>',
        b'<row><c><v>1</v></c></row><row r="1"><c r="A1"><v>2</v></c></row></sheetData>',
        b'</sheetData><conditionalFormatting sqref="A1:XFD1048576"><cfRule type="expression" priority="1">'
        b"<formula>SUM(A:XFD)&gt;1</formula></cfRule></conditionalFormatting>",
        b"<!--" + b"<f " * 100_000 + b"--></sheetData>",
    ))  # fmt: skip
    return {**parts, name: parts[name].replace(b"</sheetData>", new, 1)}


def blanks(parts: ChangedParts, chance: random.Random) -> ChangedParts:
    """A tag holds many blanks, or a comment half a tag many times."""
    name = _victim(parts, chance)
    places = list(re.finditer(rb"<([A-Za-z:]+)(?=[ >/])", parts[name]))
    if not places:
        return parts
    match = chance.choice(places)
    half = b"<!--" + (match[0] + b' "') * 20_000 + b"-->"
    new = chance.choice((match[0] + b" " * 100_000, half + match[0] if match.start() else match[0] + b"\n" * 30_000))
    return {**parts, name: parts[name][: match.start()] + new + parts[name][match.end() :]}


MUTATIONS: tuple[Mutation, ...] = (
    other_texts, other_texts, other_texts, other_elements, other_elements, hostile_formula, long_text, other_parts,
    merged_far, blanks,
)  # fmt: skip


def other_bytes(workbook: bytes, chance: random.Random) -> bytes:
    """A file of which bytes are others, or the end is missing."""
    content = bytearray(workbook)
    how = chance.randrange(4)
    if how == 0:
        return bytes(content[: chance.randrange(len(content))])
    if how == 1:  # the directory at its end tells all the rest
        for _ in range(chance.choice((1, 4))):
            content[-chance.randrange(1, min(len(content), 600))] = chance.randrange(256)
    elif how == 2:
        for _ in range(chance.choice((1, 20))):
            content[chance.randrange(len(content))] = chance.randrange(256)
    else:
        at = chance.randrange(len(content))
        content[at:at] = bytes(chance.randrange(256) for _ in range(chance.choice((1, 4, 100))))
    return bytes(content)


def mutated(workbook: bytes, chance: random.Random) -> bytes:
    """Return a workbook changed at random."""
    if chance.random() < 0.15 or not workbook.startswith(b"PK"):
        return other_bytes(workbook, chance)
    parts = parts_of(workbook)
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        parts = chance.choice(MUTATIONS)(parts, chance)
    return packed(parts, chance.choice((zipfile.ZIP_DEFLATED, zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED)))
