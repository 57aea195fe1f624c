"""A library's workbook laid out as Excel itself writes one: fonts' children in their order, texts in one table.

openpyxl writes both otherwise. Excel opens such files, but a strict reader refuses them, and Excel's next save
rewrites every sheet.
"""

from __future__ import annotations

import re

STRINGS_PART = "xl/sharedStrings.xml"

_FONT_ORDER = (
    b"b", b"i", b"strike", b"condense", b"extend", b"outline", b"shadow", b"u", b"vertAlign", b"sz", b"color", b"name",
    b"family", b"charset", b"scheme",
)  # fmt: skip
"""As Excel writes them, and as [MS-OI29500] has it for CT_Font (ECMA-376 Part 1, 18.8.22)."""

_FONT = re.compile(rb"<font>(.*?)</font>", re.DOTALL)
_CHILD = re.compile(rb"<(\w+)\b[^>]*?(?:/>|>.*?</\1>)", re.DOTALL)
_INLINE = re.compile(rb'(<c\b[^>]*?) t="inlineStr"([^>]*)><is>(.*?)</is></c>', re.DOTALL)
_MAIN = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_TYPE = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
_RELATIONSHIP = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"


def as_excel_writes(parts: dict[str, bytes]) -> dict[str, bytes]:
    """Lay out a workbook's parts as Excel does: nothing that it shows is changed.

    Args:
        parts: the parts of a workbook that openpyxl wrote, by their names [-].
    """
    laid_out = dict(parts)
    laid_out["xl/styles.xml"] = _FONT.sub(_in_order, parts["xl/styles.xml"])
    return _with_shared_strings(laid_out)


def _in_order(font: re.Match[bytes]) -> bytes:
    children = sorted(_CHILD.finditer(font[1]), key=lambda child: _FONT_ORDER.index(child[1]))
    return b"<font>" + b"".join(child[0] for child in children) + b"</font>"


def _with_shared_strings(parts: dict[str, bytes]) -> dict[str, bytes]:
    places: dict[bytes, int] = {}
    used = 0

    def shared(cell: re.Match[bytes]) -> bytes:
        nonlocal used
        used += 1
        number = places.setdefault(cell[3], len(places))
        return b'%s t="s"%s><v>%d</v></c>' % (cell[1], cell[2], number)

    if STRINGS_PART in parts:
        return parts
    made = {
        name: _INLINE.sub(shared, content) if name.startswith("xl/worksheets/sheet") else content
        for name, content in parts.items()
    }
    if not places:
        return parts
    made[STRINGS_PART] = (
        b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<sst xmlns="%s" count="%d" uniqueCount="%d">%s</sst>'
        % (_MAIN, used, len(places), b"".join(b"<si>%s</si>" % text for text in places))
    )
    made["[Content_Types].xml"] = made["[Content_Types].xml"].replace(
        b"</Types>", b'<Override PartName="/%s" ContentType="%s"/></Types>' % (STRINGS_PART.encode(), _TYPE)
    )
    listed = "xl/_rels/workbook.xml.rels"
    made[listed] = made[listed].replace(
        b"</Relationships>",
        b'<Relationship Type="%s" Target="/%s" Id="rIdStrings"/></Relationships>'
        % (_RELATIONSHIP, STRINGS_PART.encode()),
    )
    return made
