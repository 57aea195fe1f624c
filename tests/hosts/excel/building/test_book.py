"""Built add-ins and workbooks: what must change has changed, and every other part is byte for byte as it was."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
import xlsxwriter
import xlwings
from pyopenvba.apps.excel import ExcelApplication

from evenheft import __version__
from evenheft.formulas import REGISTRY, call
from evenheft.hosts.embedded import Computed
from evenheft.hosts.excel.building.book import SETTINGS_PART, build_add_in, with_functions
from evenheft.hosts.excel.building.configuration import read_settings
from evenheft.hosts.excel.building.project import ADD_IN_SHELL, VBA_PART, WORKBOOK_SHELL
from evenheft.ooxml.errors import Refused
from evenheft.order.files import template_file
from olevba_reading import macros_in
from other_programs import soffice_convert
from packages import checked, with_parts

# openpyxl says what it leaves out of the rich workbook; here it only reads.
pytestmark = pytest.mark.filterwarnings("ignore:.*extension is not supported:UserWarning")

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
X14 = "{http://schemas.microsoft.com/office/spreadsheetml/2009/9/main}"
TOUCHED = {"[Content_Types].xml", "xl/_rels/workbook.xml.rels", "xl/workbook.xml"}


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert package.testzip() is None
        names = package.namelist()
        assert len(names) == len(set(names))
        return {name: package.read(name) for name in names}


def changed(before: bytes, after: bytes) -> tuple[set[str], set[str], set[str]]:
    """The names of the parts changed, added and lost."""
    old, new = parts_of(before), parts_of(after)
    return {name for name in old if name in new and old[name] != new[name]}, set(new) - set(old), set(old) - set(new)


def functions_in(content: bytes) -> set[str]:
    code = "\n".join(macros_in(content).values())
    return set(re.findall(r"^Public Function (HEFT_\w+)\(", code, re.MULTILINE))


@pytest.fixture(scope="module")
def rich() -> bytes:
    """A workbook of charts, validations, formats, a note, a picture of a sparkline and names, made by XlsxWriter."""
    target = io.BytesIO()
    with xlsxwriter.Workbook(target, {"in_memory": True}) as book:
        sheet, other = book.add_worksheet("Bench & co"), book.add_worksheet("Chart")
        sheet.write_column("A1", [431, 425.5, 418])
        sheet.write_column("B1", [75.3, 75.1, 74.8])
        for row in range(3):
            sheet.write_formula(row, 2, f"=HEFT_POINTS(A{row + 1},B{row + 1})")
        sheet.data_validation("D1:D3", {"validate": "list", "source": ["iron", "wood"]})
        sheet.conditional_format("C1:C3", {"type": "data_bar", "data_bar_2010": True})
        sheet.write_comment("A1", "as weighed")
        sheet.add_sparkline("E1", {"range": "'Bench & co'!A1:A3"})
        sheet.insert_textbox("F1", "a text box")
        chart = book.add_chart({"type": "line"})
        chart.add_series({"values": "='Bench & co'!$C$1:$C$3"})
        other.insert_chart("A1", chart)
        book.define_name("'Bench & co'!masses", "='Bench & co'!$A$1:$A$3")
    return target.getvalue()


@pytest.fixture(scope="module")
def order() -> bytes:
    return template_file("xlsx").read_bytes()


# --- the add-in


def test_the_add_in_is_xlwings_shell_but_for_settings_and_macros() -> None:
    altered, added, lost = changed(ADD_IN_SHELL.read_bytes(), build_add_in())
    assert altered == {"xl/workbook.xml", "xl/worksheets/sheet1.xml", "docProps/core.xml", VBA_PART}
    assert not added
    assert not lost


def test_nothing_in_the_add_in_says_who_saved_the_shell_and_where() -> None:
    """The shell's `absPath` is a folder of its author's machine."""
    with zipfile.ZipFile(io.BytesIO(build_add_in())) as package:
        texts = {name: package.read(name).decode() for name in package.namelist() if name.endswith((".xml", ".rels"))}
    assert not any("absPath" in text or "Users" in text for text in texts.values())
    creators = re.findall(r"<(?:dc:creator|cp:lastModifiedBy)>([^<]*)<", texts["docProps/core.xml"])
    assert creators == ["Evenheft", "Evenheft"]


@pytest.mark.parametrize("how", ["the add-in", "a workbook", "a workbook brought up to date"])
def test_arguments_are_described_where_the_wizard_needs_no_macro(how: str, order: bytes) -> None:
    """[MS-XLSX] 2.2.5.3: an x14:definedName for each macro, its arguments by their index."""
    content = build_add_in() if how == "the add-in" else with_functions(checked(order))
    if how == "a workbook brought up to date":
        content = with_functions(checked(content))
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        workbook = ElementTree.fromstring(package.read("xl/workbook.xml"))
    names = workbook.findall(f".//{X14}definedName")
    assert {name.get("name"): [text.text for text in name.iter(f"{X14}argumentDescription")] for name in names} == {
        formula.name: [argument.help for argument in formula.arguments]
        for formula in REGISTRY.values()
        if formula.arguments
    }
    for name in names:
        (texts,) = name
        assert [text.get("index") for text in texts] == [str(n) for n in range(int(texts.get("count", "")))]
    assert workbook[-1].tag.endswith("}extLst"), "the last of a workbook's children"


def test_the_add_in_has_every_formula() -> None:
    assert functions_in(build_add_in()) == set(REGISTRY)


def test_the_add_in_names_what_answers() -> None:
    assert read_settings(build_add_in(r"C:\Käthe & Co\python.exe")) == {
        "Evenheft version": __version__,
        "xlwings version": xlwings.__version__,
        "Interpreter_Win": r"C:\Käthe & Co\python.exe",
    }


def test_without_an_interpreter_there_is_no_line_for_it() -> None:
    """An empty line would keep xlwings from looking into the user's own settings."""
    assert "Interpreter_Win" not in read_settings(build_add_in())


def test_another_reader_finds_the_settings_in_the_add_in(tmp_path: Path) -> None:
    """pyOpenVBA's model of a workbook is the one reader here that takes add-ins."""
    path = tmp_path / "evenheft.xlam"
    path.write_bytes(build_add_in(r"C:\Py\python.exe"))
    sheet = ExcelApplication.open(path, with_vba=False).sheet("evenheft.conf")
    assert [sheet.value(f"A{row}") for row in range(1, 4)] == list(read_settings(path.read_bytes()))
    assert sheet.value("B3") == r"C:\Py\python.exe"


def test_the_add_in_is_the_same_at_every_build() -> None:
    assert build_add_in() == build_add_in()


# --- workbooks


@pytest.mark.parametrize("which", ["rich", "order"])
def test_a_workbook_keeps_every_other_part_byte_for_byte(which: str, request: pytest.FixtureRequest) -> None:
    before = request.getfixturevalue(which)
    assert changed(before, with_functions(checked(before))) == (TOUCHED, {VBA_PART, SETTINGS_PART}, set())


@pytest.mark.parametrize("which", ["rich", "order"])
def test_a_workbook_with_functions_is_a_sound_package(which: str, request: pytest.FixtureRequest) -> None:
    """Every part is told of once, every relationship leads to a part, the sheets keep their order."""
    before = request.getfixturevalue(which)
    after = with_functions(checked(before))
    parts = parts_of(after)
    for name, data in parts.items():
        if name.endswith((".xml", ".rels")):
            ElementTree.fromstring(data)
    types = ElementTree.fromstring(parts["[Content_Types].xml"])
    typed = [element.attrib["PartName"] for element in types if "PartName" in element.attrib]
    assert len(typed) == len(set(typed))
    assert set(typed) <= {f"/{name}" for name in parts}
    by_part = {element.attrib.get("PartName"): element.attrib["ContentType"] for element in types}
    assert by_part["/xl/workbook.xml"] == "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
    assert by_part["/xl/vbaProject.bin"] == "application/vnd.ms-office.vbaProject"
    links = ElementTree.fromstring(parts["xl/_rels/workbook.xml.rels"])
    assert len({link.attrib["Id"] for link in links}) == len(links)
    for link in links:
        target = link.attrib["Target"]
        assert (target[1:] if target.startswith("/") else f"xl/{target}") in parts
    workbook = ElementTree.fromstring(parts["xl/workbook.xml"])
    sheets = [sheet.attrib for sheet in workbook.iter(f"{MAIN}sheet")]
    old = [
        sheet.attrib["name"]
        for sheet in ElementTree.fromstring(parts_of(before)["xl/workbook.xml"]).iter(f"{MAIN}sheet")
    ]
    assert [sheet["name"] for sheet in sheets] == [*old, "evenheft.conf"]
    assert sheets[-1]["state"] == "hidden"
    assert len({sheet["sheetId"] for sheet in sheets}) == len(sheets)
    properties = workbook.find(f"{MAIN}workbookPr")
    assert properties is not None
    assert properties.attrib["codeName"] == "ThisWorkbook"


@pytest.mark.parametrize("which", ["rich", "order"])
def test_the_functions_are_inside(which: str, request: pytest.FixtureRequest) -> None:
    assert functions_in(with_functions(checked(request.getfixturevalue(which)))) == set(REGISTRY)


def test_other_readers_see_the_same_workbook(rich: bytes) -> None:
    after = with_functions(checked(rich))
    with_macros = openpyxl.load_workbook(io.BytesIO(after), keep_vba=True)
    assert with_macros.sheetnames == ["Bench & co", "Chart", "evenheft.conf"]
    assert with_macros["evenheft.conf"].sheet_state == "hidden"
    assert with_macros["Bench & co"]["C1"].value == "=HEFT_POINTS(A1,B1)"
    with_macros.vba_archive.close()  # openpyxl keeps the macros open, and Python 3.13 minds which end goes first
    for content in (rich, after):
        assert Computed.from_bytes(content).value("Bench & co", 1, 3) == call(REGISTRY["HEFT_POINTS"], [431, 75.3])


def test_the_order_template_computes_as_before(order: bytes) -> None:
    before, after = Computed.from_bytes(order), Computed.from_bytes(with_functions(checked(order)))
    assert after.sheet_names == (*before.sheet_names, "evenheft.conf")
    for sheet in before.sheet_names:
        for row in range(1, 40):
            for column in range(1, 20):
                assert after.value(sheet, row, column) == before.value(sheet, row, column)


@pytest.mark.usefixtures("office_at_hand")
def test_libreoffice_opens_the_order_with_functions(order: bytes, tmp_path: Path) -> None:
    path = tmp_path / "order.xlsm"
    path.write_bytes(with_functions(checked(order)))
    opened = openpyxl.load_workbook(soffice_convert(path, "xlsx", tmp_path))
    plain = openpyxl.load_workbook(io.BytesIO(order))
    assert opened.sheetnames == [*plain.sheetnames, "evenheft.conf"]
    assert opened["evenheft.conf"].sheet_state == "hidden"
    assert set(opened.defined_names) >= set(plain.defined_names)


def test_a_template_is_told_as_one(order: bytes) -> None:
    for source in (order, template_file("xltx").read_bytes()):
        types = parts_of(with_functions(checked(source), kind="template"))["[Content_Types].xml"].decode()
        assert "application/vnd.ms-excel.template.macroEnabled.main+xml" in types
        assert "spreadsheetml.sheet.main+xml" not in types
        assert "spreadsheetml.template.main+xml" not in types


def edited(content: bytes, part: str, old: str, new: str) -> bytes:
    text = parts_of(content)[part].decode()
    assert old in text
    return with_parts(content, {part: text.replace(old, new)})


def test_a_workbook_whose_code_names_are_of_another_language(rich: bytes) -> None:
    """A German Excel names the workbook DieseArbeitsmappe, and the sheets Tabelle1 ...: only the former is ours."""
    content = edited(rich, "xl/workbook.xml", "<workbookPr ", "<workbookPr codeName='DieseArbeitsmappe' ")
    workbook = parts_of(with_functions(checked(content)))["xl/workbook.xml"].decode()
    assert re.findall(r"codeName=\S+", workbook) == ['codeName="ThisWorkbook"']


def test_a_workbook_without_properties_gets_them_in_their_place(rich: bytes) -> None:
    content = edited(rich, "xl/workbook.xml", '<workbookPr defaultThemeVersion="124226"/>', "")
    workbook = ElementTree.fromstring(parts_of(with_functions(checked(content)))["xl/workbook.xml"])
    names = [child.tag.removeprefix(MAIN) for child in workbook]
    assert names.index("workbookPr") == names.index("bookViews") - 1


def test_a_workbook_whose_elements_carry_a_prefix(rich: bytes) -> None:
    parts = parts_of(rich)
    workbook = re.sub(r"<(/?)(?=[a-z])", r"<\1x:", parts["xl/workbook.xml"].decode()).replace("xmlns=", "xmlns:x=", 1)
    links = re.sub(r"<(/?)(?=[A-Z])", r"<\1p:", parts["xl/_rels/workbook.xml.rels"].decode()).replace(
        "xmlns=", "xmlns:p=", 1
    )
    content = with_parts(rich, {"xl/workbook.xml": workbook.encode(), "xl/_rels/workbook.xml.rels": links.encode()})
    after = with_functions(checked(content))
    assert openpyxl.load_workbook(io.BytesIO(after)).sheetnames == ["Bench & co", "Chart", "evenheft.conf"]
    assert read_settings(after)["Evenheft version"] == __version__


def test_printer_settings_keep_their_type(rich: bytes) -> None:
    """Printers' settings are .bin parts too, told of by their ending."""
    default = '<Default Extension="bin" ContentType="application/printer"/>'
    content = edited(rich, "[Content_Types].xml", '<Default Extension="xml"', f'{default}<Default Extension="xml"')
    types = parts_of(with_functions(checked(content)))["[Content_Types].xml"].decode()
    assert default in types
    assert '<Override PartName="/xl/vbaProject.bin" ContentType="application/vnd.ms-office.vbaProject"/>' in types


# --- bringing a workbook up to date


def test_functions_of_another_version_are_brought_up_to_date(rich: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    fresh = with_functions(checked(rich))
    with monkeypatch.context() as patched:
        patched.setattr("evenheft.hosts.excel.building.configuration.__version__", "0.0.1")
        patched.setattr(
            "evenheft.hosts.excel.building.project.wrapper_module",
            lambda: "Public Function HEFT_OLD()\r\nEnd Function\r\n",
        )
        old = with_functions(checked(rich))
    assert read_settings(old)["Evenheft version"] == "0.0.1"
    assert functions_in(old) == {"HEFT_OLD"}
    new = with_functions(checked(old))
    assert changed(old, new)[0] == {VBA_PART, SETTINGS_PART}
    assert functions_in(new) == set(REGISTRY)
    assert parts_of(new)[SETTINGS_PART] == parts_of(fresh)[SETTINGS_PART]


def test_a_workbook_becomes_a_template_and_back(order: bytes) -> None:
    template = with_functions(checked(with_functions(checked(order))), kind="template")
    assert parts_of(template) == parts_of(with_functions(checked(order), kind="template"))
    assert parts_of(with_functions(checked(template))) == parts_of(with_functions(checked(order)))


# --- refusals


def macro_free_zip() -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as package:
        package.writestr("a.txt", "text")
    return target.getvalue()


@pytest.mark.parametrize(
    ("content", "line"),
    [
        (b"no zip at all", "mine.xlsx is not a workbook (.xlsx, .xlsm, .xltx)"),
        (macro_free_zip(), "mine.xlsx is a zip file, but not a workbook (.xlsx, .xlsm, .xltx)"),
        (WORKBOOK_SHELL.read_bytes(), "mine.xlsx has macros of its own: use it with the add-in instead"),
        (ADD_IN_SHELL.read_bytes(), "mine.xlsx is neither an .xlsx nor an .xlsm workbook"),
    ],
    ids=["bytes", "zip", "macros", "add-in"],
)
def test_what_cannot_be_served_is_refused_in_a_line(content: bytes, line: str) -> None:
    with pytest.raises(Refused) as raised:
        with_functions(checked(content))
    assert str(raised.value) == line


def test_a_sheet_of_the_settings_name_is_not_taken_over(rich: bytes) -> None:
    content = edited(rich, "xl/workbook.xml", 'name="Chart"', 'name="Evenheft.conf"')
    with pytest.raises(Refused, match=r"has a sheet named evenheft.conf already"):
        with_functions(checked(content))


def test_a_workbook_that_lost_its_settings_is_refused(rich: bytes) -> None:
    content = edited(with_functions(checked(rich)), "xl/workbook.xml", 'name="evenheft.conf"', 'name="other"')
    with pytest.raises(Refused, match=r"has lost its sheet evenheft.conf"):
        with_functions(checked(content))


def test_a_workbook_read_from_disk_is_not_changed(tmp_path: Path, rich: bytes) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_bytes(rich)
    with_functions(checked(path.read_bytes()))
    assert path.read_bytes() == rich
