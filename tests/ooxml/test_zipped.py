"""Packages put together, as zipfile reads them back."""

import io
import zipfile

from evenheft.ooxml.zipped import packed, rewritten

PARTS = {"first.xml": b"<a/>" * 100, "folder/second.bin": bytes(range(256))}


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        return {name: package.read(name) for name in package.namelist()}


def test_parts_are_packed_in_their_order_and_at_any_time_alike() -> None:
    content = packed(PARTS)
    assert list(parts_of(content).items()) == list(PARTS.items())
    assert content == packed(PARTS)
    assert len(content) < sum(map(len, PARTS.values()))


def test_a_part_is_replaced_in_its_place_and_a_new_one_stands_last() -> None:
    content = rewritten(packed(PARTS), {"new.xml": b"<b/>", "first.xml": b""})
    assert list(parts_of(content).items()) == [
        ("first.xml", b""), ("folder/second.bin", PARTS["folder/second.bin"]), ("new.xml", b"<b/>")
    ]  # fmt: skip


def test_what_is_not_meant_keeps_its_date_and_its_packing() -> None:
    source = io.BytesIO()
    with zipfile.ZipFile(source, "w") as package:
        package.writestr(zipfile.ZipInfo("stored.bin", (2026, 11, 25, 9, 30, 0)), b"aaaa", zipfile.ZIP_STORED)
    with zipfile.ZipFile(io.BytesIO(rewritten(source.getvalue(), {"new.xml": b"<b/>"}))) as package:
        info = package.getinfo("stored.bin")
    assert info.date_time == (2026, 11, 25, 9, 30, 0)
    assert info.compress_type == zipfile.ZIP_STORED
