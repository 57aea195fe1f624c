"""The shafts and grips of a shop book as an order's Shop sheet lists them: what Parts finds by number and model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from evenheft.formulas.wording import is_blank, show
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import CellAt
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import Held
from evenheft.order.layout import GRIPS, SHAFTS, Table
from evenheft.shop.book import layout
from evenheft.shop.book.grid import ListSheet
from evenheft.shop.book.reading import Book, OpenList, text_key
from evenheft.shop.book.taught import length_of, mass_of

_DIGITS = 4
"""Decimals to which a mass or a length is written [-]."""


@dataclass(frozen=True)
class ListedPart:
    """A shaft or a grip as the book lists it."""

    label: Held
    """Its number or its model, as the book holds it."""
    measures: dict[str, str] = field(default_factory=dict)
    """Mass, length and balance, each with its unit."""
    aside: str = ""
    """The order that it is set aside for."""


def shafts_listed(book: Book) -> tuple[ListedPart, ...]:
    """List the shafts of a book that went into no club yet.

    Args:
        book: the shop book; one without the sheet lists none [-].

    Raises:
        Refused: the list has lost a column.
    """
    shafts = _listed(book, layout.SHAFT_LIST)
    used = book.list("used") if shafts else None
    gone = {text_key(used.value(row, "shaft")) for row in used.rows} if used is not None else set()
    return tuple(part for part in shafts if text_key(part.label) not in gone)


def grips_listed(book: Book) -> tuple[ListedPart, ...]:
    """List the grip models of a book.

    Args:
        book: the shop book; one without the sheet lists none [-].

    Raises:
        Refused: the list has lost a column.
    """
    return _listed(book, layout.GRIP_LIST)


def _listed(book: Book, declared: ListSheet) -> tuple[ListedPart, ...]:
    """List what has a label, its list's first column, and a mass."""
    if book.package.find_sheet(declared.sheet) is None:
        return ()
    return tuple(_parts_in(book.list(declared.sheet.lower()), declared.columns[0].key))


def _parts_in(listed: OpenList, label: str) -> Iterator[ListedPart]:
    for row in listed.rows:
        held = listed.value(row, label)
        if held is None or is_blank(held):
            continue
        measures = {}
        for key, read, unit in (("mass", mass_of, "g"), ("length", length_of, "cm"), ("balance", length_of, "cm")):
            value = read(listed.value(row, key))
            if value is not None:
                measures[key] = f"{show(round(value, _DIGITS))} {unit}"
        if "mass" in measures:
            yield ListedPart(held, measures, listed.text(row, "aside"))


def part_edits(shafts: Sequence[ListedPart], grips: Sequence[ListedPart]) -> Iterator[tuple[CellAt, Edit]]:
    """Write both lists into an order, as far as they have room there; what is set aside stands last.

    Args:
        shafts: the book's shafts [-].
        grips: its grips [-].
    """
    free_first = sorted(shafts, key=lambda part: bool(part.aside))
    for table, parts in ((SHAFTS, free_first), (GRIPS, grips)):
        label, *keys = (column.key for column in table.columns)
        for row, part in enumerate(parts[: table.rows], start=table.first_row):
            held = {**part.measures, **({"aside": part.aside} if part.aside else {})}
            yield (table.sheet, row, table.at[label]), Put(part.label)
            for key in keys:
                if key in held:
                    yield (table.sheet, row, table.at[key]), Put(held[key])


def without_room(shafts: Sequence[ListedPart], grips: Sequence[ListedPart]) -> list[str]:
    """Say how many parts of the book an order has no room for, a line for each list.

    Args:
        shafts: the book's shafts [-].
        grips: its grips [-].
    """
    return [
        f"{len(parts) - table.rows} more {what} of the book have no room on Shop: type over rows there to use them."
        for table, parts, what in ((SHAFTS, shafts, "shafts"), (GRIPS, grips, "grips"))
        if len(parts) > table.rows
    ]


def part_differences(computed: Computed, shafts: Sequence[ListedPart], grips: Sequence[ListedPart]) -> list[str]:
    """Say which parts of an order's lists the book tells otherwise now, a line each.

    Args:
        computed: the order, computed [-].
        shafts: the book's shafts [-].
        grips: its grips [-].
    """
    return [*_differences(computed, SHAFTS, shafts, "Shaft"), *_differences(computed, GRIPS, grips, "Grip")]


def _differences(computed: Computed, table: Table, parts: Sequence[ListedPart], what: str) -> Iterator[str]:
    of_book = {text_key(part.label): part for part in parts}
    label, *_ = (column.key for column in table.columns)
    for row in range(table.first_row, table.last_row + 1):
        part = of_book.get(text_key(computed.value(table.sheet, row, table.at[label])))
        if part is None:
            continue
        for key, there in part.measures.items():
            read = mass_of if key == "mass" else length_of
            here = computed.value(table.sheet, row, table.at[key]) if key in table.at else None
            # A plain number is in the order's units, typed there by a person.
            if isinstance(here, str) and read(here) is not None and read(here) != read(there):
                yield f"{what} {plain_text(part.label)}, {key}: {here} here, {there} in the book"
