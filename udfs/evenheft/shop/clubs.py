"""Which rows of a table hold a club, which do not and why, how clubs are called, and which group each is of."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from evenheft.formulas.headed.headings import LONGEST_HEADING
from evenheft.formulas.wording import is_blank
from evenheft.ooxml.text import plain_text
from evenheft.shop.headings import FEWEST, recognised_in
from evenheft.shop.reach import reaches_others
from evenheft.shop.table import ShopColumn, Skipped
from evenheft.shop.view import View

_TOTAL = (
    r"(grand |sub ?)?(totals?|sums?|averages?|avg|means?|min(imum)?|max(imum)?|median|std( ?dev)?|st\.? ?dev"
    r"|standard deviation|spread|range|count|deviation|number of clubs"
    r"|summe|gesamt|mittelwert|durchschnitt|schnitt|somme|moyenne|suma|promedio|media|合計|平均|最大|最小)"
)
_OF_WHAT = (  # single words, so that there is one way to read any text
    r"(of|the|all|set|clubs?|irons?|woods?|wedges?|mass|weight|balance|length|head|shaft|grip|swingweight"
    r"|values?|row|column|measured|in|g|oz|cm|mm)"
)
_TOTALS_LINE = re.compile(rf"({_OF_WHAT} )*{_TOTAL}( {_OF_WHAT})*", re.IGNORECASE)
_WISHES = ("target", "target_mass", "tolerance", "first", "increment", "place", "doubt", "mass_doubt", "balance_doubt")
"""What a builder wants or admits to, which every club's row may compute over the whole set."""
_NAME = re.compile(
    r"(golf )?(clubs?( name| type| no\.?| number)?|name|no\.?|number|#|iron|item"
    r"|schläger|nr\.?|bâton|palo|番手|クラブ)",
    re.IGNORECASE,
)
_GROUP = re.compile(
    r"(groups?|sets?|kind|family|club (group|kind|type)|type( of club)?|gruppe|groupe|grupo|グループ)", re.IGNORECASE
)
_SHOWN_ROWS = 6
_LONGEST_LINE = 100
"""Of a line of totals; a longer text is a club's or a remark [characters]."""


@dataclass(frozen=True, slots=True)
class ClubRows:
    """The rows under a table's headings."""

    rows: tuple[int, ...]
    skipped: tuple[Skipped, ...]
    groups: dict[int, str]


def club_rows(view: View, heading_row: int, columns: Sequence[ShopColumn], end: int) -> ClubRows:
    """Find the rows that hold a club, down to where another table begins.

    Args:
        view: the sheet, so that clubs stand in rows [-].
        heading_row: the last row of the headings [-].
        columns: the table's columns [-].
        end: the last row to look at [-].
    """
    quantities = [column.at for column in columns if column.quantity is not None or column.unsure]
    measured = [c.at for c in columns if c.quantity is not None and c.quantity not in _WISHES] or quantities
    first, last = min(c.at for c in columns), max(c.at for c in columns)
    rows: list[int] = []
    skipped: list[Skipped] = []
    labels: dict[int, str] = {}
    label = ""
    for row in range(heading_row + 1, end + 1):
        held = view.row(row)
        cells = [held[at] for at in sorted(held) if first <= at <= last and not is_blank(held[at])]
        if not cells and not any((row, at) in view.formulas for at in quantities):
            skipped.append(Skipped(row, "blank"))
        elif _begins_a_table(view, row, first, last):
            break
        elif why := _totals(view, row, cells, measured):
            skipped.append(Skipped(row, why))
        elif any(_holds_measure(view, row, at) for at in measured):
            rows.append(row)
            labels[row] = label
        else:
            text = _first_text(cells)
            alone = len(cells) == 1 and bool(text)
            label = text if alone else label
            why = "a line of its own" if alone else "no measure in it"
            skipped.append(Skipped(row, f'{why}: "{text}"' if text else why))
    kept = _worth_a_note(rows, skipped)
    groups = labels if len(set(labels.values())) > 1 else {}
    return ClubRows(tuple(rows), kept, {row: text or "the others" for row, text in groups.items()})


def name_column(view: View, columns: Sequence[ShopColumn], rows: Sequence[int]) -> int | None:
    """Return the column by which clubs are called, or None."""
    unnamed = [column.at for column in columns if column.quantity is None and not column.unsure]
    for column in columns:
        if column.at in unnamed and _NAME.fullmatch(column.heading.strip(" :")):
            return column.at
    filled = [at for at in unnamed if any(isinstance(view.values.get((row, at)), str) for row in rows)]
    left = min((column.at for column in columns if column.quantity is not None), default=0)
    return next((at for at in filled if at < left), None)


def club_names(view: View, at: int | None, rows: Sequence[int]) -> dict[int, str]:
    """How each club is called, as far as the table tells."""
    if at is None:
        return {}
    labels = ((row, view.values.get((row, at))) for row in rows)
    return {row: text for row, held in labels if (text := _short(held))}


def groups_by_column(view: View, columns: Sequence[ShopColumn], rows: Sequence[int]) -> dict[int, str]:
    """Return the group of each club by a column that names groups; none where there are not two."""
    for column in columns:
        if column.quantity is None and _GROUP.fullmatch(column.heading.strip(" :")):
            found = {row: _short(view.values.get((row, column.at))) for row in rows}
            distinct = set(found.values())
            if 1 < len(distinct) <= max(2, len(rows) // 2):
                return {row: text or "the others" for row, text in found.items()}
    return {}


def filled(view: View, rows: Sequence[int], at: int) -> int:
    """For how many rows something stands in a column."""
    return sum(not is_blank(view.values.get((row, at))) or (row, at) in view.formulas for row in rows)


def _begins_a_table(view: View, row: int, first: int, last: int) -> bool:
    """Whether a row holds another table's headings in the columns of this one."""
    if any(isinstance(value, float) for at, value in view.row(row).items() if first <= at <= last):
        return False
    return recognised_in(view, row, first, last) >= FEWEST


def _totals(view: View, row: int, cells: Sequence[object], measured: Sequence[int]) -> str:
    """Why a row holds totals, or ""."""
    text = _first_text(cells)
    if text and len(text) <= _LONGEST_LINE and _TOTALS_LINE.fullmatch(re.sub(r"[\s:()=.,/-]+", " ", text).strip()):
        return f'totals: "{text}"'
    held = view.row(row)
    typed = any(isinstance(held.get(at), float) and (row, at) not in view.formulas for at in measured)
    if not typed and any((row, at) in view.formulas and reaches_others(view, (row, at)) for at in measured):
        return "totals: its formulas reach other rows"
    return ""


def _holds_measure(view: View, row: int, at: int) -> bool:
    value = view.values.get((row, at))
    if isinstance(value, float):
        return True
    if (row, at) in view.formulas:
        return True
    return isinstance(value, str) and len(value) <= LONGEST_HEADING and any(c.isdigit() for c in value)


def _worth_a_note(rows: Sequence[int], skipped: Sequence[Skipped]) -> tuple[Skipped, ...]:
    """Tell what is told of skipped rows: those inside of the table, totals, and what follows it without a gap."""
    if not rows:
        return ()
    end = rows[-1]
    kept = []
    for row in skipped:
        touches = row.at == end + 1 and row.why != "blank"
        if row.at < rows[-1] or touches or row.why.startswith("totals"):
            kept.append(row)
            end = row.at if touches else end
    return tuple(kept)


def _first_text(cells: Sequence[object]) -> str:
    return next((text for cell in cells if isinstance(cell, str) and (text := _short(cell))), "")


def _short(held: object) -> str:
    """Return a cell's content where it is short enough to be a name."""
    if isinstance(held, str):
        return plain_text(held) if len(held) <= LONGEST_HEADING else ""
    return plain_text(held) if isinstance(held, float) else ""


def skipped_notes(skipped: Sequence[Skipped], one: str, called: Callable[[int], str] = str) -> list[str]:
    """Tell what was passed over, a line for each reason.

    Args:
        skipped: from `club_rows` [-].
        one: what holds a club, e.g. "row" [-].
        called: how a builder calls it [-].
    """
    by_reason: dict[str, list[int]] = {}
    for row in skipped:
        by_reason.setdefault(row.why, []).append(row.at)
    lines = []
    for why, at in by_reason.items():
        shown = ", ".join(map(called, at[:_SHOWN_ROWS]))
        more = f" and {len(at) - _SHOWN_ROWS} more" if len(at) > _SHOWN_ROWS else ""
        lines.append(f"{one}{'s' * (len(at) > 1)} {shown}{more} skipped: {why}")
    return lines
