"""`evenheft new`: an order filled from the shop book and an earlier order; and where it and the book differ later."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from evenheft.cli.talk import refuse

if TYPE_CHECKING:
    from evenheft.hosts.embedded import Computed
    from evenheft.ooxml.edit import CellAt
    from evenheft.ooxml.edits import Edit
    from evenheft.order.report import OpenedOrder
    from evenheft.shop.book.like import Like
    from evenheft.shop.book.reading import Book
    from evenheft.shop.book.taught import Known

MOST_SHOWN = 8
"""So many differences between an order and its book are told one by one [-]."""


@dataclass
class NewOrder:
    """A new order's bytes, and what to say about it."""

    content: bytes
    lines: list[str] = field(default_factory=list)


def new_order(template: bytes, order: Path, named: Path | None, *, shop: bool, like: str | None) -> NewOrder:
    """Make a new order.

    Args:
        template: the template's bytes [-].
        order: where it is to lie, for the book beside it [-].
        named: the book that a person named, or None [-].
        shop: whether a book may fill it [-].
        like: an earlier order, its file or its number; None for none [-].
    """
    from evenheft.shop.book.finding import find_book

    path = find_book(order, named) if shop else None
    if path is None and like is None:
        return NewOrder(template)
    from evenheft.shop.book.into_order import fill_edits, filled, numbers_of_book
    from evenheft.shop.book.like import like_edits, rises_known
    from evenheft.shop.book.part_lists import without_room
    from evenheft.shop.book.reading import open_book

    book = open_book(path) if path is not None else None
    earlier = _earlier(like, book) if like is not None else None
    numbers = numbers_of_book(book) if book is not None else None
    rises = rises_known(book, earlier) if book is not None and earlier is not None else {}
    made = NewOrder(b"")

    def edits(computed: Computed) -> dict[CellAt, Edit]:
        found: dict[CellAt, Edit] = {}
        if earlier is not None:
            found |= like_edits(computed, earlier, {str(number): head for number, head in rises.items()})
        if book is not None and numbers is not None:
            # The book wins, but for the groups of an order that is repeated and for what its group has of its own.
            of_book = fill_edits(computed, numbers, book.name, datetime.date.today())
            found |= {at: edit for at, edit in of_book.items() if at not in found or _wins(at)}
        return found

    made.content = filled(template, edits)
    if book is not None and numbers is not None:
        sizes = (
            f"{len(numbers.weights)} sizes of weights" if numbers.weights else "no weights, for none are counted there"
        )
        listed = f"{len(numbers.shafts)} shafts, {len(numbers.grips)} grips"
        made.lines.append(f"Filled from {book.name}: instruments, what is usual, {sizes}, {listed}.")
        made.lines += without_room(numbers.shafts, numbers.grips)
        made.lines += [f'{book.name}, sheet Shop: no order knows "{label}".' for label in numbers.unknown]
    if earlier is not None:
        made.lines.append(f"Laid out like {earlier.called}: {len(earlier.clubs)} clubs, nothing measured.")
        made.lines += [_known_line(earlier, rises)] if rises else []
        made.lines += [earlier.missing] if earlier.missing else []
    return made


def _wins(at: CellAt) -> bool:
    from evenheft.order.layout import TARGET, USUAL

    sheet, row, _ = at
    return sheet not in (TARGET.sheet, USUAL.sheet) or (sheet == USUAL.sheet and row < USUAL.first_row)


def _earlier(like: str, book: Book | None) -> Like:
    from evenheft.shop.book.like import like_file, like_kept

    if Path(like).is_file():
        return like_file(Path(like))
    if book is None:
        refuse(f"there is no file {like}, and no shop book was found that could keep an order of that number")
    return like_kept(book, like)


def _known_line(like: Like, rises: dict[int, Known]) -> str:
    models = [
        f"{like.clubs[number]['order.club']} {head.rise:.2f} cm within {head.doubt:.2f} cm"
        for number, head in rises.items()
    ]
    return f"Head rises that the book knows: {', '.join(models)}."


def shop_has_changed(order: OpenedOrder) -> list[str]:
    """Say where an order that was filled from a shop book and that book have come to differ.

    Args:
        order: the order, opened [-].
    """
    from evenheft.shop.book.finding import find_book
    from evenheft.shop.book.into_order import differences, filled_from, numbers_of_book
    from evenheft.shop.book.reading import open_book

    filled = filled_from(order.computed)
    path = find_book(order.path) if filled is not None else None
    if filled is None or path is None or path.name != filled[0]:
        return []
    found = differences(order.computed, numbers_of_book(open_book(path)))
    if not found:
        return []
    more = [f"and {len(found) - MOST_SHOWN} more"] if len(found) > MOST_SHOWN else []
    return [f"{filled[0]} has come to differ since {filled[1]}: {'; '.join([*found[:MOST_SHOWN], *more])}."]
