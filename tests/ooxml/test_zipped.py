"""Packages put together, as zipfile reads them back."""

import io
import zipfile

from evenheft.ooxml.zipped import packed, stored

PARTS = {"first.xml": b"<a/>" * 100, "folder/second.bin": bytes(range(256))}


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        return {name: package.read(name) for name in package.namelist()}


def test_parts_are_packed_in_their_order_and_at_any_time_alike() -> None:
    content = packed(PARTS)
    assert list(parts_of(content).items()) == list(PARTS.items())
    assert content == packed(PARTS)
    assert len(content) < sum(map(len, PARTS.values()))


def test_parts_that_are_not_packed_read_back_alike() -> None:
    content = stored(PARTS)
    assert parts_of(content) == PARTS
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert {info.compress_type for info in package.infolist()} == {zipfile.ZIP_STORED}
