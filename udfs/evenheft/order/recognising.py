"""Whether a workbook is an order of this layout, and whether its tables stand where they were made."""

from __future__ import annotations

import re

from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import reference
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import Value, whole_number
from evenheft.order.layout import CARD, KIND_NAME, KIND_OF_WORKBOOK, LAYOUT_VERSION, TABLES, Table

_WORDS = re.compile(r'^="([^"]*?)\s*\(')
_SLOT = "slot "
"""How the bands of the columns begin that show whichever quantity is judged."""


def layout_number(label: Value, name: str) -> int:
    """Read which layout an order has; refused where it is no order.

    Args:
        label: what the cell holds that tells the workbook's kind [-].
        name: how the message calls the workbook [-].

    Raises:
        Refused: the label is none of an order.
    """
    kind, _, version = str(label or "").rpartition(" ")
    number = whole_number(version)
    if kind != KIND_OF_WORKBOOK or not number:
        raise Refused(f"{name} is a workbook, but not an Evenheft order: make one with evenheft new")
    return number


def need_order(computed: Computed, name: str) -> None:
    """Refuse a workbook that is not an order of this layout, or whose tables are not where cells are looked for."""
    number = layout_number(computed.named_cell(KIND_NAME), name)
    if number < LAYOUT_VERSION:
        raise Refused(
            f"{name} was made by an older Evenheft (layout {number}): carry it into a new order with "
            f"evenheft new NEW.xlsx --from {name}"
        )
    if number > LAYOUT_VERSION:
        raise Refused(f"{name} was made by a newer Evenheft (layout {number}): update Evenheft to read it")
    read = [table for table in TABLES.values() if table is not CARD]  # it is for paper: a person may do without
    missing = [table.sheet for table in read if table.sheet not in computed.sheet_names]
    if missing:
        raise Refused(f"{name} has lost its sheet {missing[0]}: put it back or start from evenheft new")
    for table in read:
        moved = _moved_heading(computed, table)
        if moved:
            raise Refused(
                f"{name}, sheet {table.sheet}: {moved} is no longer where it was made, so a row or a column was put in "
                f"or taken out: undo that, or carry the order over with evenheft new NEW.xlsx --from {name}"
            )


def _moved_heading(computed: Computed, table: Table) -> str:
    """Return the first heading that is not in its place, "" where all are; one in other words has not moved."""
    row = table.first_row - 1
    own = {words(column.heading) for column in table.columns}
    for column in table.columns:
        wanted = words(column.heading)
        found = words(plain_text(computed.value(table.sheet, row, table.at[column.key])))
        if wanted.startswith("=") or column.band.startswith(_SLOT):
            continue  # what is computed says something else from order to order
        if wanted != found and (not found or found in own):
            return f'"{wanted}" ({reference(row, table.at[column.key])})'
    return ""


def words(text: str) -> str:
    """Return a heading's words without its unit, whether it is a text or the formula that writes the unit.

    >>> words('="Shaft mass ("&unit_mass&")"'), words("Shaft mass (g)"), words("Swing-weight")
    ('Shaft mass', 'Shaft mass', 'Swingweight')
    """
    found = _WORDS.match(text)
    return (found[1] if found else text.partition(" (")[0]).strip().replace("-w", "w")
