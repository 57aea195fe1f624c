"""Files of our own, put in place whole or not at all."""

import os
import stat
from pathlib import Path

import pytest

from evenheft.ooxml.placing import put_whole


def test_a_file_replaces_an_older_one_and_nothing_lies_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "add-in.bin"
    for content in (b"old, and longer", b"new"):
        put_whole(path, content)
        assert path.read_bytes() == content
        assert list(tmp_path.rglob("*")) == [path.parent, path]


def test_a_failure_leaves_the_older_file_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "start" / "add-in.bin"
    put_whole(path, b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OSError, match="No space left"):
        put_whole(path, b"new", by_way_of=tmp_path)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.rglob("*")) == [path.parent, path]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_others_may_read_it_as_any_new_file(tmp_path: Path) -> None:
    usual, ours = tmp_path / "usual", tmp_path / "ours"
    usual.write_bytes(b"")
    put_whole(ours, b"")
    assert stat.S_IMODE(ours.stat().st_mode) == stat.S_IMODE(usual.stat().st_mode)
