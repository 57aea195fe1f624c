"""A file of Evenheft's own put where a spreadsheet program looks for it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def put_whole(path: Path, content: bytes, *, by_way_of: Path | None = None) -> None:
    """Write a file whole or not at all, over an older one; its folder is made where there is none.

    Args:
        path: the file [-].
        content: what it is to hold [-].
        by_way_of: the folder in which it is first written, on the same disk; its own when left out [-].

    Raises:
        OSError: it cannot be written; an older file is then as it was, and nothing is left behind.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor, temporary = tempfile.mkstemp(dir=by_way_of or path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
        Path(temporary).chmod(0o666 & ~_mask())
        Path(temporary).replace(path)
    finally:
        Path(temporary).unlink(missing_ok=True)


def _mask() -> int:
    """Ask for what new files may not be, for others than their owner: a temporary file is for its owner alone."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
