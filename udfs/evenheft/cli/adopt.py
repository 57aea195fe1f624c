"""`evenheft adopt`: formulas for the sheet that a shop already has."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenheft.cli.talk import ALL_IN, FLAGGED, refuse

if TYPE_CHECKING:
    from evenheft.shop.adopt import Adoption


@click.command("adopt")
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--sheet", required=True, help="The sheet's name.")
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
@click.option("--write", "copy", type=click.Path(path_type=Path), help="Write this new copy with the columns added.")
@click.option("--target", default="", help="The swingweight wanted, e.g. D2, where no column tells.")
@click.option("--tolerance", type=float, help="The deviation accepted, in points, where no column tells.")
@click.option("--mass-doubt", default="", help='The plus or minus of the scale, e.g. "0.5 g".')
@click.option("--balance-doubt", default="", help='The plus or minus of the balance point, e.g. "1 mm".')
def adopt_command(
    shop: Path,
    sheet: str,
    maps: tuple[str, ...],
    keys: tuple[str, ...],
    copy: Path | None,
    target: str,
    tolerance: float | None,
    mass_doubt: str,
    balance_doubt: str,
) -> None:  # fmt: skip
    """Read the headings of a sheet in SHOP, tell what can be computed from it, and add columns to a copy.

    SHOP itself is only read. In the copy the new columns stand to the right of the table; every other byte of
    the workbook, its charts, pictures and macros are as they were.

    \b
    Exit code 0: every column that is used was understood.
              3: a column that is needed is unsure; tell what it holds with --map.
              2: SHOP cannot be read, or what was asked cannot be done.
    """  # noqa: D301  click keeps the lines after a real \b
    from evenheft.cli.tables import print_adoption
    from evenheft.shop.adopt import Wishes, add_columns, chosen, understand

    wishes = Wishes(_told(maps), target, tolerance, mass_doubt, balance_doubt)
    adoption = understand(shop, sheet, wishes)
    offers = chosen(adoption, keys)
    print_adoption(adoption)
    if copy is not None:
        if copy.suffix.lower() != shop.suffix.lower():
            refuse(f"the copy must end in {shop.suffix} like the workbook itself, got {copy.name}")
        if not keys:
            _refuse_unsure(adoption)
        if not offers:
            refuse(f"{shop.name}: there is nothing to add")
        letters = add_columns(shop, adoption, offers, copy)
        told = ", ".join(f"{key} in {letter}" for key, letter in letters.items())
        click.echo(f"{copy} is a copy of {shop.name} with {told}. Nothing else in it was touched.")
    sys.exit(FLAGGED if adoption.asks else ALL_IN)


def _told(maps: tuple[str, ...]) -> dict[str, str]:
    told = {}
    for text in maps:
        column, equals, meaning = text.rpartition("=")
        if not equals or not column.strip() or not meaning.strip():
            refuse(f'--map must be COLUMN=MEANING, e.g. "G=balance (in)", got {text}')
        told[column.strip()] = meaning.strip()
    return told


def _refuse_unsure(adoption: Adoption) -> None:
    for offer in adoption.asks:
        column = offer.asks
        if column is not None:
            refuse(
                f'{offer.key} waits for {"; ".join(offer.lacking)} Tell it with --map "{column.letter}=MEANING (UNIT)" '
                f'or --map "{column.letter}=not used", or choose columns with --add'
            )
