"""`evenheft card`: the bench card of an order as a PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from evenheft.cli.talk import refuse, say


@click.command("card")
@click.argument("order", type=click.Path(path_type=Path))
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="The page.")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The new file; ORDER-card.pdf when left out.")
def card_command(order: Path, paper: Literal["a4", "letter"], output: Path | None) -> None:
    """Write the bench card of ORDER as a PDF: one page to write on at the bench.

    It names the clubs, prints what each must hit, and leaves blanks for what is measured. LibreOffice prints it;
    without one, print the sheet Card from your own spreadsheet program.
    """
    from evenheft.hosts.calc.printing import pdf_of
    from evenheft.order.card import card_of
    from evenheft.order.files import need_new, write_new
    from evenheft.order.report import open_order

    path = output or order.with_name(f"{order.stem}-card.pdf")
    if path.suffix.lower() != ".pdf":
        refuse(f"the name must end in .pdf, got {path.name}")
    need_new(path)
    opened = open_order(order)
    page = pdf_of(card_of(opened, paper), "the bench card", "print the sheet Card from your own program")
    write_new(path, page)
    for warning in opened.package.warnings:
        say(f"Note: {warning}", err=True)
    say(f"{path} is the bench card: print it at its own size, write on it, and type it on Bench.")
