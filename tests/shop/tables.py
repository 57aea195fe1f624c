"""Small workbooks for the tests of a shop's tables, and their tables as they are found."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence

import openpyxl

from evenheft.ooxml.package import Package
from evenheft.ooxml.reading import read_sheet
from evenheft.shop.finding import find_tables
from evenheft.shop.table import ShopTable
from evenheft.shop.view import View, view_of

CLUBS = [["7-iron", 428.4, 72.1], ["8-iron", 435.7, 71.4], ["9-iron", 441.0, 70.6]]
HEADINGS = ["Club", "Mass (g)", "Balance (cm)"]


def view(rows: Sequence[Sequence[object]], merged: Sequence[str] = ()) -> View:
    """A sheet that holds some rows."""
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(list(row))
    for area in merged:
        book.active.merge_cells(area)
    stream = io.BytesIO()
    book.save(stream)
    with Package(stream, name="shop.xlsx") as package:
        return view_of(read_sheet(package, "Sheet"))


def tables(
    rows: Sequence[Sequence[object]], merged: Sequence[str] = (), mapped: Mapping[str, str] | None = None
) -> tuple[ShopTable, ...]:
    """The tables of a sheet that holds some rows."""
    return find_tables(view(rows, merged), "shop.xlsx", mapped)


def quantities(table: ShopTable) -> dict[str, str | None]:
    """What each column holds; "?" where it is asked about."""
    return {column.letter: "?" if column.unsure else column.quantity for column in table.columns}
