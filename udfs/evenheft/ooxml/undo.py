"""A remark at a part's end that holds what a change replaced, so that the part can be had back byte for byte.

It counts only while the part is as this program has left it: its sum is told too. Any other program leaves the
remark out when it saves, and then there is nothing to be had back in this way.
"""

from __future__ import annotations

import base64
import binascii
import json
import re
import zlib
from collections.abc import Sequence

from evenheft.ooxml.additions import Change
from evenheft.ooxml.scanning import Text

_MARK = b"evenheft-undo "
_REMARK = re.compile(rb"<!--" + _MARK + rb"([0-9]+) ([A-Za-z0-9+/=]*)-->\s*\Z")
_LARGEST = 64 << 20
"""What a remark may unfold to [bytes]."""


def with_remark(text: Text, changes: Sequence[Change]) -> list[Change]:
    """Return changes to a text with the remark that undoes them.

    Args:
        text: the part's bytes as they are [-].
        changes: replacements in the order of the text [-].
    """
    if not changes:
        return []
    kept: list[tuple[int, int, str]] = []
    crc = at = 0
    for start, end, new in changes:
        unchanged = memoryview(text)[at:start]
        crc = zlib.crc32(new, zlib.crc32(unchanged, crc))
        kept.append((start - at, len(new), bytes(text[start:end]).decode("latin-1")))
        at = end
    crc = zlib.crc32(memoryview(text)[at:], crc)
    packed = base64.b64encode(zlib.compress(json.dumps(kept, separators=(",", ":")).encode(), 6))
    return [*changes, (len(text), len(text), b"<!--" + _MARK + b"%d %b-->" % (crc, packed))]


def undone(text: Text) -> bytes | None:
    """Return the part as it was before the last change, None where it has been changed since or tells of none.

    Args:
        text: the part's bytes [-].
    """
    start = bytes(text[-_LARGEST:]).rfind(b"<!--" + _MARK)
    start += max(len(text) - _LARGEST, 0)
    match = _REMARK.match(bytes(text[start:])) if start >= 0 else None
    if match is None or zlib.crc32(memoryview(text)[:start]) != int(match[1]):
        return None
    try:
        unpacker = zlib.decompressobj()
        kept = json.loads(unpacker.decompress(base64.b64decode(match[2]), _LARGEST))
        pieces: list[bytes] = []
        at = 0
        for unchanged, new, old in kept:
            pieces += [bytes(text[at : at + unchanged]), old.encode("latin-1")]
            at += unchanged + new
    except (ValueError, TypeError, UnicodeError, zlib.error, binascii.Error):
        return None
    return b"".join([*pieces, bytes(text[at:start])])
