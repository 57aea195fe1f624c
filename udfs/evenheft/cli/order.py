"""`evenheft new`, `check` and `demo`: an order workbook is made, read, and shown."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from evenheft.cli.talk import EXIT_ALL_IN, EXIT_FLAGGED, refuse, say

if TYPE_CHECKING:
    from evenheft.order.report import OpenedOrder, OrderReport


@click.command("new")
@click.argument("order", type=click.Path(path_type=Path))
@click.option("--from", "old", type=click.Path(path_type=Path), help="An older order to take over.")
@click.option(
    "--shop",
    "book",
    type=click.Path(path_type=Path),
    help="The shop book that fills it; left out, EVENHEFT_SHOP or an evenheft-shop.xlsx beside ORDER or above it.",
)
@click.option("--no-shop", is_flag=True, help="Fill it from no shop book.")
@click.option(
    "--like",
    metavar="ORDER",
    help="Start from an earlier order, a file or a number in the shop book: clubs, groups, targets, kinds of parts; "
    "nothing that was measured.",
)
def new_command(order: Path, old: Path | None, book: Path | None, no_shop: bool, like: str | None) -> None:
    """Write a new order workbook as ORDER (a name that ends in .xlsx or .xltx, or in .ods where LibreOffice is).

    It opens in any spreadsheet program that has the Evenheft formulas; `evenheft check` needs
    no spreadsheet program at all. Instruments, what is usual by group, stock weights and, with --like, the head rises
    that were learnt come from the shop book where there is one.

    --from OLD: takes over what was typed in an order of this or an older Evenheft, cell by sheet and
    heading, and says what had no place. OLD is only read. Exit code 3: something had no place.
    """
    from evenheft.cli.new_order import new_order
    from evenheft.order.files import template_file, write_new

    ending = order.suffix.lower().lstrip(".")
    if ending not in ("xlsx", "xltx", "ods"):
        refuse(f"the name must end in .xlsx, .xltx or .ods, got {order.name}")
    if old is not None and (book is not None or like is not None):
        refuse("--from takes an order over as it is: give it without --shop and --like")
    if old is not None:
        _carry(old, order)
    if book is not None and no_shop:
        refuse("--shop names a shop book and --no-shop wants none: give one of them")
    template = template_file("xlsx" if ending == "ods" else ending).read_bytes()
    made = new_order(template, order, book, shop=not no_shop, like=like)
    write_new(order, made.content)
    for line in made.lines:
        say(line)
    say(f"{order} is ready: fill in Order and Bench, then run  evenheft check {order}")


def _carry(old: Path, order: Path) -> NoReturn:
    """Take over an older order, and tell what of it has no place any more."""
    from evenheft.order.carrying.into_new import carry

    carried = carry(old, order)
    say(f"{order} holds {carried.cells} typed cells of {old.name} (layout {carried.layout}): {carried.clubs} clubs.")
    for line in carried.valued:
        say(f"Note: {line}")
    if carried.left:
        say("What had no place, for you to look at:")
    for line in carried.left:
        say(f"  {line}")
    say(f"Next: look it through, then run  evenheft check {order}")
    sys.exit(EXIT_FLAGGED if carried.left else EXIT_ALL_IN)


@click.command("check")
@click.argument("order", type=click.Path(path_type=Path))
@click.option("--json", "as_data", is_flag=True, help="Print the report as JSON for other programs.")
@click.option("--save", is_flag=True, help="Keep the results in ORDER, so that previews and phones show them.")
@click.option("--backup", is_flag=True, help="With --save: keep the old file as ORDER.bak.")
def check_command(order: Path, as_data: bool, save: bool, backup: bool) -> None:
    """Recompute ORDER and print each club against its target. The file is only read, except with --save.

    \b
    Exit code 0: every judged club is in.
              3: something is flagged, to be measured again, or its row cannot be followed.
              2: the file cannot be read, or holds nothing to judge yet.
    """  # noqa: D301  click keeps the lines after a real \b
    if backup and not save:
        refuse("--backup keeps the old file when --save writes a new one: give both")
    from evenheft.order.report import open_order

    opened = open_order(order)
    report = _read(opened, save=save, backup=backup)
    if as_data:
        from evenheft.order.report import as_json

        say(json.dumps(as_json(report), indent=2, ensure_ascii=not _speaks_unicode()))
    else:
        from evenheft.cli.new_order import shop_has_changed
        from evenheft.cli.tables import print_report

        print_report(report)
        for line in shop_has_changed(opened):
            say(line)
    if not report.judged and not report.flagged:
        refuse(f"{order.name} holds no club to judge yet, only loose parts: type what you measure on Bench")
    sys.exit(EXIT_FLAGGED if report.flagged or report.lost else EXIT_ALL_IN)


@click.command("demo")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False), default="evenheft-demo")
@click.option("--year", is_flag=True, help="Play an invented shop's year instead: six orders kept, a seventh forecast.")
@click.option("--plan", is_flag=True, help="Write an order to be planned instead, and the shop book with its stock.")
def demo_command(folder: Path, year: bool, plan: bool) -> None:
    """Write an invented order of nine clubs into FOLDER and check it.

    One club is too light, one too heavy and one so near the edge that the instruments cannot
    tell. FOLDER is evenheft-demo when left out; files in it are kept.

    --year: writes the shop book and the orders of an invented shop into a new folder of FOLDER: six orders are
    dry-fitted, finished and kept, and the seventh is forecast before any dry fit, by what the book knows.

    --plan: writes an order of loose parts and a shop book into a new folder of FOLDER, for  evenheft plan.
    """
    if year and plan:
        refuse("--year and --plan are two demos: ask for one of them")
    if plan:
        from evenheft.cli.year import show_plan_demo

        show_plan_demo(folder)
        return
    if year:
        from evenheft.cli.year import show_year

        show_year(folder)
        return
    from evenheft.cli.tables import print_report
    from evenheft.order.demo import build_demo
    from evenheft.order.drawing.template import save_bytes
    from evenheft.order.files import free_name, kept_only_with_files, write_new
    from evenheft.order.report import computed_order

    content, report = computed_order(save_bytes(build_demo()), "demo-order.xlsx")
    try:
        with kept_only_with_files(folder):
            path = free_name(folder, "demo-order", "xlsx")
            write_new(path, content)
    except OSError as error:
        refuse(f"{folder} cannot be written to: {error.strerror}")
    say(f"An invented order of nine clubs is now in {path}")
    say(f"Next: open it in your spreadsheet, or run  evenheft check {path}  after you changed a cell.\n")
    print_report(report)


def _read(order: Path | OpenedOrder, *, save: bool = False, backup: bool = False) -> OrderReport:
    from evenheft.order.report import read_order, saved_order

    return saved_order(order, backup=backup) if save else read_order(order)


def _speaks_unicode() -> bool:
    """Tell whether what is printed may hold any letter."""
    return (getattr(sys.stdout, "encoding", None) or "").lower().replace("-", "") == "utf8"
