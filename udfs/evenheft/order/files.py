"""Files that Evenheft makes: where its template is, and new files that never go over an existing one."""

from __future__ import annotations

from pathlib import Path

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.replace import written_beside


def template_file(ending: str) -> Path:
    """Find the committed order template, in the installed package or in a checkout.

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
    with written_beside(path, overwrite=False) as stream:
        stream.write(content)


def free_name(folder: Path, stem: str, ending: str) -> Path:
    """Find a path in a folder that no file has yet: stem.ending, stem-2.ending, ..."""
    path, number = folder / f"{stem}.{ending}", 2
    while path.exists() or path.is_symlink():
        path, number = folder / f"{stem}-{number}.{ending}", number + 1
    return path
