"""A new order filled from the shop book: a dated snapshot of its instruments, what is usual, its stock of weights."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from evenheft.formulas.kinds import finite_number
from evenheft.formulas.wording import is_blank, show
from evenheft.hosts.embedded import Computed
from evenheft.mechanics import units
from evenheft.mechanics.pairing.problem import StockWeight
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.text import plain_text, shown_name
from evenheft.ooxml.values import Held
from evenheft.order.layout import EVERY_GROUP, GROUPS, STOCK_ROWS, STOCKS, TARGET, USUAL, USUALLY
from evenheft.shop.book import layout
from evenheft.shop.book.part_lists import ListedPart, grips_listed, part_differences, part_edits, shafts_listed
from evenheft.shop.book.reading import Book, text_key
from evenheft.shop.book.taught import mass_of

SNAPSHOT: CellAt = ("Shop", 4, 1)
"""The cell of an order that names the book and the day it was filled."""
_SNAPSHOT_LINE = re.compile(r"Filled from (.+) on (\d{4}-\d\d-\d\d)")
_PLACES = ("head", "butt")
_WITH_UNIT = re.compile(r"\S+ (g|cm)")
"""A shipped value that carries its unit: a plain number in its place is meant in that unit too."""


@dataclass
class ShopNumbers:
    """What a book or an order says of the shop, each value by its name, comparable with the other's."""

    settings: dict[str, Held] = field(default_factory=dict)
    """By the defined names of an order's Shop sheet, e.g. "doubt_mass"."""
    usual: dict[str, dict[str, Held]] = field(default_factory=dict)
    """By group and key of `USUAL`."""
    weights: tuple[StockWeight, ...] = ()
    """None where the book counts none."""
    shafts: tuple[ListedPart, ...] = ()
    """Those that went into no order yet."""
    grips: tuple[ListedPart, ...] = ()
    unknown: tuple[str, ...] = ()
    """Lines of the book's Shop sheet that no order knows."""


def numbers_of_book(book: Book) -> ShopNumbers:
    """Read the sheets Shop, Usual and Weights of a book.

    Args:
        book: the shop book; one without these sheets has nothing to say [-].

    Raises:
        Refused: a list has lost a column.
    """
    found = ShopNumbers()
    if book.package.find_sheet(layout.SHOP_LIST.sheet) is not None:
        _read_settings(book, found)
    if book.package.find_sheet(layout.USUAL_LIST.sheet) is not None:
        _read_usual(book, found)
    found.weights = tuple(_on_hand(book))
    found.shafts, found.grips = shafts_listed(book), grips_listed(book)
    return found


def _on_hand(book: Book) -> Iterator[StockWeight]:
    """Count the weights as the sheet does: the last count less what was kept from orders since."""
    listed, used = book.list("weights"), book.list("used")
    taken = [
        (finite_number(used.value(row, "size")), used.text(row, "where"), finite_number(used.value(row, "kept")) or 0.0,
         finite_number(used.value(row, "count")) or 0.0)
        for row in used.rows
    ]  # fmt: skip
    for row in listed.rows:
        size, counted = mass_of(listed.value(row, "size")), finite_number(listed.value(row, "counted"))
        where, since = text_key(listed.value(row, "where")) or "head", finite_number(listed.value(row, "on")) or 0.0
        if size is None or counted is None or where not in _PLACES:
            continue
        gone = sum(count for mass, place, kept, count in taken
                   if mass == size and text_key(place) == where and kept >= since)  # fmt: skip
        if counted - gone >= 1:
            yield StockWeight(size, int(counted - gone), "head" if where == "head" else "butt")


def _read_settings(book: Book, found: ShopNumbers) -> None:
    listed = book.list("shop")
    by_label = {text_key(setting.label): setting for setting in layout.BOOK_SETTINGS}
    unknown = []
    for row in listed.rows:
        label, value = listed.text(row, "setting"), listed.value(row, "value")
        setting = by_label.get(text_key(label))
        if setting is None:
            unknown.append(label)
        elif value is not None and not is_blank(value):
            found.settings[setting.name] = _with_unit(setting.value, value)
    found.unknown = tuple(label for label in unknown if label)


def _read_usual(book: Book, found: ShopNumbers) -> None:
    listed = book.list("usual")
    for row in listed.rows:
        group = listed.text(row, "group")
        if group:
            held = {key: listed.value(row, key) for key, _, _, _ in USUALLY}
            found.usual[group] = {
                key: _with_unit("0 cm", value) for key, value in held.items() if value is not None and value != ""
            }


def _with_unit(shipped: object, value: Held) -> Held:
    """Return a value as an order of whatever units takes it: a plain number of the book gets its unit."""
    unit = _WITH_UNIT.fullmatch(shipped) if isinstance(shipped, str) else None
    number = finite_number(value)
    return value if unit is None or number is None else f"{show(number)} {unit[1]}"


def fill_edits(computed: Computed, numbers: ShopNumbers, book: str, today: datetime.date) -> dict[CellAt, Edit]:
    """List the cells of an order that a book's numbers fill.

    Args:
        computed: the order, computed [-].
        numbers: what the book says [-].
        book: what the book is called [-].
        today: the day to write [-].
    """
    found: dict[CellAt, Edit] = {SNAPSHOT: Put(f"Filled from {shown_name(book)} on {today.isoformat()}")}
    for name, value in numbers.settings.items():
        area = computed.named_area(name)
        if area is not None:
            found[area[0], area[1], area[2]] = Put(value)
    if numbers.usual:
        found.update(_usual_edits(numbers.usual))
    if numbers.weights:
        found.update(_stock_edits(computed, numbers.weights))
    found.update(part_edits(numbers.shafts, numbers.grips))
    return found


def _usual_edits(usual: dict[str, dict[str, Held]]) -> Iterator[tuple[CellAt, Edit]]:
    """Fill the first row of what is usual for every group, then the shop's own groups, on Order as well."""
    groups = [name for name in usual if text_key(name) != EVERY_GROUP][:GROUPS]
    every = next((held for name, held in usual.items() if text_key(name) == EVERY_GROUP), {})
    for at, (name, held) in enumerate([(EVERY_GROUP, every), *((name, usual[name]) for name in groups)]):
        row = USUAL.first_row + at
        if at:
            yield (USUAL.sheet, row, USUAL.at["group"]), Put(name)
            yield (TARGET.sheet, TARGET.first_row + at - 1, TARGET.at["group"]), Put(name)
        for key, _, _, _ in USUALLY:
            yield (USUAL.sheet, row, USUAL.at[key]), Put(held.get(key))
    for at in range(len(groups), GROUPS):
        yield (USUAL.sheet, USUAL.first_row + 1 + at, USUAL.at["group"]), Put(None)
        yield (TARGET.sheet, TARGET.first_row + at, TARGET.at["group"]), Put(None)


def _stock_edits(computed: Computed, weights: tuple[StockWeight, ...]) -> Iterator[tuple[CellAt, Edit]]:
    for place, (sizes, counts, _, _) in zip(_PLACES, STOCKS, strict=True):
        here = sorted((w for w in weights if w.place == place), key=lambda weight: weight.mass)[:STOCK_ROWS]
        for name, values in ((sizes, [w.mass for w in here]), (counts, [float(w.count) for w in here])):
            area = computed.named_area(name)
            if area is None:
                continue
            sheet, first, column, last, _ = area
            for at, row in enumerate(range(first, last + 1)):
                yield (sheet, row, column), Put(values[at] if at < len(values) else None)


def filled(template: bytes, edits_of: Callable[[Computed], Mapping[CellAt, Edit]]) -> bytes:
    """Fill an order template, with its results computed anew.

    Args:
        template: the order template's bytes [-].
        edits_of: says what to type into the computed template [-].
    """
    with CheckedPackage(template, name="the template") as package:
        typed = edited(package, edits_of(Computed(package)))
    with CheckedPackage(typed, name="the order") as package:
        return refreshed(package, Computed(package).value)


def filled_from(computed: Computed) -> tuple[str, str] | None:
    """Tell which book an order was filled from, and on which day; None where from none.

    Args:
        computed: the order, computed [-].
    """
    snapshot = _SNAPSHOT_LINE.fullmatch(plain_text(computed.value(*SNAPSHOT)))
    return None if snapshot is None else (snapshot[1], snapshot[2])


def differences(computed: Computed, numbers: ShopNumbers) -> list[str]:
    """Say where an order and the book it was filled from have come to differ, a line each.

    Args:
        computed: the order, computed [-].
        numbers: what the book says now [-].
    """
    lines = []
    for setting in layout.BOOK_SETTINGS:
        area = computed.named_area(setting.name)
        if area is None or setting.name not in numbers.settings:
            continue
        here, there = computed.value(*area[:3]), numbers.settings[setting.name]
        if not _same(here, there):
            lines.append(f"{setting.label}: {_shown(here)} here, {_shown(there)} in the book")
    for row in range(USUAL.first_row, USUAL.last_row + 1):
        group = plain_text(computed.value(USUAL.sheet, row, USUAL.at["group"]))
        of_book = next((held for name, held in numbers.usual.items() if text_key(name) == text_key(group)), None)
        for key, heading, _, _ in USUALLY if group and of_book is not None else ():
            own, other = computed.value(USUAL.sheet, row, USUAL.at[key]), (of_book or {}).get(key)
            if not _same(own, other):
                lines.append(f"{heading}, {group}: {_shown(own)} here, {_shown(other)} in the book")
    return lines + part_differences(computed, numbers.shafts, numbers.grips)


def _same(here: Held | None, there: Held | None) -> bool:
    if is_blank(here) or is_blank(there):
        return is_blank(here) and is_blank(there)
    one, other = _in_base(here), _in_base(there)
    if one is None or other is None:
        return text_key(here) == text_key(there)
    return abs(one - other) <= 1e-9 * max(1.0, abs(one))


def _in_base(value: Held | None) -> float | None:
    """Return a mass or a length with its unit [g or cm], or a plain number as it is; None where it is neither."""
    number = finite_number(value)
    if number is not None or not isinstance(value, str):
        return number
    for dimension, symbol in (("mass", "g"), ("length", "cm")):
        try:
            return units.read_quantity(value, dimension, units.BY_SYMBOL[symbol])  # type: ignore[arg-type]
        except ValueError:
            continue
    return None


def _shown(value: Held | None) -> str:
    return "nothing" if is_blank(value) else plain_text(value)
