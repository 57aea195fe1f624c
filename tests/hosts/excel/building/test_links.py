"""Workbooks whose formulas point at somebody else's add-in, as Excel writes them into the file."""

from __future__ import annotations

import io
import zipfile

import pytest

from evenheft.hosts.embedded import Computed
from evenheft.hosts.excel.building.links import START_FOLDER_LINK, foreign_add_ins, relinked
from linked_books import PART, PATH_LINK, PATH_MISSING, linked, links_of
from packages import checked


@pytest.mark.parametrize(
    ("target", "named"),
    [
        ("file:///C:\\Users\\Pat\\AppData\\evenheft.xlam", "C:\\Users\\Pat\\AppData\\evenheft.xlam"),
        ("file:///C:\\Users\\Pat%20M\\evenheft.xlam", "C:\\Users\\Pat M\\evenheft.xlam"),
        ("/Users/Pat/AppData/EVENHEFT.XLAM", "/Users/Pat/AppData/EVENHEFT.XLAM"),
        ("evenheft%20(1).xlam", "evenheft (1).xlam"),
    ],
)
@pytest.mark.parametrize("kind", [PATH_LINK, PATH_MISSING])
def test_a_link_to_somebody_elses_add_in_is_turned_to_the_start_folder(kind: str, target: str, named: str) -> None:
    book = linked((kind, target))
    assert foreign_add_ins(checked(book)) == [named]
    assert links_of(relinked(checked(book))) == [(START_FOLDER_LINK, "evenheft.xlam")]
    assert foreign_add_ins(checked(relinked(checked(book)))) == []


def test_links_to_anything_else_stay() -> None:
    others = [(PATH_LINK, "prices.xlsx"), (PATH_LINK, "file:///C:\\solver.xlam"), (START_FOLDER_LINK, "PERSONAL.XLSB")]
    book = linked(*others, (PATH_LINK, "file:///D:\\evenheft.xlam"))
    assert foreign_add_ins(checked(book)) == ["D:\\evenheft.xlam"]
    assert links_of(relinked(checked(book))) == [*others, (START_FOLDER_LINK, "evenheft.xlam")]


def test_a_workbook_that_is_right_already_stays_as_it_is() -> None:
    book = linked((START_FOLDER_LINK, "evenheft.xlam"))
    assert foreign_add_ins(checked(book)) == []
    assert links_of(relinked(checked(book))) == links_of(book)


def test_every_other_part_stays_byte_for_byte() -> None:
    book = linked((PATH_LINK, "file:///D:\\evenheft.xlam"))
    with zipfile.ZipFile(io.BytesIO(book)) as old, zipfile.ZipFile(io.BytesIO(relinked(checked(book)))) as new:
        assert old.namelist() == new.namelist()
        assert [name for name in old.namelist() if old.read(name) != new.read(name)] == [PART]


def test_the_formulas_compute_as_before() -> None:
    book = linked((PATH_LINK, "file:///D:\\evenheft.xlam"))
    assert Computed.from_bytes(relinked(checked(book))).value("Bench", 1, 1) == Computed.from_bytes(book).value(
        "Bench", 1, 1
    )
