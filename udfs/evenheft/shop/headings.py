"""Headings on a shop's own sheet: in one or more rows, under bands that are merged or not, over a row of units."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from evenheft.formulas.headed.headings import LONGEST_HEADING, HeadingReading, read_heading
from evenheft.ooxml.places import Area
from evenheft.ooxml.text import plain_text
from evenheft.shop.table import ShopColumn
from evenheft.shop.view import View

FEWEST = 2
"""Understood headings that make a row one of headings."""
MOST_HEADINGS = 400
"""More different texts in a row than this are no headings [-]."""
_LONGEST_UNIT = 20
_LOOKED_AT = 60
"""How many rows are looked at for headings that a refusal names [-]."""
# Words over a run of columns that tell whose measures they are, but name no part of a club.
_NEUTRAL = re.compile(
    r"(as |the )?(measure[ds]?|measurements?|bench|finished|final|built|build|club|clubs|data|readings?|actual|weighed"
    r"|weighing|numbers|results?|values?|dims|dimensions|specs?|inputs?)( club| data| values?| specs?)?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class HeadingRows:
    """Rows that may be a table's headings."""

    rows: tuple[int, ...]
    texts: Mapping[int, str]
    """Each column's heading as one text, from the band down to the unit, pieces apart by " | "."""
    own: frozenset[int]
    """The columns in which more than a band's word stands."""

    @property
    def understood(self) -> int:
        """How many of its own headings are understood."""
        return sum(is_understood(text) for column, text in self.texts.items() if column in self.own)

    @property
    def recognised(self) -> int:
        """How many of its own headings are understood, or are asked about."""
        return sum(is_recognised(text) for column, text in self.texts.items() if column in self.own)

    def within(self, columns: Collection[int]) -> HeadingRows:
        """Return the same of some columns only."""
        kept = {column: self.texts[column] for column in columns if column in self.texts}
        return HeadingRows(self.rows, kept, frozenset(column for column in columns if column in self.own))


def heading_rows_at(view: View, main: int) -> HeadingRows | None:
    """Return the headings of which a row may be the main one, with the band above and the units below;
    None where it is none.

    Args:
        view: the sheet, as if clubs stood in rows [-].
        main: the row [-].
    """
    cells = view.row(main).values()
    texts = sum(isinstance(value, str) for value in cells)
    if not texts or len(cells) > 2 * texts:
        return None  # a club's row: headings are words
    if texts > MOST_HEADINGS and len({value for value in cells if isinstance(value, str)}) > MOST_HEADINGS:
        return None  # names of clubs, seen sideways
    rows = [main]
    if is_units_row(view, main + 1):
        rows.append(main + 1)
    if _is_band(view, main - 1, main):
        rows.insert(0, main - 1)
    found = _heading_texts(view, tuple(rows))
    units_below = len(rows) == 2 and is_units_row(view, rows[-1])
    return HeadingRows(tuple(rows), found, frozenset(found if units_below else _own(view, rows)))


def recognised_in(view: View, row: int, first: int, last: int) -> int:
    """How many headings a single row holds, within some columns, that are understood or asked about."""
    texts = texts_in(view, row)
    return sum(first <= column <= last and is_recognised(text) for column, text in texts.items())


def is_understood(text: str) -> bool:
    """Whether a heading names a quantity for certain."""
    reading, unsure = read_banded(text)
    return reading.quantity is not None and reading.problem is None and not unsure


def is_recognised(text: str) -> bool:
    """Whether a heading names a quantity for certain, or may name one."""
    reading, unsure = read_banded(text)
    return bool(unsure) or is_doubtful(reading) or (reading.quantity is not None and reading.problem is None)


def is_doubtful(reading: HeadingReading) -> bool:
    """Whether a heading that names no quantity for certain is asked about."""
    return reading.quantity is None and (reading.problem or "").startswith(("is it ", "write the unit"))


def read_banded(text: str) -> tuple[HeadingReading, str]:
    """Tell what a heading means, with the band over it, and why that is doubtful, or ""."""
    band, bar, rest = text.partition(" | ")
    if not bar:
        return read_heading(text), ""
    together, alone = read_heading(f"{band} {rest}"), read_heading(rest)
    if together.quantity is not None and together.problem is None:
        return together, ""
    if alone.quantity is None or alone.problem is not None or _NEUTRAL.fullmatch(band):
        return alone, ""
    return alone, f'is it "{rest}" of the club, or of "{band}"?'


def columns_under(view: View, headings: HeadingRows) -> list[ShopColumn]:
    """Return the columns under headings, as far as the headings alone tell what they hold."""
    found = []
    for at, text in headings.texts.items():
        reading, unsure = read_banded(text)
        unsure = unsure or _doubt_of_band(view, headings.rows, at)
        if not unsure and is_doubtful(reading):
            unsure = reading.problem or ""
        found.append(
            ShopColumn(at, text.replace(" | ", " "), reading, view.is_hidden(at), 0, unsure, False, view.line(at))
        )
    return found


def texts_in(view: View, row: int) -> dict[int, str]:
    """Return the short texts of a row by their column; a paragraph is no heading, and is not even looked at."""
    known: dict[int, str] | None = view.looked_up.get(("texts", row))
    if known is None:
        known = {
            column: text
            for column, value in view.row(row).items()
            if isinstance(value, str) and len(value) <= LONGEST_HEADING and (text := plain_text(value))
        }
        view.looked_up["texts", row] = known
    return known


def _text_before(view: View, row: int, column: int) -> int | None:
    """Return the nearest column to the left in which a row has a text."""
    known: list[int] | None = view.looked_up.get(("columns", row))
    if known is None:
        known = view.looked_up["columns", row] = sorted(texts_in(view, row))
    at = bisect_left(known, column)
    return known[at - 1] if at else None


def is_units_row(view: View, row: int) -> bool:
    """Whether a row holds the units of the headings above it."""
    known: bool | None = view.looked_up.get(("units", row))
    if known is None:
        known = view.looked_up["units", row] = _are_units(view, row)
    return known


def _are_units(view: View, row: int) -> bool:
    texts = texts_in(view, row)
    if not texts:
        return False
    numbers = sum(isinstance(value, float) for value in view.row(row).values())
    named = sum(_bare_unit(text) is not None for text in texts.values())
    return named >= 1 and 2 * named > len(texts) + numbers


def _own(view: View, rows: list[int]) -> set[int]:
    """Return the columns in which more than a band's word stands,
    or a heading that reaches down from the band's row.
    """
    found = {column for row in rows[1:] or rows for column in texts_in(view, row)}
    for area in view.merged_rows.at(rows[0]):
        if len(rows) > 1 and area.top == rows[0] and area.bottom >= rows[1]:
            found |= set(range(area.left, area.right + 1))
    return found


def _is_band(view: View, row: int, main: int) -> bool:
    """Whether a row above the headings groups them, rather than giving the sheet a title."""
    if row < 1:
        return False
    texts, below = texts_in(view, row), texts_in(view, main)
    if not texts or not below or any(isinstance(value, float) for value in view.row(row).values()):
        return False
    merged = [a for a in view.merged_rows.at(row) if a.top == row and (a.top, a.left) in view.values]
    if len(texts) == 1:
        # A lone text is a title, unless it is merged over some of the headings but not over all.
        area = next((area for area in merged if area.right > area.left), None)
        inner = area is not None and (area.left > min(below) or area.right < max(below))
        return (
            inner and area is not None and area.bottom == row and area.left <= max(below) and area.right >= min(below)
        )
    return any(min(below) <= column <= max(below) for column in texts) or any(a.bottom >= main for a in merged)


def _heading_texts(view: View, rows: tuple[int, ...]) -> dict[int, str]:
    """Each column's heading as one text, from the band down to the unit."""
    columns = {column for row in rows for column in texts_in(view, row)}
    last = max(columns, default=0)
    over = list(dict.fromkeys(area for row in rows for area in view.merged_rows.at(row)))
    for area in over:
        if area.top in rows and (area.top, area.left) in view.values and area.left <= last:
            columns |= set(range(area.left, min(area.right, last + 1) + 1))
    texts = {column: _one_text(view, over, rows, column) for column in sorted(columns)}
    return {column: text for column, text in texts.items() if text}


def _one_text(view: View, over: list[Area], rows: tuple[int, ...], column: int) -> str:
    pieces: list[str] = []
    seen: set[Area] = set()
    for row in rows:
        area = next((area for area in over if (row, column) in area), None)
        if area is not None and area in seen:
            continue
        if area is not None:
            seen.add(area)
        value = view.values.get((row, column) if area is None else (area.top, area.left))
        if isinstance(value, str) and len(value) <= LONGEST_HEADING and (text := plain_text(value)):
            unit = _bare_unit(text) if pieces else None
            pieces.append(text if unit is None else f"({unit})")
    return " | ".join(pieces).replace(" | (", " (")


def _bare_unit(text: str) -> str | None:
    """Return the unit, where a text is nothing but one, e.g. "g" or "(in)"."""
    inner = text.strip().strip("()[]（）").strip()
    return read_heading(f"unknown ({inner})").unit if inner and len(inner) <= _LONGEST_UNIT else None


def _doubt_of_band(view: View, rows: tuple[int, ...], column: int) -> str:
    """Doubt whether a word over a neighbour, which is not merged, holds for this column as well."""
    if len(rows) < 2 or view.value(rows[0], column) is not None or is_units_row(view, rows[1]):
        return ""
    texts = texts_in(view, rows[0])
    left = _text_before(view, rows[0], column)
    if left is None or view.merged_rows.holding(rows[0], left) is not None:
        return ""
    lower = " ".join(plain_text(view.value(row, column)) for row in rows[1:]).strip()
    alone, together = read_heading(lower), read_heading(f"{texts[left]} {lower}")
    if alone.quantity and together.quantity and together.problem is None and alone.quantity != together.quantity:
        return f'is it "{lower}" of the club, or of "{texts[left]}"?'
    return ""


def seen_headings(view: View) -> Iterator[str]:
    """Every heading of the row that is likeliest to be one, with its letter and what it was taken for."""
    found = [f for row in range(1, min(view.last_row, _LOOKED_AT) + 1) if (f := heading_rows_at(view, row)) is not None]
    best = max(found, key=lambda f: (f.understood, len(f.texts)), default=None)
    if best is not None:
        for column in columns_under(view, best):
            yield f'{column.letter} "{column.heading}" ({column.label})'
