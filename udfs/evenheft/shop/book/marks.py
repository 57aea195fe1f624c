"""What a person has typed over in a row that was kept: seen by a short mark of what was written there."""

from __future__ import annotations

import base64
import zlib
from collections.abc import Mapping, Sequence

from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import Held

_VERSION = "1:"
_WIDTH = 4
"""Letters of the mark of one cell: one change in sixteen million goes unseen."""


def same(first: Held | None, second: Held | None) -> bool:
    """Whether two cells hold the same, as a spreadsheet program may have written it again."""
    return _plain(first) == _plain(second)


def mark_of(values: Mapping[str, Held | None], keys: Sequence[str]) -> str:
    """Write the mark of a row: a few letters for each of its columns."""
    return _VERSION + "".join(_letters(values.get(key)) for key in keys)


def typed_over(mark: str, values: Mapping[str, Held | None], keys: Sequence[str]) -> frozenset[str]:
    """Find the columns that hold something else than what was written; none where there is no mark to tell."""
    letters = mark.removeprefix(_VERSION)
    if not mark.startswith(_VERSION) or len(letters) != _WIDTH * len(keys):
        return frozenset()
    return frozenset(
        key
        for place, key in enumerate(keys)
        if letters[place * _WIDTH : (place + 1) * _WIDTH] != _letters(values.get(key))
    )


def _plain(value: Held | None) -> str:
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, float | int):
        return f"{value + 0.0:.10g}"
    return plain_text(value)


def _letters(value: Held | None) -> str:
    return base64.b64encode(zlib.crc32(_plain(value).encode()).to_bytes(4, "big")[:3]).decode()
