"""The shop book opened once: its lists read by their headings, values as they are stored."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage, read_package
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.replace import FileState, state_of
from evenheft.ooxml.text import plain_text, shown_name
from evenheft.ooxml.values import Held, whole_number
from evenheft.order.layout.grid import KIND_OF_WORKBOOK
from evenheft.shop.book.grid import BOOK_VERSION, FIRST_BOOK_ROW, KIND_OF_BOOK, ListSheet
from evenheft.shop.book.layout import BOOK_SHEETS

_SEARCHED_ROWS = 40
"""How far down a list's headings are looked for: a shop may put lines of its own above them."""


def text_key(value: object) -> str:
    """Write a name so that the same name is the same text: spaces and capitals do not tell two apart."""
    return " ".join(plain_text(value).split()).casefold()


@dataclass
class OpenList:
    """One list of a book that is open."""

    declared: ListSheet
    content: SheetContent
    heading_row: int
    at: dict[str, int]
    """The column of each key, wherever the shop has moved it."""

    def value(self, row: int, key: str) -> Held | None:
        """Look up what a row holds in a column."""
        return self.content.values.get((row, self.at[key])) if key in self.at else None

    def text(self, row: int, key: str) -> str:
        """Look up what a row holds in a column, as a text on one line."""
        return plain_text(self.value(row, key))

    @cached_property
    def rows(self) -> tuple[int, ...]:
        """The rows in which something is typed or kept."""
        columns = {self.at[key] for key in self.declared.typed if key in self.at}
        formulas = self.content.formulas
        return tuple(sorted({
            row for row, column in self.content.values
            if row > self.heading_row and column in columns and (row, column) not in formulas
        }))  # fmt: skip

    @cached_property
    def by_key(self) -> dict[tuple[str, ...], int]:
        """The first row of each key."""
        found: dict[tuple[str, ...], int] = {}
        for row in self.rows:
            found.setdefault(tuple(text_key(self.value(row, key)) for key in self.declared.key), row)
        return found

    def of_order(self, number: str) -> Iterator[int]:
        """Yield the rows that an order has kept here."""
        wanted = text_key(number)
        return (row for row in self.rows if text_key(self.value(row, "order")) == wanted)

    @property
    def next_free(self) -> int:
        """The row below everything that is typed or kept."""
        return max(self.rows[-1] if self.rows else 0, self.heading_row, FIRST_BOOK_ROW - 1) + 1


@dataclass
class Book:
    """A shop book that is open."""

    path: Path
    state: FileState | None
    """The file as it was when it was read."""
    package: CheckedPackage
    _lists: dict[str, OpenList] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """What messages call it."""
        return self.path.name

    def list(self, name: str) -> OpenList:
        """Read a list, by its name in small letters; once.

        Raises:
            Refused: the list or a column of it is gone.
        """
        if name not in self._lists:
            self._lists[name] = _read_list(self, BOOK_SHEETS[name])
        return self._lists[name]


def open_book(path: Path) -> Book:
    """Open and recognise a shop book; the file is only read.

    Raises:
        Refused: it is no workbook, not safe to open, or no shop book of this layout.
    """
    state = state_of(path)
    package = read_package(path)
    kind, _, stated = _kind(package).rpartition(" ")
    version = whole_number(stated, -1)
    if kind == KIND_OF_WORKBOOK:
        package.refuse("is an order, not a shop book: make one with  evenheft shop new")
    if kind != KIND_OF_BOOK or version < 0:
        package.refuse("is a workbook, but not a shop book: make one with  evenheft shop new")
    if version != BOOK_VERSION:
        age = "newer" if version > BOOK_VERSION else "older"
        package.refuse(f"was made by a {age} Evenheft (layout {version}, this one keeps layout {BOOK_VERSION})")
    return Book(path, state, package)


def _kind(package: CheckedPackage) -> str:
    """Find the line on the Guide that tells what kind of workbook this is, "" where none does."""
    if package.find_sheet("Guide") is None:
        return ""
    for value in read_sheet(package, "Guide").values.values():
        if isinstance(value, str) and value.startswith((KIND_OF_BOOK, KIND_OF_WORKBOOK)):
            return value.strip()
    return ""


def _read_list(book: Book, declared: ListSheet) -> OpenList:
    if book.package.find_sheet(declared.sheet) is None:
        raise Refused(f"{book.name} has lost its sheet {declared.sheet}: put it back, or start from evenheft shop new")
    content = read_sheet(book.package, declared.sheet)
    wanted = {column.heading.casefold(): column.key for column in declared.columns}
    best: tuple[int, dict[str, int]] = (0, {})
    for row in range(1, _SEARCHED_ROWS + 1):
        found: dict[str, int] = {}
        for column, value in content.row(row).items():
            key = wanted.get(plain_text(value).casefold()) if isinstance(value, str) else None
            if key is not None:
                found.setdefault(key, column)
        if len(found) > len(best[1]):
            best = (row, found)
    heading_row, at = best
    lost = [declared.column(key).heading for key in declared.typed if key not in at]
    if lost:
        raise Refused(
            f'{book.name}, sheet {declared.sheet}, has lost its column "{shown_name(lost[0])}": write that heading back'
        )
    return OpenList(declared, content, heading_row, at)
