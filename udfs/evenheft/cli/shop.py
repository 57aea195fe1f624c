"""`evenheft shop`: the shop book is made, and orders are kept in it and taken out again."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenheft.cli.talk import refuse, say

if TYPE_CHECKING:
    from evenheft.shop.book.keeping import Keeping

_SHOP = click.option(
    "--shop",
    "book",
    type=click.Path(path_type=Path),
    help="The shop book; left out, EVENHEFT_SHOP or an evenheft-shop.xlsx beside the order or above it.",
)
_SHOW = click.option("--show", is_flag=True, help="Only show what would change; write nothing.")
_BACKUP = click.option("--backup", is_flag=True, help="Keep the old book as BOOK.bak.")


@click.group("shop")
def shop_command() -> None:
    """Keep a shop book: stock, head models, finished clubs and scale readings, in one workbook of yours."""


@shop_command.command("new")
@click.argument("book", type=click.Path(path_type=Path), default=Path("evenheft-shop.xlsx"))
def new(book: Path) -> None:
    """Write an empty shop book as BOOK (evenheft-shop.xlsx when left out)."""
    from evenheft.order.files import template_file, write_new
    from evenheft.shop.book.finding import BOOK_NAME

    if book.suffix.lower() != ".xlsx":
        refuse(f"the name must end in .xlsx, got {book.name}")
    write_new(book, template_file("xlsx", "evenheft-shop").read_bytes())
    say(f"{book} is ready: type your stock on Shafts, Grips and Weights.")
    named = "" if book.name == BOOK_NAME else f" --shop {book}"
    say(f"When an order is measured:  evenheft shop keep my-order.xlsx{named}")


@shop_command.command("keep")
@click.argument("order", type=click.Path(path_type=Path))
@_SHOP
@_SHOW
@click.option("--overwrite", is_flag=True, help="Replace what a person has typed over in this order's rows, too.")
@click.option(
    "--name",
    "names",
    multiple=True,
    metavar="WRITTEN=KNOWN",
    help='Which known name a spelling of the order stands for, e.g. --name "blade x7=Blade X 7"; the same on both '
    "sides says that it is a new one.",
)
@_BACKUP
def keep(
    order: Path, book: Path | None, show: bool, overwrite: bool, names: tuple[str, ...], backup: bool
) -> None:  # fmt: skip
    """Keep what ORDER taught in the shop book: head rises, stock used, finished clubs, scale readings.

    However often it is run, an order stands in the book once; one that was changed is kept anew.
    """
    from evenheft.cli.shop_tables import print_plan
    from evenheft.ooxml.replace import other_names
    from evenheft.shop.book.finding import need_book
    from evenheft.shop.book.from_order import order_to_keep
    from evenheft.shop.book.keeping import plan_to_keep, write
    from evenheft.shop.book.lock import only_writer
    from evenheft.shop.book.reading import open_book
    from evenheft.shop.book.spelling import as_known

    kept = order_to_keep(order)
    path = need_book(order, book)
    meant = _meant(names)
    if show:
        opened = open_book(path)
        plan = plan_to_keep(opened, as_known(opened, kept, meant), overwrite=overwrite)
        print_plan(plan, "would be kept")
        say("Nothing is written." if plan.changes else _nothing_new(plan))
        return
    with only_writer(path, _tell):
        linked = other_names(path)
        opened = open_book(path)
        plan = plan_to_keep(opened, as_known(opened, kept, meant), overwrite=overwrite)
        if plan.changes:
            write(plan, backup=backup)
    _tell_links(linked if plan.changes else ())
    print_plan(plan, "is kept")
    say(f"Order {plan.number} is kept in {path}." if plan.changes else _nothing_new(plan))


@shop_command.command("forget")
@click.argument("order")
@_SHOP
@_SHOW
@_BACKUP
def forget(order: str, book: Path | None, show: bool, backup: bool) -> None:
    """Take the rows of ORDER, its number or its file, out of the shop book."""
    from evenheft.cli.shop_tables import print_plan
    from evenheft.ooxml.replace import other_names
    from evenheft.shop.book.finding import need_book
    from evenheft.shop.book.keeping import plan_to_forget, write
    from evenheft.shop.book.lock import only_writer
    from evenheft.shop.book.reading import open_book

    path = need_book(Path(order) if Path(order).is_file() else Path.cwd() / "order", book)
    number = _number_of(order)
    if show:
        print_plan(plan_to_forget(open_book(path), number), "would be taken out")
        say("Nothing is written.")
        return
    with only_writer(path, _tell):
        linked = other_names(path)
        plan = plan_to_forget(open_book(path), number)
        write(plan, backup=backup)
    _tell_links(linked)
    print_plan(plan, "is taken out")
    say(f"Order {number} is no longer in {path}.")


def _tell_links(lines: tuple[str, ...]) -> None:
    for line in lines:
        say(f"Note: {line}")


def _tell(line: str) -> None:
    say(line, err=True)


def _nothing_new(plan: Keeping) -> str:
    return f"{plan.book.name} holds all of order {plan.number} already: nothing is written."


def _meant(names: tuple[str, ...]) -> dict[str, str]:
    """Read what spellings stand for."""
    found = {}
    for text in names:
        written, equals, known = text.partition("=")
        if not equals or not written.strip() or not known.strip():
            refuse(f'--name must be WRITTEN=KNOWN, e.g. "blade x7=Blade X 7", got {text}')
        found[written.strip()] = known.strip()
    return found


def _number_of(order: str) -> str:
    """Take an order's number, from its file where one is named."""
    from evenheft.shop.book.from_order import number_in

    path = Path(order)
    return number_in(path) if path.is_file() else order
