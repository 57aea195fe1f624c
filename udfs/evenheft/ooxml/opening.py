"""Files that somebody names: opened to be read, or refused in a line that says why."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import BinaryIO

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.limits import LIMITS, Limits


def opened(path: Path) -> BinaryIO:
    """Open a file for reading.

    Raises:
        Refused: there is no such file, it may not be read, or it is no file.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):  # a pipe would wait for ever
            raise Refused(f"{path.name or path} is a folder or a device, not a workbook")
        return path.open("rb")
    except OSError as error:
        raise Refused(f"{path.name or path} cannot be read: {_reason(error)}") from None


def content_of(path: Path, limits: Limits = LIMITS) -> bytes:
    """Read a file's bytes, one more than is accepted at most.

    Raises:
        Refused: as `opened`, or reading fails.
    """
    with opened(path) as source:
        try:
            return source.read(limits.file_bytes + 1)
        except OSError as error:
            raise Refused(f"{path.name} cannot be read: {_reason(error)}") from None


def _reason(error: OSError) -> str:
    return "there is no such file" if isinstance(error, FileNotFoundError) else (error.strerror or "").lower()
