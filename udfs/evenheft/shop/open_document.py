"""A shop's OpenDocument sheet, worked on as the .xlsx workbook that LibreOffice makes of it."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from evenheft.hosts.calc.open_document import is_open_document, workbook_from
from evenheft.hosts.embedded import Computed, EngineError
from evenheft.ooxml.edit import refreshed
from evenheft.ooxml.package import CheckedPackage
from evenheft.order.files import need_new, write_new


@contextmanager
def workbook_of(shop: Path) -> Iterator[tuple[Path, tuple[str, ...]]]:
    """Yield a shop's workbook, and what is to be told of it.

    Of an OpenDocument sheet it is one that LibreOffice made, under the same name, for as long as it is needed.

    Raises:
        Refused: no LibreOffice is there to convert it, or it cannot be read.
    """
    if not is_open_document(shop):
        yield shop, ()
        return
    converted = workbook_from(shop)
    content = _with_results(converted.content, shop.name)
    with tempfile.TemporaryDirectory(prefix="evenheft-") as folder:
        path = Path(folder) / shop.name
        path.write_bytes(content)
        yield path, converted.notes


@contextmanager
def copy_to_write(copy: Path) -> Iterator[Path]:
    """Yield where a copy is to be written; an OpenDocument sheet is made of it at the end, if all went well.

    Raises:
        Refused: there is a file of that name, or it cannot be written.
    """
    if not is_open_document(copy):
        yield copy
        return
    need_new(copy)
    with tempfile.TemporaryDirectory(prefix="evenheft-") as folder:
        path = Path(folder) / copy.name
        yield path
        write_new(copy, path.read_bytes())


def _with_results(content: bytes, name: str) -> bytes:
    """Return a workbook with the results of our formulas in it, which LibreOffice cannot tell without the add-in."""
    with CheckedPackage(content, name=name) as package:
        if not any(b"HEFT_" in package.kept(sheet.part) for sheet in package.sheets):
            return content
        try:
            return refreshed(package, Computed(package).value)
        except EngineError:  # what the other cells hold can be read all the same
            return content
