"""XML parts in UTF-16, which the format allows beside UTF-8: handled as UTF-8, and written back as they were."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenheft.ooxml.scanning import Text

_DECLARATION = re.compile(rb"\A\s*<\?xml\b.*?\?>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Wide:
    """A way of writing a part with two bytes and more for each character."""

    encoding: str
    mark: bytes
    """What the part begins with before its first character, or nothing."""


_WIDE = (
    (b"\xff\xfe<\0", Wide("utf-16-le", b"\xff\xfe")),
    (b"\xfe\xff\0<", Wide("utf-16-be", b"\xfe\xff")),
    (b"<\0", Wide("utf-16-le", b"")),
    (b"\0<", Wide("utf-16-be", b"")),
)


def wide_of(head: Text) -> Wide | None:
    """Tell how an XML part is written by its first four bytes; None where that is UTF-8."""
    return next((wide for begins, wide in _WIDE if head[:4].startswith(begins)), None)


def as_utf8(content: Text) -> Text:
    """Return a part's text in UTF-8, the same bytes where it is; what it declares of itself is left as it stands.

    Raises:
        UnicodeDecodeError: it is no text.
    """
    wide = wide_of(content)
    return content if wide is None else bytes(content[len(wide.mark) :]).decode(wide.encoding).encode()


def as_before(content: bytes, wide: Wide) -> bytes:
    """Return a part's text written as the part that it replaces; one that declares another encoding stays."""
    declared = _DECLARATION.match(content)
    if wide_of(content) is not None or (declared is not None and b"utf-8" in declared[0].lower()):
        return content
    return wide.mark + content.decode().encode(wide.encoding)


def undeclared(content: bytes) -> bytes:
    """Return a part's text without its declaration, which counts as UTF-8."""
    return _DECLARATION.sub(b"", content, count=1)
