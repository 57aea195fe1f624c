"""The workbooks of tests/shop_sheets: shops' tables in many layouts, none of them made by code of Evenheft.

Made anew by hand: python tests/shop_workbooks.py (it needs LibreOffice). Every number and name in them is invented.
Five clubs stand in each, told in other words and units: so the swingweights are the same in all of them.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeAlias

import openpyxl
import xlsxwriter
from openpyxl.chart import LineChart, Reference
from openpyxl.styles import Font, PatternFill
from openpyxl.worksheet.table import Table

from calc_office import needed_office

FOLDER = Path(__file__).with_name("shop_sheets")
OUNCE, INCH = 28.349523125, 2.54
CLUBS = [
    ("5-iron", 415.2, 73.9, 1.884), ("6-iron", 421.0, 73.2, 1.872), ("7-iron", 428.4, 72.1, 1.861),
    ("8-iron", 435.7, 71.4, 1.850), ("9-iron", 443.1, 70.4, 1.838),
]  # fmt: skip
"""Name, mass [g], balance [cm], period [s]: invented."""
TypedRow: TypeAlias = Sequence[Any]
TypedRows: TypeAlias = list[TypedRow]


@dataclass(frozen=True)
class OnSheet:
    """How a shop's sheet is laid out, and what is adopted from it."""

    rows: TypedRows
    words: tuple[str, ...] = ()
    """Options of `adopt` besides the workbook's and the copy's name."""
    merged: tuple[str, ...] = ()
    more: Callable[[Any], object] | None = None
    """What openpyxl does to the sheet besides."""
    times: int = 1
    """How often all five clubs are expected to be answered."""
    answers: str = "swingweight"
    exit_code: int = 0
    by: tuple[str, ...] = field(default=("openpyxl",))
    """The programs by which it is made."""


def table(headings: TypedRow, *keys: str) -> TypedRows:
    """A row of headings, and a row for each club."""
    return [headings, *([typed(club, key) for key in keys] for club in CLUBS)]


def typed(club: tuple[str, float, float, float], key: str) -> Any:
    """What a sheet says of a club."""
    name, mass, balance, period = club
    return {
        "name": name, "g": mass, "cm": balance, "s": period, "oz": round(mass / OUNCE, 3), "mm": round(balance * 10),
        "in": round(balance / INCH, 2), "in text": f'{round(balance / INCH * 32) / 32:g}"', "g text": f"{mass} g",
        "comma g": str(mass).replace(".", ","), "comma cm": str(balance).replace(".", ","), "remark": "invented",
        "loft": 34, "target": "D2", "tolerance": 1.5, "kg": round(mass / 1000, 4), "price": 120.5,
        "head": round(mass - 155.2, 1), "shaft": 105.0, "grip": 50.2, "length": 95.2, "shaft length": 96.5,
        "reading": round(mass * balance / 150, 2), "span": 150, "group": "irons" if mass < 430 else "short irons",
        "sum": f"=SUM(C{CLUBS.index(club) + 2}:E{CLUBS.index(club) + 2})", "tape": 2.5,
    }[key]  # fmt: skip


USUAL = ["Club", "Mass (g)", "Balance (cm)"]
KEYS = ("name", "g", "cm")
TARGET = ("--target", "D2", "--increment", "0.5", "--tolerance", "1.5")
EACH = ("openpyxl", "xlsxwriter", "libreoffice")
ACROSS: TypedRows = [[heading, *(typed(club, key) for club in CLUBS)] for heading, key in zip(USUAL, KEYS, strict=True)]


def cards(pairs: int = 1) -> TypedRows:
    """Job cards below each other, in one or two pairs of columns."""
    found: TypedRows = []
    for club in CLUBS:
        labels = [[heading, typed(club, key)] for heading, key in zip([*USUAL, "Loft"], (*KEYS, "loft"), strict=True)]
        found += [[*labels[0], *labels[1]], [*labels[2], *labels[3]]] if pairs > 1 else labels
        found += [[], []]
    return found


def beside(first: TypedRows, second: TypedRows) -> TypedRows:
    """Two tables side by side, with an empty column between them."""
    width = max(map(len, first))
    return [[*one, *[None] * (width - len(one) + 1), *other] for one, other in zip(first, second, strict=True)]


def with_chart(sheet: Any) -> None:
    """A chart right of the table."""
    chart = LineChart()
    chart.add_data(Reference(sheet, min_col=2, min_row=1, max_row=6))
    sheet.add_chart(chart, "E1")


def with_looks(sheet: Any) -> None:
    """Bold headings on a ground, numbers with one decimal, and wide columns."""
    for cell in sheet[1]:
        cell.font, cell.fill = Font(bold=True), PatternFill("solid", fgColor="FFDDE8F0")
    for row in sheet.iter_rows(min_row=2, min_col=2):
        for cell in row:
            cell.number_format = "0.0"
    sheet.column_dimensions["A"].width = 18


def framed(sheet: Any) -> None:
    """A table of the spreadsheet program's own."""
    sheet.add_table(Table(displayName="Irons", ref="A1:C6"))


def hidden(sheet: Any) -> None:
    """A hidden column of older masses."""
    sheet.column_dimensions["B"].hidden = True


def protected(sheet: Any) -> None:
    """A protected sheet."""
    sheet.protection.sheet = True


def printed(sheet: Any) -> None:
    """A print area."""
    sheet.print_area = "A1:C6"


def merged_column(sheet: Any) -> None:
    """A remark that is merged down a whole column's length."""
    sheet["H1"] = "Remarks"
    sheet.merge_cells("H1:H400")


LAYOUTS: dict[str, OnSheet] = {
    "plain": OnSheet(table(USUAL, *KEYS), TARGET, by=EACH),
    "ounces and inches": OnSheet(table(["Club", "Weight (oz)", "Balance point (in)"], "name", "oz", "in"), by=EACH),
    "period": OnSheet(table([*USUAL, "Swing time (s)"], *KEYS, "s"), answers="inertia", by=("openpyxl", "libreoffice")),
    "german commas": OnSheet(
        table(["Schläger", "Gewicht (g)", "Balancepunkt (cm)"], "name", "comma g", "comma cm"),
        by=("xlsxwriter", "libreoffice"),
    ),
    "french": OnSheet(table(["Club", "Masse (g)", "Équilibre (cm)"], *KEYS), ("--map", "C=balance (cm)")),
    "spanish": OnSheet(table(["Palo", "Peso (g)", "Equilibrio (cm)"], *KEYS), ("--map", "C=balance (cm)")),
    "japanese": OnSheet(
        table(["番手", "重量（g）", "バランスポイント（cm）"], *KEYS), ("--map", "C=balance (cm)"), by=EACH
    ),
    "a row of units": OnSheet([["Club", "Mass", "Balance"], ["", "oz", "in"], *table(USUAL, "name", "oz", "in")[1:]],
                             by=("xlsxwriter", "libreoffice")),
    "bands": OnSheet([[None, "Finished club", None], ["Club", "Mass (g)", "Balance (cm)"], *table(USUAL, *KEYS)[1:]],
                    merged=("B1:C1",)),
    "a title and blank rows": OnSheet([["Our irons, invented"], [], [], *table(USUAL, *KEYS)], TARGET, by=EACH),
    "an average below": OnSheet([*table(USUAL, *KEYS), ["Average", "=AVERAGE(B2:B6)", "=AVERAGE(C2:C6)"]],
                               by=("openpyxl", "libreoffice")),
    "a sum along each row": OnSheet(
        table(["Club", "Balance (cm)", "Head mass (g)", "Shaft mass (g)", "Grip mass (g)", "Mass (g)"],
              "name", "cm", "head", "shaft", "grip", "sum"), by=("libreoffice",)),
    "groups in a column": OnSheet(table(["Group", *USUAL], "group", *KEYS), TARGET, by=("openpyxl", "libreoffice")),
    "groups in lines": OnSheet([USUAL, ["Long irons"], *table(USUAL, *KEYS)[1:4], ["Short irons"],
                               *table(USUAL, *KEYS)[4:]], TARGET),
    "clubs in columns": OnSheet(ACROSS, by=("openpyxl", "libreoffice")),
    "job cards": OnSheet(cards(), by=("openpyxl", "libreoffice")),
    "job cards in two pairs": OnSheet(cards(2)),
    "side by side": OnSheet(beside(table(USUAL, *KEYS), table(USUAL, *KEYS)), ("--all",), times=2),
    "below each other": OnSheet([*table(USUAL, *KEYS), [], [], *table(["Club", "Weight (oz)", "Balance (in)"], "name",
                                                                    "oz", "in")], ("--all",), times=2),
    "lengths with their unit": OnSheet(table(["Club", "Mass", "Balance"], "name", "g text", "in text"),
                                      by=("xlsxwriter",)),
    "a reading instead of a balance": OnSheet(
        table(["Club", "Mass (g)", "Reading (g)", "Span (cm)"], "name", "g", "reading", "span")),
    "target and tolerance": OnSheet(table([*USUAL, "Target", "Tolerance"], *KEYS, "target", "tolerance"),
                                   by=("xlsxwriter",)),
    "remarks beside": OnSheet([[*row, None, "invented"] for row in table(USUAL, *KEYS)]),
    "a chart beside": OnSheet(table(USUAL, *KEYS), more=with_chart),
    "looks": OnSheet(table(USUAL, *KEYS), TARGET, more=with_looks),
    "a table of the program": OnSheet(table(USUAL, *KEYS), more=framed),
    "a hidden twin": OnSheet(table(["Club", "Mass (g)", "Mass (g)", "Balance (cm)"], "name", "head", "g", "cm"),
                            more=hidden),
    "a protected sheet": OnSheet(table(USUAL, *KEYS), more=protected),
    "a print area": OnSheet(table(USUAL, *KEYS), more=printed),
}  # fmt: skip


def made_by_openpyxl(path: Path, layout: OnSheet) -> None:
    """A workbook by openpyxl."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Bench"
    for row in layout.rows:
        sheet.append(list(row))
    for area in layout.merged:
        sheet.merge_cells(area)
    if layout.more is not None:
        layout.more(sheet)
    book.save(path)


def made_by_xlsxwriter(path: Path, layout: OnSheet) -> None:
    """A workbook by XlsxWriter."""
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Bench")
    for number, row in enumerate(layout.rows):
        sheet.write_row(number, 0, row)
    book.close()


def made_by_libreoffice(paths: Sequence[Path], folder: Path) -> None:
    """Workbooks as LibreOffice opens and saves them."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = needed_office().command("soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(FOLDER))
    subprocess.run([*command, *map(str, paths)], check=True, capture_output=True, timeout=300)


def workbooks() -> dict[str, OnSheet]:
    """Every workbook's name, and its layout."""
    return {f"{name} by {program}.xlsx": layout for name, layout in LAYOUTS.items() for program in layout.by}


def main() -> None:
    """Make them all anew."""
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        waiting: list[Path] = []
        for file, layout in workbooks().items():
            if file.endswith("libreoffice.xlsx"):
                waiting.append(folder / file)
                made_by_openpyxl(waiting[-1], layout)
            elif file.endswith("xlsxwriter.xlsx"):
                made_by_xlsxwriter(FOLDER / file, layout)
            else:
                made_by_openpyxl(FOLDER / file, layout)
        made_by_libreoffice(waiting, folder)
    (FOLDER / "README.md").write_text(
        "Sheets as shops may have them. Every number and name in them is invented. No code of Evenheft made them, but\n"
        "openpyxl, XlsxWriter and LibreOffice did: `python tests/shop_workbooks.py` makes them anew.\n",
        encoding="utf-8",
    )


if __name__ == "__main__":
    main()
