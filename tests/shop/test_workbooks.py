"""The committed workbooks of tests/shop_sheets: read, adopted with nothing else touched, computed by LibreOffice."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from calc_office import Calc
from evenheft.cli import main
from evenheft.mechanics.bench import inertia_from_period
from evenheft.mechanics.swingweight import moment, points, points_from_label
from evenheft.ooxml.package import open_package
from evenheft.ooxml.places import reference
from evenheft.ooxml.reading import SheetContent, read_sheet
from shop_workbooks import CLUBS, FOLDER, OnSheet, workbooks
from untouched import changed_parts, listed, without_additions, without_cells

ROUNDED = 0.2
"""What ounces to a thousandth and inches to a hundredth or a thirty-second lose [points]."""


def content_of(path: Path) -> SheetContent:
    with open_package(path) as package:
        return read_sheet(package, "Bench")


def new_cells(before: SheetContent, after: SheetContent) -> set[str]:
    held = {**after.values, **after.formulas}
    return {reference(*place) for place in held if place not in before.values and place not in before.formulas}


def answers(content: SheetContent, function: str) -> list[object]:
    found = sorted((place, content.values.get(place)) for place, text in content.formulas.items() if function in text)
    return [value for _, value in found]


def wanted(layout: OnSheet) -> list[float]:
    """What the five clubs give, however they are told."""
    if layout.answers == "inertia":
        return [inertia_from_period(mass, balance, period) for _, mass, balance, period in CLUBS]
    return [points(moment(mass, balance)) for _, mass, balance, _ in CLUBS]


def test_forty_workbooks_and_more_are_there_and_small() -> None:
    files = {path.name for path in FOLDER.glob("*.xlsx")}
    assert files == set(workbooks())
    assert len(files) >= 40
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) < 400_000
    assert "is invented" in (FOLDER / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", workbooks())
def test_each_is_adopted_and_nothing_else_is_touched(tmp_path: Path, name: str) -> None:
    layout, shop, copy = workbooks()[name], FOLDER / name, tmp_path / "copy.xlsx"
    old = shop.read_bytes()
    said = CliRunner().invoke(main, ["adopt", str(shop), *layout.words, "--write", str(copy)], catch_exceptions=False)
    assert said.exit_code == layout.exit_code, said.output
    assert shop.read_bytes() == old
    before, after = content_of(shop), content_of(copy)
    function = "HEFT_INERTIA(" if layout.answers == "inertia" else "HEFT_SWINGWEIGHT("
    answered = answers(after, function)
    if layout.answers == "inertia":
        assert answered == pytest.approx(wanted(layout), rel=1e-9)
    else:
        numbers = sorted(points_from_label(str(label)) for label in answered)
        assert numbers == pytest.approx(sorted(wanted(layout) * layout.times), abs=ROUNDED)
    with open_package(shop) as package:
        part = package.sheet("Bench").part
    assert changed_parts(shop, copy) <= {part, "xl/styles.xml"}
    cells = new_cells(before, after)
    with zipfile.ZipFile(shop) as one, zipfile.ZipFile(copy) as other:
        was, now = (without_additions(book.read(part)) for book in (one, other))
        assert without_cells(now, cells) == without_cells(was, cells)
        for look in ("xf", "dxf", "numFmt", "font", "fill", "border"):
            had, has = (listed(book.read("xl/styles.xml"), look) for book in (one, other))
            assert has[: len(had)] == had


@pytest.mark.parametrize("name", workbooks())
def test_libreoffice_computes_in_each_what_is_shown(tmp_path: Path, calc: Calc, name: str) -> None:
    copy = tmp_path / "copy.xlsx"
    CliRunner().invoke(main, ["adopt", str(FOLDER / name), *workbooks()[name].words, "--write", str(copy)])
    content = content_of(copy)
    ours = {place: content.values.get(place) for place, text in content.formulas.items() if "HEFT_" in text}
    assert len(ours) >= 5
    with calc.open(copy) as book:
        book.calculate(everything=True)
        rows = book.read("Bench", f"A1:{reference(content.last_row, content.last_column)}")
    for (row, column), shown in ours.items():
        computed = rows[row - 1][column - 1]
        assert computed == (pytest.approx(shown, rel=1e-9) if isinstance(shown, float) else shown), (row, column)
