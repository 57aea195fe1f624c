"""Packages written anew: what is not meant stays as it was, packed as it was."""

from __future__ import annotations

import io
import zipfile

import pytest
import xlsxwriter

from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.rewriting import rewritten
from packages import checked, with_parts


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert package.testzip() is None
        return {name: package.read(name) for name in package.namelist()}


@pytest.fixture
def book() -> bytes:
    target = io.BytesIO()
    with xlsxwriter.Workbook(target, {"in_memory": True}) as made:
        made.add_worksheet("Bench").write_row("A1", ["club", 395.0])
    return with_parts(target.getvalue(), {"docProps/stored.bin": b"aaaa"})


def test_a_part_is_replaced_in_its_place_and_a_new_one_stands_last(book: bytes) -> None:
    after = rewritten(checked(book), {"xl/ü.xml": b"<b/>", "docProps/stored.bin": b"bb"})
    assert list(parts_of(after)) == [*parts_of(book), "xl/ü.xml"]
    differing = {name for name, data in parts_of(book).items() if parts_of(after)[name] != data}
    assert differing == {"docProps/stored.bin"}
    assert parts_of(after)["xl/ü.xml"] == b"<b/>"
    assert after == rewritten(checked(book), {"xl/ü.xml": b"<b/>", "docProps/stored.bin": b"bb"})


def test_a_part_is_left_out(book: bytes) -> None:
    after = rewritten(checked(book), {}, dropped=["docProps/stored.bin"])
    assert set(parts_of(book)) - set(parts_of(after)) == {"docProps/stored.bin"}
    assert CheckedPackage(after, name="again").sheets == checked(book).sheets


def test_what_is_not_meant_keeps_its_date_and_its_packing(book: bytes) -> None:
    source = io.BytesIO(book)
    with zipfile.ZipFile(source, "a") as package:
        package.writestr(zipfile.ZipInfo("xl/s.bin", (2026, 11, 25, 9, 30, 0)), b"aaaa", zipfile.ZIP_STORED)
    with zipfile.ZipFile(io.BytesIO(rewritten(checked(source.getvalue()), {"new.xml": b"<b/>"}))) as package:
        info = package.getinfo("xl/s.bin")
    assert info.date_time == (2026, 11, 25, 9, 30, 0)
    assert info.compress_type == zipfile.ZIP_STORED
