"""A supplier's answer counts whatever program wrote it: .ods, .xls and .csv give the masses that .xlsx gives."""

from __future__ import annotations

import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from evenheft.cli import main
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.supplier.book import AT, FIRST, HEADS_SHEET
from other_programs import soffice_convert


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [*map(str, words)], catch_exceptions=False)


@pytest.fixture
def answer(tmp_path: Path) -> Path:
    """A supplier's workbook, filled in, beside the order that it answers."""
    (tmp_path / "order.xlsx").write_bytes(save_bytes(build_demo()))
    heads = tmp_path / "heads.xlsx"
    assert run("share", tmp_path / "order.xlsx", "--for", "supplier", "-o", heads).exit_code == 0
    book = openpyxl.load_workbook(heads)
    sheet = book[HEADS_SHEET]
    for row in range(FIRST, sheet.max_row + 1):
        sheet.cell(row, AT["actual"]).value = sheet.cell(row, AT["mass"]).value + 0.2
    book.save(heads)
    return heads


def received(order: Path, came: Path) -> str:
    said = run("receive", order, came, "--show")
    assert said.exit_code in (0, 3), said.output
    return said.output


@pytest.mark.usefixtures("office_at_hand")
@pytest.mark.parametrize("ending", ["ods", "xls", "csv"])
def test_what_libreoffice_saved_is_received(tmp_path: Path, answer: Path, ending: str) -> None:
    came = soffice_convert(answer, ending, tmp_path)
    order = tmp_path / "order.xlsx"
    assert received(order, came) == received(order, answer)


def as_csv(answer: Path, to: Path, mark: str, *, decimal: str = ".", encoding: str = "utf-8") -> Path:
    rows = openpyxl.load_workbook(answer)[HEADS_SHEET].iter_rows(values_only=True)

    def cell(value: object) -> str:
        text = "" if value is None or str(value).startswith("=") else str(value)
        return text.replace(".", decimal) if isinstance(value, float) else f'"{text}"'

    to.write_text("\n".join(mark.join(map(cell, row)) for row in rows), encoding=encoding)
    return to


@pytest.mark.parametrize(
    ("mark", "decimal", "encoding"),
    [(",", ".", "utf-8"), (";", ",", "cp1252"), ("\t", ".", "utf-16"), (";", ",", "utf-8-sig")],
)
def test_a_csv_in_any_usual_dress_is_received(
    tmp_path: Path, answer: Path, mark: str, decimal: str, encoding: str
) -> None:
    came = as_csv(answer, tmp_path / "heads.csv", mark, decimal=decimal, encoding=encoding)
    order = tmp_path / "order.xlsx"
    assert received(order, came) == received(order, answer)


@pytest.mark.usefixtures("answer")
def test_what_is_no_answer_is_one_line(tmp_path: Path) -> None:
    order = tmp_path / "order.xlsx"
    for name, content in (("a.ods", b"PK no zip"), ("b.xls", b"nothing"), ("c.csv", b"a,b\n1,2"), ("d.xlsb", b"")):
        path = tmp_path / name
        path.write_bytes(content)
        said = run("receive", order, path)
        assert said.exit_code == 2, name
        assert said.stderr.startswith("! ")
        assert said.stderr.count("\n") == 1
    assert "no such file" in run("receive", order, tmp_path / "gone.ods").stderr


@pytest.mark.usefixtures("answer")
def test_a_small_file_that_expands_is_refused(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb.ods"
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("content.xml", bytes(120 << 20))
    assert "would expand to 120 MB" in run("receive", tmp_path / "order.xlsx", bomb).stderr
