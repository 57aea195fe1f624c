"""A new order that starts from an earlier one: its clubs, groups, targets and kinds of parts, nothing measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from evenheft.formulas.kinds import finite_number
from evenheft.formulas.wording import is_blank, show
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import CellAt
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.reading import read_sheet
from evenheft.ooxml.values import Held
from evenheft.order.layout import CLUB_ROWS, FIRST_ROW, GROUPS, ORDER, PARTS, TABLES, TARGET, TYPED_ON_ORDER, USUAL
from evenheft.order.report import OpenedOrder, open_order, rows_by_number
from evenheft.shop.book.reading import Book, text_key
from evenheft.shop.book.taught import HeadKey, Known, known_heads, of_sisters

LAID_OUT = ("club", "group", "place", "putter")
"""What Order tells of a club."""
KIND_OF_PARTS = (
    "model", "rise_known", "rise_known_doubt", "bore_to_ground", "club_length", "tip_trim", "tape", "ferrule", "epoxy",
    "adapter", "butt_weight", "grip_model",
)  # fmt: skip
"""What Parts tells of the kind of club; a head, a shaft and a grip are weighed anew, each piece by itself."""
_UNITS = "shop_units"


@dataclass
class Like:
    """An earlier order as a new one takes it over."""

    called: str
    clubs: dict[int, dict[str, Held]] = field(default_factory=dict)
    """By the club's number, what is typed, by "table.key"."""
    targets: list[dict[str, Held]] = field(default_factory=list)
    named: dict[str, Held] = field(default_factory=dict)
    """Reference clubs, by the name of each typed cell."""
    usual: list[dict[str, Held]] = field(default_factory=list)
    """What is usual in the order's own sheet, where a file told it."""
    units: str = ""
    missing: str = ""
    """What a person must still type, in a line; "" where nothing."""


def like_file(path: Path) -> Like:
    """Read an earlier order.

    Raises:
        Refused: it is no order of this layout, or cannot be read.
        EngineError: it cannot be computed.
    """
    order = open_order(path)
    like = Like(path.name, units=str(order.computed.named_cell(_UNITS) or ""))
    own = {table.name: _typed(order, table.sheet) for table in (ORDER, PARTS, TARGET, USUAL)}
    parts = rows_by_number(order.computed, PARTS)
    for number, row in rows_by_number(order.computed, ORDER).items():
        club = {f"order.{key}": own["order"].get((row, ORDER.at[key])) for key in LAID_OUT}
        for key in KIND_OF_PARTS:
            if key in PARTS.at and number in parts:
                club[f"parts.{key}"] = own["parts"].get((parts[number], PARTS.at[key]))
        held = {name: value for name, value in club.items() if value is not None and not is_blank(value)}
        if "order.club" in held:
            like.clubs[number] = held
    like.targets = list(_rows(own["target"], TARGET.name, TARGET.first_row, GROUPS))
    typed = ((name, order.computed.named_cell(name)) for name in TYPED_ON_ORDER)
    like.named = {name: value for name, value in typed if value is not None and not is_blank(value)}
    like.usual = list(_rows(own["usual"], USUAL.name, USUAL.first_row, USUAL.rows))
    if not like.clubs:
        raise Refused(f"{path.name} has no club to start from")
    return like


def _typed(order: OpenedOrder, sheet: str) -> dict[tuple[int, int], Held]:
    """Tell what a person typed on a sheet, by row and column."""
    content = read_sheet(order.package, sheet)
    return {at: value for at, value in content.values.items() if at not in content.formulas}


def _rows(cells: dict[tuple[int, int], Held], table: str, first: int, count: int) -> Iterator[dict[str, Held]]:
    for row in range(first, first + count):
        yield {key: cells[row, at] for key, at in TABLES[table].at.items() if (row, at) in cells and "." not in key}


def like_kept(book: Book, number: str) -> Like:
    """Read an order that the book keeps, by its number.

    Raises:
        Refused: the book has no such order.
    """
    listed = book.list("orders")
    rows = [row for row in listed.of_order(number) if listed.text(row, "club")]
    if not rows:
        raise Refused(f"there is no file {number}, and {book.name} keeps no order of that number")
    like = Like(f"order {number} in {book.name}")
    goals: dict[str, list[float]] = {}
    for at, row in enumerate(rows[:CLUB_ROWS], start=1):
        group, length = listed.text(row, "group"), finite_number(listed.value(row, "length"))
        values: dict[str, Held] = {"order.club": listed.text(row, "club"), "order.group": group}
        values |= {"parts.model": listed.text(row, "model"), "parts.grip_model": listed.text(row, "grip")}
        if length is not None:
            values["parts.club_length"] = f"{show(round(length, 2))} cm"
        like.clubs[at] = {name: held for name, held in values.items() if held}
        if (goal := finite_number(listed.value(row, "target"))) is not None:
            goals.setdefault(group, []).append(goal)
    groups = list(dict.fromkeys(club["order.group"] for club in like.clubs.values() if "order.group" in club))[:GROUPS]
    for named in groups:
        wanted = goals.get(str(named), [])
        row_of: dict[str, Held] = {"group": named}
        if wanted:
            row_of["swingweight_first"] = round(wanted[0], 2)
            row_of["swingweight_change"] = round((wanted[-1] - wanted[0]) / max(1, len(wanted) - 1), 2)
        like.targets.append(row_of)
    like.missing = "Tolerances are not kept in the book: type them on Order."
    return like


def like_edits(computed: Computed, like: Like, known: dict[str, Known]) -> dict[CellAt, Edit]:
    """List the cells of a new order that an earlier one fills.

    Args:
        computed: the new order, computed [-].
        like: the earlier order [-].
        known: head rises that the shop book knows, by the club's number as text [-].
    """
    found: dict[CellAt, Edit] = {}
    if like.units and (area := computed.named_area(_UNITS)) is not None:
        found[area[0], area[1], area[2]] = Put(like.units)
    for name, typed in like.named.items():
        if (area := computed.named_area(name)) is not None:
            found[area[0], area[1], area[2]] = Put(typed)
    for row, (number, club) in enumerate(like.clubs.items(), start=FIRST_ROW):
        found[ORDER.sheet, row, ORDER.at["number"]] = Put(float(number))
        for name, value in club.items():
            table, key = name.split(".")
            if key in TABLES[table].at:
                found[TABLES[table].sheet, row, TABLES[table].at[key]] = Put(value)
        if (rise := known.get(str(number))) is not None and "parts.rise_known" not in club:
            found[PARTS.sheet, row, PARTS.at["rise_known"]] = Put(f"{rise.rise:.3f} cm")
            found[PARTS.sheet, row, PARTS.at["rise_known_doubt"]] = Put(f"{rise.doubt:.3f} cm")
    for listed, rows in ((TARGET, like.targets), (USUAL, like.usual)):
        for at, held in enumerate(rows):
            for key in (column.key for column in listed.columns if column.role == "input"):
                if not (listed is USUAL and at == 0 and key == "group"):
                    found[listed.sheet, listed.first_row + at, listed.at[key]] = Put(held.get(key))
    return found


def rises_known(book: Book, like: Like) -> dict[int, Known]:
    """Look up what the book knows of the head rise of each club, by its model: its own dry fits, else its sisters'.

    Args:
        book: the shop book [-].
        like: the earlier order [-].
    """
    known: dict[HeadKey, Known] = known_heads(book)
    found = {}
    for number, club in like.clubs.items():
        model = str(club.get("parts.model", ""))
        of_club = known.get((text_key(model), text_key(club["order.club"]))) or known.get((text_key(model), ""))
        if model and (head := of_club or of_sisters(model, known)) is not None:
            found[number] = head
    return found
