"""The extension as one file, evenheft.oxt."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from evenheft.hosts.calc import OLDEST_OFFICE
from evenheft.hosts.calc.contents import contents
from evenheft.ooxml.placing import put_whole
from evenheft.ooxml.zipped import packed

FILE_NAME = "evenheft.oxt"


def write(path: Path, extra: Mapping[str, bytes] | None = None, *, oldest: str = OLDEST_OFFICE) -> None:
    """Write the extension; an older file of that name is replaced only once the new one is whole.

    Args:
        path: where to [-].
        extra: more files by their path in the extension [-].
        oldest: the oldest LibreOffice that shall take it [-].

    Raises:
        OSError: it cannot be written; an older file is then as it was.
    """
    put_whole(path, packed({**contents(oldest=oldest), **(extra or {})}))
