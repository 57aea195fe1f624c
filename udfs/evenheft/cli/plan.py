"""`evenheft plan`: which shaft and which weights for which head."""

from __future__ import annotations

import math
import os
import sys
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from evenheft.cli.talk import EXIT_ALL_IN, EXIT_FLAGGED, refuse, say

if TYPE_CHECKING:
    from evenheft.mechanics.pairing.plan import Plan
    from evenheft.mechanics.pairing.problem import Batch
    from evenheft.mechanics.pairing.scoring import Score
    from evenheft.shop.plan_order import OrderToPlan

QUIET_SECONDS = 1.0
"""A plan that takes longer tells what goes on [s]."""
STOPPED = 130
"""Exit code where Ctrl-C ended the search, as shells have it."""


_SECONDS = click.FloatRange(1, 86400)


def _no_nan(_: click.Context, __: click.Parameter, seconds: float | None) -> float | None:
    """Refuse what is no number, which lies in no range and is let through by click."""
    if seconds is not None and math.isnan(seconds):
        raise click.BadParameter(f"nan is not in the range {_SECONDS.min}<=x<={_SECONDS.max}.")
    return seconds


@click.command("plan")
@click.argument("book", type=click.Path(path_type=Path))
@click.option(
    "--shafts-from",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Take the sheets Shafts and Weights from this workbook.",
)
@click.option(
    "--shafts",
    "keep",
    type=click.IntRange(1, 400),
    metavar="N",
    help="Say which N of the shafts left over to keep for a repeat of the set.",
)
@click.option(
    "--also",
    multiple=True,
    type=click.Choice(("mass", "frequency")),
    help="For an order: let the target of total mass or frequency count too.",
)
@click.option(
    "--to", type=click.Path(path_type=Path), metavar="FILE", help="For an order: the new planned order's name."
)
@click.option("--show", is_flag=True, help="For an order: only print the plan, write no new order.")
@click.option("--seconds", type=_SECONDS, callback=_no_nan, help="Stop after so long with the best plan so far.")
def plan_command(
    book: Path,
    shafts_from: Path | None,
    keep: int | None,
    also: tuple[str, ...],
    to: Path | None,
    show: bool,
    seconds: float | None,
) -> None:
    """Plan which shaft and which stock weights go to which head of BOOK, proven best.

    BOOK is an order: its heads, targets and shafts are those of its sheets, further shafts and weights those of the
    shop book, and the planned order is written as a new workbook. Or it has sheets Heads, Shafts and Weights
    (docs/plan.md shows them). BOOK itself is only read. As many clubs as can be come in, then the worst deviation is
    made as small as can be, then the added mass.

    \b
    Exit code 0: every club is in.
              3: a club stays out; why, and what would bring it in, is said.
              2: BOOK cannot be read or planned.
    """  # noqa: D301  click keeps the lines after a real \b
    from evenheft.cli.plan_tables import print_plan
    from evenheft.mechanics.pairing.keeping import shafts_to_keep
    from evenheft.order.report import open_order
    from evenheft.shop.plan_order import order_to_plan
    from evenheft.shop.plan_sheets import is_order, read_batch

    given = order_to_plan(open_order(book), shafts_from, also) if is_order(book) else None
    if given is None and (also or to or show):
        refuse(f"--also, --to and --show are for an order, and {book.name} is none")
    if to is not None and to.suffix.lower() != book.suffix.lower():
        refuse(f"the planned order's name must end in {book.suffix}, got {to.name}")
    batch = read_batch(book, shafts_from) if given is None else given.batch
    plan = _in_the_background(batch, seconds or float("inf"))
    # All is written before anything is printed: a printer that fails leaves no half of it.
    new = _written(given, plan, to) if given is not None and not show else None
    inside = print_plan(batch, plan)
    if keep is not None:
        kept = shafts_to_keep(batch, plan, keep)
        fewer = f" (of those left over only {len(kept)} would do)" if 0 < len(kept) < keep else ""
        say(f"Keep for a repeat: {', '.join(kept) or 'no shaft is left over'}{fewer}.")
    for line in given.beside if given is not None else ():
        say(line)
    if new is not None:
        say(f"The planned order is {new}: shafts on Parts, weights on Fix. {book.name} is as it was.")
    elif given is not None and not show:
        say(f"{book.name} is laid out like this already: nothing is written.")
    sys.exit(EXIT_ALL_IN if inside else EXIT_FLAGGED)


def _written(given: OrderToPlan, plan: Plan, to: Path | None) -> Path | None:
    """Write the planned order and return its path; None where the order is laid out like the plan already."""
    from evenheft.shop.planned_order import plan_edits, planned_name, write_planned

    edits = plan_edits(given, plan)
    if not edits:
        return None
    new = to or planned_name(given.order.path)
    write_planned(given, edits, new)
    return new


def _in_the_background(batch: Batch, seconds: float) -> Plan:
    """Plan beside a watch that tells what goes on after a second, and that Ctrl-C ends at once."""
    from evenheft.mechanics.pairing.plan import plan_set
    from evenheft.mechanics.pairing.problem import PairingError

    done: list[Plan] = []
    failed: list[Exception] = []
    latest: list[tuple[str, Score]] = []

    def report(stage: str, _: object, score: Score) -> None:
        latest.append((stage, score))

    def work() -> None:
        try:
            done.append(plan_set(batch, seconds=seconds, report=report))
        except Exception as error:  # told by the thread that waits
            failed.append(error)

    worker = threading.Thread(target=work, daemon=True)
    start, shown = time.monotonic(), 0
    worker.start()
    try:
        while worker.is_alive():
            worker.join(0.1)
            if time.monotonic() - start > QUIET_SECONDS and len(latest) > shown:
                shown = len(latest)
                say(f"{latest[-1][0]} ...", err=True)
    except KeyboardInterrupt:
        if latest:
            score = latest[-1][1]
            found = f"{len(batch.clubs) - score.out} of {len(batch.clubs)} clubs in"
            say(f"! stopped; found so far: {found}. No file was changed.", err=True)
        else:
            say("! stopped before a plan was found. No file was changed.", err=True)
        _leave(STOPPED)
    if failed and isinstance(failed[0], PairingError):
        refuse("; ".join(failed[0].lines))
    if failed:
        raise failed[0]
    return done[0]


def _leave(code: int) -> NoReturn:
    """End at once: the solver does not hear of Ctrl-C, and nothing is open that would have to be closed."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)
