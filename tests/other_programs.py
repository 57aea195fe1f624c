"""Workbooks that no code of ours has made: by XlsxWriter, openpyxl, LibreOffice and Excel, and packages' test files."""

import base64
import datetime
import os
import struct
import subprocess
import sys
import tarfile
import zipfile
import zlib
from importlib.metadata import distribution
from pathlib import Path
from typing import BinaryIO

import openpyxl
import xlsxwriter
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.formatting.rule import ColorScaleRule
from openpyxl.worksheet.datavalidation import DataValidation

from calc_office import MissingError, needed_office

FREE_SDISTS = {"xlsx2csv": "MIT", "tablib": "MIT", "pyexcel-xlsx": "BSD-3-Clause"}
"""Packages whose source archives hold workbooks of several programs as test files, and their licences."""


def read_part(file: Path | BinaryIO, name: str) -> bytes:
    """One part of a package."""
    with zipfile.ZipFile(file) as package:
        return package.read(name)


def picture(path: Path) -> Path:
    """A small PNG, made here."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + bytes([x * 8, 90, 140]) * 8 for x in range(8))
    head = chunk(b"IHDR", struct.pack(">2I5B", 8, 8, 8, 2, 0, 0, 0))
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))
    return path


def excel_made() -> list[Path]:
    """Workbooks with macros that Excel itself has saved, from the xlwings package (BSD-3-Clause)."""
    folder = Path(str(distribution("xlwings").locate_file("xlwings")))
    return [folder / "quickstart.xlsm", folder / "quickstart_standalone.xlsm"]


def xlsxwriter_made(folder: Path) -> Path:
    """Everything that XlsxWriter can draw, with macros, in one .xlsm."""
    path = folder / "xlsxwriter.xlsm"
    project = folder / "vbaProject.bin"
    project.write_bytes(read_part(excel_made()[1], "xl/vbaProject.bin"))
    book = xlsxwriter.Workbook(str(path))
    sheet, other = book.add_worksheet("Set"), book.add_worksheet("Other")
    book.add_vba_project(str(project))
    bold, date = book.add_format({"bold": True}), book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.write_row(0, 0, ["Club", "Mass", "Balance", "When"], bold)
    for row in range(1, 12):
        sheet.write_row(row, 0, [f"{row}-iron", 400 + row, 75 - row / 4])
        sheet.write_datetime(row, 3, datetime.datetime(2026, 11, row), date)
        sheet.write_formula(row, 4, f"=B{row + 1}*C{row + 1}", None, 1.0)
    sheet.write_rich_string(13, 0, "plain ", bold, "bold & <odd>")
    sheet.write_dynamic_array_formula("G2:G4", "=SORT(B2:B4)", None, 1)
    sheet.write_array_formula("H2:H4", "{=B2:B4*2}", None, 1)
    sheet.write_comment("B2", "weighed twice")
    sheet.write_url("A20", "https://example.invalid/", string="a link")
    sheet.insert_image("J2", str(picture(folder / "a.png")))
    sheet.insert_textbox("J10", "a text box")
    sheet.insert_button("J16", {"macro": "SampleCall", "caption": "Run"})
    sheet.add_sparkline("F2", {"range": "Set!B2:C2"})
    sheet.conditional_format("B2:B12", {"type": "data_bar", "data_bar_2010": True})
    sheet.conditional_format("C2:C12", {"type": "icon_set", "icon_style": "3_arrows"})
    sheet.data_validation("B2:B12", {"validate": "decimal", "criteria": ">", "value": 0})
    sheet.merge_range("A16:C16", "a merged line", bold)
    sheet.set_column("L:M", None, None, {"hidden": True, "level": 1})
    sheet.set_row(30, 33, date)
    sheet.freeze_panes(1, 1)
    sheet.protect("", {"sort": True})
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "=Set!$B$2:$B$12"})
    sheet.insert_chart("J20", chart)
    other.add_table("A1:C5", {"columns": [{"header": h} for h in ("Club", "Mass", "Note")], "total_row": True})
    other.write_row("A2", ["1-iron", 401])
    book.define_name("shop_fulcrum", "=Set!$C$2")
    alone = book.add_chart({"type": "column"})
    alone.add_series({"values": "=Set!$C$2:$C$12"})
    book.add_chartsheet("Chart only").set_chart(alone)
    book.close()
    return path


def openpyxl_made(folder: Path) -> Path:
    """A workbook by openpyxl, which writes text inline nowhere and repeats every cell's name."""
    path = folder / "openpyxl.xlsx"
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Set"
    for row in range(1, 9):
        sheet.append([f"{row}-iron", 400 + row, f"=B{row}*2"])
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=2, min_row=1, max_row=8))
    sheet.add_chart(chart, "F2")
    sheet["A1"].comment = Comment("a note", "a builder")
    sheet.conditional_formatting.add("B1:B8", ColorScaleRule(start_type="min", start_color="FFFFFFFF",
                                                             end_type="max", end_color="FF2F4858"))  # fmt: skip
    check = DataValidation(type="list", formula1='"in,out"')
    check.add("D1:D8")
    sheet.add_data_validation(check)
    book.save(path)
    return path


OFFICE_NS = " ".join(
    f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
    for short, long in [
        ("office", "office"), ("table", "table"), ("text", "text"), ("draw", "drawing"), ("chart", "chart"),
        ("svg", "svg-compatible"), ("style", "style"), ("fo", "xsl-fo-compatible"),
    ]
) + (
    ' xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:dc="http://purl.org/dc/elements/1.1/"'
    ' xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'
    ' xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"'
)  # fmt: skip


def flat_calc_document(picture_text: str) -> str:
    """A flat OpenDocument sheet with a picture, a comment, a condition, a formula and a pivot table."""
    end = "</table:table-row>"
    rows = "".join(
        f'<table:table-row><table:table-cell office:value-type="string"><text:p>{name}</text:p></table:table-cell>'
        f'<table:table-cell office:value-type="string"><text:p>{group}</text:p></table:table-cell>'
        f'<table:table-cell office:value-type="float" office:value="{mass}"><text:p>{mass}</text:p></table:table-cell>'
        f'<table:table-cell table:formula="of:=[.C{n}]*2" office:value-type="float" office:value="1"/>{end}'
        for n, (name, group, mass) in enumerate(
            [("5-iron", "Irons", 421), ("6-iron", "Irons", 428), ("Gap wedge", "Wedges", 461)], start=2
        )
    )
    heads = "".join(
        f'<table:table-cell office:value-type="string">{note}<text:p>{head}</text:p></table:table-cell>'
        for head, note in [
            ("Club", "<office:annotation><text:p>as the customer calls it</text:p></office:annotation>"),
            ("Group", ""), ("Mass", ""), ("Double", ""),
        ]
    )  # fmt: skip
    return f"""<?xml version="1.0" encoding="UTF-8"?>
<office:document {OFFICE_NS} office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:styles><style:style style:name="Good" style:family="table-cell"><style:table-cell-properties
 fo:background-color="#cfefe2"/></style:style></office:styles>
<office:body><office:spreadsheet>
<table:table table:name="Set"><table:shapes><draw:frame svg:width="2cm" svg:height="2cm" svg:x="12cm" svg:y="1cm">
<draw:image><office:binary-data>{picture_text}</office:binary-data></draw:image></draw:frame></table:shapes>
<table:table-row>{heads}</table:table-row>{rows}
<calcext:conditional-formats><calcext:conditional-format calcext:target-range-address="Set.C2:Set.C4">
<calcext:condition calcext:apply-style-name="Good" calcext:value="&gt;425" calcext:base-cell-address="Set.C2"/>
</calcext:conditional-format></calcext:conditional-formats></table:table>
<table:table table:name="Pivot"><table:table-row><table:table-cell/></table:table-row></table:table>
<table:data-pilot-tables><table:data-pilot-table table:name="Masses" table:target-range-address="Pivot.A1:Pivot.B4">
<table:source-cell-range table:cell-range-address="Set.A1:Set.C4"/>
<table:data-pilot-field table:source-field-name="Group" table:orientation="row" table:function="auto"/>
<table:data-pilot-field table:source-field-name="Mass" table:orientation="data" table:function="sum"/>
</table:data-pilot-table></table:data-pilot-tables>
</office:spreadsheet></office:body></office:document>"""


def have_soffice() -> bool:
    """Whether a LibreOffice can be run that is new enough; the tests of other Pythons do without."""
    try:
        return bool(needed_office())
    except MissingError:
        return False


def soffice_convert(source: Path, target_kind: str, folder: Path) -> Path:
    """A file as LibreOffice opens and saves it; `target_kind` is e.g. "xlsx" or "pdf"."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = needed_office().command("soffice", profile, "--headless", "--norestore", "--convert-to", target_kind)
    out = folder / "converted"
    subprocess.run([*command, "--outdir", str(out), str(source)], check=True, capture_output=True, timeout=180)
    return out / f"{source.stem}.{target_kind.split(':')[0]}"


def libreoffice_made(folder: Path) -> Path:
    """A workbook with a picture, comment, condition and pivot table that LibreOffice has saved."""
    source = folder / "libreoffice.fods"
    image = base64.b64encode(picture(folder / "lo.png").read_bytes()).decode()
    source.write_text(flat_calc_document(image), encoding="utf-8")
    return soffice_convert(source, "xlsx", folder)


def fetched_sdist(name: str, folder: Path) -> Path | None:
    """A package's source archive through pip, or None where no registry can be reached."""
    command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--no-binary", ":all:", name]
    environment = {**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
    try:
        subprocess.run(command, cwd=folder, env=environment, check=True, capture_output=True, timeout=120)
    except (subprocess.CalledProcessError, subprocess.TimeoutExpired):
        return None
    return next(iter(folder.glob("*.tar.gz")), None)


def workbooks_in(archive: Path, folder: Path) -> list[Path]:
    """The workbooks of a source archive, taken out."""
    taken = []
    with tarfile.open(archive) as tar:
        for member in tar.getmembers():
            if member.isfile() and member.name.lower().endswith((".xlsx", ".xlsm")):
                target = folder / f"{len(taken)}-{Path(member.name).name}"
                stream = tar.extractfile(member)
                assert stream is not None
                target.write_bytes(stream.read())
                taken.append(target)
    return taken
