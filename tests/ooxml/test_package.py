"""Opening files that somebody else made: what is refused, in which words, and what is only told."""

import os
import re
import struct
import zipfile
from pathlib import Path

import openpyxl
import pytest

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.limits import LIMITS, Limits
from evenheft.ooxml.package import open_package, read_package
from other_programs import read_part

OLE_HEADER = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    workbook = openpyxl.Workbook()
    workbook.active.title = "Irons"
    workbook.active["A1"] = 431
    workbook.create_sheet("Away").sheet_state = "hidden"
    path = tmp_path / "shop.xlsx"
    workbook.save(path)
    return path


def rezipped(path: Path, *, add: dict[str, bytes] | None = None, replace: dict[str, bytes] | None = None) -> Path:
    """A copy with parts added or replaced, as an attacker would make it."""
    target = path.with_name("bad.xlsx")
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, (replace or {}).get(name, old.read(name)))
        for name, data in (add or {}).items():
            new.writestr(name, data)
    return target


def refusal(path: Path, limits: Limits | None = None) -> str:
    with pytest.raises(Refused) as refused:
        read_package(path, limits=limits or Limits())
    line = str(refused.value)
    assert "\n" not in line
    assert path.name in line
    return line


HIDDEN = 'it has a hidden sheet: "Away"'


def test_a_plain_workbook_is_read_with_its_sheets_and_the_hidden_one_is_told(plain: Path) -> None:
    package = read_package(plain)
    assert [(s.name, s.part, s.hidden) for s in package.sheets] == [
        ("Irons", "xl/worksheets/sheet1.xml", False),
        ("Away", "xl/worksheets/sheet2.xml", True),
    ]
    assert package.content == plain.read_bytes()
    assert package.warnings == (HIDDEN,)
    assert package.sheet("IRONS").name == "Irons"
    with pytest.raises(Refused, match=r'has no sheet "Woods": it has Irons, Away'):
        package.sheet("Woods")


@pytest.mark.parametrize("kind", ["xltx", "xlsm"])
def test_templates_and_macro_workbooks_are_workbooks(plain: Path, kind: str) -> None:
    content = read_part(plain, "[Content_Types].xml")
    main = {"xltx": b"spreadsheetml.template.main", "xlsm": b"ms-excel.sheet.macroEnabled.main"}[kind]
    types = content.replace(b"openxmlformats-officedocument.spreadsheetml.sheet.main", main)
    package = read_package(rezipped(plain, replace={"[Content_Types].xml": types}))
    assert main.decode() in package.content_type(package.workbook_part)


def test_no_such_file_and_folders_and_pipes_are_one_line(tmp_path: Path) -> None:
    assert refusal(tmp_path / "gone.xlsx") == "gone.xlsx cannot be read: there is no such file"
    assert "folder" in refusal(tmp_path)
    os.mkfifo(tmp_path / "pipe.xlsx")
    assert "device" in refusal(tmp_path / "pipe.xlsx")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is empty"),
        (b"club,mass\n1,431\n", "is not a workbook"),
        (OLE_HEADER + b"\0" * 504 + "Workbook".encode("utf-16-le"), "old .xls format"),
        (OLE_HEADER + b"\0" * 504 + "EncryptedPackage".encode("utf-16-le"), "password"),
        (b"PK\x03\x04" + b"\0" * 100, "damaged or cut off"),
    ],
)
def test_what_is_no_zip_is_told_by_what_it_is(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "order.xlsx"
    path.write_bytes(content)
    assert words in refusal(path)


def test_a_file_cut_off_anywhere_is_refused(plain: Path) -> None:
    content = plain.read_bytes()
    for length in range(9, len(content) - 1, 97):
        path = plain.with_name("cut.xlsx")
        path.write_bytes(content[:length])
        assert "damaged" in refusal(path)


def test_a_flipped_byte_never_gives_a_traceback(plain: Path) -> None:
    content = plain.read_bytes()
    for at in range(0, len(content), 53):
        path = plain.with_name("flipped.xlsx")
        path.write_bytes(content[:at] + bytes([content[at] ^ 0x55]) + content[at + 1 :])
        try:
            read_package(path)
        except Refused as refused:
            assert "flipped.xlsx" in str(refused)


def test_other_zips_are_named(plain: Path, tmp_path: Path) -> None:
    for parts, words in [
        ({"a.txt": b"a"}, "zip file, but not a workbook"),
        ({"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": b"<a/>"}, "OpenDocument"),
    ]:
        path = tmp_path / "other.zip"
        with zipfile.ZipFile(path, "w") as package:
            for name, data in parts.items():
                package.writestr(name, data)
        assert words in refusal(path)
    types = read_part(plain, "[Content_Types].xml")
    sheet = b"openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
    for main, words in [
        (b"openxmlformats-officedocument.wordprocessingml.document.main+xml", "office document, but not a workbook"),
        (b"ms-excel.sheet.binary.macroEnabled.main", ".xlsb"),
        (b"ms-excel.addin.macroEnabled.main+xml", "add-in"),
    ]:
        assert words in refusal(rezipped(plain, replace={"[Content_Types].xml": types.replace(sheet, main)}))


@pytest.mark.parametrize(
    "name", ["../evil.xml", "xl/../../evil.xml", "/etc/passwd", "C:\\evil.xml", "xl\\evil.xml", "xl/./evil.xml"]
)
def test_a_part_whose_name_leaves_the_workbook_is_refused(plain: Path, name: str) -> None:
    assert "leaves the workbook" in refusal(rezipped(plain, add={name: b"<a/>"}))


def test_a_part_held_twice_is_refused_whatever_its_case(plain: Path) -> None:
    assert "twice" in refusal(rezipped(plain, add={"XL/Workbook.xml": b"<a/>"}))


def test_encryption_of_the_zip_itself_is_told(plain: Path) -> None:
    content = bytearray(plain.read_bytes())
    at = content.index(b"PK\x01\x02")
    content[at + 8] |= 1
    path = plain.with_name("locked.xlsx")
    path.write_bytes(content)
    assert "encrypted" in refusal(path)


@pytest.mark.parametrize("packing", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_packing_that_no_spreadsheet_reads_is_refused(plain: Path, packing: int) -> None:
    with zipfile.ZipFile(plain, "a", packing) as package:
        package.writestr("xl/media/a.bin", b"a" * 1000)
    assert "packs its part" in refusal(plain)


@pytest.mark.parametrize(
    "text",
    [
        b'<!DOCTYPE a [<!ENTITY b "c">]><a/>',
        b'<?xml version="1.0"?>\n<!-- quiet -->\n<!DOCTYPE a SYSTEM "http://example.invalid/a.dtd"><a/>',
        '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE a><a/>'.encode("utf-16"),
        b"\xef\xbb\xbf<!DOCTYPE a><a/>",
    ],
)
@pytest.mark.parametrize("name", ["xl/theme/theme9.xml", "xl/odd.bin", "xl/drawings/vmlDrawing1.vml"])
def test_a_doctype_is_refused_wherever_it_is(plain: Path, text: bytes, name: str) -> None:
    assert "DOCTYPE" in refusal(rezipped(plain, add={name: text}))


def test_entities_cannot_be_told_from_a_doctype(plain: Path) -> None:
    laughs = b'<!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><sst>&b;</sst>'
    assert "DOCTYPE" in refusal(rezipped(plain, replace={"xl/styles.xml": laughs}))


def test_xml_in_another_encoding_or_broken_or_too_deep_is_refused(plain: Path) -> None:
    seven = b'<?xml version="1.0" encoding="ISO-8859-1"?><a/>'
    assert "ISO-8859-1" in refusal(rezipped(plain, replace={"xl/styles.xml": seven}))
    assert "not well-formed" in refusal(rezipped(plain, replace={"xl/styles.xml": b"<a><b></a>"}))
    assert "is empty" in refusal(rezipped(plain, replace={"xl/styles.xml": b""}))
    deep = b"<a>" * 100 + b"</a>" * 100
    assert "deeper" in refusal(rezipped(plain, replace={"xl/styles.xml": deep}))


def test_bombs_are_refused_before_they_expand(plain: Path) -> None:
    assert "more than 250 times" in refusal(rezipped(plain, add={"xl/media/a.xml": b" " * (20 << 20)}))
    some = rezipped(plain, add={"xl/media/a.bin": os.urandom(3000)})
    assert "would expand to" in refusal(some, Limits(expanded_bytes=4000))
    assert "would expand its part" in refusal(some, Limits(part_bytes=2000))
    assert "parts, at most 5" in refusal(some, Limits(entries=5))
    assert "is too large" in refusal(some, Limits(file_bytes=3000))


def test_a_part_larger_than_it_says_is_refused(plain: Path) -> None:
    path = rezipped(plain, add={"xl/media/a.xml": b"<a>" + b" " * 100_000 + b"</a>"})
    content = bytearray(path.read_bytes())
    at = content.rindex(b"PK\x01\x02")  # the directory's entry of the part that was added last
    content[at + 24 : at + 28] = struct.pack("<I", 10)
    path.write_bytes(content)
    assert "damaged" in refusal(path)


def test_parts_that_share_bytes_are_refused(plain: Path) -> None:
    path = rezipped(plain, add={"xl/media/a.bin": b"a", "xl/media/b.bin": b"b"})
    content = bytearray(path.read_bytes())
    last = content.rindex(b"PK\x01\x02")
    before = content.rindex(b"PK\x01\x02", 0, last)
    content[last + 42 : last + 46] = content[before + 42 : before + 46]
    path.write_bytes(content)
    assert "overlap" in refusal(path)


def test_a_zip_behind_something_else_is_refused(plain: Path) -> None:
    path = plain.with_name("behind.xlsx")
    path.write_bytes(b"PK\x03\x04MZ" + plain.read_bytes())
    assert "in front of" in refusal(path)


def test_what_could_run_is_told_and_never_run(plain: Path) -> None:
    dde = b'<externalLink xmlns="x"><ddeLink ddeService="cmd" ddeTopic="/c calc"/></externalLink>'
    path = rezipped(
        plain,
        add={
            "xl/vbaProject.bin": b"\xd0\xcf",
            "xl/externalLinks/externalLink1.xml": dde,
            "xl/connections.xml": b"<connections/>",
            "xl/embeddings/oleObject1.bin": b"\xd0\xcf",
        },
    )
    warnings = " ".join(read_package(path).warnings)
    for word in ("macros", "other workbooks", "DDE", "connections", "embedded objects"):
        assert word in warnings


@pytest.mark.parametrize(
    ("formula", "warned"),
    [("cmd|'/c calc'!A0", True), ('WEBSERVICE("http://example.invalid")', True), ("SUM(B1:B2)", False)],
)
def test_formulas_that_reach_out_are_told(plain: Path, formula: str, warned: bool) -> None:
    sheet = read_part(plain, "xl/worksheets/sheet1.xml")
    changed = sheet.replace(b"</sheetData>", f'<row r="9"><c r="A9"><f>{formula}</f></c></row></sheetData>'.encode())
    assert changed != sheet
    warnings = read_package(rezipped(plain, replace={"xl/worksheets/sheet1.xml": changed})).warnings
    assert any("call other programs" in warning for warning in warnings) == warned


def test_pictures_kept_elsewhere_are_told(plain: Path) -> None:
    links = (
        b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
        b'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/%s" '
        b'Target="http://example.invalid/a.png" TargetMode="External"/></Relationships>'
    )
    for kind, warned in [(b"image", True), (b"hyperlink", False)]:
        path = rezipped(plain, add={"xl/drawings/_rels/drawing1.xml.rels": links % kind})
        assert any("kept elsewhere" in warning for warning in read_package(path).warnings) == warned


def test_a_missing_part_is_named(plain: Path) -> None:
    with open_package(plain) as package, pytest.raises(Refused, match=r"lacks its part xl/none\.xml"):
        package.read("xl/none.xml")


def test_open_package_reads_only_what_is_asked(plain: Path) -> None:
    path = rezipped(plain, add={"xl/theme/theme9.xml": b"<!DOCTYPE a><a/>"})
    with open_package(path) as package:
        assert package.read("xl/worksheets/sheet1.xml").startswith(b"<")
        with pytest.raises(Refused, match="DOCTYPE"):
            package.read("xl/theme/theme9.xml")


def test_the_documented_limits_are_the_ones_that_hold() -> None:
    text = (Path(__file__).parents[2] / "docs" / "security.md").read_text(encoding="utf-8")
    found = [int(number) for number in re.findall(r"^\| .* \| (\d+)(?: MB| times)? \|$", text, re.MULTILINE)]
    assert found == [
        LIMITS.file_bytes >> 20, LIMITS.entries, LIMITS.expanded_bytes >> 20, LIMITS.part_bytes >> 20, LIMITS.ratio,
        LIMITS.depth,
    ]  # fmt: skip
    assert f"a part of more than {LIMITS.ratio_from >> 20} MB" in text


def test_hidden_sheets_of_every_kind_are_told(plain: Path) -> None:
    workbook = read_part(plain, "xl/workbook.xml")
    away = b'<sheet name="Prices" sheetId="81" state="hidden"/><sheet name="Old" sheetId="82" state="veryHidden"/>'
    many = b"".join(b'<sheet name="More %d" sheetId="%d" state="hidden"/>' % (n, 90 + n) for n in range(6))
    two = rezipped(plain, replace={"xl/workbook.xml": workbook.replace(b"</sheets>", away + b"</sheets>")})
    assert read_package(two).warnings == ('it has 3 hidden sheets: "Away"; "Prices"; "Old", which no menu shows',)
    all_of_them = rezipped(
        plain, replace={"xl/workbook.xml": workbook.replace(b"</sheets>", away + many + b"</sheets>")}
    )
    (warning,) = read_package(all_of_them).warnings
    assert warning.endswith("and 4 more")


def test_a_name_that_reaches_out_is_told(plain: Path) -> None:
    workbook = read_part(plain, "xl/workbook.xml")
    name = b"<definedNames><definedName name=\"a\">cmd|'/c calc'!A0</definedName></definedNames></workbook>"
    path = rezipped(plain, replace={"xl/workbook.xml": workbook.replace(b"</workbook>", name)})
    assert read_package(path).warnings == (
        HIDDEN,
        "it has names that call other programs or the network, which are not run",
    )
