"""One writer at a time: a lock beside the book, held by the system for as long as its holder lives."""

from __future__ import annotations

import contextlib
import datetime
import getpass
import os
import platform
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from evenheft.ooxml.errors import Refused

_PATIENCE = 120.0
"""How long another keep is waited for [s]."""


def lock_of(book: Path) -> Path:
    """Name the file beside a book by which writers see each other."""
    real = Path(os.path.realpath(book))
    return real.with_name(f".{real.name}.lock")


@contextmanager
def only_writer(book: Path, say: Callable[[str], None], *, patience: float = _PATIENCE) -> Iterator[None]:
    """Hold the book's lock for as long as the block runs; wait, and say so, where another holds it.

    The system takes the lock back when its holder ends, however it ends: a lock file that a killed run or another
    machine left behind holds nobody up.

    Args:
        book: the shop book [-].
        say: is told one line where there is something to wait for [-].
        patience: how long to wait [s].

    Raises:
        Refused: it is still held after that, or the folder cannot be written to.
    """
    path = lock_of(book)
    lock = FileLock(path, mode=0o666)
    try:
        try:
            lock.acquire(timeout=0)
        except Timeout:
            say(f"{book.name} is being written by {_holder(path)}: waiting for it")
            lock.acquire(timeout=patience, poll_interval=0.05)
    except Timeout:
        raise Refused(
            f"{book.name} is still being written by {_holder(path)} after {patience:g} s: run this again later"
        ) from None
    except (OSError, NotImplementedError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Refused(f"{book.name} cannot be locked: {reason.lower()}") from None
    try:
        _sign(path)
        yield
    finally:
        lock.release()


def _sign(path: Path) -> None:
    """Write into the lock file who holds it, for those who wait."""
    with contextlib.suppress(OSError, KeyError):
        line = f"{getpass.getuser()} on {platform.node()} since {datetime.datetime.now():%H:%M:%S}"
        path.write_text(line, encoding="utf-8")


def _holder(path: Path) -> str:
    with contextlib.suppress(OSError, ValueError):
        text = " ".join(path.read_text(encoding="utf-8")[:100].split())
        if text:
            return text
    return "another Evenheft"
