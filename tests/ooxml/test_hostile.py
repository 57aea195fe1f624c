"""Workbooks with any text changed at random: every command answers or refuses in one line, and never breaks."""

import io
import random
import re
import shutil
import struct
import zipfile
from pathlib import Path

import openpyxl
import pytest

from evenheft.hosts.embedded import EngineError
from evenheft.ooxml.edit import edit_cells, refresh_all
from evenheft.ooxml.edits import Cached, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage, open_package
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.plain.copy import plain_copy
from evenheft.order.supplier.book import build, read_returned
from evenheft.order.supplier.out import heads_wanted, open_for_supplier
from evenheft.order.supplier.received import arrivals
from evenheft.shop.adopt import survey
from evenheft.shop.wishes import Wishes
from evenheft.shop.writing import write_copy
from other_programs import xlsxwriter_made
from packages import with_parts
from shop_sheets import openpyxl_shop, xlsxwriter_shop

ODD = [
    "",
    "0",
    "-1",
    "x",
    "999999999999",
    "A1:",
    "1:1",
    "$A$1",
    "é",
    "1e999",
    "true",
    "&#0;",
    "..",
    "xl/workbook.xml",
    "  ",
]
TIMES = 40


def spoiled(path: Path, chance: random.Random, to: Path) -> Path:
    """A copy in which some attribute or text of one XML part is another."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as new:
        parts = [
            n
            for n in old.namelist()
            if re.search(r"worksheets/[^/]*\.xml$|workbook|rels$|Types|shared|styles|table", n)
        ]
        victim = chance.choice(parts)
        for name in old.namelist():
            text = old.read(name)
            if name == victim:
                places = list(re.finditer(rb'(?<==")[^"<>]*(?=")|(?<=>)[^<>]+(?=</)', text))
                for match in sorted(chance.sample(places, min(3, len(places))), key=lambda m: -m.start()):
                    text = text[: match.start()] + chance.choice(ODD).encode() + text[match.end() :]
            new.writestr(name, text)
    return to


def answered(action: object, *arguments: object) -> bool:
    """Whether an action succeeded; anything but a refusal in one line is a failure of the test."""
    try:
        action(*arguments)
    except (Refused, EngineError) as refusal:
        assert "\n" not in str(refusal)
        return False
    return True


@pytest.mark.parametrize("seed", range(TIMES))
def test_a_shops_workbook_is_adopted_and_written_or_refused(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    shop = chance.choice([xlsxwriter_shop, openpyxl_shop])(tmp_path)
    path = spoiled(shop, chance, tmp_path / f"spoiled{shop.suffix}")
    sheet = "Irons" if "macros" in shop.name else "Bench book"

    def adopt() -> None:
        wishes = Wishes(target="D2", tolerance=1)
        write_copy(survey(path, wishes, sheets=[sheet]), (), wishes, tmp_path / f"copy{shop.suffix}")

    if answered(adopt):
        with open_package(tmp_path / f"copy{shop.suffix}") as package:
            package.read(package.sheet(sheet).part)


@pytest.mark.parametrize("seed", range(TIMES))
def test_any_workbook_is_written_or_refused(tmp_path: Path, seed: int) -> None:
    chance = random.Random(1000 + seed)
    path = spoiled(xlsxwriter_made(tmp_path), chance, tmp_path / "spoiled.xlsm")
    before = shutil.copy(path, tmp_path / "before.xlsm")
    edits = {("Set", 4, 2): Put(1.5), ("Set", 90, 12): Put("x"), ("Set", 2, 5): Cached(3.0), ("Other", 2, 2): Put(None)}
    if answered(edit_cells, path, edits):
        with open_package(path) as package:
            for sheet in package.sheets:
                package.read(sheet.part)
    else:
        assert path.read_bytes() == Path(before).read_bytes()
    answered(refresh_all, path, lambda *_: 1.0)


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("hostile") / "order.xlsx"
    path.write_bytes(save_bytes(build_demo()))
    return path


@pytest.mark.parametrize("seed", range(TIMES))
def test_what_comes_back_is_received_or_refused(order: Path, tmp_path: Path, seed: int) -> None:
    opened = open_for_supplier(order)
    sent = tmp_path / "sent.xlsx"
    sent.write_bytes(build(heads_wanted(opened)))
    path = spoiled(sent, random.Random(2000 + seed), tmp_path / "spoiled.xlsx")
    answered(lambda: arrivals(opened, read_returned(path)))


@pytest.mark.parametrize("seed", range(TIMES // 3))
def test_an_order_is_shared_or_refused(order: Path, tmp_path: Path, seed: int) -> None:
    path = spoiled(order, random.Random(3000 + seed), tmp_path / "spoiled.xlsx")
    answered(lambda: build(heads_wanted(open_for_supplier(path))))
    answered(plain_copy, path, tmp_path / "plain.xlsx")


@pytest.mark.parametrize("more", [1, 3, 22, 189])
def test_a_directory_that_claims_more_than_it_has_is_damaged(more: int) -> None:
    """zipfile reads on into the end of the file; a copy of it, record by record, could not be opened."""
    content = bytearray(save_bytes(build_demo()))
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        last = package.infolist()[-1].orig_filename.encode()
    at = content.rindex(b"PK\x01\x02")
    assert content[at + 46 : at + 46 + len(last)] == last
    content[at + 30 : at + 32] = struct.pack("<H", more)
    with pytest.raises(Refused, match="damaged or cut off"):
        CheckedPackage(bytes(content), name="order.xlsx")


def test_two_sheets_of_the_same_cells_are_refused() -> None:
    book = openpyxl.Workbook()
    book.create_sheet("Other")
    made = io.BytesIO()
    book.save(made)
    with zipfile.ZipFile(made) as package:
        links = package.read("xl/_rels/workbook.xml.rels").replace(b"sheet2.xml", b"sheet1.xml")
    with pytest.raises(Refused, match="has two sheets that are the same cells"):
        CheckedPackage(with_parts(made.getvalue(), {"xl/_rels/workbook.xml.rels": links}), name="order.xlsx")
