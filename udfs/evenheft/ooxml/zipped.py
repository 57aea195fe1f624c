"""Files that are zips of parts, as workbooks and extensions are: made, packed or not."""

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


def stored(parts: Mapping[str, bytes]) -> bytes:
    """Return a new package whose parts are not packed, for a reader that would only unpack them again.

    Args:
        parts: each part's bytes by its name, in the order in which they stand [-].
    """
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as package:
        for name, data in parts.items():
            package.writestr(zipfile.ZipInfo(name, _ALWAYS), data, zipfile.ZIP_STORED)
    return target.getvalue()
