"""Writing a file so that its name always stands for the whole old or the whole new one."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import stat
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, TypeAlias

from evenheft.ooxml.errors import Refused

_LEFTOVER = ".evenheft-"
_LEFTOVER_AGE = 3600.0
"""After which a half-written file that a killed run left behind is removed [s]."""

FileState: TypeAlias = tuple[int, int, int]
"""What tells one state of a file from another: its place, its time of change and its size."""


def state_of(path: Path) -> FileState | None:
    """Note what tells whether a file was changed meanwhile; None where there is none that can be looked at."""
    try:
        found = path.stat()
    except OSError:  # no such file, a name too long, a file among the folders: whoever opens it says so
        return None
    return found.st_ino, found.st_mtime_ns, found.st_size


def other_names(path: Path) -> tuple[str, ...]:
    """Return a line where a file has further names (hard links): these keep the old one when it is written anew."""
    try:
        found = path.stat()
    except OSError:
        return ()
    if found.st_nlink < 2 or not stat.S_ISREG(found.st_mode):
        return ()
    more = "another name" if found.st_nlink == 2 else f"{found.st_nlink - 1} other names"
    return (
        f"{path.name} has {more} elsewhere (a hard link), which will show the old workbook once it is written anew",
    )


def leftovers(folder: Path) -> list[Path]:
    """List the half-written files and folders that killed runs have left in a folder."""
    try:
        return sorted(path for path in folder.iterdir() if path.name.startswith(".") and _LEFTOVER in path.name)
    except OSError:
        return []


@contextmanager
def written_beside(
    path: Path, *, backup: bool = False, overwrite: bool = True, expected: FileState | None = None
) -> Iterator[BinaryIO]:
    """Open a new file to write to, which takes the path's name when the block ends well, and vanishes when not.

    Args:
        path: the file to be; where it is a link, the file that it leads to [-].
        backup: whether the old file is kept beside it as NAME.bak [-].
        overwrite: whether there may be a file of this name already [-].
        expected: `state_of` the old file as it was read; a change since then is refused [-].

    Raises:
        Refused: the file is open elsewhere, is read-only, was changed meanwhile or the disk is full;
            whatever was there is unchanged.
    """
    target = Path(os.path.realpath(path))
    state = "left as it was" if os.path.lexists(target) else "not written"
    try:
        _need_writable(target, path.name, overwrite=overwrite)
        _remove_leftovers(target)
        number, name = tempfile.mkstemp(prefix=f".{target.name[:100]}{_LEFTOVER}", suffix=".tmp", dir=target.parent)
    except OSError as error:
        raise _refusal(path, error, state) from None
    beside = Path(name)
    try:
        with os.fdopen(number, "w+b") as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        _take_over_rights(target, beside)
        if expected is not None and state_of(target) != expected:
            raise Refused(f"{path.name} was changed by another program meanwhile: run this again")
        if backup and target.exists():
            _keep(target)
        _put_in_place(beside, target, path.name, overwrite=overwrite)
        _settle(target.parent)
    except OSError as error:
        raise _refusal(path, error, state) from None
    finally:
        with contextlib.suppress(OSError):
            beside.unlink()


def _put_in_place(beside: Path, target: Path, label: str, *, overwrite: bool) -> None:
    if overwrite:
        beside.replace(target)
        return
    try:
        os.link(beside, target)  # unlike a rename, fails where the name was taken meanwhile
    except FileExistsError:
        raise Refused(_exists(label)) from None
    except OSError:  # a file system without links
        if target.exists():
            raise Refused(_exists(label)) from None
        beside.replace(target)


def _need_writable(target: Path, label: str, *, overwrite: bool) -> None:
    if not target.parent.is_dir():
        raise Refused(f"{label} cannot be written: there is no folder {target.parent.name}")
    for lock in (f".~lock.{target.name}#", f"~${target.name}"):
        if target.with_name(lock).exists():
            raise Refused(f"{label} is open in a spreadsheet program: close it there (or remove {lock} if it is not)")
    if not target.exists():
        return
    if not overwrite:
        raise Refused(_exists(label))
    mode = target.stat().st_mode
    if not stat.S_ISREG(mode):
        raise Refused(f"{label} is a folder or a device, not a workbook")
    if not mode & 0o222 or not os.access(target, os.W_OK):
        raise Refused(f"{label} is read-only: it is left as it is")


def _exists(label: str) -> str:
    return f"{label} is there already: choose another name or remove it first"


def _keep(target: Path) -> None:
    """Keep the old file under the name NAME.bak; the old name stays in place all the while."""
    kept = target.with_name(f"{target.name}.bak")
    with tempfile.TemporaryDirectory(prefix=f".{target.name[:100]}{_LEFTOVER}", dir=target.parent) as folder:
        copy = Path(folder) / kept.name
        try:
            os.link(target, copy)
        except OSError:  # a file system without links
            shutil.copy2(target, copy)
            with copy.open("rb+") as stream:
                os.fsync(stream.fileno())
        copy.replace(kept)


def _take_over_rights(target: Path, beside: Path) -> None:
    if target.exists():
        old = target.stat()
        beside.chmod(stat.S_IMODE(old.st_mode))
        if hasattr(os, "chown"):
            with contextlib.suppress(OSError):
                os.chown(beside, old.st_uid, old.st_gid)
    else:
        mask = os.umask(0)
        os.umask(mask)
        beside.chmod(0o666 & ~mask)


def _settle(folder: Path) -> None:
    """Make the new name itself survive a power cut, where the system can."""
    with contextlib.suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def _remove_leftovers(target: Path) -> None:
    for left in target.parent.glob(f".{_quoted(target.name[:100])}{_LEFTOVER}*"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > _LEFTOVER_AGE:
                shutil.rmtree(left) if left.is_dir() else left.unlink()


def _quoted(name: str) -> str:
    return "".join(f"[{c}]" if c in "*?[" else c for c in name)


def _refusal(path: Path, error: OSError, state: str) -> Refused:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return Refused(f"{path.name} is {state}: the disk is full")
    if isinstance(error, PermissionError):
        return Refused(f"{path.name} cannot be written: it is open in another program, or you may not write there")
    return Refused(f"{path.name} is {state}: {(error.strerror or str(error)).lower()}")
