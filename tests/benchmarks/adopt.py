"""What it costs to adopt a long table, against what openpyxl needs to load and save the same workbook.

Run by hand: python tests/benchmarks/adopt.py
Wanted: at most 3 times.
"""

from __future__ import annotations

import random
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROWS = (1_000, 10_000, 50_000)
ROUNDS = 3


def build(path: Path, rows: int) -> None:
    """One sheet of clubs by openpyxl: names, mass, balance, period and three columns that nobody reads."""
    import openpyxl

    chance = random.Random(1)
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Irons"
    sheet.append(["Club", "Mass (g)", "Balance (in)", "Swing time (s)", "Loft (deg)", "Lie (deg)", "Remarks"])
    for number in range(rows):
        mass, balance = round(chance.uniform(400, 450), 1), round(chance.uniform(27, 30), 2)
        sheet.append([f"club {number}", mass, balance, round(chance.uniform(1.8, 1.9), 3), 34, 62, "as ordered"])
    book.save(path)


def loaded_and_saved(path: Path, copy: Path) -> None:
    """What openpyxl does."""
    import openpyxl

    openpyxl.load_workbook(path).save(copy)


def adopted(path: Path, copy: Path) -> None:
    """What `evenheft adopt --write` does."""
    from evenheft.shop.adopt import survey
    from evenheft.shop.wishes import Wishes
    from evenheft.shop.writing import write_copy

    wishes = Wishes(target="D2", tolerance=0.5, mass_doubt="0.5 g", balance_doubt="1 mm")
    copy.unlink(missing_ok=True)
    write_copy(survey(path, wishes), (), wishes, copy)


def timed(work: Callable[[], None]) -> float:
    """The median time of some work [s]."""
    times = []
    for _ in range(ROUNDS):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def main() -> None:
    """Print the table."""
    print(f"{'rows':>8} {'openpyxl':>10} {'adopt':>10} {'ratio':>7}   (wanted: 3)")
    with tempfile.TemporaryDirectory() as folder:
        path, copy = Path(folder) / "long.xlsx", Path(folder) / "copy.xlsx"
        for rows in ROWS:
            build(path, rows)
            other, ours = timed(lambda: loaded_and_saved(path, copy)), timed(lambda: adopted(path, copy))
            print(f"{rows:8d} {other:9.2f}s {ours:9.2f}s {ours / other:7.2f}")


if __name__ == "__main__":
    main()
