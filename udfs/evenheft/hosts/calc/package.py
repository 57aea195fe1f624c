"""The extension as one file, evenheft.oxt."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping
from pathlib import Path

from evenheft.hosts.calc.contents import contents

FILE_NAME = "evenheft.oxt"
_ALWAYS = (1980, 1, 1, 0, 0, 0)  # the same registry gives the same bytes, whenever it is built


def write(path: Path, extra: Mapping[str, bytes] | None = None) -> None:
    """Write the extension; an older file of that name is replaced only once the new one is whole.

    Args:
        path: where to [-].
        extra: more files by their path in the extension [-].
    """
    beside = path.with_name(f".{path.name}.new")
    with zipfile.ZipFile(beside, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in {**contents(), **(extra or {})}.items():
            package.writestr(zipfile.ZipInfo(name, _ALWAYS), data, zipfile.ZIP_DEFLATED)
    beside.replace(path)
