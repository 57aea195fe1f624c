"""One part of a package seen going by: what no workbook needs and an attacker does is refused."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import NoReturn
from xml.parsers import expat

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import shown_name


@dataclass(frozen=True, slots=True)
class Callbacks:
    """Who wants to know what a parser sees."""

    start: Callable[[str, dict[str, str]], None] | None = None
    end: Callable[[str], None] | None = None
    text: Callable[[str], None] | None = None
    any_depth: bool = False


class PartCheck:
    """Sees a part go by, and refuses what no workbook needs and an attacker does."""

    def __init__(
        self, part: str, callbacks: Callbacks | None, *, deepest: int, refuse: Callable[[str], NoReturn]
    ) -> None:
        """Begin to check a part.

        Args:
            part: its name [-].
            callbacks: who wants to know what is seen [-].
            deepest: elements inside elements that are accepted [-].
            refuse: raises Refused with a reason that goes on from the file's name [-].
        """
        self._part = part
        self._deepest = deepest
        self._refuse = refuse
        self._callbacks = callbacks or Callbacks()
        self._parser: expat.XMLParserType | None = None
        self._loose = False
        self._tail = b""
        self._depth = 0
        self._begun = False

    @property
    def is_xml(self) -> bool:
        """Whether what went by so far is parsed as XML."""
        return self._parser is not None

    @property
    def is_deep_checked(self) -> bool:
        """Whether the depth of its elements was looked at too."""
        return not self._callbacks.any_depth

    def feed(self, chunk: bytes) -> None:
        """Check the next bytes."""
        if not self._begun:
            self._begun = True
            self._begin(chunk)
        if self._parser is not None:
            try:
                self._parser.Parse(chunk, False)
            except (expat.ExpatError, ValueError, LookupError) as error:
                self._refuse_malformed(error)
        elif self._loose:
            seen = self._tail + chunk.replace(b"\0", b"").upper()  # UTF-16 becomes what it says
            if b"<!DOCTYPE" in seen or b"<!ENTITY" in seen:
                self._refuse_doctype()
            self._tail = seen[-9:]

    def finish(self) -> None:
        """Check that the part is complete."""
        if self._parser is None:
            if not self._begun and is_xml_by_name(self._part):
                self._refuse(f"is damaged: its part {shown_name(self._part)} is empty")
            return
        try:
            self._parser.Parse(b"", True)
        except (expat.ExpatError, ValueError, LookupError) as error:
            self._refuse_malformed(error)

    def _begin(self, chunk: bytes) -> None:
        # A part is XML by its name or by how it begins: relationships may lead to a part of any name.
        looks = re.match(rb"(?:\xef\xbb\xbf)?\s*<|\xff\xfe<\0|\xfe\xff\0<|\0<", chunk) is not None
        if self._part.lower().endswith((".vml", ".htm", ".html")):
            self._loose = True  # their writers do not close every element
        elif is_xml_by_name(self._part) or looks:
            parser = expat.ParserCreate()
            if not self._callbacks.any_depth:
                parser.StartElementHandler = self._open
                parser.EndElementHandler = self._close
            parser.StartDoctypeDeclHandler = lambda *_: self._refuse_doctype()
            parser.XmlDeclHandler = self._declared
            if self._callbacks.text is not None:
                parser.buffer_text = True
                parser.CharacterDataHandler = self._callbacks.text
            self._parser = parser

    def _declared(self, version: str, encoding: str | None, standalone: int) -> None:  # noqa: ARG002
        if encoding is not None and encoding.lower() not in ("utf-8", "utf-16", "us-ascii", "ascii"):
            self._refuse(f"writes its part {shown_name(self._part)} in {shown_name(encoding)}, which no workbook does")

    def _open(self, tag: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > self._deepest:
            self._refuse(f"nests its part {shown_name(self._part)} deeper than any workbook needs")
        if self._callbacks.start is not None:
            self._callbacks.start(tag, attributes)

    def _close(self, tag: str) -> None:
        self._depth -= 1
        if self._callbacks.end is not None:
            self._callbacks.end(tag)

    def _refuse_doctype(self) -> NoReturn:
        self._refuse(f"declares a DOCTYPE in its part {shown_name(self._part)}, which no workbook needs")

    def _refuse_malformed(self, error: Exception) -> NoReturn:
        if isinstance(error, Refused):
            raise error
        self._refuse(f"is damaged: its part {shown_name(self._part)} is not well-formed XML")


def local_name(tag: str) -> str:
    """Return a tag or an attribute's name without its namespace's prefix."""
    return tag.rpartition(":")[2]


def is_xml_by_name(part: str) -> bool:
    """Tell whether a part is XML by its name, so that it must be well formed."""
    return part.lower().endswith((".xml", ".rels"))
