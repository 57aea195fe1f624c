"""Every command that writes, where writing or printing fails: its file is whole, or not there, and told in one line.

    python tests/fuzz/surroundings.py            # each command in each surrounding
    python tests/fuzz/surroundings.py --few      # each command once, and each surrounding
    python tests/fuzz/surroundings.py new "no room on the disk"

Nothing is random. It needs Linux, and for some surroundings the rights of root (they are left out without).
"""

from __future__ import annotations

import io
import itertools
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from fuzz.commands import Ran, load, run
from fuzz.kills import WRITING as KILLED
from fuzz.kills import Writing, files_of
from fuzz.workbooks import Sources, damage_of, sources

WRITING: Writing = {
    **KILLED,
    "new": (["new", "new.xlsx"], [], "new.xlsx"),
    "shop new": (["shop", "new", "new.xlsx"], [], "new.xlsx"),
    "plan --to": (["plan", "plan.xlsx", "--to", "new.xlsx"], ["plan.xlsx"], ""),
    "excel relink": (["excel", "relink", "made.xlsm", "--to", "new.xlsm"], ["made.xlsm"], ""),
    "excel build": (["excel", "build", "--to", "."], [], "evenheft.xlam"),
    "calc build": (["calc", "build", "."], [], "evenheft.oxt"),
    "templates": (["templates", "."], [], "evenheft-order.xlsx"),
}
"""What is typed, beside which files, and what it writes; nothing where there is nothing to write."""
MAY_HAVE_NOTHING_TO_WRITE = ("check --save",)
SMALL_DISK = "24k"


@dataclass(frozen=True)
class Surrounding:
    """Where a command runs."""

    prepare: Callable[[Path, str], None] | None = None
    """Changes the folder before the run, knowing what is to be written."""
    out: str = ""
    """Where it prints: a device, "closed" or a character set; a file where left out."""
    disk: str = ""
    """The size of the disk that the folder lies on; the machine's where left out."""
    may_refuse: bool = True
    """Whether the command may write nothing."""


def _beside(other: str) -> Callable[[Path, str], None]:
    def prepare(folder: Path, written: str) -> None:
        if not written:
            return
        path = folder / written
        path.parent.mkdir(exist_ok=True)
        old = path.read_bytes() if path.exists() else None
        if other == "a folder":
            path.unlink(missing_ok=True)
            path.mkdir()
        elif other == "a hard link":
            if old is None:
                path.write_bytes(b"older")
            os.link(path, folder / "second name")
        elif other == "a link":
            (folder / "led to").write_bytes(old or b"older")
            path.unlink(missing_ok=True)
            path.symlink_to("led to")
        elif other == "a link to nothing":
            path.unlink(missing_ok=True)
            path.symlink_to("nothing/there")
        elif other == "a pipe":
            path.unlink(missing_ok=True)
            os.mkfifo(path)
        else:
            path.write_bytes(old or b"older")

    return prepare


SURROUNDINGS: dict[str, Surrounding] = {
    "nobody reads what it prints": Surrounding(out="closed", may_refuse=False),
    "no room for what it prints": Surrounding(out="/dev/full", may_refuse=False),
    "a terminal that speaks ASCII": Surrounding(out="ascii", may_refuse=False),
    "a terminal that speaks cp1252": Surrounding(out="cp1252", may_refuse=False),
    "no room on the disk": Surrounding(disk=SMALL_DISK),
    **{f"{other} of that name": Surrounding(prepare=_beside(other)) for other in (
        "a file", "a folder", "a hard link", "a link", "a link to nothing", "a pipe")},
}  # fmt: skip


@contextmanager
def disk(size: str, folder: Path) -> Iterator[None]:
    """Put a small disk under a folder, over what the folder holds."""
    held = {path.name: path.read_bytes() for path in folder.iterdir()}
    room = int(size.removesuffix("k")) * 1024 + sum((len(content) // 4096 + 1) * 4096 for content in held.values())
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={room}", "none", folder], check=True)
    try:
        for name, content in held.items():
            (folder / name).write_bytes(content)
        yield
    finally:
        subprocess.run(["umount", folder], check=True)


def can_mount(base: Path) -> bool:
    """Whether this machine lets a small disk be made: neither a user nor most containers may."""
    folder = base / "disk"
    folder.mkdir(exist_ok=True)
    tried = ["mount", "-t", "tmpfs", "-o", "size=8k", "none", str(folder)]
    done = shutil.which("mount") is not None and subprocess.run(tried, capture_output=True, check=False).returncode == 0
    if done:
        subprocess.run(["umount", folder], check=True)
    return done


@contextmanager
def printing(out: str) -> Iterator[Callable[[], io.TextIOWrapper | None]]:
    """Offer what stands for a command's stdout, made in its own process; None for a file as ever."""
    if not out:
        yield lambda: None
        return
    if out == "closed":
        read, write = os.pipe()
        os.close(read)
    else:
        write = os.open(out if out.startswith("/") else os.devnull, os.O_WRONLY)

    def made() -> io.TextIOWrapper:
        os.dup2(write, 1)
        named = out if out in ("ascii", "cp1252") else "utf-8"
        return io.TextIOWrapper(os.fdopen(1, "wb", closefd=False), named, line_buffering=False)

    try:
        yield made
    finally:
        os.close(write)


def tried(command: str, surrounding: Surrounding, made: Sources, folder: Path) -> tuple[Ran, str]:
    """Make one run, and say what is wrong with it, or nothing."""
    words, names, written = WRITING[command]
    before = files_of(command, made, folder, WRITING)
    del names
    if surrounding.prepare is not None:
        surrounding.prepare(folder, written)
    stood = _held(folder)
    if surrounding.disk:
        with disk(surrounding.disk, folder):
            ran = run(words, folder)
            return ran, ran.wrong() or wrong_files(folder, before, stood, ran, written)
    with printing(surrounding.out) as out:
        ran = run(words, folder, out=out)
    if surrounding.out == "closed" and (ran.code, ran.err) == (1, ""):  # as click ends where nobody reads any more
        ran = replace(ran, code=0)
    found = ran.wrong() or wrong_files(folder, before, stood, ran, written)
    must_write = written and not surrounding.may_refuse and command not in MAY_HAVE_NOTHING_TO_WRITE
    if not found and must_write and not _is_new(folder / written, before):
        found = f"has not written {written}: {ran.err.strip()[:200]}"
    return ran, found


def _held(folder: Path) -> dict[str, bytes | str]:
    """What a folder holds: the content of a file, what kind of thing anything else is."""
    return {
        str(path.relative_to(folder)): path.read_bytes() if path.is_file() and not path.is_symlink() else _kind(path)
        for path in sorted(folder.rglob("*"))
    }


def _kind(path: Path) -> str:
    if path.is_symlink():
        return f"a link to {path.readlink()}"
    return "a folder" if path.is_dir() else "a pipe"


def _is_new(path: Path, before: Sources) -> bool:
    return path.is_file() and path.read_bytes() != before.get(path.name)


def wrong_files(folder: Path, before: Sources, stood: dict[str, bytes | str], ran: Ran, written: str) -> str:
    """Say what a run has left that it must not leave, or nothing."""
    now = _held(folder)
    changed = {name for name, content in now.items() if stood.get(name) != content}
    gone = set(stood) - set(now)
    if gone:
        return f"removes {sorted(gone)}"
    for name in sorted(changed):
        path, content = folder / name, now[name]
        if path.name.startswith(".") and not name.endswith(".lock"):
            return f"leaves {name}"
        if content == "a folder":
            if not any(path.iterdir()):
                return f"leaves an empty folder {name}"
            continue
        if name.endswith(".bak") or name.endswith(".lock"):
            continue
        if name in before and name != written and WRITES_BESIDE.get(name) is None:
            return f"changes {name}"
        if isinstance(content, bytes) and name.endswith((".xlsx", ".xlsm", ".xltx", ".xltm")) and damage_of(content):
            return f"leaves a half {name}: {damage_of(content)}"
    if not ran.err and ran.code == 2 and not ran.out:
        return "refuses without a word"
    return ""


WRITES_BESIDE: dict[str, str] = {"order.xlsx": "shop keep", "evenheft-shop.xlsx": "shop keep"}
"""Files that a command may change beside the one it is asked for."""


def main() -> None:
    wanted = sys.argv[1:]
    few = list(zip(WRITING, itertools.cycle(SURROUNDINGS), strict=False)) if wanted == ["--few"] else []
    wanted = [] if few else wanted
    load()
    base = Path(tempfile.mkdtemp(prefix="evenheft-surroundings-"))
    made = sources(base / "sources", office=False)
    count = failures = 0
    for command in WRITING:
        for name, surrounding in SURROUNDINGS.items():
            if few and (command, name) not in few:
                continue
            if wanted[:1] not in ([], [command]) or wanted[1:2] not in ([], [name]):
                continue
            if surrounding.disk and not can_mount(base):
                continue
            folder = base / f"run-{count}"
            ran, found = tried(command, surrounding, made, folder)
            count += 1
            failures += bool(found)
            if found or wanted:
                printed = " | ".join(ran.err.strip().splitlines())[:300]
                print(f"{command}, {name}: {found or 'well'} (ends with {ran.code}: {printed})", flush=True)
            shutil.rmtree(folder)
    shutil.rmtree(base)
    print(f"{count} runs of {len(WRITING)} commands in {len(SURROUNDINGS)} surroundings, {failures} failures")
    sys.exit(bool(failures))


if __name__ == "__main__":
    main()
