"""A workbook whose formulas point at an Evenheft add-in: where Excel looks for it, and how it finds ours.

Excel writes a function of an add-in as `[1]!HEFT_X(...)`, and the number stands for the path that the add-in had
on the machine where the workbook was saved. An add-in in the start folder is written without a path, and is
found in the start folder of whoever opens the workbook: that is what a link is turned into here.
"""

from __future__ import annotations

import re
from html import escape
from pathlib import PureWindowsPath
from urllib.parse import unquote

from evenheft.hosts.excel import ADD_IN
from evenheft.ooxml.markup import attributes, elements
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.rewriting import rewritten

START_FOLDER_LINK = "http://schemas.microsoft.com/office/2006/relationships/xlExternalLinkPath/xlStartup"
"""A link to a file in Excel's start folder, as Excel writes one to a personal macro workbook (PERSONAL.XLSB)."""

_LINK_RELATIONSHIPS = re.compile(r"xl/externalLinks/_rels/[^/]+\.rels", re.IGNORECASE)
_OURS = re.compile(r"evenheft.*\.xlam", re.IGNORECASE)


def foreign_add_ins(package: CheckedPackage) -> list[str]:
    """Where a workbook's formulas look for an Evenheft add-in, if anywhere but in Excel's start folder.

    Args:
        package: the workbook [-].
    """
    return [target for texts in _links(package).values() for target in _foreign(texts)]


def relinked(package: CheckedPackage) -> bytes:
    """Return a workbook whose formulas find the add-in in the start folder of whoever opens it.

    Args:
        package: the workbook [-].
    """
    return rewritten(package, {part: _to_start_folder(text).encode() for part, text in _links(package).items()})


def _links(package: CheckedPackage) -> dict[str, str]:
    return {name: package.text(name) for name in filter(_LINK_RELATIONSHIPS.fullmatch, package.entries)}


def _foreign(text: str) -> list[str]:
    return [target for element in elements(text, "Relationship") if (target := _foreign_target(element))]


def _foreign_target(element: str) -> str:
    """Find the path that a link to an Evenheft add-in names; nothing where it is none, or is right already."""
    link = attributes(element)
    kind, target = link.get("Type", ""), unquote(link.get("Target", "")).removeprefix("file:///")
    if "xternalLinkPath" not in kind or not _OURS.fullmatch(PureWindowsPath(target).name):
        return ""
    return "" if (kind, target) == (START_FOLDER_LINK, ADD_IN) else target


def _to_start_folder(text: str) -> str:
    for element in elements(text, "Relationship"):
        if _foreign_target(element):
            name, identifier = element[1:].split()[0], escape(attributes(element)["Id"])
            link = f'<{name} Id="{identifier}" Type="{START_FOLDER_LINK}" Target="{ADD_IN}" TargetMode="External"/>'
            text = text.replace(element, link)
    return text
