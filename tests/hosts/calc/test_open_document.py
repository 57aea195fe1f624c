"""OpenDocument sheets, converted by the real LibreOffice: what they compute, and what is refused."""

from __future__ import annotations

import http.server
import threading
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from calc_office import Calc, OpenBook
from evenheft.cli import main
from evenheft.hosts.calc import office
from evenheft.hosts.calc.open_document import open_document_from, workbook_from
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import read_package
from evenheft.ooxml.places import reference
from evenheft.ooxml.reading import read_sheet
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, SUPPLIER
from evenheft.order.supplier.other_formats import read_values

SPACES = " ".join(
    f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
    for short, long in [("office", "office"), ("table", "table"), ("text", "text"), ("draw", "drawing"),
                        ("svg", "svg-compatible")]
) + ' xmlns:xlink="http://www.w3.org/1999/xlink"'  # fmt: skip


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [*map(str, words)], catch_exceptions=False)


def refused(*words: object) -> str:
    said = run(*words)
    assert said.exit_code == 2, said.output
    assert said.stderr.startswith("! ")
    assert said.stderr.count("\n") == 1
    return said.stderr


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The invented order as a workbook, with its results."""
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    assert run("check", path, "--save").exit_code == 3
    return path


def same(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float | int) and not isinstance(other, bool):
        return one == pytest.approx(other, rel=1e-9, abs=1e-12)
    return (one or "") == (other or "") if isinstance(one, str | None) else one == other


def differing(book: OpenBook, path: Path, computed: Computed) -> list[tuple[object, ...]]:
    """Every cell with a formula whose value in LibreOffice is not the engine's."""
    found = []
    with read_package(path) as package:
        for sheet in package.sheets:
            content = read_sheet(package, sheet.name)
            rows = book.read(sheet.name, f"A1:{reference(content.last_row, content.last_column)}")
            for row, column in content.formulas:
                here, there = computed.value(sheet.name, row, column), rows[row - 1][column - 1]
                if not same(here, there):
                    found.append((sheet.name, reference(row, column), here, there))
    return found


def measured_mass(path: Path) -> str:
    """The first cell on Bench into which a club's mass was typed."""
    with read_package(path) as package:
        content = read_sheet(package, BENCH.sheet)
    return next(
        reference(*place)
        for place, held in sorted(content.values.items())
        if place[0] >= FIRST_ROW and place not in content.formulas and isinstance(held, float) and 300 < held < 600
    )


def test_an_order_as_an_open_document_computes_in_calc_with_every_cell(demo: Path, calc: Calc) -> None:
    sheet = demo.with_suffix(".ods")
    sheet.write_bytes(open_document_from(demo.read_bytes(), sheet.name))
    with calc.open(sheet) as book:
        assert differing(book, demo, Computed.open(demo)) == []
        # And it lives: a mass that is typed anew goes through all of it.
        cell = measured_mass(demo)
        before = book.value(BENCH.sheet, cell)
        book.put(BENCH.sheet, cell, [[before + 5]])
        workbook = openpyxl.load_workbook(demo)
        workbook[BENCH.sheet][cell] = before + 5
        workbook.save(demo)
        assert differing(book, demo, Computed.open(demo)) == []


def test_what_calc_saved_with_the_add_in_is_checked_as_its_workbook_is(demo: Path, calc: Calc) -> None:
    with calc.open(demo) as book:
        sheet = book.save("order.ods")
    old = sheet.read_bytes()
    here, there = run("check", demo), run("check", sheet)
    assert there.exit_code == here.exit_code == 3
    note = "Note: order.ods is an OpenDocument sheet: LibreOffice "
    assert there.output.startswith(note)
    assert there.output.partition("\n")[2] == here.output
    assert "keeps the results" in refused("check", sheet, "--save")
    assert sheet.read_bytes() == old


@pytest.mark.usefixtures("office_at_hand")
def test_an_order_is_begun_asked_for_and_received_as_an_open_document(tmp_path: Path, demo: Path) -> None:
    assert run("new", tmp_path / "new.ods").exit_code == 0
    assert "no club to judge yet" in refused("check", tmp_path / "new.ods")
    assert "there already" in refused("new", tmp_path / "new.ods")
    heads, came = tmp_path / "heads.xlsx", tmp_path / "back.ods"
    assert run("share", demo, "--for", "supplier", "-o", heads).exit_code == 0
    book = openpyxl.load_workbook(heads)
    for row in book.worksheets[0].iter_rows(min_row=2):
        for cell in row:
            if cell.protection is not None and not cell.protection.locked and cell.number_format == "0.0":
                cell.value = 250.5
    book.save(heads)
    said = run("receive", demo, heads, "-o", came)
    assert said.exit_code == 3, said.output
    assert f"masses are now in {came}." in said.output
    assert 250.5 in read_values(came, SUPPLIER.sheet).values.values()


# ---------------------------------------------------------------------- what is refused, and what is not fetched


def open_document(path: Path, body: str, **parts: bytes) -> Path:
    """An OpenDocument sheet, written here."""
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {SPACES} office:version="1.3"><office:body>'
        f'<office:spreadsheet><table:table table:name="A">{body}</table:table></office:spreadsheet></office:body>'
        "</office:document-content>"
    )
    space = "urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        f'<manifest:manifest xmlns:manifest="{space}" manifest:version="1.3">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
        '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>'
    )
    held = {"mimetype": kind.encode(), "content.xml": content.encode(), "META-INF/manifest.xml": manifest.encode()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in {**held, **{name.replace("__", "."): data for name, data in parts.items()}}.items():
            package.writestr(name, data)
    return path


ROW = '<table:table-row><table:table-cell office:value-type="float" office:value="7"/></table:table-row>'


def test_without_libreoffice_one_line_says_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(office, "_folders", lambda: iter(()))
    sheet = open_document(tmp_path / "shop.ods", ROW)
    for words in (["check", sheet], ["adopt", sheet], ["new", tmp_path / "new.ods"], ["receive", sheet, sheet],
                  ["share", sheet, "--plain"]):  # fmt: skip
        line = refused(*words)
        assert "which LibreOffice must convert, and there is none: install LibreOffice" in line
        assert "or use an .xlsx workbook instead" in line
    assert not (tmp_path / "new.ods").exists()


@pytest.mark.usefixtures("office_at_hand")
@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"mimetype": b"application/vnd.oasis.opendocument.text"}, "not an OpenDocument sheet"),
        ({"content__xml": b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'}, "DOCTYPE"),
        ({"content__xml": b"<a><b></a>"}, "not well-formed"),
        ({"content__xml": b"<a>" * 70 + b"</a>" * 70}, "deeper than any workbook needs"),
        ({"big__bin": bytes(90 << 20)}, "more than 250 times"),
    ],
)
def test_what_lies_is_refused_before_libreoffice_sees_it(tmp_path: Path, parts: dict[str, bytes], words: str) -> None:
    with pytest.raises(Refused, match=words) as refused:
        workbook_from(open_document(tmp_path / "odd.ods", ROW, **parts))
    assert str(refused.value).startswith("odd.ods ")


@pytest.mark.usefixtures("office_at_hand")
def test_what_is_no_zip_or_cannot_be_converted_is_one_line(tmp_path: Path) -> None:
    for name, content, words in (("a.ods", b"PK\3\4 no zip", "damaged"), ("b.ods", b"hello", "not a workbook"),
                                 ("c.ods", b"", "empty")):  # fmt: skip
        path = tmp_path / name
        path.write_bytes(content)
        assert words in refused("check", path)
    assert "no such file" in refused("check", tmp_path / "gone.ods")


class Listener(http.server.BaseHTTPRequestHandler):
    """A server that only notes who asks."""

    asked: list[str]

    def do_GET(self) -> None:
        """Note a request."""
        self.asked.append(self.path)
        self.send_error(404)

    do_HEAD = do_OPTIONS = do_PROPFIND = do_GET  # noqa: N815  the names of http

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def listening() -> Iterator[tuple[str, list[str]]]:
    """An address of this machine, and what was asked for there."""
    asked: list[str] = []
    server = http.server.HTTPServer(("127.0.0.1", 0), type("Noting", (Listener,), {"asked": asked}))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}", asked
    finally:
        server.shutdown()
        server.server_close()


@pytest.mark.usefixtures("office_at_hand")
def test_nothing_outside_of_the_file_is_fetched(tmp_path: Path) -> None:
    with listening() as (address, asked):
        picture = (
            '<table:shapes><draw:frame svg:width="2cm" svg:height="2cm"><draw:image draw:name="a > b" '
            f'xlink:href="{address}/picture.png" xlink:type="simple" xlink:actuate="onLoad"/></draw:frame>'
            "</table:shapes>"
        )
        link = f'<text:p><text:a xlink:href="{address}/page">a page</text:a></text:p>'
        row = ROW.replace("/></table:table-row>", f">{link}</table:table-cell></table:table-row>")
        fetching = open_document(tmp_path / "fetching.ods", picture + row)
        converted = workbook_from(fetching)
        assert asked == []
        assert "kept elsewhere, which are not fetched" in converted.notes[-1]
        # LibreOffice by itself does fetch it, so that the test can fail.
        office.find().convert(fetching, "pdf", tmp_path)
        assert "/picture.png" in asked
