"""Places of a sheet that belong to something else: no value is put inside merged cells or inside a formula's range."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NoReturn

from evenheft.ooxml.places import Area, AreasByRow, Place, area_of, reference
from evenheft.ooxml.scanning import Text, attribute, tag_pattern


def need_free_places(
    seen: Text, prefix: bytes, merged: Sequence[Area], placed: Sequence[Place], refuse: Callable[[str], NoReturn]
) -> None:
    """Refuse a value where another cell's formula or merging owns the place.

    Args:
        seen: the sheet's text with comments blanked out [-].
        prefix: the namespace prefix of its elements, with its colon [-].
        merged: the merged areas [-].
        placed: where values are to be put [-].
        refuse: raises Refused with a reason that goes on from the sheet's name [-].
    """
    if not placed:
        return
    by_row = AreasByRow(merged)
    for row, column in placed if merged else ():
        area = by_row.holding(row, column)
        if area is not None:
            _need_outside(area, [(row, column)], "inside merged cells", refuse, first=True)
    if seen.find(b"array") < 0 and seen.find(b"dataTable") < 0:
        return
    for match in tag_pattern(prefix + b"f").finditer(seen):
        stated = attribute(match[1], b"ref")
        if attribute(match[1], b"t") in (b"array", b"dataTable") and stated:
            filled = area_of(stated.decode(errors="replace"))
            if filled is None:
                refuse(f"has a range that is not understood: {stated.decode(errors='replace')[:40]}")
            _need_outside(filled, placed, "inside a formula's range", refuse)


def _need_outside(
    area: Area, places: Sequence[Place], why: str, refuse: Callable[[str], NoReturn], *, first: bool = False
) -> None:
    """Refuse places in an area, its first cell excepted where that is allowed."""
    for place in places:
        if place in area and not (first and place == (area.top, area.left)):
            refuse(f"has {reference(*place)} {why}")
