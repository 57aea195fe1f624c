"""Finding the table on a shop's own sheet: its headings, in one or more rows, and the rows below them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from evenheft.formulas.headed.headings import VOCABULARY, HeadingReading, needs_unit, read_heading, told
from evenheft.formulas.headed.rows import column_under
from evenheft.formulas.kinds import Refusal, is_blank
from evenheft.mechanics import units
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import Area, column_letter
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.text import plain_text

SEARCHED_ROWS = 60
"""How far down headings are looked for."""
_FEWEST = 2
"""Understood headings that make a row one of headings."""
_TOTALS = re.compile(
    r"\s*(grand |sub)?(totals?|sums?|averages?|avg|means?|min(imum)?|max(imum)?|median|std( ?dev)?|st\.? ?dev|spread"
    r"|range|count|deviation)\b",
    re.IGNORECASE,
)
# Words over a run of columns that tell whose measures they are, but name no part of a club.
_NEUTRAL = re.compile(
    r"(as |the )?(measure[ds]?|measurements?|bench|finished|final|built|build|club|clubs|data|readings?|actual|weighed"
    r"|weighing|numbers|results?|values?|dims|dimensions|specs?|inputs?)( club| data| values?| specs?)?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class ShopColumn:
    """One column of a shop's table."""

    at: int
    heading: str
    """Its heading as one text, a band above and a unit below included."""
    reading: HeadingReading
    hidden: bool
    filled: int
    """How many of the table's rows hold something here."""
    unsure: str = ""
    """Why the heading's meaning is doubtful, or ""."""
    mapped: bool = False
    """Whether the builder told what it is."""

    @property
    def letter(self) -> str:
        """The column's letter."""
        return column_letter(self.at)

    @property
    def quantity(self) -> str | None:
        """What it certainly holds, a key of `VOCABULARY`, or None."""
        return self.reading.quantity if self.reading.problem is None and not self.unsure else None

    @property
    def unit(self) -> str | None:
        """The unit of its plain numbers, None where neither heading nor quantity tells."""
        if self.reading.unit is None and self.quantity is not None and VOCABULARY[self.quantity].dimension == "mass":
            return "g"  # ounces would lie outside what a club's masses can be
        return self.reading.unit

    @property
    def told(self) -> str:
        """What was understood, in words."""
        if self.unsure:
            return f"unsure: {self.unsure}"
        return told(self.reading).removeprefix("! ")


@dataclass(frozen=True, slots=True)
class ShopTable:
    """A table on a shop's sheet."""

    heading_rows: tuple[int, ...]
    columns: tuple[ShopColumn, ...]
    rows: tuple[int, ...]
    """The rows that hold a club."""
    skipped: tuple[tuple[int, str], ...]
    """Rows inside the table that hold none, and why, e.g. (14, "totals")."""

    @property
    def heading_row(self) -> int:
        """The row in which a new column's heading stands."""
        return self.heading_rows[-1]

    def holding(self, quantity: str) -> ShopColumn | None:
        """Find the column of a quantity, or None."""
        return next((column for column in self.columns if column.quantity == quantity), None)


def find_table(content: SheetContent, told_sheet: str, mapped: Mapping[str, str] | None = None) -> ShopTable:
    """Find the table on a sheet.

    Args:
        content: the sheet [-].
        told_sheet: how messages call it [-].
        mapped: headings by a column's letter or by its heading as it is, where the builder tells what it is [-].

    Raises:
        Refused: no headings are understood, or `mapped` names no column.
    """
    best: tuple[int, int, tuple[int, ...], dict[int, str]] | None = None
    for rows in _candidates(content):
        texts = _heading_texts(content, rows)
        own = set(texts) if _is_units_row(content, rows[-1]) and len(rows) == 2 else _own(content, rows)
        score = sum(_understood(text) for column, text in texts.items() if column in own)
        score += _mapped_hits(texts, mapped or {})
        if score >= (1 if mapped else _FEWEST) and (best is None or score > best[0]):
            best = (score, -len(rows), rows, texts)
    if best is None:
        raise Refused(
            f"{told_sheet} has no row of headings that is understood: a heading names a quantity with its unit, "
            'e.g. "Mass (g)" and "Balance (in)"; or tell what a column holds with --map "C=mass (g)"'
        )
    _, _, heading_rows, texts = best
    columns = _columns(content, heading_rows, texts)
    columns = _with_mapped(columns, mapped or {}, told_sheet)
    rows, skipped = _club_rows(content, heading_rows, columns)
    if not rows:
        raise Refused(f"{told_sheet} has headings in row {heading_rows[-1]}, but no row with a club below them")
    columns = [replace(column, filled=_filled(content, rows, column.at)) for column in columns]
    columns = _without_doubles(content, rows, columns)
    return ShopTable(heading_rows, tuple(columns), rows, skipped)


# ---------------------------------------------------------------------- headings


def _candidates(content: SheetContent) -> Iterator[tuple[int, ...]]:
    """Rows that may be a table's headings: a row, with the band above and the units below where there are such."""
    last = min(content.last_row, SEARCHED_ROWS)
    for main in range(1, last + 1):
        cells = content.row(main).values()
        texts = sum(isinstance(value, str) for value in cells)
        if not texts or len(cells) > 2 * texts:
            continue  # a club's row: headings are words
        rows = [main]
        if _is_units_row(content, main + 1):
            rows.append(main + 1)
        if _is_band(content, main - 1, main):
            rows.insert(0, main - 1)
        yield tuple(rows)


def _own(content: SheetContent, rows: tuple[int, ...]) -> set[int]:
    """Find the columns in which more than a band's word stands, or a heading that reaches down from the band's row."""
    found = {column for row in rows[1:] or rows for column in _texts_in(content, row)}
    for area in content.merged:
        if len(rows) > 1 and area.top == rows[0] and area.bottom >= rows[1]:
            found |= set(range(area.left, area.right + 1))
    return found


def _texts_in(content: SheetContent, row: int) -> dict[int, str]:
    return {
        column: plain_text(value)
        for column, value in content.row(row).items()
        if isinstance(value, str) and plain_text(value)
    }


def _is_units_row(content: SheetContent, row: int) -> bool:
    texts = _texts_in(content, row)
    numbers = sum(isinstance(value, float) for value in content.row(row).values())
    named = sum(_bare_unit(text) is not None for text in texts.values())
    return named >= 1 and 2 * named > len(texts) + numbers


def _is_band(content: SheetContent, row: int, main: int) -> bool:
    """Whether a row above the headings groups them, rather than giving the sheet a title."""
    if row < 1:
        return False
    texts, below = _texts_in(content, row), _texts_in(content, main)
    if not texts or not below:
        return False
    merged = [area for area in content.merged if area.top == row and (area.top, area.left) in content.values]
    if len(texts) == 1:
        # A lone text is a title, unless it is merged over some of the headings but not over all.
        area = next((area for area in merged if area.right > area.left), None)
        inner = area is not None and (area.left > min(below) or area.right < max(below))
        return (
            inner and area is not None and area.bottom == row and area.left <= max(below) and area.right >= min(below)
        )
    return any(min(below) <= column <= max(below) for column in texts) or any(a.bottom >= main for a in merged)


def _heading_texts(content: SheetContent, rows: tuple[int, ...]) -> dict[int, str]:
    """Each column's heading as one text, from the band down to the unit."""
    columns = {column for row in rows for column in _texts_in(content, row)}
    last = max(columns, default=0)
    for area in content.merged:
        if area.top in rows and (area.top, area.left) in content.values and area.left <= last:
            columns |= set(range(area.left, area.right + 1))
    texts = {column: _one_text(content, rows, column) for column in sorted(columns)}
    return {column: text for column, text in texts.items() if text}


def _one_text(content: SheetContent, rows: tuple[int, ...], column: int) -> str:
    pieces: list[str] = []
    seen: set[Area] = set()
    for row in rows:
        area = next((area for area in content.merged if (row, column) in area), None)
        if area is not None and area in seen:
            continue
        if area is not None:
            seen.add(area)
        text = content.value(row, column)
        if isinstance(text, str) and plain_text(text):
            unit = _bare_unit(plain_text(text)) if pieces else None
            pieces.append(plain_text(text) if unit is None else f"({unit})")
    return " | ".join(pieces).replace(" | (", " (")


def _bare_unit(text: str) -> str | None:
    """Read the unit, where a text is nothing but one, e.g. "g" or "(in)"."""
    inner = text.strip().strip("()[]").strip()
    return read_heading(f"unknown ({inner})").unit if inner and len(inner) <= 20 else None


def _understood(text: str) -> bool:
    reading, unsure = _read(text)
    return reading.quantity is not None and reading.problem is None and not unsure


def _read(text: str) -> tuple[HeadingReading, str]:
    """Tell what a heading means, and why that is doubtful, or ""."""
    band, bar, rest = text.partition(" | ")
    if not bar:
        return read_heading(text), ""
    together, alone = read_heading(f"{band} {rest}"), read_heading(rest)
    if together.quantity is not None and together.problem is None:
        return together, ""
    if alone.quantity is None or alone.problem is not None or _NEUTRAL.fullmatch(band):
        return alone, ""
    return alone, f'is it "{rest}" of the club, or of "{band}"?'


def _columns(content: SheetContent, rows: tuple[int, ...], texts: Mapping[int, str]) -> list[ShopColumn]:
    found = []
    for at, text in texts.items():
        reading, unsure = _read(text)
        unsure = unsure or _doubt_of_band(content, rows, at)
        found.append(ShopColumn(at, text.replace(" | ", " "), reading, content.is_hidden(at), 0, unsure))
    return found


def _doubt_of_band(content: SheetContent, rows: tuple[int, ...], column: int) -> str:
    """Doubt whether a word over a neighbour, which is not merged, holds for this column as well."""
    if len(rows) < 2 or content.value(rows[0], column) is not None or _is_units_row(content, rows[1]):
        return ""
    texts = _texts_in(content, rows[0])
    left = max((at for at in texts if at < column), default=None)
    if left is None or any((rows[0], left) in area for area in content.merged):
        return ""
    lower = " ".join(plain_text(content.value(row, column)) for row in rows[1:]).strip()
    alone, together = read_heading(lower), read_heading(f"{texts[left]} {lower}")
    if alone.quantity and together.quantity and together.problem is None and alone.quantity != together.quantity:
        return f'is it "{lower}" of the club, or of "{texts[left]}"?'
    return ""


# ---------------------------------------------------------------------- what the builder tells


def _key(text: str) -> str:
    return " ".join(text.replace("|", " ").split()).casefold()


def _mapped_hits(texts: Mapping[int, str], mapped: Mapping[str, str]) -> int:
    """How many of the told headings, not letters, stand among these."""
    keys = {_key(text) for text in texts.values()}
    return sum(_key(name) in keys for name in mapped)


def _with_mapped(columns: list[ShopColumn], mapped: Mapping[str, str], told_sheet: str) -> list[ShopColumn]:
    by_heading: dict[str, list[ShopColumn]] = {}
    for headed in columns:
        by_heading.setdefault(_key(headed.heading), []).append(headed)
    by_letter = {headed.letter: headed for headed in columns}
    changed = {headed.at: headed for headed in columns}
    column: ShopColumn | None
    for name, meaning in mapped.items():
        named = by_heading.get(_key(name), [])
        if len(named) > 1:
            letters = " and ".join(twin.letter for twin in named)
            raise Refused(f'{told_sheet} has "{name}" in columns {letters}: use the letter in --map')
        column = next(iter(named), by_letter.get(name.strip().upper()))
        if column is None:
            raise Refused(f'{told_sheet} has no column "{name}" that --map could mean')
        reading = read_heading(meaning)
        if reading.problem is not None or (reading.quantity is None and "not used" not in meaning.lower()):
            why = reading.problem or 'name a quantity, e.g. "mass (g)", or "not used"'
            raise Refused(f'--map "{name}={meaning}" is not understood: {why}')
        changed[column.at] = replace(column, reading=reading, unsure="", mapped=True)
    return list(changed.values())


# ---------------------------------------------------------------------- rows


def _club_rows(
    content: SheetContent, heading_rows: tuple[int, ...], columns: list[ShopColumn]
) -> tuple[tuple[int, ...], tuple[tuple[int, str], ...]]:
    """Find the rows that hold a club, down to where another table begins."""
    quantities = [column.at for column in columns if column.quantity is not None]
    first, last = min(c.at for c in columns), max(c.at for c in columns)
    rows: list[int] = []
    skipped: list[tuple[int, str]] = []
    for row in range(heading_rows[-1] + 1, content.last_row + 1):
        cells = [content.values.get((row, at)) for at in range(first, last + 1)]
        if all(is_blank(cell) for cell in cells) and not any((row, at) in content.formulas for at in quantities):
            skipped.append((row, "blank"))
        elif _begins_a_table(content, row):
            break
        elif _is_totals(content, row, cells, quantities):
            skipped.append((row, "totals"))
        elif any(_holds_measure(content, row, at) for at in quantities):
            rows.append(row)
        else:
            skipped.append((row, "no measures"))
    end = rows[-1] if rows else 0
    return tuple(rows), tuple((row, why) for row, why in skipped if row < end or why == "totals")


def _begins_a_table(content: SheetContent, row: int) -> bool:
    """Whether a row holds another table's headings."""
    if any(isinstance(value, float) for value in content.row(row).values()):
        return False
    return sum(_understood(text) for text in _heading_texts(content, (row,)).values()) >= _FEWEST


def _is_totals(content: SheetContent, row: int, cells: Sequence[object], quantities: list[int]) -> bool:
    words = [cell for cell in cells if isinstance(cell, str)]
    if words and _TOTALS.match(words[0]):
        return True
    formulas = [content.formulas.get((row, at), "") for at in quantities]
    return any(re.search(r"\b(SUM|AVERAGE|SUBTOTAL|AGGREGATE|STDEV|MEDIAN|MIN|MAX)[\w.]*\(", f, re.I) for f in formulas)


def _holds_measure(content: SheetContent, row: int, at: int) -> bool:
    value = content.values.get((row, at))
    if isinstance(value, float) and not isinstance(value, bool):
        return True
    return (row, at) in content.formulas or (isinstance(value, str) and any(c.isdigit() for c in value))


def _filled(content: SheetContent, rows: tuple[int, ...], at: int) -> int:
    return sum(not is_blank(content.values.get((row, at))) or (row, at) in content.formulas for row in rows)


def _without_doubles(content: SheetContent, rows: tuple[int, ...], columns: list[ShopColumn]) -> list[ShopColumn]:
    """Doubt where two columns hold one quantity; a merged heading's empty half and a hidden twin do not count."""
    settled: list[ShopColumn] = []
    for column in columns:
        twins = [c for c in columns if c.quantity is not None and c.quantity == column.quantity and c.at != column.at]
        told_twins = [c for c in twins if c.mapped]
        if not twins or column.quantity is None:
            settled.append(_without_unit(content, rows, column))
        elif (
            (not column.filled and any(c.filled for c in twins))
            or (told_twins and not column.mapped)
            or (column.hidden and any(not c.hidden and c.filled for c in twins))
        ):
            settled.append(replace(column, reading=HeadingReading(None, None, None)))
        elif any(c.filled and (not c.hidden or column.hidden) and not (column.mapped and not c.mapped) for c in twins):
            letters = " and ".join(c.letter for c in sorted([column, *twins], key=lambda c: c.at))
            name = VOCABULARY[column.quantity].words[0]
            settled.append(replace(column, unsure=f"{letters} are both {name}: which one counts?"))
        else:
            settled.append(_without_unit(content, rows, column))
    return settled


def _without_unit(content: SheetContent, rows: tuple[int, ...], column: ShopColumn) -> ShopColumn:
    """Doubt about a length without a unit, unless every cell carries its own."""
    if column.quantity is None or not needs_unit(column.reading):
        return column
    cells = [content.values.get((row, column.at)) for row in rows]
    if any(not is_blank(cell) for cell in cells) and all(is_blank(c) or _has_own_unit(c) for c in cells):
        return column
    return replace(column, unsure=f"in which unit is {VOCABULARY[column.quantity].words[0]}?")


def _has_own_unit(cell: object) -> bool:
    if not isinstance(cell, str):
        return False
    try:
        # Where a plain number stands the unit given counts: two units that disagree tell it from one with its own.
        read = [units.read_quantity(cell, "length", units.UNITS[symbol]) for symbol in ("cm", "in")]
    except ValueError:
        return False
    return read[0] == read[1]


def unreadable(content: SheetContent, table: ShopTable, column: ShopColumn) -> list[tuple[int, str]]:
    """Find the rows whose cell in a column is no such quantity, each with the line that the formula will give too.

    Args:
        content: the sheet [-].
        table: its table [-].
        column: a column of it whose quantity is certain [-].
    """
    if column.quantity is None:
        return []
    reader = column_under(0, column.heading, column.reading._replace(unit=column.unit))
    wrong = []
    for row in table.rows:
        value = content.values.get((row, column.at))
        if is_blank(value):
            continue
        try:
            reader.read(plain_text(value) if isinstance(value, str) else value)
        except Refusal as refusal:
            wrong.append((row, str(refusal)))
    return wrong
