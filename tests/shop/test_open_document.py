"""A shop's OpenDocument sheet gains working columns, which the real LibreOffice computes."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from calc_office import Calc
from evenheft.cli import main
from evenheft.mechanics.swingweight import label, moment, points

HEADINGS = ["Club", "Mass (g)", "Reading (g)", "Span (cm)", "Balance (cm)"]
CLUBS = [["7-iron", 428.4, 205.9, 150], ["8-iron", 435.7, 207.4, 150], ["9-iron", 443.1, 208.9, 150]]


def adopt(*words: object) -> Result:
    return CliRunner().invoke(main, ["adopt", *map(str, words)], catch_exceptions=False)


@pytest.fixture
def shop(tmp_path: Path, calc: Calc) -> Path:
    """A sheet as Calc saves it, whose balances one of our formulas computes."""
    with calc.open() as book:
        (sheet,) = book.sheets()
        book.put(sheet, "A1", [["Our irons"]])
        book.put(sheet, "A4:E4", [HEADINGS])
        book.put(sheet, "A5:D7", CLUBS)
        for row in range(5, 8):
            book.type(sheet, f"E{row}", f"=HEFT_BALANCE(C{row};D{row};B{row})")
        saved = book.save("shop.ods")
    path = tmp_path / "shop.ods"
    path.write_bytes(saved.read_bytes())
    return path


LABELS = [label(points(moment(mass, reading * span / mass))) for _, mass, reading, span in CLUBS]


def test_an_open_document_is_adopted_and_computes_in_calc(tmp_path: Path, calc: Calc, shop: Path) -> None:
    old, copy, back = shop.read_bytes(), tmp_path / "copy.ods", tmp_path / "back.ods"
    said = adopt(shop, "--target", "D2", "--tolerance", 2, "--write", copy)
    assert said.exit_code == 0, said.output
    assert said.output.startswith("Note: shop.ods is an OpenDocument sheet: LibreOffice ")
    assert f"{copy} is a copy of shop.ods:\nswingweight in F, place in G, target in H, verdict in I." in said.output
    assert "LibreOffice has written all of it anew" in said.output
    assert shop.read_bytes() == old
    with calc.open(copy) as book:
        (sheet,) = book.sheets()
        assert [row[0] for row in book.read(sheet, "F4:F7")] == ["Swingweight (Evenheft)", *LABELS]
        assert book.formula(sheet, "F5") == '=HEFT_SWINGWEIGHT(B5,E5,"g cm")'
        assert book.read(sheet, "F2:H2") == [["D2", 0, 2]]
        book.put(sheet, "F2", [["E9"]])
        assert [row[0] for row in book.read(sheet, "I5:I7")] == ["low"] * 3
    said = adopt(copy, "--remove", "--write", back)
    assert said.exit_code == 0, said.output
    with calc.open(back) as book:
        assert book.read(sheet, "E4:I7") == [
            [HEADINGS[-1], *[None] * 4],
            *([pytest.approx(reading * span / mass), *[None] * 4] for _, mass, reading, span in CLUBS),
        ]


@pytest.mark.usefixtures("calc")
def test_a_copy_may_be_of_the_other_kind(tmp_path: Path, shop: Path) -> None:
    copy = tmp_path / "copy.xlsx"
    assert adopt(shop, "--write", copy).exit_code == 0
    sheet = openpyxl.load_workbook(copy).worksheets[0]
    assert sheet["F5"].value == '=HEFT_SWINGWEIGHT(B5,E5,"g cm")'
    assert sheet["E5"].value == "=HEFT_BALANCE(C5,D5,B5)"
    values = openpyxl.load_workbook(copy, data_only=True).worksheets[0]
    assert [values[f"F{row}"].value for row in range(5, 8)] == LABELS
    there = adopt(shop, "--write", copy)
    assert there.exit_code == 2
    assert "there already" in there.stderr
    assert "must end in" in adopt(shop, "--write", tmp_path / "copy.xlsm").stderr
