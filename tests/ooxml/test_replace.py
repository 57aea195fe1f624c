"""A file is the whole old or the whole new one, whatever goes wrong while it is written."""

import hashlib
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from evenheft.ooxml.edit import edit_cells
from evenheft.ooxml.edits import Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import read_package
from evenheft.ooxml.replace import leftovers, other_names, state_of, written_beside
from other_programs import xlsxwriter_made

KILLS = 200


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    (tmp_path / "made").mkdir()
    return shutil.copy(xlsxwriter_made(tmp_path / "made"), tmp_path / "shop.xlsm")


def write(path: Path, content: bytes, **options: object) -> None:
    with written_beside(path, **options) as stream:
        stream.write(content)


def alone(path: Path) -> list[str]:
    return sorted(p.name for p in path.parent.iterdir() if p.name != "made")


def test_a_new_file_is_written_once_and_not_over_another(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    write(path, b"one", overwrite=False)
    with pytest.raises(Refused, match="there already"):
        write(path, b"two", overwrite=False)
    assert path.read_bytes() == b"one"
    assert alone(path) == ["new.xlsx"]


def test_a_name_taken_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    with pytest.raises(Refused, match="there already"), written_beside(path, overwrite=False) as stream:
        stream.write(b"ours")
        path.write_bytes(b"theirs")
    assert path.read_bytes() == b"theirs"


def test_an_error_in_the_middle_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")
    with pytest.raises(RuntimeError), written_beside(path) as stream:
        stream.write(b"half")
        raise RuntimeError
    assert path.read_bytes() == b"old"
    assert alone(path) == ["a.xlsx"]


def test_the_old_file_is_kept_where_asked_and_rights_stay(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write(path, b"new", backup=True)
    write(path, b"newer", backup=True)
    assert path.read_bytes() == b"newer"
    assert path.with_name("a.xlsx.bak").read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640
    assert alone(path) == ["a.xlsx", "a.xlsx.bak"]


def test_a_link_stays_a_link_and_its_file_is_written(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    real = tmp_path / "there" / "real.xlsx"
    real.write_bytes(b"old")
    link = tmp_path / "link.xlsx"
    link.symlink_to(real)
    write(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


@pytest.mark.parametrize("lock", [".~lock.a.xlsx#", "~$a.xlsx"])
def test_a_workbook_that_is_open_elsewhere_is_left(tmp_path: Path, lock: str) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")
    (tmp_path / lock).write_text("somebody")
    with pytest.raises(Refused, match="open in a spreadsheet program"):
        write(path, b"new")
    assert path.read_bytes() == b"old"


def test_a_read_only_workbook_a_folder_and_a_missing_folder_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o444)
    with pytest.raises(Refused, match="read-only"):
        write(path, b"new")
    with pytest.raises(Refused, match="folder or a device"):
        write(tmp_path, b"new")
    with pytest.raises(Refused, match="there is no folder gone"):
        write(tmp_path / "gone" / "a.xlsx", b"new")


def test_a_change_by_another_program_is_not_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"old")
    seen = state_of(path)
    path.write_bytes(b"changed by another")
    with pytest.raises(Refused, match="changed by another program"):
        write(path, b"new", expected=seen)
    assert path.read_bytes() == b"changed by another"


def test_old_leftovers_of_killed_runs_are_removed_and_fresh_ones_kept(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    old, fresh = tmp_path / ".a.xlsx.evenheft-1.tmp", tmp_path / ".a.xlsx.evenheft-2.tmp"
    for left in (old, fresh):
        left.write_bytes(b"half")
    os.utime(old, (time.time() - 7200,) * 2)
    assert leftovers(tmp_path) == [old, fresh]
    assert leftovers(tmp_path / "gone") == []
    write(path, b"new")
    assert alone(path) == [".a.xlsx.evenheft-2.tmp", "a.xlsx"]


def test_a_full_disk_leaves_the_old_workbook(shop: Path) -> None:
    if os.geteuid() != 0:
        pytest.skip("only root may mount a small disk")
    disk = shop.parent / "disk"
    disk.mkdir()
    size = shop.stat().st_size + 30_000
    if subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(disk)], check=False).returncode:
        pytest.skip("this machine lets nobody mount a disk")
    try:
        path = Path(shutil.copy(shop, disk / "shop.xlsm"))
        old = path.read_bytes()
        with pytest.raises(Refused, match="disk is full"):
            edit_cells(path, {("Set", 3, 40): Put("new")})
        assert path.read_bytes() == old
        assert alone(path) == ["shop.xlsm"]
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_limit_on_file_sizes_leaves_the_old_workbook(shop: Path) -> None:
    old = shop.read_bytes()
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (len(old) // 2,) * 2)
        try:
            edit_cells(shop, {("Set", 3, 40): Put("new")})
        except Refused as reason:
            os._exit(7 if "left as it was" in str(reason) else 8)
        except BaseException:
            os._exit(9)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 7
    assert shop.read_bytes() == old
    assert alone(shop) == ["shop.xlsm"]


def test_a_new_file_for_which_there_is_no_room_is_not_written_and_said_so(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))
        try:
            write(path, bytes(1000), overwrite=False)
        except Refused as reason:
            os._exit(7 if str(reason).startswith("new.xlsx is not written: ") else 8)
        except BaseException:
            os._exit(9)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 7
    assert alone(path) == []


def test_other_names_of_a_file_are_told(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    assert other_names(path) == ()
    path.write_bytes(b"old")
    assert other_names(path) == ()
    os.link(path, tmp_path / "b.xlsx")
    assert "another name elsewhere (a hard link)" in other_names(path)[0]
    os.link(path, tmp_path / "c.xlsx")
    assert "2 other names" in other_names(path)[0]
    write(path, b"new", backup=True)
    assert (tmp_path / "b.xlsx").read_bytes() == b"old"
    assert other_names(path) == ()


def test_killed_at_any_moment_the_workbook_is_the_old_or_the_new_one(shop: Path) -> None:
    chance = random.Random(20261125)
    edits = [{("Set", 3, 40): Put("first")}, {("Set", 3, 40): Put("second")}]
    edit_cells(shop, edits[1])
    begun = time.perf_counter()
    versions = []
    for edit in edits:
        edit_cells(shop, edit)
        versions.append(hashlib.sha256(shop.read_bytes()).digest())
    usual = (time.perf_counter() - begun) / 2
    seen, killed = {0: 0, 1: 0}, 0
    for _ in range(KILLS):
        now = versions.index(hashlib.sha256(shop.read_bytes()).digest())
        child = os.fork()
        if child == 0:
            edit_cells(shop, edits[1 - now], backup=True)
            os._exit(0)
        time.sleep(chance.uniform(0, 2.5 * usual))
        os.kill(child, signal.SIGKILL)
        killed += os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) < 0
        left = versions.index(hashlib.sha256(shop.read_bytes()).digest())  # neither is a ValueError
        seen[abs(left - now)] += 1
        kept = shop.with_name("shop.xlsm.bak")
        assert not kept.exists() or hashlib.sha256(kept.read_bytes()).digest() in versions
    read_package(shop)
    print(f"{KILLS} kills: {killed} hit a running write; {seen[0]} left the old, {seen[1]} the new workbook")
    assert killed > KILLS // 4
    assert min(seen.values()) > 0


def test_the_door_survives_a_kill_too(shop: Path) -> None:
    """A whole process, as a builder runs it, killed while it starts, reads or writes."""
    code = (
        "import sys; from pathlib import Path; from evenheft.ooxml.edit import edit_cells; "
        "from evenheft.ooxml.cells import Put; "
        "edit_cells(Path(sys.argv[1]), {('Set', 3, 40): Put('new')})"
    )
    old = shop.read_bytes()
    for wait in (0.02, 0.1, 0.2):
        process = subprocess.Popen([sys.executable, "-c", code, str(shop)])
        time.sleep(wait)
        process.kill()
        process.wait()
        assert shop.read_bytes() == old or read_package(shop).sheets
