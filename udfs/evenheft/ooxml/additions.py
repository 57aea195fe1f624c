"""What comes with new cells of a sheet besides their content: widths of columns, and rules that colour words."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NoReturn, TypeAlias

from evenheft.ooxml.places import Area, reference
from evenheft.ooxml.scanning import Element, Text, attribute, tag_pattern, whole

Change: TypeAlias = tuple[int, int, bytes]
"""A replacement in a text: from where, to where, and the new bytes."""

_AFTER_RULES = (
    b"dataValidations", b"hyperlinks", b"printOptions", b"pageMargins", b"pageSetup", b"headerFooter", b"rowBreaks",
    b"colBreaks", b"customProperties", b"cellWatches", b"ignoredErrors", b"smartTags", b"drawing", b"legacyDrawing",
    b"legacyDrawingHF", b"drawingHF", b"picture", b"oleObjects", b"controls", b"webPublishItems", b"tableParts",
    b"extLst",
)  # fmt: skip
"""The elements that may follow the rules in a sheet, in the file format's order (ECMA-376-1, CT_Worksheet)."""


@dataclass(frozen=True, slots=True)
class WordRule:
    """A word that is shown in a look of its own."""

    areas: tuple[Area, ...]
    word: str
    look: int
    """The differential format's number in the workbook's list of looks."""


@dataclass(frozen=True)
class Additions:
    """Widths and rules for a sheet."""

    widths: Mapping[int, float] = field(default_factory=dict)
    """By a column's number [characters]; a column that has a width keeps its own."""
    rules: Sequence[WordRule] = ()

    def changes(self, seen: Text, prefix: bytes, data: Element, refuse: Callable[[str], NoReturn]) -> Iterator[Change]:
        """List what is to change in a sheet's text.

        Args:
            seen: the text with comments blanked out [-].
            prefix: the namespace prefix of its elements, with its colon [-].
            data: where its cells stand [-].
            refuse: raises Refused with a reason that goes on from the sheet's name [-].
        """
        yield from _width_changes(self.widths, seen, prefix, data)
        if self.rules:
            yield from _rule_changes(self.rules, seen, prefix, data, refuse)


def pieces_of(text: Text, changes: Sequence[Change]) -> list[bytes | bytearray | memoryview]:
    """Return a text with replacements made, in pieces; those that did not change are views of the text."""
    view = memoryview(text)
    pieces: list[bytes | bytearray | memoryview] = []
    at = 0
    for start, end, new in changes:
        pieces += [view[at:start], new]
        at = end
    return [*pieces, view[at:]]


def _width_changes(widths: Mapping[int, float], seen: Text, prefix: bytes, data: Element) -> Iterator[Change]:
    """Give columns a width that have none of their own; those of a range that shares one are left alone."""
    taken = [
        (whole(attribute(match[1], b"min")), whole(attribute(match[1], b"max")), match.start())
        for match in tag_pattern(prefix + b"col").finditer(seen, 0, data.start)
    ]
    free = {c: w for c, w in sorted(widths.items()) if not any(low <= c <= high for low, high, _ in taken)}
    if not free:
        return
    new = {c: b'<%bcol min="%d" max="%d" width="%.2f" customWidth="1"/>' % (prefix, c, c, w) for c, w in free.items()}
    if not taken:
        empty = re.compile(rb"<" + re.escape(prefix) + rb"cols\s*/>").search(seen, 0, data.start)
        start, end = empty.span() if empty else (data.start, data.start)
        yield start, end, b"<%bcols>%b</%bcols>" % (prefix, b"".join(new.values()), prefix)
        return
    closing = seen.find(b"</" + prefix + b"cols", 0, data.start)
    for column, element in new.items():
        at = min((place for low, _, place in taken if low > column), default=closing)
        yield at, at, element


def _rule_changes(
    rules: Sequence[WordRule], seen: Text, prefix: bytes, data: Element, refuse: Callable[[str], NoReturn]
) -> Iterator[Change]:
    opening = tag_pattern(prefix + b"cfRule")
    highest = max((whole(attribute(m[1], b"priority")) for m in opening.finditer(seen, data.end)), default=0)
    written = []
    for number, rule in enumerate(rules, start=highest + 1):
        areas = b" ".join(f"{reference(a.top, a.left)}:{reference(a.bottom, a.right)}".encode() for a in rule.areas)
        written.append(
            b'<%bconditionalFormatting sqref="%b"><%bcfRule type="cellIs" dxfId="%d" priority="%d" operator="equal">'
            b"<%bformula>&quot;%b&quot;</%bformula></%bcfRule></%bconditionalFormatting>"
            % (prefix, areas, prefix, rule.look, number, prefix, rule.word.encode(), prefix, prefix, prefix)
        )
    closing = b"</" + prefix + b"conditionalFormatting>"
    last = seen.rfind(closing, data.end)
    at = last + len(closing) if last >= 0 else _place_of_rules(seen, prefix, data)
    if at < 0:
        refuse("is written in a way that is not understood")
    yield at, at, b"".join(written)


def _place_of_rules(seen: Text, prefix: bytes, data: Element) -> int:
    """Find where the first rules of a sheet belong: before whatever may follow them."""
    names = b"|".join(_AFTER_RULES)
    follows = re.compile(rb"<" + re.escape(prefix) + rb"(?:" + names + rb")[\s/>]").search(seen, data.end)
    closing = seen.rfind(b"</" + prefix + b"worksheet")
    return follows.start() if follows else closing
