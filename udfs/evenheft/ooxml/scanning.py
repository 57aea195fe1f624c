"""Tags found in the text of an XML part without parsing it into a tree, in time that grows with the text alone.

The text is well formed: a parser has read it before. What a parser passes over (comments, instructions,
unparsed text) is blanked out first, so that nothing in it is taken for a tag.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

from evenheft.ooxml.places import column_number

Text: TypeAlias = bytes | bytearray

# What stands between a tag's name and its ">"; a quoted value may hold a ">".
_ATTRIBUTES = rb"""([^"'>]*(?:"[^"]*"[^"'>]*|'[^']*'[^"'>]*)*)"""
_UNREAD = re.compile(rb"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Element:
    """Where an element stands in the text."""

    start: int
    inner: int
    """Where its content begins; equal to `end` for an element without content."""
    close: int
    """Where its closing tag begins."""
    end: int
    attributes: bytes
    name: bytes = b""
    """The element's name with its prefix, where it was looked for by name."""


def masked(text: bytes | bytearray) -> bytes | bytearray:
    """Return the text with what a parser passes over blanked out; the text itself where there is no such thing."""
    if text.find(b"<!", 1) < 0 and text.find(b"<?", 1) < 0:
        return text
    return _UNREAD.sub(lambda match: b" " * len(match[0]), text)


def attribute(attributes: bytes, name: bytes) -> bytes:
    """Return an attribute's value out of a tag's text, b"" where it is not there."""
    start, end = attribute_span(attributes, name)
    return attributes[start:end]


def whole(text: bytes) -> int:
    """Return a whole number, 0 for what is none."""
    return int(text) if len(text) < 10 and text.isdigit() else 0


def attribute_span(attributes: bytes, name: bytes) -> tuple[int, int]:
    """Return where an attribute's value begins and ends in a tag's text; (0, 0) where it is not there."""
    match = re.search(rb"(?:^|\s)" + re.escape(name) + rb"\s*=\s*(?:\"([^\"]*)\"|'([^']*)')", attributes)
    if match is None:
        return 0, 0
    return match.span(1) if match[1] is not None else match.span(2)


def with_style(attributes: bytes, style: int) -> bytes:
    """Return the attributes of a cell's tag with another cell format's number."""
    start, end = attribute_span(attributes, b"s")
    number = b"%d" % style
    return attributes[:start] + number + attributes[end:] if start else b' s="%b"' % number + attributes


def widened_spans(attributes: bytes, first: int, last: int) -> bytes:
    """Return a row's stated first and last column, where cells now lie beyond them."""
    start, end = attribute_span(attributes, b"spans")
    old = re.fullmatch(rb"(\d+):(\d+)", attributes[start:end])
    if old is None:
        return attributes
    spans = b"%d:%d" % (min(int(old[1]), first), max(int(old[2]), last))
    return attributes[:start] + spans + attributes[end:]


def prefix_of(seen: Text, root: bytes) -> bytes | None:
    """Return the namespace prefix, with its colon, of the root element of a name; None where there is none.

    Args:
        seen: the `masked` text [-].
        root: the element's name, e.g. b"worksheet" [-].
    """
    found = re.compile(rb"<([\w.-]+:)?" + re.escape(root) + rb"[\s/>]").search(seen)
    return None if found is None else found[1] or b""


def tag_pattern(name: bytes) -> re.Pattern[bytes]:
    """Return a pattern of the opening tags of a name with its prefix; its group 1 is the attributes' text."""
    return re.compile(rb"<" + re.escape(name) + rb"(?=[\s/>])" + _ATTRIBUTES + rb">")


def formula_texts(sheet: Text) -> Iterator[tuple[Element, bytes]]:
    """Yield each formula element of a worksheet's part that has a text, and that text as it is written.

    Args:
        sheet: the part's bytes, well-formed XML [-].
    """
    seen = masked(sheet)
    prefix = prefix_of(seen, b"worksheet")
    if prefix is None:
        return
    closing = b"</" + prefix + b"f"
    for match in tag_pattern(prefix + b"f").finditer(seen):
        if match[1].endswith(b"/"):
            continue
        close = seen.find(closing, match.end())
        if close < 0:
            return
        end = seen.find(b">", close) + 1
        yield (
            Element(match.start(), match.end(), close, end, bytes(match[1]), prefix + b"f"),
            bytes(sheet[match.end() : close]),
        )


def without_shared_formulas(sheet: Text, groups: Collection[bytes]) -> bytes:
    """Return a worksheet's part without the formula elements that only repeat another's text by a group's number.

    Args:
        sheet: the part's bytes, well-formed XML [-].
        groups: the numbers of the groups [-].
    """
    seen = masked(sheet)
    prefix = prefix_of(seen, b"worksheet") or b""
    closing = b"</" + prefix + b"f"
    pieces: list[bytes] = []
    at = 0
    for match in tag_pattern(prefix + b"f").finditer(seen):
        if attribute(match[1].rstrip(b"/"), b"si") not in groups:
            continue
        end = match.end() if match[1].endswith(b"/") else seen.find(b">", seen.find(closing, match.end())) + 1
        pieces.append(bytes(sheet[at : match.start()]))
        at = end
    return b"".join([*pieces, bytes(sheet[at:])])


@lru_cache(maxsize=8)
def _named_cells(prefix: bytes) -> re.Pattern[bytes]:
    return re.compile(b"<" + re.escape(prefix) + rb'c r="([A-Z]{1,3})([1-9][0-9]{0,6})"')


def ends_before(seen: Text, prefix: bytes, number: int, row: Element, column: int) -> bool:
    """Tell whether a row's cells all stand in order before a column, so that they need not be gone through.

    Args:
        seen: the sheet's `masked` text [-].
        prefix: the namespace prefix of its elements, with its colon [-].
        number: the row's [-].
        row: where it stands [-].
        column: the column's number [-].
    """
    opening = b"<" + prefix + b"c"
    names = _named_cells(prefix).findall(seen, row.inner, row.close)
    if not names or len(names) != seen.count(opening + b" ", row.inner, row.close):
        return False
    unnamed = seen.find(opening + b">", row.inner, row.close) >= 0
    if unnamed or any(int(named) != number for _, named in names):
        return False
    columns = [(len(letters), letters) for letters, _ in names]
    in_order = all(one < other for one, other in pairwise(columns))
    return in_order and column_number(names[-1][0].decode()) < column
