"""`evenheft adopt`: formulas for the sheets that a shop already has."""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from evenheft.cli.talk import EXIT_ALL_IN, EXIT_FLAGGED, refuse, say
from evenheft.formulas.wording import show

if TYPE_CHECKING:
    from evenheft.ooxml.places import Place
    from evenheft.shop.adopt import Survey
    from evenheft.shop.wishes import Wishes


class Finite(click.ParamType):  # type: ignore[type-arg]  # generic in newer releases of click alone
    """A number as it is written: "nan" and "inf" are none."""

    name = "number"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Read the number."""
        try:
            number = float(str(value))
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            self.fail(f"must be a number, got {show(value)}", param, ctx)
        return number


FINITE = Finite()


@click.command("adopt")
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--sheet", "sheets", multiple=True, help="A sheet's name; left out, the one that has a table.")
@click.option("--table", default="", metavar="RANGE", help="The range of the table, e.g. A1:H9, or its number.")
@click.option("--all", "every", is_flag=True, help="Every table of the sheets that are named, or of all sheets.")
@click.option(
    "--map",
    "maps",
    multiple=True,
    metavar="COLUMN=MEANING",
    help='What a column holds, by its letter or heading, e.g. --map "G=balance (in)" or --map "H=not used".',
)
@click.option(
    "--add", "keys", multiple=True, metavar="NAME", help="A column to add; left out, all that can be computed."
)
@click.option("--at", metavar="CELL", default="", help="Where the first new heading stands, e.g. Q3.")
@click.option("--write", "copy", type=click.Path(path_type=Path), help="Write this new copy with the columns added.")
@click.option("--remove", is_flag=True, help="Write a copy without what was added before.")
@click.option("--target", default="", help="The swingweight wanted of the first club, e.g. D2, where no column tells.")
@click.option("--increment", type=FINITE, help="The change in points from each club to the next, with --target.")
@click.option("--tolerance", type=FINITE, help="The deviation accepted, in points, where no column tells.")
@click.option("--mass-doubt", default="", help='The plus or minus of the scale, e.g. "0.5 g".')
@click.option("--balance-doubt", default="", help='The plus or minus of the balance point, e.g. "1 mm".')
def adopt_command(
    shop: Path,
    sheets: tuple[str, ...],
    table: str,
    every: bool,
    maps: tuple[str, ...],
    keys: tuple[str, ...],
    at: str,
    copy: Path | None,
    remove: bool,
    target: str,
    increment: float | None,
    tolerance: float | None,
    mass_doubt: str,
    balance_doubt: str,
) -> None:  # fmt: skip
    """Read the tables on the sheets of SHOP, tell what can be computed from them, and add columns to a copy.

    SHOP itself is only read. In the copy the results stand beside their table, and what you told with --target,
    --increment, --tolerance and the doubts in cells that you can change.

    \b
    Exit code 0: every column that is used was understood.
              3: a column that is needed is unsure; tell what it holds with --map.
              2: SHOP cannot be read, or what was asked cannot be done.
    """  # noqa: D301  click keeps the lines after a real \b
    from evenheft.shop.open_document import workbook_of
    from evenheft.shop.wishes import Wishes

    if remove:
        _remove(shop, copy, sheets)
        return
    wishes = Wishes(_meanings(maps), target, tolerance, mass_doubt, balance_doubt, increment)
    place = _place(at)
    if copy is not None:
        _need_same_ending(shop, copy)
    with workbook_of(shop) as (workbook, notes):
        _tell(notes)
        _adopt(workbook, wishes, sheets=sheets, table=table, every=every, keys=keys, copy=copy, at=place)


def _adopt(
    shop: Path,
    wishes: Wishes,
    *,
    sheets: tuple[str, ...],
    table: str,
    every: bool,
    keys: tuple[str, ...],
    copy: Path | None,
    at: Place | None,
) -> NoReturn:
    from evenheft.cli.tables import print_adoption
    from evenheft.shop.adopt import chosen_offers, survey

    found = survey(shop, wishes, sheets=sheets, table=table, every=every)
    for adoption in found.chosen:
        chosen_offers(adoption, keys)
    # Written before anything is printed: a reader that goes away, or a full pipe, must not cost the copy.
    is_sure = bool(keys) or not found.asks
    lines = _write(found, wishes, keys, copy, at) if copy is not None and is_sure else []
    _tell(found.notes)
    for adoption in found.chosen:
        print_adoption(adoption)
    for line in lines:
        say(line)
    if copy is not None and not is_sure:
        _refuse_unsure(found)
    sys.exit(EXIT_FLAGGED if found.asks else EXIT_ALL_IN)


def _tell(notes: Iterable[str]) -> None:
    for note in notes:
        say(f"Note: {note}")


def _write(found: Survey, wishes: Wishes, keys: tuple[str, ...], copy: Path, at: Place | None) -> list[str]:
    """Write the copy, and return what is to be said of it."""
    from evenheft.hosts.calc.open_document import is_open_document
    from evenheft.shop.open_document import copy_to_write
    from evenheft.shop.writing import write_copy

    with copy_to_write(copy) as target:
        added = write_copy(found, keys, wishes, target, at)
    lines = [f"{copy} is a copy of {found.path.name}:"]
    for adoption, one in zip(found.chosen, added, strict=True):
        columns = ", ".join(f"{key} in {letter}" for key, letter in one.columns.items())
        where = f'sheet "{adoption.sheet.name}", {one.table}: ' if len(added) > 1 else ""
        if columns:
            lines.append(f"{where}{columns}.")
        if one.settings:
            lines.append(f"{where}What was wanted stands in {one.settings}: change it there.")
        if one.filled:
            lines.append(f"{where}{one.filled} club{'s' * (one.filled > 1)} that came since: filled in.")
        lines += [f"Note: {where}{note}" for note in one.notes]
    if is_open_document(copy) or is_open_document(found.path):
        return [*lines, "LibreOffice has written all of it anew: look it over before you go on with it."]
    return [*lines, "Nothing else in it was touched."]


def _remove(shop: Path, copy: Path | None, sheets: tuple[str, ...]) -> None:
    from evenheft.shop.open_document import copy_to_write, workbook_of
    from evenheft.shop.removing import acting_in, remove

    if copy is None:
        refuse("--remove writes a copy: give its name with --write")
    _need_same_ending(shop, copy)
    with workbook_of(shop) as (workbook, notes), copy_to_write(copy) as target:
        acting = acting_in(workbook)
        emptied = remove(workbook, target, sheets)
    _tell((*notes, *acting))
    if emptied:
        say(f"{copy} is a copy of {shop.name} without the {emptied} cells that were added.")
    else:
        say(f"{copy} is {shop.name} as it was before, byte for byte in each of its parts.")


def _need_same_ending(shop: Path, copy: Path) -> None:
    either = {ending.lower() for ending in (shop.suffix, copy.suffix)}
    if len(either) > 1 and either != {".xlsx", ".ods"}:
        refuse(f"the copy must end in {shop.suffix} like the workbook itself, got {copy.name}")


def _place(at: str) -> Place | None:
    from evenheft.shop.adopt import place_named

    place = place_named(at) if at else None
    if at and place is None:
        refuse(f"--at must be one cell, e.g. Q3, got {at}")
    return place


def _meanings(maps: tuple[str, ...]) -> dict[str, str]:
    meanings = {}
    for text in maps:
        column, equals, meaning = text.rpartition("=")
        if not equals or not column.strip() or not meaning.strip():
            refuse(f'--map must be COLUMN=MEANING, e.g. "G=balance (in)", got {text}')
        meanings[column.strip()] = meaning.strip()
    return meanings


def _refuse_unsure(found: Survey) -> None:
    for _, offer in found.asks:
        column = offer.asks
        if column is not None:
            refuse(
                f'{offer.key} waits for {"; ".join(offer.lacking)} Tell it with --map "{column.letter}=MEANING (UNIT)" '
                f'or --map "{column.letter}=not used", or choose columns with --add'
            )
