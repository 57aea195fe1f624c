"""Packages in tests: checked as the product checks them, and changed by the standard library alone."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

from evenheft.ooxml.package import CheckedPackage

_ALWAYS = (1980, 1, 1, 0, 0, 0)


def checked(content: bytes) -> CheckedPackage:
    return CheckedPackage(content, name="mine.xlsx", add_in=True)


def with_parts(content: bytes, parts: Mapping[str, bytes | str]) -> bytes:
    """A package with some parts replaced or, at its end, added."""
    target = io.BytesIO()
    left = dict(parts)
    with zipfile.ZipFile(io.BytesIO(content)) as source, zipfile.ZipFile(target, "w") as copy:
        for info in source.infolist():
            data = left.pop(info.filename) if info.filename in left else source.read(info)
            copy.writestr(info, data, info.compress_type)
        for name, data in left.items():
            copy.writestr(zipfile.ZipInfo(name, _ALWAYS), data, zipfile.ZIP_DEFLATED)
    return target.getvalue()
