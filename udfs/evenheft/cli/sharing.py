"""`evenheft share` and `receive`: heads are ordered by mass, and the picked masses come back."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenheft.cli.talk import EXIT_ALL_IN, EXIT_FLAGGED, refuse, say

if TYPE_CHECKING:
    from evenheft.order.supplier.received import Arrival


@click.command("share")
@click.argument("order", type=click.Path(path_type=Path))
@click.option("--for", "reader", type=click.Choice(["supplier"]), help="Who reads it: a supplier of heads.")
@click.option("--plain", is_flag=True, help="The whole order, with ordinary formulas or values in place of HEFT_ ones.")
@click.option("--clean", is_flag=True, help="With --plain: only what a reader sees, as for a customer.")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The new file; it must not exist yet.")
def share_command(order: Path, reader: str | None, plain: bool, clean: bool, output: Path | None) -> None:
    """Write a workbook from ORDER that opens anywhere, without the Evenheft formulas.

    --for supplier: a workbook of its own for the heads that the Supplier sheet asks for, with cells to fill
    in. Only that sheet's columns leave, up to the note; no customer, price, other note or anything hidden.

    --plain: a copy of the whole order, customer and all. Each HEFT_ formula becomes an ordinary one where
    that is short arithmetic and gives the same, else its value; which became what is printed. Inputs that no longer
    move all that they should are locked, and the first sheet says on which day the copy was fixed.

    --plain --clean: of that copy only what a reader sees, in a workbook made from nothing. Hidden sheets, rows and
    columns, comments, macros, pictures, links, properties and all else stay behind.
    """
    if clean and not plain:
        refuse("--clean says what a copy with --plain leaves behind: give both")
    if (reader is not None) == plain:
        refuse("say what is to be shared: --for supplier for the heads alone, or --plain for the whole order")
    if plain:
        _share_plain(order, output, clean=clean)
    else:
        _share_heads(order, output)


def _share_plain(order: Path, output: Path | None, *, clean: bool) -> None:
    from evenheft.cli.tables import print_replaced
    from evenheft.order.plain.copy import plain_copy

    ending = ".ods" if order.suffix.lower() == ".ods" else ".xlsx" if clean else order.suffix
    path = output or order.with_name(f"{order.stem}-{'clean' if clean else 'plain'}{ending}")
    if path.suffix.lower() != ending.lower():
        refuse(f"the name must end in {ending}, got {path.name}")
    made = plain_copy(order, path, clean=clean)
    for warning in made.warnings:
        say(f"Note: {warning}", err=True)
    if clean:
        say(f"{path} needs no Evenheft. It holds what can be seen on the order's sheets, and nothing else of the file.")
    else:
        print_replaced(made.replaced)
        say(f"{path} needs no Evenheft. It holds all that the order holds, the customer too; for a customer: --clean")


def _share_heads(order: Path, output: Path | None) -> None:
    from evenheft.ooxml.text import plain_text
    from evenheft.order.files import write_new
    from evenheft.order.supplier.book import build
    from evenheft.order.supplier.out import heads_wanted, likely_private, open_for_supplier

    opened = open_for_supplier(order)
    heads = heads_wanted(opened)
    # The order's file name may be the customer's: the new one is made from the order's number.
    path = output or order.with_name(f"heads-{re.sub(r'[^A-Za-z0-9._-]+', '-', heads.number)}.xlsx")
    if path.suffix.lower() != ".xlsx":
        refuse(f"the name must end in .xlsx, got {path.name}")
    write_new(path, build(heads))
    private = likely_private(heads, plain_text(opened.computed.named_cell("order_customer")))
    for warning in (*opened.warnings, *private):
        say(f"Note: {warning}", err=True)
    say(f"{path} asks for {len(heads.heads)} heads of order {heads.number}; nothing else of the order is in it.")
    say(f"When it comes back filled in:  evenheft receive {order} {path.name}")


@click.command("receive")
@click.argument("order", type=click.Path(path_type=Path))
@click.argument("returned", type=click.Path(path_type=Path))
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The new workbook; ORDER-received when left out.")
@click.option("--show", is_flag=True, help="Only show what would change; write nothing.")
def receive_command(order: Path, returned: Path, output: Path | None, show: bool) -> None:
    """Take the masses that a supplier filled in from RETURNED, and write ORDER anew with them.

    ORDER itself is only read. Masses are taken as numbers; nothing in RETURNED is ever computed.

    \b
    Exit code 0: every head is there and in.
              3: a head is outside its tolerance, missing, or to be looked at.
              2: RETURNED is not this order's, was changed, or cannot be read.
    """  # noqa: D301  click keeps the lines after a real \b
    from evenheft.cli.tables import print_arrivals
    from evenheft.order.supplier.book import read_returned
    from evenheft.order.supplier.out import open_for_supplier
    from evenheft.order.supplier.received import arrivals, written

    path = output or order.with_name(f"{order.stem}-received{order.suffix}")
    opened = open_for_supplier(order)
    came = read_returned(returned)
    found = arrivals(opened, came)
    count = 0 if show else written(opened, found, path)
    for warning in (*opened.warnings, *came.warnings):
        say(f"Note: {warning}", err=True)
    print_arrivals(found, came.order_number)
    say(_done(count, found, path, show=show))
    sys.exit(EXIT_FLAGGED if any(arrival.flagged for arrival in found) else EXIT_ALL_IN)


def _done(count: int, found: tuple[Arrival, ...], path: Path, *, show: bool) -> str:
    changing = sum(arrival.changes for arrival in found)
    if not changing:
        return "Nothing came back that the order does not hold already: nothing is written."
    if show:
        return f"{changing} masses would change; nothing is written."
    return f"{count} masses are now in {path}."
