"""`evenheft new`, `check` and `demo`: an order workbook is made, read, and shown."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from evenheft.cli.talk import ALL_IN, FLAGGED, refuse, say

if TYPE_CHECKING:
    from evenheft.order.report import OrderReport


@click.command("new")
@click.argument("order", type=click.Path(path_type=Path))
@click.option("--from", "old", type=click.Path(path_type=Path), help="An older order to take over.")
def new_command(order: Path, old: Path | None) -> None:
    """Write an empty order workbook as ORDER (a name that ends in .xlsx or .xltx, or in .ods where LibreOffice is).

    It opens in any spreadsheet program that has the Evenheft formulas; `evenheft check` needs
    no spreadsheet program at all.

    --from OLD: takes over what was typed in an order of this or an older Evenheft, cell by sheet and
    heading, and says what had no place. OLD is only read. Exit code 3: something had no place.
    """
    from evenheft.order.files import template_file, write_new

    ending = order.suffix.lower().lstrip(".")
    if ending not in ("xlsx", "xltx", "ods"):
        refuse(f"the name must end in .xlsx, .xltx or .ods, got {order.name}")
    if old is not None:
        _carry(old, order)
    write_new(order, template_file("xlsx" if ending == "ods" else ending).read_bytes())
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
    sys.exit(FLAGGED if carried.left else ALL_IN)


@click.command("check")
@click.argument("order", type=click.Path(path_type=Path))
@click.option("--json", "as_data", is_flag=True, help="Print the report as JSON for other programs.")
@click.option("--save", is_flag=True, help="Keep the results in ORDER, so that previews and phones show them.")
@click.option("--backup", is_flag=True, help="With --save: keep the old file as ORDER.bak.")
def check_command(order: Path, as_data: bool, save: bool, backup: bool) -> None:
    """Recompute ORDER and print each club against its target. The file is only read, except with --save.

    \b
    Exit code 0: every judged club is in.
              3: something is flagged, or to be measured again.
              2: the file cannot be read, or holds nothing to judge yet.
    """  # noqa: D301  click keeps the lines after a real \b
    if backup and not save:
        refuse("--backup keeps the old file when --save writes a new one: give both")
    report = _read(order, save=save, backup=backup)
    if as_data:
        from evenheft.order.report import as_json

        say(json.dumps(as_json(report), indent=2, ensure_ascii=not _speaks_unicode()))
    else:
        from evenheft.cli.tables import print_report

        print_report(report)
    if not report.judged and not report.flagged:
        refuse(f"{order.name} holds no club to judge yet, only loose parts: type what you measure on Bench")
    sys.exit(FLAGGED if report.flagged else ALL_IN)


@click.command("demo")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False), default="evenheft-demo")
def demo_command(folder: Path) -> None:
    """Write an invented order of nine clubs into FOLDER and check it.

    One club is too light, one too heavy and one so near the edge that the instruments cannot
    tell. FOLDER is evenheft-demo when left out; files in it are kept.
    """
    from evenheft.cli.tables import print_report
    from evenheft.order.demo import build_demo
    from evenheft.order.drawing.template import save_bytes
    from evenheft.order.files import free_name, write_new

    try:
        folder.mkdir(parents=True, exist_ok=True)
        path = free_name(folder, "demo-order", "xlsx")
        write_new(path, save_bytes(build_demo()))
    except OSError as error:
        refuse(f"{folder} cannot be written to: {error.strerror}")
    say(f"An invented order of nine clubs is now in {path}")
    say(f"Next: open it in your spreadsheet, or run  evenheft check {path}  after you changed a cell.\n")
    print_report(_read(path, save=True))


def _read(path: Path, *, save: bool = False, backup: bool = False) -> OrderReport:
    from evenheft.order.report import read_order, saved_order

    return saved_order(path, backup=backup) if save else read_order(path)


def _speaks_unicode() -> bool:
    """Tell whether what is printed may hold any letter."""
    return (getattr(sys.stdout, "encoding", None) or "").lower().replace("-", "") == "utf8"
