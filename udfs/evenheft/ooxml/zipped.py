"""Files that are zips of parts, as workbooks and extensions are: made, and copied with some parts replaced."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

_ALWAYS = (1980, 1, 1, 0, 0, 0)
"""The date of a part that is made here: the same parts give the same bytes, whenever they are put together."""


def packed(parts: Mapping[str, bytes]) -> bytes:
    """Pack a new package.

    Args:
        parts: each part's bytes by its name, in the order in which they stand [-].
    """
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as package:
        for name, data in parts.items():
            package.writestr(zipfile.ZipInfo(name, _ALWAYS), data, zipfile.ZIP_DEFLATED)
    return target.getvalue()


def rewritten(content: bytes, parts: Mapping[str, bytes]) -> bytes:
    """Copy a package with some parts replaced or, at its end, added; all others as they are.

    Args:
        content: the package's bytes [-].
        parts: the new bytes of parts, by the parts' names [-].

    Raises:
        BadZipFile: it is none, or damaged.
    """
    target = io.BytesIO()
    left = dict(parts)
    with zipfile.ZipFile(io.BytesIO(content)) as source, zipfile.ZipFile(target, "w") as copy:
        for info in source.infolist():
            data = left.pop(info.filename) if info.filename in left else source.read(info)
            copy.writestr(info, data, info.compress_type)
        for name, data in left.items():
            copy.writestr(zipfile.ZipInfo(name, _ALWAYS), data, zipfile.ZIP_DEFLATED)
    return target.getvalue()
