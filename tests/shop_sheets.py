"""Shop sheets that none of our code has made, each laid out as another shop might have it. All data is invented."""

import datetime
from pathlib import Path

import openpyxl
import xlsxwriter
from openpyxl.chart import LineChart, Reference
from openpyxl.styles import Alignment, Font

from other_programs import excel_made, picture, read_part, soffice_convert

CLUBS = [
    ("5-iron", 415.2, 29.1, 1.884), ("6-iron", 421.0, 28.8, 1.872), ("7-iron", 428.4, 28.4, 1.861),
    ("8-iron", 435.7, 28.1, 1.850), ("9-iron", 443.1, 27.7, 1.838),
]  # fmt: skip
"""Name, mass [g], balance [in], period [s]."""


def xlsxwriter_shop(folder: Path) -> Path:
    """One row of headings with units, a title, a chart, a picture, macros, a hidden column, a totals row."""
    path = folder / "shop with macros.xlsm"
    project = folder / "vba.bin"
    project.write_bytes(read_part(excel_made()[1], "xl/vbaProject.bin"))
    book = xlsxwriter.Workbook(str(path))
    book.add_vba_project(str(project))
    sheet, prices = book.add_worksheet("Irons"), book.add_worksheet("Prices")
    head = book.add_format({"bold": True, "bg_color": "#DDDDDD"})
    number, title = book.add_format({"num_format": "0.0"}), book.add_format({"bold": True, "font_size": 16})
    date = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.merge_range("A1:H1", "Club record 2026", title)
    headings = [
        "Club",
        "Built",
        "Weight (g)",
        "Old weight (g)",
        "Balance point (in)",
        "Swing time (s)",
        "Target",
        "Remarks",
    ]
    sheet.write_row(3, 0, headings, head)
    for row, (name, mass, balance, period) in enumerate(CLUBS, start=4):
        sheet.write(row, 0, name)
        sheet.write_datetime(row, 1, datetime.datetime(2026, 5, row), date)
        sheet.write_row(row, 2, [mass, mass - 3, balance, period], number)
        sheet.write(row, 6, "D2")
    sheet.write(6, 7, "customer likes them heavy")
    sheet.write(10, 0, "Average", head)
    sheet.write_formula(10, 2, "=AVERAGE(C5:C9)", number, 428.7)
    sheet.write_formula(10, 4, "=AVERAGE(E5:E9)", number, 28.4)
    sheet.set_column("D:D", None, None, {"hidden": True})
    sheet.conditional_format("C5:C9", {"type": "3_color_scale"})
    sheet.add_sparkline("H11", {"range": "Irons!C5:C9"})
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "=Irons!$C$5:$C$9", "categories": "=Irons!$A$5:$A$9"})
    sheet.insert_chart("B16", chart)
    sheet.insert_image("H16", str(picture(folder / "shop.png")))
    sheet.write_comment("C5", "weighed with the old scale")
    prices.write_row("A1", ["Head", 120.5])
    book.close()
    return path


def openpyxl_shop(folder: Path) -> Path:
    """Two rows of headings under merged bands, no units for masses, blank rows, a second table below."""
    path = folder / "two rows.xlsx"
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Bench book"
    sheet["B1"] = "Bench book, started in March"
    for place, text in {"C3": "Finished", "E3": "Bench", "C4": "Mass", "D4": "Balance (cm)", "E4": "Loft (deg)",
                        "F4": "Period (s)", "B4": "Club", "G4": "Target SW"}.items():  # fmt: skip
        sheet[place] = text
        sheet[place].font = Font(bold=True)
        sheet[place].alignment = Alignment(horizontal="center")
    sheet.merge_cells("C3:D3")
    sheet.merge_cells("E3:F3")
    sheet.merge_cells("B3:B4")
    sheet["B3"] = "Club"
    for n, (name, mass, balance, period) in enumerate(CLUBS):
        row = 5 + n + n // 2  # a blank row after every second club
        for column, value in zip(
            "BCDEFG", (name, mass, round(balance * 2.54, 1), 26 + 4 * n, period, "D2"), strict=True
        ):
            sheet[f"{column}{row}"] = value
    sheet["B20"], sheet["C20"], sheet["D20"] = "Woods", "Mass (g)", "Balance (cm)"
    sheet["B21"], sheet["C21"], sheet["D21"] = "3-wood", 340, 78.2
    chart = LineChart()
    chart.add_data(Reference(sheet, min_col=3, min_row=5, max_row=11))
    sheet.add_chart(chart, "J3")
    book.create_sheet("Notes")["A1"] = "=SUM('Bench book'!C5:C9)"
    book.save(path)
    return path


def libreoffice_shop(folder: Path) -> Path:
    """Headings over a row of units, lengths as text with their own unit, ounces; loose parts as well."""
    cells = [
        ["Blatt der Werkstatt"],
        ["Club", "Mass", "Balance", "Club length", "Head mass", "Shaft mass", "Shaft length", "Grip mass"],
        ["", "oz", "in", "in", "g", "g", "in", "g"],
        *[
            [name, round(mass / 28.349523125, 2), balance, 38 - n / 2, 255 + 7 * n, 102.5, 39, 50]
            for n, (name, mass, balance, _) in enumerate(CLUBS)
        ],
        ["Sum", sum(round(club[1] / 28.349523125, 2) for club in CLUBS)],
    ]
    source = folder / "werkstatt.csv"
    source.write_text("\n".join(",".join(map(str, row)) for row in cells), encoding="utf-8")
    return soffice_convert(source, "xlsx", folder)
