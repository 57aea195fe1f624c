"""Our formulas' names in files: an .ods sheet has them after the add-in's service, an .xlsx workbook has them alone."""

from __future__ import annotations

import re
from collections.abc import Callable

from evenheft.hosts.calc import SERVICE

_IN_OUR_NAME = re.compile(rb"\b" + re.escape(SERVICE).encode() + rb"\.(HEFT_\w+)(?=\s*\()", re.IGNORECASE)
_BARE_NAME = re.compile(rb"(?<![\w.])(HEFT_\w+)(?=\s*\()", re.IGNORECASE)
_TEXTS = re.compile(rb'("(?:[^"]|"")*"|&quot;(?:(?!&quot;).)*&quot;)', re.DOTALL)
_WORKBOOK_FORMULAS = re.compile(
    rb"(<(?:f|formula|formula1|formula2|definedName)(?:\s[^>]*)?>)([^<]*HEFT_[^<]*)(</)", re.IGNORECASE
)
_SHEET_FORMULAS = re.compile(
    rb'((?:table:formula|table:expression|table:condition|calcext:value)=")([^"]*HEFT_[^"]*)(")', re.IGNORECASE
)
_UNKNOWN_RESULT = re.compile(
    rb'(<table:table-cell\b[^>]*?\stable:formula="[^"]*"[^>]*?) office:value-type="string" office:string-value=""'
    rb' calcext:value-type="error"'
)
"""A formula's result that is lost on the way, since only the add-in could have told it."""


def as_workbooks_have_them(text: bytes) -> bytes:
    """Return a part of an .xlsx workbook whose formulas have our names in capitals, without the service's.

    Args:
        text: the part's bytes, as LibreOffice writes it [-].
    """

    def plain(match: re.Match[bytes]) -> bytes:
        formula = _outside_of_texts(_IN_OUR_NAME, lambda name: name[1].upper(), match[2])
        return match[1] + _outside_of_texts(_BARE_NAME, lambda name: name[1].upper(), formula) + match[3]

    return _WORKBOOK_FORMULAS.sub(plain, text)


def as_open_documents_have_them(text: bytes) -> bytes:
    """Return the content of an .ods sheet whose formulas have our names after the service's, as the add-in is known by.

    Results that only the add-in could have told are left out, so that it computes them when the sheet is opened.

    Args:
        text: the bytes of content.xml, as LibreOffice writes it [-].
    """

    def named(match: re.Match[bytes]) -> bytes:
        return match[1] + _outside_of_texts(_BARE_NAME, _as_served, match[2]) + match[3]

    return _UNKNOWN_RESULT.sub(rb"\1", _SHEET_FORMULAS.sub(named, text))


def _as_served(match: re.Match[bytes]) -> bytes:
    return f"{SERVICE}.".upper().encode() + match[1].upper()


def _outside_of_texts(pattern: re.Pattern[bytes], change: Callable[[re.Match[bytes]], bytes], formula: bytes) -> bytes:
    """Change what a pattern finds in a formula, but not in its texts."""
    pieces = _TEXTS.split(formula)
    return b"".join(piece if at % 2 else pattern.sub(change, piece) for at, piece in enumerate(pieces))
