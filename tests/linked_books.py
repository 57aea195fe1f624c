"""Workbooks whose formulas point at an add-in by a link, as Excel writes them into the file."""

from __future__ import annotations

import io
import zipfile
from xml.etree import ElementTree

import xlsxwriter

from packages import with_parts

RELATIONSHIPS = "http://schemas.openxmlformats.org/package/2006/relationships"
PATH_LINK = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLinkPath"
PATH_MISSING = "http://schemas.microsoft.com/office/2006/relationships/xlExternalLinkPath/xlPathMissing"
PART = "xl/externalLinks/_rels/externalLink1.xml.rels"


def linked(*links: tuple[str, str]) -> bytes:
    """A workbook with links of a type to a target, and a formula of the first."""
    target = io.BytesIO()
    with xlsxwriter.Workbook(target, {"in_memory": True}) as book:
        book.add_worksheet("Bench").write_formula("A1", "=[1]!HEFT_POINTS(431,75.3)")
    relationships = "".join(
        f'<Relationship Id="rId{n}" Type="{kind}" Target="{where}" TargetMode="External"/>'
        for n, (kind, where) in enumerate(links, start=1)
    )
    return with_parts(
        target.getvalue(), {PART: f'<Relationships xmlns="{RELATIONSHIPS}">{relationships}</Relationships>'.encode()}
    )


def links_of(content: bytes) -> list[tuple[str, str]]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        return [(link.attrib["Type"], link.attrib["Target"]) for link in ElementTree.fromstring(package.read(PART))]
