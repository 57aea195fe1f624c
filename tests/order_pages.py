"""Orders filled in for tests: cells of the template by the layout's own keys."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import FIRST_ROW, ORDER, PARTS, TABLES, TARGET

PageRow = Mapping[str, object]


def filled_order(
    path: Path,
    clubs: Sequence[PageRow],
    *,
    targets: Sequence[PageRow],
    named: Mapping[str, object] | None = None,
) -> Path:
    """Write an order: of each club the cells of Order and Parts by "table.key", of each group its targets by key."""
    book = build_order()
    for at, club in enumerate(clubs):
        row = FIRST_ROW + at
        for name, value in {"order.number": at + 1, **club}.items():
            table, key = name.split(".")
            sheet = TABLES[table].sheet
            book[sheet].cell(row, TABLES[table].at[key]).value = value
    for at, group in enumerate(targets):
        for key, value in group.items():
            book[ORDER.sheet].cell(FIRST_ROW + at, TARGET.at[key]).value = value
    for name, value in (named or {}).items():
        sheet, _, place = book.defined_names[name].attr_text.rpartition("!")
        book[sheet.strip("'")][place.replace("$", "")].value = value
    path.write_bytes(save_bytes(book))
    return path


def irons(heads: Sequence[float], shafts: Sequence[tuple[float, float]], **further: object) -> list[PageRow]:
    """Clubs of a group "Irons", half an inch apart from 38 in down: heads [g], shafts [g, cm from butt]."""
    assert "model" in PARTS.at
    return [
        {
            "order.club": f"{4 + at}-iron", "order.group": "Irons", "parts.head_mass": head,
            "parts.club_length": f"{38 - at / 2} in", "parts.shaft_mass": mass, "parts.shaft_length": "39 in",
            "parts.shaft_balance": balance, "parts.grip_mass": 50.0, "parts.tape": 1.4, "parts.epoxy": 2.5,
            "parts.ferrule": 1.1, "parts.rise_known": 1.5, **further,
        }
        for at, (head, (mass, balance)) in enumerate(zip(heads, shafts, strict=True))
    ]  # fmt: skip
