"""Files that Evenheft makes: written whole beside their place and renamed, never over an existing one."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from evenheft.workbooks.package import Refused


def template_file(ending: str) -> Path:
    """The committed order template, from the installed package or from a checkout.

    Args:
        ending: "xlsx" or "xltx" [-].
    """
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "templates", package.parents[1] / "workbook_templates"):
        path = folder / f"evenheft-order.{ending}"
        if path.is_file():
            return path
    raise Refused("this installation of Evenheft lacks its order template: install it again")


def write_new(path: Path, content: bytes) -> None:
    """Write a new file, whole or not at all.

    Raises:
        Refused: there is a file of that name, or the folder cannot be written to.
    """
    if path.exists() or path.is_symlink():
        raise Refused(f"{path.name} exists already: choose another name, nothing was changed")
    try:
        descriptor, beside = tempfile.mkstemp(dir=path.parent or Path(), prefix=f".{path.name}.")
        try:
            with os.fdopen(descriptor, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            Path(beside).chmod(0o644)
            os.link(beside, path)  # unlike a rename, never over a file that has just appeared
        finally:
            Path(beside).unlink(missing_ok=True)
    except FileExistsError:
        raise Refused(f"{path.name} exists already: choose another name, nothing was changed") from None
    except OSError as error:
        raise Refused(f"{path.name} cannot be written: {error.strerror or error}") from None


def free_name(folder: Path, stem: str, ending: str) -> Path:
    """A path in a folder that no file has yet: stem.ending, stem-2.ending, ..."""
    path, number = folder / f"{stem}.{ending}", 2
    while path.exists() or path.is_symlink():
        path, number = folder / f"{stem}-{number}.{ending}", number + 1
    return path
