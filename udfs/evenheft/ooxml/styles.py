"""The workbook's list of looks, to which new ones are appended: those that are there keep their numbers and bytes."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NoReturn

from evenheft.ooxml.additions import Change
from evenheft.ooxml.scanning import Element, Text, attribute, attribute_span, masked, prefix_of, tag_pattern, whole

GENERAL, WHOLE, TWO_DECIMALS, TEXT = 0, 1, 2, 49
"""Built-in number formats (ECMA-376-1, 18.8.30): as it comes, 0, 0.00, and what keeps anything typed as text."""
_FIRST_OWN = 164
"""The first number of a workbook's own number formats."""
_UNLOCKED = re.compile(rb"""(\blocked)\s*=\s*["'](?:0|false)["']""")
_AFTER_DIFFERENTIAL = (b"tableStyles", b"colors", b"extLst")


class StylesText:
    """The part that holds a workbook's looks."""

    def __init__(self, text: Text, refuse: Callable[[str], NoReturn]) -> None:
        """Find the lists of looks in the part.

        Args:
            text: the part's bytes, well-formed XML [-].
            refuse: raises Refused with a reason that goes on from the workbook's name [-].

        Raises:
            Refused: it is written in a way that is not understood.
        """
        self._text = text
        self._refuse = refuse
        self._seen = masked(text)
        prefix = prefix_of(self._seen, b"styleSheet")
        if prefix is None:
            refuse("has a list of looks that is not understood")
        self._prefix: bytes = prefix
        formats = self._list(b"cellXfs")
        if formats is None:
            refuse("has a list of looks that is not understood")
        self._formats: Element = formats
        self._cell_formats = self._children(formats, b"xf")
        self._new_formats: list[bytes] = []
        self._new_numbers: list[bytes] = []
        self._new_looks: list[bytes] = []

    def is_text(self, style: int) -> bool:
        """Tell whether whatever is typed into a cell of a format stays text."""
        return self._number_format(self._format(style)) == TEXT

    def with_decimals(self, style: int | None, decimals: int | None) -> int:
        """Return the number of a format like another, but with its numbers shown to some decimals.

        Args:
            style: the other format's number; the workbook's first when None [-].
            decimals: how many; None for words, which need none [-].
        """
        old = self._format(style or 0)
        number = self._number_format_for(decimals)
        if decimals is None and self._number_format(old) != TEXT:
            return style or 0
        if self._number_format(old) == number:
            return style or 0
        attributes, rest = old
        attributes = _with(attributes, b"numFmtId", b"%d" % number)
        attributes = _with(attributes, b"applyNumberFormat", b"1")
        return self._added_format(b"<" + self._prefix + b"xf" + attributes + rest)

    def locked(self, style: int) -> int:
        """Return the number of a format like another, but locked and with neither fill nor frame.

        Args:
            style: the other format's number [-].
        """
        attributes, rest = self._format(style)
        for name in (b"fillId", b"borderId"):
            attributes = _with(attributes, name, b"0")
        attributes = _with(attributes, b"applyProtection", b"1")
        return self._added_format(b"<" + self._prefix + b"xf" + attributes + _UNLOCKED.sub(rb'\1="1"', rest))

    def differential(self, rgb: str, *, bold: bool) -> int:
        """Return the number of a new look for a rule: a background, and a bold word or not.

        Args:
            rgb: the background, e.g. "FFCFEFE2" [-].
            bold: whether the word is bold [-].
        """
        p = self._prefix
        font = b"<%bfont><%bb/></%bfont>" % (p, p, p) if bold else b""
        look = b'<%bdxf>%b<%bfill><%bpatternFill patternType="solid"><%bfgColor rgb="%b"/><%bbgColor rgb="%b"/>' % (
            p, font, p, p, p, rgb.encode(), p, rgb.encode(),
        ) + b"</%bpatternFill></%bfill></%bdxf>" % (p, p, p)  # fmt: skip
        known = self._list(b"dxfs")
        there = [] if known is None else [bytes(self._text[e.start : e.end]) for e in self._children(known, b"dxf")]
        if look in there:
            return there.index(look)
        if look not in self._new_looks:
            self._new_looks.append(look)
        return len(there) + self._new_looks.index(look)

    def changes(self) -> list[Change]:
        """List what is to change in the part's text, in its order."""
        found: list[Change] = []
        found += self._appended(b"numFmts", self._new_numbers, first=True)
        found += self._appended(b"cellXfs", self._new_formats)
        found += self._appended(b"dxfs", self._new_looks)
        return sorted(found, key=lambda change: change[:2])

    # ------------------------------------------------------------------ formats

    def _format(self, style: int) -> tuple[bytes, bytes]:
        """Return a cell format's attributes, and what follows them to its end."""
        if style < len(self._cell_formats):
            element = self._cell_formats[style]
            raw = bytes(self._text[element.start : element.end])
        elif style - len(self._cell_formats) < len(self._new_formats):
            raw = self._new_formats[style - len(self._cell_formats)]
        else:
            raw = b"<" + self._prefix + b'xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
        match = tag_pattern(self._prefix + b"xf").match(raw)
        assert match is not None
        attributes = bytes(match[1])
        closed = attributes.endswith(b"/")
        return attributes.rstrip(b"/ "), b"/>" if closed else b">" + raw[match.end() :]

    def _number_format(self, held: tuple[bytes, bytes]) -> int:
        return whole(attribute(held[0], b"numFmtId"))

    def _number_format_for(self, decimals: int | None) -> int:
        if decimals is None:
            return GENERAL
        if decimals == 0:
            return WHOLE
        return TWO_DECIMALS if decimals == 2 else self._own_number(b"0." + b"0" * decimals)

    def _own_number(self, code: bytes) -> int:
        highest = _FIRST_OWN - 1
        known = self._list(b"numFmts")
        for match in (
            () if known is None else tag_pattern(self._prefix + b"numFmt").finditer(self._seen, known.start, known.end)
        ):
            number = whole(attribute(match[1], b"numFmtId"))
            if attribute(match[1], b"formatCode") == code:
                return number
            highest = max(highest, number)
        for at, element in enumerate(self._new_numbers, start=1):
            if b'"%b"' % code in element:
                return highest + at
        number = highest + 1 + len(self._new_numbers)
        self._new_numbers.append(b'<%bnumFmt numFmtId="%d" formatCode="%b"/>' % (self._prefix, number, code))
        return number

    def _added_format(self, element: bytes) -> int:
        for number, old in enumerate(self._cell_formats):
            if bytes(self._text[old.start : old.end]) == element:
                return number
        if element not in self._new_formats:
            self._new_formats.append(element)
        return len(self._cell_formats) + self._new_formats.index(element)

    # ------------------------------------------------------------------ lists

    def _list(self, name: bytes) -> Element | None:
        match = tag_pattern(self._prefix + name).search(self._seen)
        if match is None:
            return None
        if match[1].endswith(b"/"):
            return Element(match.start(), match.end(), match.end(), match.end(), bytes(match[1]))
        close = self._seen.find(b"</" + self._prefix + name, match.end())
        return Element(match.start(), match.end(), close, self._seen.find(b">", close) + 1, bytes(match[1]))

    def _children(self, parent: Element, name: bytes) -> list[Element]:
        """Find the elements of a list, which hold none of their own name."""
        found = []
        at, closing = parent.inner, b"</" + self._prefix + name + b">"
        pattern = tag_pattern(self._prefix + name)
        while (match := pattern.search(self._seen, at, parent.close)) is not None:
            end = match.end()
            if not match[1].endswith(b"/"):
                end = self._seen.find(closing, end, parent.close) + len(closing)
                if end < len(closing):
                    self._refuse("has a list of looks that is not understood")
            found.append(Element(match.start(), match.end(), end, end, bytes(match[1])))
            at = end
        return found

    def _appended(self, name: bytes, new: list[bytes], *, first: bool = False) -> list[Change]:
        """Append elements to a list and to its stated count; a list that is not there is made."""
        if not new:
            return []
        p, joined = self._prefix, b"".join(new)
        parent = self._list(name)
        if parent is None:
            at = self._place_of_first() if first else self._place_before(_AFTER_DIFFERENTIAL)
            return [(at, at, b'<%b count="%d">%b</%b>' % (p + name, len(new), joined, p + name))]
        attributes = parent.attributes.rstrip(b"/ ")
        start, end = attribute_span(attributes, b"count")
        counted = b"%d" % (whole(attributes[start:end]) + len(new))
        if parent.inner == parent.end:
            attributes = attributes[:start] + counted + attributes[end:] if start else attributes
            return [(parent.start, parent.end, b"<%b%b>%b</%b>" % (p + name, attributes, joined, p + name))]
        at = parent.inner - 1 - len(parent.attributes)
        stated = [(at + start, at + end, counted)] if start else []
        return [*stated, (parent.close, parent.close, joined)]

    def _place_of_first(self) -> int:
        match = tag_pattern(self._prefix + b"styleSheet").search(self._seen)
        assert match is not None  # its prefix was found there
        return match.end()

    def _place_before(self, names: tuple[bytes, ...]) -> int:
        pattern = rb"<" + re.escape(self._prefix) + rb"(?:" + b"|".join(names) + rb")[\s/>]"
        found = re.compile(pattern).search(self._seen, self._formats.end)
        return found.start() if found else self._seen.rfind(b"</" + self._prefix + b"styleSheet")


def _with(attributes: bytes, name: bytes, value: bytes) -> bytes:
    """Set an attribute in a tag's text."""
    start, end = attribute_span(attributes, name)
    if start:
        return attributes[:start] + value + attributes[end:]
    return attributes + b' %b="%b"' % (name, value)
