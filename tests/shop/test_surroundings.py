"""What else stands on a sheet: nothing is put where a chart, a table, merged cells or a value is."""

from __future__ import annotations

import io

import openpyxl
import pytest
from openpyxl.chart import BarChart, Reference
from openpyxl.worksheet.table import Table

from evenheft.ooxml.package import Package
from evenheft.ooxml.places import Area
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.shop.surroundings import Surroundings, area_named, surroundings_of

TAKEN = Area(5, 3, 7, 6)
BESIDE = {
    "above": Area(1, 3, 4, 6), "below": Area(8, 3, 9, 6), "left": Area(5, 1, 7, 2), "right": Area(5, 7, 7, 9),
}  # fmt: skip
OVER = {
    "the same": TAKEN, "inside": Area(6, 4, 6, 5), "around": Area(1, 1, 9, 9), "its first cell": Area(1, 1, 5, 3),
    "its last cell": Area(7, 6, 20, 20), "its lower left": Area(7, 1, 9, 3), "its upper right": Area(4, 6, 5, 9),
}  # fmt: skip


def around(**kinds: tuple[Area, ...]) -> Surroundings:
    content = SheetContent(merged=list(kinds.pop("merged", ())))
    return Surroundings(content, **{"drawn": (), "framed": (), "printed": (), **kinds})


@pytest.mark.parametrize("kind", ["merged", "drawn", "framed"])
def test_nothing_is_free_under_what_stands_there(kind: str) -> None:
    for name, area in OVER.items():
        assert not around(**{kind: (TAKEN,)}).is_free(area), name
    for name, area in BESIDE.items():
        assert around(**{kind: (TAKEN,)}).is_free(area), name


def test_what_is_taken_besides_is_not_free_either() -> None:
    assert not around().is_free(TAKEN, taken=(Area(6, 6, 6, 6),))
    assert around().is_free(TAKEN, taken=(Area(6, 7, 6, 7),))
    assert around(printed=(TAKEN,)).is_free(TAKEN), "what is printed may be written into"


@pytest.mark.parametrize("place", [(5, 3), (7, 6), (6, 4)])
def test_a_cell_that_holds_something_is_not_free(place: tuple[int, int]) -> None:
    many = {(row, 20): 1.0 for row in range(1, 50)}  # both ways of looking: few cells on the sheet, and many
    for others in ({}, many):
        for content in (
            SheetContent(values={**others, place: 1.0}),
            SheetContent(values=others, formulas={place: "A1"}),
        ):
            assert not Surroundings(content, (), (), ()).is_free(TAKEN)
            assert all(Surroundings(content, (), (), ()).is_free(area) for area in BESIDE.values())


def test_a_real_sheet_tells_all_of_it() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (["Club", "Mass"], ["7-iron", 428], ["8-iron", 435]):
        sheet.append(row)
    sheet.merge_cells("D1:F1")
    sheet.add_table(Table(displayName="Clubs", ref="A1:B3"))
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=2, min_row=1, max_row=3), titles_from_data=True)
    sheet.add_chart(chart, "H10")
    sheet.print_area = "A1:F20"
    stream = io.BytesIO()
    book.save(stream)
    with Package(stream, name="shop.xlsx") as package:
        found = surroundings_of(package, "Sheet", read_sheet(package, "Sheet"))
    assert found.content.merged == [Area(1, 4, 1, 6)]
    assert found.framed == (Area(1, 1, 3, 2),)
    assert found.printed == (Area(1, 1, 20, 6),)
    (drawn,) = found.drawn
    assert (drawn.top, drawn.left) == (10, 8)
    assert not found.is_free(Area(1, 5, 1, 5))
    assert not found.is_free(Area(12, 9, 12, 9))
    assert found.is_free(Area(2, 4, 3, 6))


@pytest.mark.parametrize(
    ("text", "area"),
    [
        ("$A$1:$H$9", Area(1, 1, 9, 8)), ("Q3", Area(3, 17, 3, 17)), (" b2:a1 ", Area(1, 1, 2, 2)),
        ("A1:", None), ("Sheet!A1", None), ("", None), ("A0x", None),
    ],
)  # fmt: skip
def test_a_rectangle_is_read_from_its_name(text: str, area: Area | None) -> None:
    assert area_named(text) == area
