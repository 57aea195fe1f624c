"""The functions' arguments described in the workbook's own part, for a function wizard that no macro has told yet.

`x14:definedName` holds the argument descriptions of a macro ([MS-XLSX] 2.2.5.2 to 2.2.5.5); it needs no name of the
workbook where a macro has that name. A function's own description stands in its module (`VB_Description`).
"""

from __future__ import annotations

import re
from html import escape

from evenheft.formulas import REGISTRY
from evenheft.formulas.registry import Formula
from evenheft.ooxml.markup import seen

_EXTENSION = "{5E7E0B5C-6A31-4D0F-9C57-3B8A1D2F4E60}"
"""Ours: [MS-XLSX] 2.2.4.11 names no identifier for these elements, and whoever does not know one passes it over."""

_MAIN_2010 = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
_OLD = re.compile(
    r"<((?:\w+:)?)ext\b[^<>]*\buri=\"" + re.escape(_EXTENSION) + r"\"[^<>]*>.*?</\1ext>", re.DOTALL
)  # a workbook that is brought up to date has them already
_END = re.compile(r"</((?:\w+:)?)(extLst|workbook)\s*>\s*(?=</|$)")


def with_described_arguments(workbook: str) -> str:
    """Add the descriptions of all arguments to a workbook's part, in place of older ones.

    Args:
        workbook: the part's text [-].
    """
    text = workbook
    for old in reversed(list(_OLD.finditer(seen(workbook)))):
        text = text[: old.start()] + text[old.end() :]
    end = _END.search(text)
    if end is None:
        return workbook  # without an end it is damaged, which others say
    prefix = end[1]
    added = f'<{prefix}ext xmlns:x14="{_MAIN_2010}" uri="{_EXTENSION}">{_defined_names()}</{prefix}ext>'
    if end[2] == "workbook":
        added = f"<{prefix}extLst>{added}</{prefix}extLst>"
    return text[: end.start()] + added + text[end.start() :]


def _defined_names() -> str:
    return f"<x14:definedNames>{''.join(_defined_name(f) for f in REGISTRY.values() if f.arguments)}</x14:definedNames>"


def _defined_name(formula: Formula) -> str:
    texts = "".join(
        f'<x14:argumentDescription index="{index}">{escape(argument.help, quote=False)}</x14:argumentDescription>'
        for index, argument in enumerate(formula.arguments)
    )
    count = len(formula.arguments)
    return (
        f'<x14:definedName name="{formula.name}"><x14:argumentDescriptions count="{count}">{texts}'
        "</x14:argumentDescriptions></x14:definedName>"
    )
