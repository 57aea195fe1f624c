"""What a builder tells of columns with `--map`: by letter or heading, in any language, before anything is decided."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenheft.formulas.headed.headings import NOT_USED, HeadingReading, read_heading
from evenheft.ooxml.errors import Refused
from evenheft.shop.headings import HeadingRows
from evenheft.shop.table import ShopColumn
from evenheft.shop.view import View

_LOOKED_BELOW = 4
"""How many rows below headings a number under a told letter is looked for [-]."""
_LINE = re.compile(r"[A-Za-z]{1,3}|[0-9]{1,7}")


@dataclass(frozen=True, slots=True)
class Mapped:
    """What one `--map` says."""

    name: str
    """A column's letter (of clubs in columns, a row's number) or its heading."""
    reading: HeadingReading

    def means(self, column: ShopColumn) -> bool:
        """Whether it speaks of a column."""
        return self.name.upper() == column.letter or key(self.name) == key(column.heading)


def read_map(mapped: Mapping[str, str]) -> tuple[Mapped, ...]:
    """Understand what is told.

    Args:
        mapped: meanings by a column's letter or heading [-].

    Raises:
        Refused: a meaning names no quantity.
    """
    found = []
    for name, meaning in mapped.items():
        reading = read_heading(meaning)
        if reading.problem is not None or (reading.quantity is None and NOT_USED not in meaning.lower()):
            why = reading.problem or f'name a quantity, e.g. "mass (g)", or "{NOT_USED}"'
            raise Refused(f'--map "{name}={meaning}" is not understood: {why}')
        found.append(Mapped(name.strip(), reading))
    return tuple(found)


def hits(view: View, headings: HeadingRows, mapping: Sequence[Mapped]) -> int:
    """How many of the told columns stand under headings: by their text, or by their letter over a number."""
    keys = {key(text) for text in headings.texts.values()}
    letters = {view.line(at) for at in columns_with_numbers(view, headings.rows[-1])}
    return sum(key(one.name) in keys or one.name.upper() in letters for one in mapping)


def columns_with_numbers(view: View, row: int) -> set[int]:
    """Return the columns in which a number or a formula stands within a few rows below one."""
    return {
        at
        for below in range(row + 1, row + 1 + _LOOKED_BELOW)
        for at, value in view.row(below).items()
        if isinstance(value, float) or (below, at) in view.formulas or (isinstance(value, str) and value[:1].isdigit())
    }


def unheaded(view: View, headings: HeadingRows, mapping: Sequence[Mapped]) -> dict[int, str]:
    """Return mapped columns that have numbers but no heading of their own,
    so that they count as columns all the same.
    """
    wanted = {one.name.upper() for one in mapping if _LINE.fullmatch(one.name)}
    if not wanted:
        return {}
    found = columns_with_numbers(view, headings.rows[-1])
    return {at: f"column {view.line(at)}" for at in found if view.line(at) in wanted and at not in headings.texts}


def with_mapping(columns: Sequence[ShopColumn], mapping: Sequence[Mapped], sheet_label: str) -> list[ShopColumn]:
    """Columns with what is told of them.

    Raises:
        Refused: a heading is told that two columns have.
    """
    changed = {column.at: column for column in columns}
    for one in mapping:
        named = [column for column in columns if key(one.name) == key(column.heading)]
        if len(named) > 1 and not any(one.name.upper() == column.letter for column in columns):
            letters = " and ".join(column.letter for column in named)
            raise Refused(f'{sheet_label} has "{one.name}" in columns {letters}: use the letter in --map')
        for column in columns:
            if one.means(column):
                changed[column.at] = replace(column, reading=one.reading, unsure="", mapped=True)
    return list(changed.values())


def need_all_met(mapping: Sequence[Mapped], columns: Sequence[ShopColumn], sheet_label: str) -> None:
    """Refuse a told column that none of the tables has, with the headings that there are."""
    for one in mapping:
        if not any(one.means(column) for column in columns):
            seen = "; ".join(f'{column.letter} "{column.heading}" ({column.label})' for column in columns)
            raise Refused(f'{sheet_label} has no column "{one.name}" that --map could mean; it has {seen}')


def key(text: str) -> str:
    """Return a heading as two spellings of it are compared."""
    return " ".join(text.replace("|", " ").split()).strip(" :").casefold()
