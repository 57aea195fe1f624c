"""A copy for a customer: all that can be seen is in it, and a secret planted anywhere else is in no byte of it."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result
from openpyxl.comments import Comment
from openpyxl.formatting.rule import ColorScaleRule, FormulaRule
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Protection
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.workbook.protection import WorkbookProtection
from openpyxl.worksheet.datavalidation import DataValidation

from evenheft.cli import main
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import read_package
from evenheft.ooxml.reading import read_sheet
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, SUPPLIER
from evenheft.order.plain.clean import clean_copy
from evenheft.order.plain.same import same
from other_programs import excel_made, read_part
from packages import with_parts

SECRET = "Quillfeather"
DOCS = (Path(__file__).parents[3] / "docs" / "sharing.md").read_text(encoding="utf-8")
TYPE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
ROW = FIRST_ROW + 2

PARTS = {
    "external links": ("xl/externalLinks/externalLink1.xml", b'<externalLink xmlns="x"><!-- SECRET --></externalLink>'),
    "pivot caches": ("xl/pivotCache/pivotCacheRecords1.xml", b'<pivotCacheRecords><s v="SECRET"/></pivotCacheRecords>'),
    "persons": ("xl/persons/person.xml", b'<personList><person displayName="SECRET"/></personList>'),
    "threaded comments": ("xl/threadedComments/threadedComment1.xml", b"<ThreadedComments>SECRET</ThreadedComments>"),
    "printer settings": ("xl/printerSettings/printerSettings1.bin", b"Q\0 SECRET"),
    "thumbnail": ("docProps/thumbnail.jpeg", b"\xff\xd8 SECRET"),
    "pictures": ("xl/media/image1.png", b"\x89PNG SECRET"),
    "custom data": ("customXml/item1.xml", b"<a>SECRET</a>"),
    "data connections": ("xl/connections.xml", b'<connections><connection name="SECRET"/></connections>'),
    "embedded objects": ("xl/embeddings/oleObject1.bin", b"\xd0\xcf SECRET"),
    "who edited it": ("xl/revisions/userNames.xml", b'<users><userInfo name="SECRET"/></users>'),
}
"""Parts of a workbook that hold what nobody sees on a sheet, by what docs/sharing.md calls them."""


def planted(book: openpyxl.Workbook) -> None:
    """Plant the secret in every place of an order that openpyxl can write."""
    bench, supplier = book["Bench"], book["Supplier"]
    for sheet in book.worksheets:
        sheet.protection.sheet = False
    for title, state in (("Prices", "hidden"), ("Old", "veryHidden")):
        away = book.create_sheet(f"{title} {SECRET}")
        away.sheet_state = state
        away["A1"] = f"{SECRET} pays"
        away["A2"].number_format = f'0.0 "{SECRET} owes"'
        away["A2"] = 3
    bench["DZ9"] = SECRET  # a hidden column of the shop's own
    bench.column_dimensions["DZ"].hidden = True
    bench["B60"] = SECRET  # a hidden row
    bench.row_dimensions[60].hidden = True
    bench["B61"] = f"{SECRET} again"  # a format that shows nothing
    bench["B61"].number_format = ";;;"
    supplier.cell(ROW, SUPPLIER.at["note"]).value = SECRET  # a column that the shop has hidden
    supplier.column_dimensions[SUPPLIER.letter("note")].hidden = True
    bench.cell(ROW, BENCH.at["done_mass"]).comment = Comment(f"said {SECRET}", SECRET)
    bench["B62"] = f"='Prices {SECRET}'!A2*2"  # reads a hidden sheet
    bench["B63"] = "a link"
    bench["B63"].hyperlink = f"file:///C:/Clients/{SECRET}.xlsx"
    rule = FormulaRule(formula=[f"'Prices {SECRET}'!$A$2>1"])
    bench.conditional_formatting.add("B64:B65", rule)
    choice = DataValidation(type="list", formula1=f"'Prices {SECRET}'!$A$1:$A$2")
    choice.add("B66")
    bench.add_data_validation(choice)
    book.defined_names["client"] = DefinedName("client", attr_text=f'"{SECRET}"')
    book.defined_names[SECRET] = DefinedName(SECRET, attr_text="Bench!$B$67")
    book.defined_names["list"] = DefinedName("list", attr_text=f"'Prices {SECRET}'!$A$1")
    about = book.properties
    about.creator = about.title = about.lastModifiedBy = about.description = about.keywords = about.subject = SECRET
    book.custom_doc_props.append(StringProperty(name=SECRET, value=SECRET))
    book.security = WorkbookProtection(workbookPassword="1A2B", lockStructure=False)
    book.code_name = SECRET
    bench.sheet_properties.codeName = SECRET
    bench.protection.password = "secret"


def with_raw_parts(path: Path, to: Path) -> None:
    """Add what openpyxl does not write: the parts above, macros, the folder of the file, what the program says."""
    folder = f'<x15ac:absPath xmlns:x15ac="y" url="C:\\Clients\\{SECRET}\\"/><bookViews>'
    endings = ("bin", "png", "jpeg")
    kinds = "".join(f'<Default Extension="{ending}" ContentType="image/{ending}"/>' for ending in endings)
    cache = f'<numCache><formatCode>"{SECRET}"</formatCode></numCache></numRef>'
    changes = {
        "xl/workbook.xml": ("<bookViews>", folder),
        "docProps/app.xml": ("</Properties>", f"<Company>{SECRET}</Company></Properties>"),
        "[Content_Types].xml": ("<Override", f"{kinds}<Override"),
        "xl/charts/chart1.xml": ("</numRef>", cache),
    }
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            text = old.read(name)
            if name in changes:
                before, after = (one.encode() for one in changes[name])
                assert before in text, name
                text = text.replace(before, after, 1)
            new.writestr(name, text)
        for name, content in PARTS.values():
            new.writestr(name, content.replace(b"SECRET", SECRET.encode()))
        new.writestr("xl/vbaProject.bin", read_part(excel_made()[1], "xl/vbaProject.bin") + SECRET.encode())


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("clean")
    book = build_demo()
    planted(book)
    path = folder / "order.xlsx"
    (folder / "bare.xlsx").write_bytes(save_bytes(book))
    with_raw_parts(folder / "bare.xlsx", path)
    return path


@pytest.fixture(scope="module")
def clean(order: Path) -> Path:
    said = share(order, "--plain", "--clean")
    assert said.exit_code == 0, said.output
    return order.with_name("order-clean.xlsx")


def share(order: Path, *words: str) -> Result:
    return CliRunner().invoke(main, ["share", str(order), *words], catch_exceptions=False)


def places(path: Path, word: str) -> set[str]:
    """The parts of a workbook in which a word stands, in any of the encodings that programs use."""
    coded = [word.lower().encode(), word.lower().encode("utf-16-le"), word.lower().encode("utf-16-be")]
    with zipfile.ZipFile(path) as package:
        return {
            name
            for name in package.namelist()
            if any(one in (package.read(name) + name.encode()).lower() for one in coded)
        }


def test_a_secret_that_nobody_sees_is_in_no_byte_of_it(order: Path, clean: Path) -> None:
    assert len(places(order, SECRET)) >= 20, "they are planted"
    assert places(clean, SECRET) == set()
    for word in ("Clients", "secret", "Prices", "1A2B"):
        assert places(clean, word) == set(), word
    assert SECRET.encode() not in clean.read_bytes()
    assert not {"client", "list", SECRET} & set(openpyxl.load_workbook(clean).defined_names)


def test_a_plain_copy_carries_it_and_the_page_says_where(order: Path) -> None:
    said = share(order, "--plain", "-o", str(order.with_name("plain.xlsx")))
    assert said.exit_code == 0
    carried = places(order.with_name("plain.xlsx"), SECRET)
    assert carried == places(order, SECRET)
    passage = DOCS.split("carries along")[1].split("--clean")[0]
    for thing in (*PARTS, "hidden", "comments", "macros", "last author", "folder"):
        assert thing in " ".join(passage.split()), thing


def test_only_known_parts_are_in_it(clean: Path) -> None:
    known = re.compile(
        r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(app|core)\.xml"
        r"|xl/(workbook|styles|sharedStrings|theme/theme1)\.xml|xl/_rels/workbook\.xml\.rels"
        r"|xl/worksheets/(_rels/)?sheet\d+\.xml(\.rels)?|xl/drawings/(_rels/)?drawing\d+\.xml(\.rels)?"
        r"|xl/charts/chart\d+\.xml"
    )
    with zipfile.ZipFile(clean) as package:
        assert [name for name in package.namelist() if not known.fullmatch(name)] == []
    with read_package(clean) as package:
        assert package.warnings == ()


def test_all_that_is_seen_has_its_value_and_most_of_it_stays_alive(order: Path, clean: Path) -> None:
    before, after = read_package(order), read_package(clean)
    was, now = Computed(before), Computed(after)
    assert now.sheet_names == tuple(name for name in was.sheet_names if SECRET not in name)
    alive = 0
    for name in now.sheet_names:
        old, new = read_sheet(before, name), read_sheet(after, name)
        for place in {*old.values, *old.formulas}:
            hidden = place[0] in old.hidden_rows or any(a <= place[1] <= b for a, b in old.hidden_columns)
            if not hidden and place != (61, 2) and (name, place) != ("Guide", (2, 1)):  # which tells of the copy
                assert same(now.value(name, *place), was.value(name, *place)), (name, place)
        assert all(same(new.values.get(place), now.value(name, *place)) for place in new.formulas), "they are kept too"
        alive += len(new.formulas)
        assert not [text for text in new.formulas.values() if "HEFT" in text or "[" in text]
    assert alive > 5000
    assert "B62" not in read_sheet(after, "Bench").formulas
    assert now.value("Bench", 62, 2) == 6.0


def test_looks_colours_and_charts_come_along(order: Path, clean: Path) -> None:
    old, new = openpyxl.load_workbook(order), openpyxl.load_workbook(clean)
    for sheet in new.worksheets:
        before = old[sheet.title]
        assert sheet.print_area == before.print_area
        assert sheet.freeze_panes == before.freeze_panes
        assert len(sheet._charts) == len(before._charts)
        assert {str(r.sqref) for r in sheet.conditional_formatting} == {
            str(r.sqref) for r in before.conditional_formatting if str(r.sqref) != "B64:B65"
        }
        assert sheet["A7"].fill.fgColor == before["A7"].fill.fgColor
        assert sheet["A7"].font.b == before["A7"].font.b
        assert sheet.column_dimensions["B"].width == before.column_dimensions["B"].width
    assert new["Bench"].protection.password is None


def test_a_text_that_looks_like_a_formula_stays_a_text(tmp_path: Path) -> None:
    book = build_demo()
    cell = book["Order"]["Z40"]
    cell.value, cell.data_type = "=1+1", "s"
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(book))
    assert share(path, "--plain", "--clean").exit_code == 0
    made = openpyxl.load_workbook(tmp_path / "order-clean.xlsx")["Order"]["Z40"]
    assert (made.value, made.data_type) == ("=1+1", "s")


def test_clean_is_for_a_plain_copy_alone(order: Path) -> None:
    said = share(order, "--for", "supplier", "--clean")
    assert said.exit_code == 2
    assert said.stderr.startswith("! --clean")


def test_what_has_no_width_and_no_height_and_a_hidden_formula_stay_behind() -> None:
    made = openpyxl.Workbook()
    sheet, other = made.active, made.create_sheet("other")
    sheet["A1"], sheet["B1"], sheet["A2"] = "seen", f"{SECRET} one", f"{SECRET} two"
    sheet["A3"] = f'=IF(A1="{SECRET}", 1, 2)'
    sheet["A3"].protection = Protection(hidden=True)
    sheet.column_dimensions["B"].width = 77
    sheet.row_dimensions[2].height = 77
    other["A1"], other["A9"] = "seen too", SECRET
    other.row_dimensions[1].height = 15
    other.sheet_format.zeroHeight = True  # every row that is not named is hidden
    stream = io.BytesIO()
    made.save(stream)
    with zipfile.ZipFile(stream) as package:
        text = package.read("xl/worksheets/sheet1.xml").replace(b'"77"', b'"0"')
    content = clean_copy(with_parts(stream.getvalue(), {"xl/worksheets/sheet1.xml": text}), "order.xlsx", set())
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert not [name for name in package.namelist() if SECRET.encode() in package.read(name)]
    copied = openpyxl.load_workbook(io.BytesIO(content))
    assert [cell.value for (cell, *_) in copied.worksheets[0]] == ["seen", None, 2]
    assert copied["other"]["A1"].value == "seen too"


def test_what_openpyxl_does_not_take_is_refused_in_a_line() -> None:
    made = io.BytesIO()
    openpyxl.Workbook().save(made)
    with zipfile.ZipFile(made) as package:
        sheet = package.read("xl/worksheets/sheet1.xml")
    odd = sheet.replace(b"</worksheet>", b"<pageMargins left='x'/></worksheet>")
    content = with_parts(made.getvalue(), {"xl/worksheets/sheet1.xml": odd})
    with pytest.raises(Refused, match=r"^order\.xlsx is written as no clean copy can be made of it: save it anew"):
        clean_copy(content, "order.xlsx", set())


def test_merged_columns_on_which_openpyxl_would_work_for_minutes_are_refused_in_a_line() -> None:
    made = io.BytesIO()
    openpyxl.Workbook().save(made)
    with zipfile.ZipFile(made) as package:
        sheet = package.read("xl/worksheets/sheet1.xml")
    merged = b'<mergeCells count="1"><mergeCell ref="A1:B900000"/></mergeCells>'
    odd = sheet.replace(b"</sheetData>", b"</sheetData>" + merged).replace(b"<sheetData/>", b"<sheetData/>" + merged)
    assert merged in odd
    content = with_parts(made.getvalue(), {"xl/worksheets/sheet1.xml": odd})
    with pytest.raises(Refused, match=r"^order\.xlsx has 1,800,000 merged cells on sheet Sheet, of which no"):
        clean_copy(content, "order.xlsx", set())


def test_a_cell_at_the_far_end_and_columns_without_end_are_copied_at_once() -> None:
    """A grid of all cells up to the far one would be of seventeen thousand million."""
    book = openpyxl.Workbook()
    book.active["A1"], book.active["XFD1048576"] = 1, "far away"
    book.active.column_dimensions["B"].hidden = True
    made = io.BytesIO()
    book.save(made)
    with zipfile.ZipFile(made) as package:
        sheet = package.read("xl/worksheets/sheet1.xml")
    endless = sheet.replace(b'max="2"', b'max="2000000000"')
    assert endless != sheet
    copied = openpyxl.load_workbook(
        io.BytesIO(clean_copy(with_parts(made.getvalue(), {"xl/worksheets/sheet1.xml": endless}), "order.xlsx", set()))
    )
    assert copied.active["A1"].value == 1
    assert copied.active["XFD1048576"].value is None  # its column is hidden


def test_a_formula_that_no_program_writes_becomes_a_value(tmp_path: Path) -> None:
    book = build_demo()
    book["Scale"]["C50"].value = '="""'
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(book))
    result = share(path, "--plain", "--clean", "-o", str(tmp_path / "clean.xlsx"))
    assert result.exit_code == 0, result.output
    assert openpyxl.load_workbook(tmp_path / "clean.xlsx")["Scale"]["C50"].data_type != "f"


def test_what_could_act_or_is_hidden_is_told(order: Path) -> None:
    said = share(order, "--plain", "-o", str(order.with_name("told.xlsx"))).stderr
    for word in ("macros", "2 hidden sheets", "other workbooks", "which no menu shows"):
        assert word in said


def test_an_order_saved_by_a_program_in_another_language_is_copied(tmp_path: Path) -> None:
    """A German program calls the usual cells' style Standard."""
    order = tmp_path / "order.xlsx"
    content = save_bytes(build_demo())
    (tmp_path / "made.xlsx").write_bytes(content)
    styles = read_part(tmp_path / "made.xlsx", "xl/styles.xml")
    assert b'name="Normal"' in styles
    order.write_bytes(with_parts(content, {"xl/styles.xml": styles.replace(b'name="Normal"', b'name="Standard"')}))
    said = share(order, "--plain", "--clean")
    assert said.exit_code == 0, said.output
    assert openpyxl.load_workbook(tmp_path / "order-clean.xlsx")["Set"].dimensions


@pytest.mark.parametrize(
    ("tag", "called"),
    [(b'<conditionalFormatting sqref="A1">%s</conditionalFormatting>', "colour rules"),
     (b'<dataValidations count="1">%s</dataValidations>', "rules for typing")],
)  # fmt: skip
def test_rules_by_the_thousand_are_refused_in_a_line(tag: bytes, called: str) -> None:
    made = io.BytesIO()
    openpyxl.Workbook().save(made)
    with zipfile.ZipFile(made) as package:
        sheet = package.read("xl/worksheets/sheet1.xml")
    rule = b'<cfRule type="expression" priority="1"><formula>1</formula></cfRule>'
    rule = rule if called == "colour rules" else b'<dataValidation sqref="A1"/>'
    many = sheet.replace(b"<pageMargins", tag % (rule * 11_000) + b"<pageMargins")
    assert many != sheet
    content = with_parts(made.getvalue(), {"xl/worksheets/sheet1.xml": many})
    with pytest.raises(Refused, match=rf"^order\.xlsx has [0-9,]+ {called}, of which no clean copy can be made"):
        clean_copy(content, "order.xlsx", set())


def test_an_address_a_name_s_comment_and_a_bound_on_a_hidden_sheet_stay_behind() -> None:
    book = openpyxl.Workbook()
    book.active["A1"] = f'=HYPERLINK("http://{SECRET}.example","click")'
    book.active["A2"], book.active["A3"] = 2, "=mine*2"
    book.active["A4"] = f'=hyperlink ("http://{SECRET}.example")'
    book.defined_names["mine"] = DefinedName("mine", attr_text="Sheet!$A$2", comment=SECRET, description=SECRET)
    hidden = book.create_sheet(SECRET)
    hidden.sheet_state = "hidden"
    scale = ColorScaleRule(start_type="min", start_color="FF0000", mid_type="formula", mid_value=f"{SECRET}!$A$1",
                           mid_color="FFFF00", end_type="max", end_color="00FF00")  # fmt: skip
    book.active.conditional_formatting.add("A2:A3", scale)
    made = io.BytesIO()
    book.save(made)
    content = clean_copy(made.getvalue(), "order.xlsx", {("Sheet", row, 1) for row in (1, 3, 4)})
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert [part for part in package.namelist() if SECRET.encode() in package.read(part)] == []
    copied = openpyxl.load_workbook(io.BytesIO(content))
    assert copied.active["A1"].value == "click"
    assert copied.active["A3"].value == "=mine*2"


def test_an_order_that_has_lost_its_styles_is_refused_in_a_line(tmp_path: Path) -> None:
    """As a workbook changed at random had it: nothing tells a cell for typing from another."""
    content = save_bytes(build_demo())
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        links = package.read("xl/_rels/workbook.xml.rels").decode()
    without = re.sub(r"<Relationship [^>]*relationships/styles[^>]*/>", "", links)
    assert without != links
    path = tmp_path / "order.xlsx"
    path.write_bytes(with_parts(content, {"xl/_rels/workbook.xml.rels": without}))
    for words in ((), ("--clean",)):
        done = share(path, "--plain", *words, "-o", str(tmp_path / "copy.xlsx"))
        assert done.exit_code == 2, done.output
        assert "has no styles" in done.stderr
        assert done.stderr.count("\n") == 1
