"""Every table on a shop's sheet: below each other and side by side, clubs in rows or in columns, job cards."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import islice

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import Area
from evenheft.shop.cards import as_cards
from evenheft.shop.clubs import club_names, club_rows, groups_by_column, name_column
from evenheft.shop.doubles import settled
from evenheft.shop.headings import (
    FEWEST,
    HeadingRows,
    columns_under,
    heading_rows_at,
    is_understood,
    read_banded,
    seen_headings,
    texts_in,
)
from evenheft.shop.mapping import Mapped, hits, key, need_all_met, read_map, unheaded, with_mapping
from evenheft.shop.table import ShopTable, overlap
from evenheft.shop.view import View, turned

_LOOKED_BELOW = 40
"""How many rows are looked at to see whether a gap between headings is a gap between tables [-]."""
_LONGEST_TITLE = 60
_COMPARED = 40
"""How many headings are compared to see whether they begin again [-]."""


def find_tables(view: View, sheet_label: str, mapped: Mapping[str, str] | None = None) -> tuple[ShopTable, ...]:
    """Find every table on a sheet, from the top and the left.

    Args:
        view: the sheet [-].
        sheet_label: how messages call it [-].
        mapped: meanings by a column's letter or by its heading as it is, where the builder tells what it is [-].

    Raises:
        Refused: no headings are understood, no club stands under them, or `mapped` names no column.
    """
    mapping = read_map(mapped or {})
    upright = list(_tables(view, mapping, sheet_label))
    sideways = turned(view)
    across = [] if sideways is None else list(_tables(sideways, mapping, sheet_label))
    found = [*upright, *as_cards(_unbeaten(across, upright))]
    by_rows = [table for table in found if table.layout == "rows"]
    found = [*_unbeaten(by_rows, found), *(table for table in found if table.layout != "rows")]
    if not found:
        _refuse(view, sideways, mapping, sheet_label)
    need_all_met(mapping, [column for table in found for column in table.columns], sheet_label)
    return tuple(sorted(found, key=lambda table: (table.area.top, table.area.left)))


def _unbeaten(tables: Sequence[ShopTable], others: Sequence[ShopTable]) -> list[ShopTable]:
    """Return the tables of which no other reading of the same cells is better;
    only what lies beside each is looked at.
    """
    rivals: dict[int, list[ShopTable]] = {id(table): [] for table in tables}
    open_tables: list[ShopTable] = []
    open_others: list[ShopTable] = []
    listed = [*((table, False) for table in others), *((table, True) for table in tables)]
    for table, is_asked in sorted(listed, key=lambda one: one[0].area.top):
        top = table.area.top
        open_tables = [one for one in open_tables if one.area.bottom >= top]
        open_others = [one for one in open_others if one.area.bottom >= top]
        if is_asked:
            rivals[id(table)] += open_others
            open_tables.append(table)
        else:
            for one in open_tables:
                rivals[id(one)].append(table)
            open_others.append(table)
    return [table for table in tables if not _is_beaten(table, rivals[id(table)])]


def _is_beaten(table: ShopTable, others: Sequence[ShopTable]) -> bool:
    """Whether another reading of the same cells understands more, or as much with clubs in rows."""
    rivals = [other for other in others if other is not table and overlap(table.area, other.area)]
    if table.layout == "rows":
        return any(other.layout != "rows" and other.understood > table.understood for other in rivals)
    return any(other.understood >= table.understood for other in rivals)


def _refuse(view: View, sideways: View | None, mapping: Sequence[Mapped], sheet_label: str) -> None:
    for looked in [view] if sideways is None else [view, sideways]:
        for headings in _candidates(looked, mapping):
            if headings.recognised < FEWEST:
                continue
            line = f"{'column' if looked.sideways else 'row'} {looked.line_of(headings.rows[-1])}"
            raise Refused(f"{sheet_label} has headings in {line}, but no row with a club below them")
    seen = "; ".join(seen_headings(view))
    raise Refused(
        f"{sheet_label} has no row of headings that is understood: a heading names a quantity with its unit, "
        'e.g. "Mass (g)" and "Balance (in)"; or tell what a column holds with --map "C=mass (g)"'
        + (f". It has {seen}" if seen else "")
    )


def _tables(view: View, mapping: Sequence[Mapped], sheet_label: str) -> Iterator[ShopTable]:
    """Return the tables of a view in which clubs stand in rows."""
    taken: list[Area] = []
    for headings in _candidates(view, mapping):
        taken = [area for area in taken if area.bottom >= headings.rows[0]]  # what lies above is done with
        for piece in _pieces(view, headings):
            first, last = min(piece.texts), max(piece.texts)
            own = Area(piece.rows[-1], first, piece.rows[-1], last)
            if any(overlap(own, area) for area in taken) or not _is_enough(view, piece, mapping):
                continue
            table = _table(view, piece, mapping, sheet_label)
            if table is not None and (table.recognised >= FEWEST or mapping or _is_part_of_card(table)):
                bottom = max([table.rows[-1], *(skipped.at for skipped in table.skipped)])
                taken.append(Area(piece.rows[0], first, bottom, last))
                yield table


def _candidates(view: View, mapping: Sequence[Mapped]) -> Iterator[HeadingRows]:
    """Rows of headings from the top; of neighbouring rows that could be, the one that is understood best."""
    waiting: HeadingRows | None = None
    for row in range(1, view.last_row + 1):
        headings = heading_rows_at(view, row)
        if headings is None or not _is_enough(view, headings, mapping):
            continue
        if waiting is not None and (waiting.rows[-1] + 1 < headings.rows[0] or view.sideways):
            yield waiting
            waiting = None
        if waiting is None or _score(view, headings, mapping) > _score(view, waiting, mapping) - bool(mapping):
            waiting = headings
        elif headings.rows[-1] > waiting.rows[-1]:
            yield waiting
            waiting = headings
    if waiting is not None:
        yield waiting


def _is_enough(view: View, headings: HeadingRows, mapping: Sequence[Mapped]) -> bool:
    """Whether rows are headings; one label of a card may stand alone beside others that make it a card."""
    most = headings.recognised + (hits(view, headings, mapping) if mapping else 0)
    return most >= (1 if mapping or view.sideways else FEWEST)


def _is_part_of_card(table: ShopTable) -> bool:
    return table.layout == "columns" and len(table.rows) == 1


def _score(view: View, headings: HeadingRows, mapping: Sequence[Mapped]) -> int:
    """How well headings are understood: a certain one counts more than any that are asked about."""
    if mapping:
        return headings.understood + hits(view, headings, mapping)
    return 100 * headings.understood + headings.recognised


# ---------------------------------------------------------------------- side by side


def _pieces(view: View, headings: HeadingRows) -> Iterator[HeadingRows]:
    """Return the headings of each table that begins in the same rows."""
    runs: list[list[int]] = []
    for column in sorted(headings.texts):
        gap = runs and any(_is_gap(view, headings.rows, at) for at in range(runs[-1][-1] + 1, column))
        if runs and not gap and not _repeats(headings, runs[-1], column):
            runs[-1].append(column)
        else:
            runs.append([column])
    tables: list[list[int]] = []
    known: set[str] = set()  # what the last of the tables holds
    for run in runs:
        quantities = _quantities(headings, run)
        again = view.sideways and bool(tables) and _is_card_again(headings, tables[-1], run, known & quantities)
        if tables and not again and not _is_table_of_its_own(view, headings, known, run, quantities):
            tables[-1] += run
            known |= quantities
        else:
            tables.append(run)
            known = quantities
    return (headings.within(columns) for columns in tables)


def _is_gap(view: View, rows: Sequence[int], column: int) -> bool:
    """Whether nothing stands in a column beside the headings and for a while below them."""
    return all(
        view.values.get((row, column)) is None and (row, column) not in view.formulas
        for row in range(rows[0], min(rows[-1] + _LOOKED_BELOW, view.last_row) + 1)
    )


def _repeats(headings: HeadingRows, run: Sequence[int], column: int) -> bool:
    """Whether a run of headings begins again at a column: the same first heading, and the same next one."""
    texts = headings.texts
    if len(run) < FEWEST + 1 or key(texts[run[0]]) != key(texts[column]):
        return False
    compared = run[1:_COMPARED]
    later = list(islice((at for at in range(column + 1, column + _COMPARED) if at in texts), len(run)))
    following = {key(texts[at]) for at in later}
    return sum(key(texts[at]) in following and is_understood(texts[at]) for at in compared) >= FEWEST


def _is_card_again(headings: HeadingRows, before: Sequence[int], run: Sequence[int], both: Collection[str]) -> bool:
    """Whether labels behind a gap are the next card's: they begin as the last card's, and tell what it tells."""
    return bool(both) and key(headings.texts[run[0]]) == key(headings.texts[before[0]])


def _is_table_of_its_own(
    view: View, headings: HeadingRows, others: Collection[str], run: Sequence[int], quantities: set[str]
) -> bool:
    """Whether headings behind a gap begin another table, rather than going on with the one before."""
    if len(others) < FEWEST or len(quantities) < FEWEST:
        return False
    named = read_banded(headings.texts[run[0]])[0].quantity is None and _is_named(view, headings, run[0])
    return not quantities.isdisjoint(others) or named


def _quantities(headings: HeadingRows, columns: Sequence[int]) -> set[str]:
    readings = (read_banded(headings.texts[at]) for at in columns)
    return {reading.quantity for reading, unsure in readings if reading.quantity and not reading.problem and not unsure}


def _is_named(view: View, headings: HeadingRows, column: int) -> bool:
    """Whether a column holds mostly texts, as one that names clubs does."""
    below = range(headings.rows[-1] + 1, min(headings.rows[-1] + _LOOKED_BELOW, view.last_row) + 1)
    held = [view.values[row, column] for row in below if (row, column) in view.values]
    return bool(held) and 2 * sum(isinstance(value, str) for value in held) > len(held)


# ---------------------------------------------------------------------- one table


def _table(view: View, headings: HeadingRows, mapping: Sequence[Mapped], sheet_label: str) -> ShopTable | None:
    """Return the table under some headings, None where no club stands there."""
    more = unheaded(view, headings, mapping)
    headings = HeadingRows(headings.rows, {**headings.texts, **more}, headings.own | frozenset(more))
    columns = with_mapping(columns_under(view, headings), mapping, sheet_label)
    columns.sort(key=lambda column: column.at)
    found = club_rows(view, headings.rows[-1], columns, view.last_row)
    if not found.rows:
        return None
    columns = settled(view, found.rows, columns)
    names = name_column(view, columns, found.rows)
    bottom = max([found.rows[-1], *(s.at for s in found.skipped)])
    return ShopTable(
        "columns" if view.sideways else "rows",
        headings.rows,
        tuple(columns),
        found.rows,
        found.skipped,
        view.area(headings.rows[0], columns[0].at, bottom, columns[-1].at),
        _title(view, headings.rows[0], columns[0].at, columns[-1].at),
        club_names(view, names, found.rows),
        groups_by_column(view, columns, found.rows) or found.groups,
        named_at=names,
    )


def _title(view: View, top: int, first: int, last: int) -> str:
    """Return a lone short text just over the headings."""
    for row in range(top - 1, max(top - 4, 0), -1):
        held = [at for at in view.row(row) if first <= at <= last]
        if held:
            text = texts_in(view, row).get(held[0], "")
            return text if len(held) == 1 and len(text) <= _LONGEST_TITLE else ""
    return ""
