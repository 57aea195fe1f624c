"""A sheet as the finders of tables look at it: as it is, or turned so that clubs in columns stand in rows."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import Any

from evenheft.ooxml.places import Area, Place, column_letter
from evenheft.ooxml.reading import SheetContent

MOST_TURNED = 200_000
"""Cells above which a sheet is not looked at sideways: nobody has so many clubs in columns [-]."""


@dataclass
class View(SheetContent):
    """A sheet's content; of a turned one rows are columns and columns are rows, but for the formulas' own words."""

    sideways: bool = False
    looked_up: dict[tuple[str, int], Any] = field(default_factory=dict)
    """What was found out about a row, kept since it is asked for again for each of its cells."""

    @cached_property
    def masters(self) -> dict[str, Place]:
        """The cell that carries the text of each group of formulas that share one."""
        return {group: place for place, group in self.shared.items() if self.formulas.get(place)}

    def line(self, column: int) -> str:
        """How a builder calls a column of this view: its letter, or of a turned one its row's number."""
        return str(column) if self.sideways else column_letter(column)

    def line_of(self, row: int) -> str:
        """How a builder calls a row of this view: its number, or of a turned one its column's letter."""
        return column_letter(row) if self.sideways else str(row)

    def area(self, top: int, left: int, bottom: int, right: int) -> Area:
        """Return a rectangle of this view, as it lies on the sheet."""
        return Area(left, top, right, bottom) if self.sideways else Area(top, left, bottom, right)


def view_of(content: SheetContent, *, without: Collection[Place] = (), only: Area | None = None) -> View:
    """Look at a sheet, some cells left out.

    Args:
        content: the sheet [-].
        without: cells that are not looked at [-].
        only: where alone is looked; left out, everywhere [-].
    """
    turned = {field.name: getattr(content, field.name) for field in fields(SheetContent)}
    if without or only is not None:
        for name in ("values", "formulas"):
            turned[name] = {
                place: held
                for place, held in turned[name].items()
                if place not in without and (only is None or place in only)
            }
    return View(**turned)


def turned(view: View) -> View | None:
    """Return the same sheet with rows for columns; None where it is too large for that to make sense."""
    if len(view.values) + len(view.formulas) > MOST_TURNED:
        return None
    return View(
        values={(column, row): held for (row, column), held in view.values.items()},
        formulas={(column, row): held for (row, column), held in view.formulas.items()},
        shared={(column, row): held for (row, column), held in view.shared.items()},
        arrays={(column, row) for row, column in view.arrays},
        styles={},
        merged=[Area(area.left, area.top, area.right, area.bottom) for area in view.merged],
        hidden_rows={at for first, last in view.hidden_columns for at in range(first, min(last, first + 500) + 1)},
        hidden_columns=[(row, row) for row in view.hidden_rows],
        is_protected=view.is_protected,
        sideways=not view.sideways,
    )
