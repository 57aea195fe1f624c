"""Files that Evenheft makes: where its template is, and new files that never go over an existing one."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from evenheft.hosts.calc.open_document import is_open_document, open_document_from
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.replace import written_beside


def template_file(ending: str, stem: str = "evenheft-order") -> Path:
    """Find a committed template, in the installed package or in a checkout.

    Args:
        ending: "xlsx" or "xltx" [-].
        stem: its name without the ending [-].
    """
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "templates", package.parents[1] / "workbook_templates"):
        path = folder / f"{stem}.{ending}"
        if path.is_file():
            return path
    raise Refused("this installation of Evenheft lacks its templates: install it again")


def write_new(path: Path, content: bytes) -> None:
    """Write a new file, whole or not at all; an OpenDocument sheet is made of a workbook, where that is its name.

    Raises:
        Refused: there is a file of that name, the folder cannot be written to, or no LibreOffice is there to convert.
    """
    if is_open_document(path):
        need_new(path)
        content = open_document_from(content, path.name)
    with written_beside(path, overwrite=False) as stream:
        stream.write(content)


def write_all_new(files: Mapping[Path, bytes]) -> None:
    """Write new files, all of them or none.

    Raises:
        Refused: as `write_new`; those that were written before are taken away again.
    """
    written: list[Path] = []
    try:
        for path, content in files.items():
            write_new(path, content)
            written.append(path)
    except BaseException:
        for path in written:
            path.unlink(missing_ok=True)
        raise


@contextmanager
def kept_only_with_files(folder: Path) -> Iterator[None]:
    """Make a folder, with those above it, to write files into; what was made and stays empty is taken away again."""
    made = [path for path in (folder, *folder.parents) if not os.path.lexists(path)]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    finally:
        for path in made:
            with contextlib.suppress(OSError):  # it is not empty
                path.rmdir()


def need_new(path: Path) -> None:
    """Refuse the name of a file that is there already, before any work is done for it."""
    if os.path.lexists(path):
        raise Refused(f"{path.name} is there already: choose another name or remove it first")


def free_name(folder: Path, stem: str, ending: str) -> Path:
    """Find a path in a folder that no file has yet: stem.ending, stem-2.ending, ..."""
    path, number = folder / f"{stem}.{ending}", 2
    while path.exists() or path.is_symlink():
        path, number = folder / f"{stem}-{number}.{ending}", number + 1
    return path
