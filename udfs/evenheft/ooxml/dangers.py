"""What in a workbook could act on its own: told as warnings, never run, followed or fetched."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from evenheft.ooxml.checking import local_name
from evenheft.ooxml.scanning import formula_texts
from evenheft.ooxml.text import shown_name

if TYPE_CHECKING:
    from evenheft.ooxml.package import Package

REACHING = "it has formulas that call other programs or the network, which are not run"
ELSEWHERE = "it has pictures or objects that are kept elsewhere, which are not fetched"
# DDE as it is typed into a cell, program|'topic'!item, and the functions that fetch.
_REACHING = re.compile(rb"\w\|[^<|]*!|\b(?:WEBSERVICE|FILTERXML|IMAGE|RTD|DDE|CALL|REGISTER\.ID)\(", re.IGNORECASE)
_ACTIVE_PARTS = (
    (r"vbaproject.*\.bin$", "it has macros, which are not run"),
    (r"activex/|ctrlprops/", "it has form controls, which are not run"),
    (r"embeddings/", "it has embedded objects, which are not opened"),
    (r"connections\.xml$|querytables/", "it has data connections, which are not refreshed"),
    (r"customui", "it has buttons of its own in the ribbon, which are not run"),
    (r"webextensions/|taskpanes", "it has web add-ins, which are not run"),
)

_MOST_NAMED = 5
_OLD_SHEETS = ("xlMacrosheet", "xlIntlMacrosheet", "dialogsheet")
"""The kinds of sheets that hold macros as formulas, or dialogs that call them."""


def dangers(package: Package) -> Iterator[str]:
    """Yield a line for each kind of thing in a workbook that could act, and is never run, followed or fetched."""
    names = [name.lower() for name in package.entries]
    for pattern, warning in _ACTIVE_PARTS:
        if any(re.search(pattern, name) for name in names):
            yield warning
    if any(link.kind in _OLD_SHEETS for link in package.relationships(package.workbook_part).values()):
        yield "it has macro sheets of an old kind, which are not run"
    outside = [name for name in package.entries if re.search(r"externallinks/[^/]*\.xml$", name.lower())]
    if outside:
        yield "it has links to other workbooks, which are not followed"
    if any(_has_dde(package, name) for name in outside):
        yield "it has DDE links to other programs, which are not run"
    hidden, named = _hidden_and_named(package)
    if hidden:
        yield f"it has {_hidden_sheets_line(hidden)}"
    if any(_REACHING.search(formula.encode("utf-8", "replace")) for formula in named):
        yield "it has names that call other programs or the network, which are not run"
    if any(_has_outside_content(package, name) for name in package.entries if name.lower().endswith(".rels")):
        yield ELSEWHERE


def _hidden_and_named(package: Package) -> tuple[list[str], list[str]]:
    """Return the hidden sheets of every kind, as messages call them, and what the workbook's names stand for."""
    hidden: list[str] = []
    named: list[str] = []
    is_name = False

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal is_name
        is_name = local_name(tag) == "definedName"
        if is_name:
            named.append("")
        if local_name(tag) == "sheet" and (state := attributes.get("state", "visible")) != "visible":
            beside = ", which no menu shows" * (state == "veryHidden")
            hidden.append(f'"{shown_name(attributes.get("name", ""))}"{beside}')

    def end(_: str) -> None:
        nonlocal is_name
        is_name = False

    def text(piece: str) -> None:
        if is_name:
            named[-1] += piece

    package.walk(package.workbook_part, start, end, text)
    return hidden, named


def _hidden_sheets_line(hidden: list[str]) -> str:
    named = "; ".join(hidden[:_MOST_NAMED]) + f" and {len(hidden) - _MOST_NAMED} more" * (len(hidden) > _MOST_NAMED)
    return f"a hidden sheet: {named}" if len(hidden) == 1 else f"{len(hidden)} hidden sheets: {named}"


def _has_dde(package: Package, part: str) -> bool:
    found: list[str] = []
    package.walk(part, lambda tag, _: found.append(tag) if local_name(tag) == "ddeLink" else None)
    return bool(found)


def _has_outside_content(package: Package, part: str) -> bool:
    found: list[str] = []

    def note(tag: str, attributes: dict[str, str]) -> None:
        kind = attributes.get("Type", "").rpartition("/")[2]
        if attributes.get("TargetMode") == "External" and kind not in ("hyperlink", "externalLinkPath"):
            found.append(tag)

    package.walk(part, note)
    return bool(found)


def reaching(package: Package) -> tuple[str, ...]:
    """Return a line where formulas of a package that is read part by part call other programs or the network."""
    sheets = (package.read(sheet.part, to_scan=True) for sheet in package.sheets)
    return (REACHING,) if any(map(has_reaching_formula, sheets)) else ()


def has_reaching_formula(sheet: bytes | bytearray) -> bool:
    """Tell whether one of a sheet's formulas calls another program or the network.

    Args:
        sheet: the bytes of a worksheet's part, well-formed XML [-].
    """
    return any(_REACHING.search(text) for _, text in formula_texts(sheet))
