"""A workbook written as plainly as the format allows, for a reader that takes nothing else.

UTF-8 throughout, the namespaces that nearly all programs write, parts named as they are referred to, and a sheet of
cells in the place of each old macro sheet: what its cells last held, and none of its formulas.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from evenheft.ooxml.encodings import undeclared, wide_of
from evenheft.ooxml.markup import TYPES_PART, attributes, elements
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.places import Place, reference
from evenheft.ooxml.reading import read_cells
from evenheft.ooxml.relationships import relationships_part
from evenheft.ooxml.values import Held
from evenheft.ooxml.written import ValueWriter
from evenheft.ooxml.zipped import stored

_STRICT = re.compile(rb"http://purl\.oclc\.org/ooxml/(officeDocument/relationships|spreadsheetml/main)")
"""The namespaces of ISO/IEC 29500's strict form, as far as a reader of cells needs them."""
_USUAL = {
    b"officeDocument/relationships": b"http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    b"spreadsheetml/main": b"http://schemas.openxmlformats.org/spreadsheetml/2006/main",
}
_KNOWN_KINDS = ("worksheet", "chartsheet", "dialogsheet")
_WORKSHEET_LINK = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet"
_WORKSHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"


def plainly(package: CheckedPackage, replaced: Mapping[str, bytes]) -> bytes:
    """Return a package of the same XML parts, not packed; of other parts the names alone.

    Args:
        package: the workbook [-].
        replaced: the bytes of parts that are to differ, by the parts' names [-].
    """
    parts = {part: _usual(replaced.get(part, package.kept(part))) for part in package.entries}
    parts |= _without_macro_sheets(package, parts)
    names = _respelled(package)
    return stored({names.get(part, part): content for part, content in parts.items()})


def _usual(content: bytes) -> bytes:
    wide = wide_of(content)
    if wide is not None:
        content = content[len(wide.mark) :].decode(wide.encoding).encode()
    if b"purl.oclc.org/ooxml" in content:
        content = _STRICT.sub(lambda match: _USUAL[match[1]], content)
    # What was in UTF-16 still says so of itself, whoever has turned it into UTF-8.
    return undeclared(content) if b"utf-16" in content[:200].lower() else content


def _respelled(package: CheckedPackage) -> dict[str, str]:
    """Return the name by which each part is referred to, which may differ from its own in capitals."""
    names = {package.part_named(TYPES_PART): TYPES_PART}
    for owner in ("", package.workbook_part, *(sheet.part for sheet in package.sheets)):
        links = package.relationships(owner).values()
        names |= {link.target: link.spelled for link in links if link.target in package.entries}
        names[package.part_named(relationships_part(owner))] = relationships_part(names.get(owner, owner))
    return names


def _without_macro_sheets(package: CheckedPackage, parts: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the parts that change where sheets of a kind that no engine knows become sheets of cells."""
    listed = {attributes(tag).get("r:id") for tag in elements(_text(parts[package.workbook_part]), "sheet")}
    links = [
        link
        for link in package.relationships(package.workbook_part).values()
        if link.identifier in listed and link.kind not in _KNOWN_KINDS and link.target in package.entries
    ]
    if not links:
        return {}
    types_part = package.part_named(TYPES_PART)
    links_part = package.part_named(relationships_part(package.workbook_part))
    types, relations = _text(parts[types_part]), _text(parts[links_part])
    changed: dict[str, bytes] = {}
    for link in links:
        changed[link.target] = _sheet_of(package, read_cells(package, link.target).values)
        for tag in elements(relations, "Relationship"):
            if attributes(tag).get("Id") == link.identifier:
                relations = relations.replace(tag, _with(tag, "Type", _WORKSHEET_LINK))
        for tag in elements(types, "Override"):
            if attributes(tag).get("PartName", "").lstrip("/").lower() == link.target.lower():
                types = types.replace(tag, _with(tag, "ContentType", _WORKSHEET_TYPE))
    return {**changed, types_part: types.encode(), links_part: relations.encode()}


def _text(content: bytes) -> str:
    return content.decode("utf-8-sig")


def _with(tag: str, name: str, value: str) -> str:
    """Set an attribute in a start tag."""
    return re.sub(rf"""(\s{name}\s*=\s*)("[^"]*"|'[^']*')""", lambda match: f'{match[1]}"{value}"', tag, count=1)


def _sheet_of(package: CheckedPackage, values: Mapping[Place, Held]) -> bytes:
    """Return a sheet that holds some values."""
    writer = ValueWriter(b"", epoch_1904=package.epoch_1904, refuse=package.refuse)
    rows: dict[int, list[bytes]] = {}
    for (row, column), value in sorted(values.items()):
        kind, held = writer.content(value, reference(row, column), computed=False)
        kind_text = b' t="%b"' % kind if kind else b""
        rows.setdefault(row, []).append(b'<c r="%b"%b>%b</c>' % (reference(row, column).encode(), kind_text, held))
    written = b"".join(b'<row r="%d">%b</row>' % (row, b"".join(cells)) for row, cells in rows.items())
    return b'<worksheet xmlns="%b"><sheetData>%b</sheetData></worksheet>' % (_USUAL[b"spreadsheetml/main"], written)
