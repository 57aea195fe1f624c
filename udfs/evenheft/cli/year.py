"""`evenheft demo --year` and `--plan`: an invented shop's year, its seventh order forecast; an order to be planned."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from evenheft.cli.talk import refuse, say

if TYPE_CHECKING:
    from evenheft.shop.year import Seventh


def show_year(folder: Path) -> None:
    """Play the year in a new folder, and print how the seventh order came out.

    Args:
        folder: where the new folder is made [-].
    """
    from evenheft.shop.year import YEAR_ORDERS, play

    with _new_folder(folder, "year") as place:
        clubs = play(place, lambda line: say(f"{line} ...", err=True))
    orders = f"{YEAR_ORDERS + 1} orders, and the seventh once finished"
    say(f"An invented shop's year is now in {place}: its book, {orders}.\n")
    _print(clubs)
    say(f"Next: open them in your spreadsheet, or run  evenheft check {place / f'order-{YEAR_ORDERS + 1}.xlsx'}")


def show_plan_demo(folder: Path) -> None:
    """Write an order to be planned into a new folder, and print what correcting its clubs one by one would reach.

    Args:
        folder: where the new folder is made [-].
    """
    from evenheft.shop.plan_demo import write_plan_demo

    with _new_folder(folder, "plan") as place:
        made = write_plan_demo(place)
    say(f"An invented order of {made.clubs} clubs, loose parts only, is now in {made.order}, its shop book beside it.")
    say(
        f"As it lies there {made.as_it_stands} of {made.clubs} clubs would be in; with the best stock weights for each "
        f"club and the shaft beside it, {made.corrected}. The others have too much inertia: no weight or lead at any "
        "place, no other grip, no free shaft by itself and no cut that leaves the length as ordered brings them in."
    )
    say(f"Next: plan the set as a whole with  evenheft plan {made.order}")


@contextlib.contextmanager
def _new_folder(folder: Path, name: str) -> Iterator[Path]:
    """Make a new folder of a name that is free, in a folder that may not exist yet; it stays whole or not at all."""
    from evenheft.order.files import kept_only_with_files

    try:
        place, number = folder / name, 2
        while os.path.lexists(place):
            place, number = folder / f"{name}-{number}", number + 1
        with kept_only_with_files(folder):
            place.mkdir()  # by nobody else in the same moment: what is taken away again is our own
            try:
                yield place
            except BaseException:
                shutil.rmtree(place, ignore_errors=True)
                raise
    except OSError as error:
        if error.errno == errno.ENOSPC:
            raise
        refuse(f"{folder} cannot be written to: {error.strerror}")


def _print(clubs: list[Seventh]) -> None:
    from evenheft.cli.tables import HarmlessTable, console_for_tables
    from evenheft.formulas.answers import label_or_message
    from evenheft.shop.year import HALF_A_POINT, YEAR_ORDERS

    title = f"The seventh order, forecast by what {YEAR_ORDERS} orders taught"
    table = HarmlessTable(title=title, title_justify="left", title_style="bold", header_style="bold")
    for heading in ("Club", "Dry fits known", "Forecast", "Its doubt", "Read when finished", "Missed by"):
        table.add_column(heading)
    for club in clubs:
        table.add_row(
            club.club, str(club.fits), label_or_message(club.forecast), f"{club.doubt:.2f} points",
            label_or_message(club.read), f"{round(club.missed, 2) + 0.0:+.2f} points",
        )  # fmt: skip
    console_for_tables().print(table)
    near = sum(abs(club.missed) <= HALF_A_POINT for club in clubs)
    sure = sum(abs(club.missed) <= club.doubt for club in clubs)
    say(f"{near} of {len(clubs)} clubs within half a point of their forecast, {sure} within its doubt.")
