"""What Evenheft can compute from a shop's own sheets, and the copy to which it adds those columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from evenheft.ooxml.dangers import reaching
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package, open_package
from evenheft.ooxml.places import Area, Place
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.values import whole_number
from evenheft.shop.calls import Call, MeasureCell, Node
from evenheft.shop.earlier import Earlier, Own, earlier_of, find_own, places_of
from evenheft.shop.finding import find_tables
from evenheft.shop.notes import notes_on
from evenheft.shop.offers import NEEDED_BY, USUAL_OFFERS, Offer, offers_of
from evenheft.shop.surroundings import Surroundings, area_named, surroundings_of
from evenheft.shop.table import ShopTable, overlap
from evenheft.shop.view import view_of
from evenheft.shop.wishes import Wishes, need_sound


@dataclass(frozen=True)
class SheetRead:
    """A sheet of the shop's workbook, and every table on it."""

    name: str
    content: SheetContent
    tables: tuple[ShopTable, ...]
    around: Surroundings
    own: tuple[Own, ...]
    """What was added to it before."""


@dataclass(frozen=True)
class Adoption:
    """A shop's table, understood."""

    sheet: SheetRead
    table: ShopTable
    offers: tuple[Offer, ...]
    earlier: Earlier
    notes: tuple[str, ...]

    @property
    def asks(self) -> tuple[Offer, ...]:
        """The usual offers that wait for a column's meaning to be told."""
        return tuple(offer for offer in self.offers if offer.asks is not None and offer.key in USUAL_OFFERS)


@dataclass(frozen=True)
class Survey:
    """The tables that were chosen of a shop's workbook, and what else there is."""

    path: Path
    chosen: tuple[Adoption, ...]
    notes: tuple[str, ...]

    @property
    def asks(self) -> tuple[tuple[Adoption, Offer], ...]:
        """What waits for a column's meaning to be told."""
        return tuple((adoption, offer) for adoption in self.chosen for offer in adoption.asks)


def survey(path: Path, wishes: Wishes, *, sheets: Sequence[str] = (), table: str = "", every: bool = False) -> Survey:
    """Read a shop's sheets and find what can be computed from them; the file is only read.

    Args:
        path: the shop's workbook [-].
        wishes: what the builder tells beside it [-].
        sheets: the sheets' names; left out, the one that has a table [-].
        table: a range in which the table lies, or its number from the top and the left [-].
        every: whether every table is wanted rather than the largest [-].

    Raises:
        Refused: the workbook cannot be read, or no table is understood on a sheet.
    """
    need_sound(wishes)
    only = None if not table or table.isdigit() else area_named(table)
    if table and not table.isdigit() and only is None:
        raise Refused(f"--table must be a range such as A1:H9, or a table's number, got {table}")
    notes: list[str] = []
    chosen: list[Adoption] = []
    with open_package(path) as package:
        notes += (*package.warnings, *reaching(package))
        for read in _sheets(package, path.name, wishes, sheets, only, every=every):
            picked, note = _picked(read, path.name, table, every=every)
            notes += note
            if read.content.is_protected:
                notes.append(
                    f'sheet "{read.name}" is protected: new cells stand in it locked or open as their neighbours do'
                )
            chosen += [_adoption(read, one, wishes) for one in picked]
    return Survey(path, tuple(chosen), tuple(notes))


def chosen_offers(adoption: Adoption, keys: Sequence[str]) -> tuple[Offer, ...]:
    """Return the offers to add: those named, or the usual ones, as far as they are possible, with what they need.

    Raises:
        Refused: a named one is unknown, cannot be computed, or waits for an unsure column.
    """
    offers = {offer.key: offer for offer in adoption.offers}
    for key in keys:
        if key not in offers:
            raise Refused(f'there is no column "{key}" to add: choose from {", ".join(offers)}')
        if offers[key].lacking:
            raise Refused(f"{key} cannot be computed: {'; '.join(offers[key].lacking)}")
    wanted = {key for key in keys or USUAL_OFFERS if not offers[key].lacking}
    wanted |= {needed for key in wanted for needed in NEEDED_BY.get(key, ()) if not offers[needed].lacking}
    return tuple(offer for offer in adoption.offers if offer.key in wanted and offer.possible)


def _sheets(
    package: Package, name: str, wishes: Wishes, names: Sequence[str], only: Area | None, *, every: bool
) -> list[SheetRead]:
    """Return the sheets that were named, or else the only one that has a table."""
    if names or len(package.sheets) == 1:
        wanted = dict.fromkeys(package.sheet(n).name for n in names or [package.sheets[0].name])
        return [_sheet(package, name, sheet, wishes, only) for sheet in wanted]
    found = []
    for sheet in package.sheets:
        try:
            found.append(_sheet(package, name, sheet.name, wishes, only))
        except Refused:  # a sheet without a table is not the one that was meant
            continue
    listed = ", ".join(f'"{sheet.name}"' for sheet in package.sheets)
    if not found:
        raise Refused(f"{name} has no table that is understood on any of its sheets {listed}: name one with --sheet")
    if len(found) > 1 and not every:
        headed = ", ".join(f'"{read.name}"' for read in found)
        raise Refused(f"{name} has headings on the sheets {headed}: choose with --sheet, or --all (it has {listed})")
    return found


def _sheet(package: Package, path_name: str, name: str, wishes: Wishes, only: Area | None) -> SheetRead:
    content = read_sheet(package, name)
    own = tuple(find_own(content))
    view = view_of(content, without=places_of(own), only=only)
    tables = find_tables(view, f'{path_name}, sheet "{name}",', wishes.mapped)
    return SheetRead(name, content, tables, surroundings_of(package, name, content), own)


def _picked(read: SheetRead, name: str, table: str, *, every: bool) -> tuple[Sequence[ShopTable], list[str]]:
    """Return the tables of a sheet that were meant, and a note where there are more."""
    tables = read.tables
    listed = ", ".join(_called(table) for table in tables)
    if table.isdigit():
        if not 1 <= whole_number(table) <= len(tables):
            raise Refused(f'{name}, sheet "{read.name}", has no table {table}: it has {listed}')
        return [tables[whole_number(table) - 1]], []
    if every or len(tables) == 1:
        return tables, []
    largest = max(tables, key=lambda one: (len(one.rows) * one.understood, -one.area.top, -one.area.left))
    return [largest], [f"there are {len(tables)} tables: {listed}; choose with --table {largest.called}, or --all"]


def _called(table: ShopTable) -> str:
    clubs = f"{len(table.rows)} club{'s' * (len(table.rows) != 1)}"
    return f'{table.called} ("{table.title}", {clubs})' if table.title else f"{table.called} ({clubs})"


def _adoption(read: SheetRead, table: ShopTable, wishes: Wishes) -> Adoption:
    earlier = earlier_of(read.content, table, read.own)
    offers = offers_of(read.content, table, wishes, earlier)
    used = {quantity for offer in offers if offer.node is not None for quantity in _quantities(offer.node, table)}
    notes = [*notes_on(read.content, table, used), *_notes_on_settings(earlier, wishes)]
    return Adoption(read, table, offers, earlier, tuple(notes))


def _quantities(node: Node, table: ShopTable) -> set[str]:
    """Return the quantities that a formula reads; one that takes whole rows reads all parts."""
    if isinstance(node, MeasureCell):
        return {c.quantity for c in table.columns if c.at == node.at and c.quantity is not None}
    if isinstance(node, Call):
        if node.name == "HEFT_CLUB":
            return {column.quantity for column in table.columns if column.quantity is not None}
        return {quantity for argument in node.arguments for quantity in _quantities(argument, table)}
    return set()


def _notes_on_settings(earlier: Earlier, wishes: Wishes) -> list[str]:
    from evenheft.shop.wishes import OPTIONS

    there = dict.fromkeys(key for key, _ in earlier.settings if wishes.setting(key) is not None)
    return [f"{OPTIONS[key]} is not used: its cell is in the sheet already, change it there" for key in there]


def place_named(text: str) -> Place | None:
    """Return the cell that `--at` names, None where it names none."""
    area = area_named(text)
    return None if area is None or (area.top, area.left) != (area.bottom, area.right) else (area.top, area.left)


__all__ = ["Adoption", "SheetRead", "Survey", "chosen_offers", "overlap", "place_named", "survey"]
