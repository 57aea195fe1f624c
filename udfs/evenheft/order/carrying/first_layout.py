"""Where the first layout of the order workbook kept what today stands elsewhere; found by its names and headings."""

from __future__ import annotations

from collections.abc import Iterator

from evenheft.formulas.wording import is_blank
from evenheft.mechanics import units
from evenheft.ooxml.places import Area
from evenheft.ooxml.values import Held
from evenheft.order.carrying.typed import Address, OldOrder, TypedValue
from evenheft.order.layout import EVERY_GROUP, QUANTITIES, USUALLY
from evenheft.order.recognising import words

_PARTS = {"First": "first", "Increment": "change", "Tolerance": "tolerance"}
_PLACES = {"shop_cap": "grip_cap", "shop_butt_place": "butt_weight_from_butt", "shop_grip_place": "grip_balance"}
"""Settings that stand under what is usual today."""
_HEAD_WEIGHTS = "shop_weight_rise"
FIRST_HEAD_RISE = 1.0
"""What the first layout took for every head's rise [cm]."""
_SAME = 1e-6
"""Below which two lengths are one [cm]."""


def typed_elsewhere(old: OldOrder) -> Iterator[TypedValue]:
    """Find what the first layout kept in places of its own."""
    yield from _groups(old)
    yield from _targets(old)
    yield from _usual(old)
    yield from _added(old)


def _groups(old: OldOrder) -> Iterator[TypedValue]:
    for place, name in _group_cells(old):
        yield old.typed("Order", place, Address("target", name, "group"))


def _group_cells(old: OldOrder) -> list[tuple[tuple[int, int], str]]:
    found = old.named("order_groups")
    if found is None:
        return []
    sheet, area = found
    values = [((row, area.left), old.sheets[sheet].value(row, area.left)) for row in range(area.top, area.bottom + 1)]
    return [(place, value) for place, value in values if isinstance(value, str) and value]


def _targets(old: OldOrder) -> Iterator[TypedValue]:
    """Find each group's targets: a line per quantity, and under each group its first value, increment, tolerance."""
    first = next((found for q in QUANTITIES if (found := old.named(f"target_{q.key}"))), None)
    if first is None:
        return
    groups = _every_group_cell(old)
    headings = first[1].top - 1
    for quantity in QUANTITIES:
        found = old.named(f"target_{quantity.key}")
        if found is None:
            continue
        sheet, area = found
        content = old.sheets[sheet]
        group = -1
        for column in range(area.left, area.right + 1):
            part = _PARTS.get(str(content.value(headings, column)))
            group += part == "first"
            if part is None or is_blank(content.values.get((area.top, column))):
                continue
            name = groups[group] if group < len(groups) else ""
            to = Address("target", name, f"{quantity.key}_{part}") if name else None
            yield old.typed(sheet, (area.top, column), to, f"{quantity.name}, {part}: its group has no name")


def timing(old: OldOrder) -> Iterator[TypedValue]:
    """Find the doubt of a period where that was the time of one swing, as it was in the first layouts."""
    found = old.named("doubt_period")
    if found is None:
        return
    sheet, area = found
    yield old.typed(sheet, (area.top, area.left), Address("named", "", "doubt_watch"))
    yield TypedValue(f"{sheet}, a period", 1.0, Address("named", "", "shop_swings"))


def guesses_are_shipped(old: OldOrder) -> bool:
    """Tell whether the head rise of every group is still the one that the first layout shipped."""
    rises = [typed.value for typed in _usual(old) if typed.to == Address("usual", EVERY_GROUP, "head_rise")]
    return old.layout == 1 and all(_differs_little(_length(old, rise), FIRST_HEAD_RISE) for rise in rises)


def _every_group_cell(old: OldOrder) -> list[str]:
    found = old.named("order_groups")
    if found is None:
        return []
    sheet, area = found
    return [str(old.sheets[sheet].value(row, area.left) or "") for row in range(area.top, area.bottom + 1)]


def _usual(old: OldOrder) -> Iterator[TypedValue]:
    """Find the shop's defaults, which were in cm, and the places of weights; the defaults count where both differ."""
    usual: dict[str, float] = {}
    found = old.named("shop_defaults")
    headings = {heading: key for key, heading, _, _ in USUALLY}
    if found is not None:
        sheet, area = found
        content = old.sheets[sheet]
        for row in range(area.top, area.bottom + 1):
            key = headings.get(words(str(content.value(row, area.left) or "")))
            place = (row, area.left + 1)
            value = content.values.get(place)
            if key is None or place in content.formulas or not isinstance(value, float):
                continue
            usual[key] = value
            taken = old.typed(sheet, place, Address("usual", EVERY_GROUP, key))
            yield TypedValue(taken.at, f"{value:g} cm", taken.to)
    for name, key in _PLACES.items():
        place_of = old.named(name)
        if place_of is None or is_blank(old.named_value(name)):
            continue
        sheet, area = place_of
        known = usual.get(key)
        typed = old.typed(
            sheet, (area.top, area.left), None if key in usual else Address("usual", EVERY_GROUP, key),
            f"{_beside(old, area, sheet)}: the shop default, {known:g} cm, is carried" if known is not None else "",
        )  # fmt: skip
        if not _differs_little(_length(old, typed.value), known):
            yield typed
    yield from _head_weights(old, usual)


def _head_weights(old: OldOrder, usual: dict[str, float]) -> Iterator[TypedValue]:
    """Tell of the place of head weights where it is another than the one that is computed today."""
    found = old.named(_HEAD_WEIGHTS)
    if found is None or is_blank(old.named_value(_HEAD_WEIGHTS)):
        return
    sheet, area = found
    typed = old.typed(
        sheet, (area.top, area.left), None,
        f"{_beside(old, area, sheet)}: it follows from bore to ground and tip weight above tip on Shop",
    )  # fmt: skip
    computed = sum(usual.get(key, _shipped(key) or 0.0) for key in ("bore_to_ground", "tip_weight_above_tip"))
    if not _differs_little(_length(old, old.named_value(_HEAD_WEIGHTS)), computed):
        yield typed


def _beside(old: OldOrder, area: Area, sheet: str) -> str:
    """Return the words to the left of a setting."""
    content = old.sheets[sheet]
    texts = (content.value(area.top, column) for column in range(area.left - 1, 0, -1))
    return next((text for text in texts if isinstance(text, str) and text), "")


def _shipped(key: str) -> float | None:
    """Return what a new order takes for usual [cm]."""
    value = next(value for known, _, value, _ in USUALLY if known == key)
    return units.read_quantity(str(value), "length", units.BY_SYMBOL["cm"]) if value is not None else None


def _length(old: OldOrder, value: Held | None) -> float | None:
    """Read a length as the old order meant it [cm]; None where it is none."""
    symbol = str(old.named_value("shop_units") or units.DEFAULT_UNITS).partition(" ")[2]
    unit = units.BY_SYMBOL.get(symbol, units.BY_SYMBOL["cm"])
    if isinstance(value, float):
        return value * unit.factor
    try:
        return units.read_quantity(str(value), "length", unit)
    except ValueError:
        return None


def _differs_little(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and abs(one - other) < _SAME


def _added(old: OldOrder) -> Iterator[TypedValue]:
    """Find what was typed as added on Fix: it is a plan that is done today."""
    content = old.sheets.get("Fix")
    if content is None:
        return
    row = next((row for row in range(1, 60) if content.value(row, 1) == "No."), None)
    if row is None:
        return
    cells = {_heading(old, row, column): column for column in range(1, content.last_column + 1)}
    grams, where, number = cells.get("Added"), cells.get("Where"), cells.get("No.")
    if grams is None or where is None or number is None:
        return
    for club in range(row + 1, content.last_row + 1):
        if is_blank(content.values.get((club, grams))):
            continue
        place = str(content.values.get((club, where)) or "head")
        named = old.followed("Fix", club, number)
        name = f"{named:g}" if isinstance(named, float) else ""
        key = f"{place}_added"
        old.typed("Fix", (club, where), None)
        yield old.typed("Fix", (club, grams), Address("fix", name, key), f"added at the {place}")
        yield TypedValue(f"Fix row {club}", "done", Address("fix", name, "done"))


def _heading(old: OldOrder, row: int, column: int) -> str:
    content = old.sheets["Fix"]
    formula = content.formulas.get((row, column))
    return words(f"={formula}" if formula else str(content.value(row, column) or ""))
