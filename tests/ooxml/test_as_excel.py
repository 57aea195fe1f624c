"""What openpyxl writes, laid out as Excel writes it."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Font
from openxml_audit import OpenXmlValidator

from evenheft.cli import main
from evenheft.hosts.excel.building.book import build_add_in, with_functions
from evenheft.ooxml.as_excel import as_excel_writes
from evenheft.ooxml.zipped import packed
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.files import template_file
from packages import checked


def written(book: openpyxl.Workbook) -> bytes:
    raw = io.BytesIO()
    book.save(raw)
    with zipfile.ZipFile(raw) as package:
        return packed(as_excel_writes({name: package.read(name) for name in package.namelist()}))


def test_texts_and_fonts_read_as_before() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    texts = ["twice", "twice", " blanks ", "a < b & c", "two\nlines", "½ in", 7, True]
    for row, text in enumerate(texts, start=1):
        sheet.cell(row, 1, text)
    sheet["A1"].font = Font("Arial", 9, bold=True, italic=True, color="FF0000", strike=True, underline="single")
    sheet["B1"] = CellRichText("plain ", TextBlock(InlineFont(b=True), "bold"))
    content = written(book)
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        sheet_text = package.read("xl/worksheets/sheet1.xml")
        strings = package.read("xl/sharedStrings.xml")
    assert b"inlineStr" not in sheet_text
    assert b'uniqueCount="6"' in strings
    assert strings.count(b"<si>") == 6
    back = openpyxl.load_workbook(io.BytesIO(content), rich_text=True).active
    assert [back.cell(row, 1).value for row in range(1, len(texts) + 1)] == texts
    assert str(back["B1"].value) == "plain bold"
    font = back["A1"].font
    assert (font.name, font.b, font.i, font.strike, font.u, font.sz, font.color.rgb) == (
        "Arial", True, True, True, "single", 9, "00FF0000",
    )  # fmt: skip


def test_a_workbook_without_texts_stays_without_a_table() -> None:
    book = openpyxl.Workbook()
    with zipfile.ZipFile(io.BytesIO(written(book))) as package:
        assert "xl/sharedStrings.xml" not in package.namelist()


TEMPLATES = Path(__file__).parents[2] / "workbook_templates"
MADE = (
    "evenheft-order.xlsx",
    "evenheft-order.xltx",
    "evenheft-shop.xlsx",
    "demo.xlsx",
    "order.xlsm",
    "order.xltm",
    "evenheft.xlam",
)


@pytest.mark.parametrize("made", MADE)
def test_a_strict_reader_finds_nothing(made: str, tmp_path: Path) -> None:
    """openxml-audit checks against the schemas of Microsoft's own Open XML SDK, and what Excel would rewrite."""
    template = template_file("xlsx").read_bytes()
    content = {
        "evenheft-order.xlsx": lambda: template,
        "evenheft-order.xltx": lambda: template_file("xltx").read_bytes(),
        "evenheft-shop.xlsx": (TEMPLATES / "evenheft-shop.xlsx").read_bytes,
        "demo.xlsx": lambda: save_bytes(build_demo()),
        "order.xlsm": lambda: with_functions(checked(template)),
        "order.xltm": lambda: with_functions(checked(template), kind="template"),
        "evenheft.xlam": build_add_in,
    }[made]()
    path = tmp_path / made
    path.write_bytes(content)
    need_nothing_to_repair(path)


def need_nothing_to_repair(path: Path) -> None:
    result = OpenXmlValidator(max_errors=0).validate(path)
    assert [str(error) for error in result.errors] == []
    assert (result.error_count, result.warning_count) == (0, 0)
    with zipfile.ZipFile(path) as package:
        assert not any(b"absPath" in package.read(part) for part in package.namelist()), "an author's folder"


@pytest.mark.parametrize(
    ("words", "made"),
    [
        ("check order.xlsx --save", "order.xlsx"),
        ("share order.xlsx --for supplier", "heads-*.xlsx"),
        ("share order.xlsx --plain", "order-plain.xlsx"),
        ("share order.xlsx --plain --clean", "order-clean.xlsx"),
        ("shop keep order.xlsx", "evenheft-shop.xlsx"),
    ],
)
def test_nor_in_what_the_commands_make_of_an_order(
    words: str, made: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("order.xlsx").write_bytes(save_bytes(build_demo()))
    Path("evenheft-shop.xlsx").write_bytes((TEMPLATES / "evenheft-shop.xlsx").read_bytes())
    done = CliRunner().invoke(main, words.split(), catch_exceptions=False)
    assert done.exit_code in (0, 3), done.output
    (path,) = tmp_path.glob(made)
    need_nothing_to_repair(path)
