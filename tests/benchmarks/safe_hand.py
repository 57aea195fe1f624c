"""What it costs to write one cell into a large workbook, against copying that workbook part by part.

Run by hand: python tests/benchmarks/safe_hand.py
Wanted: at most 1.5 times the copying; peak memory under 3 times the largest sheet.
"""

from __future__ import annotations

import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

SHEETS = 50
SIZE = 20 << 20
"""Of the workbook's file [bytes]."""
ROUNDS = 9


def build(path: Path) -> None:
    """Fifty sheets of random numbers, 20 MB on the disk."""
    import xlsxwriter

    chance = random.Random(1)
    book = xlsxwriter.Workbook(str(path), {"constant_memory": True})
    for n in range(SHEETS):
        sheet = book.add_worksheet(f"Sheet{n + 1}")
        for row in range(SIZE // SHEETS // 60):
            sheet.write_row(row, 0, [chance.random() * 500 for _ in range(6)])
    book.close()


def copied_as_packed(source: Path, target: Path) -> None:
    """Copy each part's packed bytes, and the directory, as a plain copy would."""
    with zipfile.ZipFile(source) as package, source.open("rb") as old, target.open("wb") as new:
        entries = sorted(package.infolist(), key=lambda entry: entry.header_offset)
        ends = [entry.header_offset for entry in entries[1:]] + [package.start_dir, source.stat().st_size]
        for end in ends:
            new.write(old.read(end - old.tell()))
        new.flush()
        os.fsync(new.fileno())


def copied_unpacked(source: Path, target: Path) -> None:
    """Copy part by part through zipfile, which unpacks and packs again."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            new.writestr(entry, old.read(entry))


def timed(work: Callable[[], None], rounds: int) -> float:
    """The median time of some work [s]."""
    times = []
    for _ in range(rounds):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def build_one_large_sheet(path: Path) -> int:
    """One sheet that outweighs what Python itself needs; its size unpacked [bytes]."""
    import xlsxwriter

    book = xlsxwriter.Workbook(str(path), {"constant_memory": True})
    sheet = book.add_worksheet("Sheet1")
    for row in range(200_000):
        sheet.write_row(row, 0, [row + 0.125 * column for column in range(8)])
    book.close()
    with zipfile.ZipFile(path) as package:
        return package.getinfo("xl/worksheets/sheet1.xml").file_size


def peak_of_writing(path: Path) -> int:
    """The peak of a process that writes one cell, above what it holds once its modules are there [bytes]."""
    code = (
        "import resource, sys; from pathlib import Path; from evenheft.ooxml.edit import edit_cells; "
        "from evenheft.ooxml.cells import Put; "
        "before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss; "
        "edit_cells(Path(sys.argv[1]), {('Sheet1', 100, 3): Put(1.5)}); "
        "print((resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) * 1024)"
    )
    done = subprocess.run([sys.executable, "-c", code, path], capture_output=True, check=True, text=True)
    return int(done.stdout)


def main() -> None:
    """Print the table."""
    from evenheft.ooxml.edit import edit_cells
    from evenheft.ooxml.edits import Put

    with tempfile.TemporaryDirectory() as folder:
        path, copy = Path(folder) / "large.xlsx", Path(folder) / "copy.xlsx"
        build(path)
        with zipfile.ZipFile(path) as package:
            largest = max(entry.file_size for entry in package.infolist())
            expanded = sum(entry.file_size for entry in package.infolist())
        counter = iter(range(1, 10_000))
        packed = timed(lambda: copied_as_packed(path, copy), ROUNDS)
        unpacked = timed(lambda: copied_unpacked(path, copy), 2)
        hand = timed(lambda: check(edit_cells(path, {("Sheet25", 100, 3): Put(float(next(counter)))}).changed), ROUNDS)
        single = Path(folder) / "single.xlsx"
        sheet = build_one_large_sheet(single)
        peak = peak_of_writing(single)
    print(f"workbook: {SHEETS} sheets, {path_size(expanded)} unpacked, largest sheet {path_size(largest)}")
    print(f"copying part by part: read and written     {unpacked * 1000:8.1f} ms   1.00")
    print(f"writing one cell                           {hand * 1000:8.1f} ms   {hand / unpacked:.3f}   (wanted: 1.5)")
    print(f"for comparison, copying the packed bytes   {packed * 1000:8.1f} ms   {packed / unpacked:.3f}")
    print(f"writing one cell, to the packed bytes' copy              {hand / packed:.2f}")
    print(f"peak memory, one sheet of {path_size(sheet)}: {path_size(peak)}, {peak / sheet:.2f} of it   (wanted: 3)")


def check(changed: int) -> None:
    """A write that writes nothing would be fast."""
    if changed != 1:
        raise AssertionError(changed)


def path_size(size: int) -> str:
    """A size in MB."""
    return f"{size / (1 << 20):.2f} MB"


if __name__ == "__main__":
    main()
