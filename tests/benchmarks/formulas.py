"""How fast formulas and the door answer: ratios, each against something measured in the same run.

Run by hand: python tests/benchmarks/formulas.py [ORDER.xlsx]. With an order's path `evenheft check` is timed on it;
without one, on an order with all eighteen rows filled. The two sides of a ratio take turns, so that a busy
machine slows both; the table shows medians, and the median of the rounds' ratios.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import formualizer
from rich.console import Console
from rich.table import Table

from evenheft.hosts.embedded import recompute, serve_in
from evenheft.order.demo import DEMO_CLUBS, build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, ORDER, PARTS, SUPPLIER

ROWS = 20_000
MOST_SPILLED = 10_000
"""The engine gives #SPILL! for a formula that fills more cells."""
ROUNDS = 7
EVENHEFT = str(Path(sys.executable).with_name("evenheft"))
CALLS = (
    ("=HEFT_MOMENT({0},{1})", 0),
    ("=HEFT_POINTS({0},{1})", 0),
    ("=HEFT_POINTS({0},{1})", 100),
    ("=HEFT_SWINGWEIGHT({0},{1})", 0),
    ("=HEFT_INERTIA({0},{1},{2})", 0),
    ('=HEFT_VERDICT({0},395,2,0.5)', 0),
)  # fmt: skip
"""A formula on columns A, B and C, and every how many rows one is not filled in (0: all are)."""

Timed = Callable[[], float]


def workbook_of_clubs(blank_every: int) -> formualizer.Workbook:
    workbook = formualizer.Workbook()
    serve_in(workbook)
    clubs = [[390.0 + n % 50, 74.0 + n % 7 / 10, 1.85 + n % 9 / 100] for n in range(ROWS)]
    if blank_every:
        clubs[::blank_every] = [[None, None, None]] * len(clubs[::blank_every])  # type: ignore[list-item]
    workbook.sheet("Sheet1").set_values_batch(1, 1, ROWS, 3, clubs)
    return workbook


def range_formulas(call: str, blank_every: int) -> float:
    """Time of evaluating all rows by as few formulas as the engine's spill limit allows [s]."""
    workbook = workbook_of_clubs(blank_every)
    for first in range(1, ROWS, MOST_SPILLED):
        ranges = (f"{c}{first}:{c}{first + MOST_SPILLED - 1}" for c in "ABC")
        workbook.sheet("Sheet1").set_formula(first, 5, call.format(*ranges))
    return evaluation(workbook)


def single_cell_formulas(call: str, blank_every: int) -> float:
    """Time of evaluating one formula in each row [s]."""
    workbook = workbook_of_clubs(blank_every)
    formulas = [[call.format(*(f"{c}{n}" for c in "ABC"))] for n in range(1, ROWS + 1)]
    workbook.sheet("Sheet1").set_formulas_batch(1, 5, ROWS, 1, formulas)
    return evaluation(workbook)


def evaluation(workbook: formualizer.Workbook) -> float:
    start = time.perf_counter()
    recompute(workbook)
    spent = time.perf_counter() - start
    last = workbook.get_value("Sheet1", ROWS, 5)
    assert isinstance(last, float) or (isinstance(last, str) and last and not last.startswith("!")), last
    return spent


def command(*words: str, ends: tuple[int, ...] = (0,)) -> Timed:
    def run() -> float:
        start = time.perf_counter()
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        assert done.returncode in ends, done.stderr
        return time.perf_counter() - start

    return run


def full_order(folder: Path) -> Path:
    """An order with all eighteen rows filled: the demo's nine clubs, and the same again under them."""
    book = build_demo()
    for table in (ORDER, PARTS, BENCH, SUPPLIER):
        sheet = book[table.sheet]
        for number, column in enumerate(table.columns, start=1):
            for row in range(FIRST_ROW, FIRST_ROW + len(DEMO_CLUBS)):
                if column.role == "input":
                    sheet.cell(row + len(DEMO_CLUBS), number).value = sheet.cell(row, number).value
    path = folder / "eighteen-clubs.xlsx"
    path.write_bytes(save_bytes(book))
    return path


def pairs(one: Timed, other: Timed) -> list[tuple[float, float]]:
    return [(one(), other()) for _ in range(ROUNDS)]


def main() -> None:
    table = Table("what", "against", "median", "against it", "ratio", "target", title=f"{ROWS} rows, {ROUNDS} rounds")

    def add(what: str, against: str, times: list[tuple[float, float]], ratio: float, target: str, met: bool) -> None:
        one, other = (statistics.median(side) for side in zip(*times, strict=True))
        verdict = "met" if met else "MISSED"
        table.add_row(
            what, against, f"{one * 1e3:.0f} ms", f"{other * 1e3:.0f} ms", f"{ratio:.2f}", f"{target}: {verdict}"
        )

    for call, blank in CALLS:
        times = pairs(lambda c=call, b=blank: range_formulas(c, b), lambda c=call, b=blank: single_cell_formulas(c, b))
        ratio = statistics.median(single / whole for whole, single in times)
        name = call[1:].partition("(")[0] + (f", 1 in {blank} blank" if blank else "")
        add(f"{name}: ranges", "single cells", times, ratio, "at least 5", ratio >= 5)

    def slower(what: str, one: Timed, against: str, other: Timed, limit: float) -> None:
        times = pairs(one, other)
        ratio = statistics.median(a / b for a, b in times)
        add(what, against, times, ratio, f"at most {limit:g}", ratio <= limit)

    bare = (sys.executable, "-c")
    slower("evenheft --version", command(EVENHEFT, "--version"), "import click", command(*bare, "import click"), 2)
    with tempfile.TemporaryDirectory() as folder:
        order = Path(sys.argv[1]) if len(sys.argv) > 1 else full_order(Path(folder))
        engines = "import openpyxl, formualizer"
        check = command(EVENHEFT, "check", str(order), ends=(0, 3))
        slower(f"evenheft check {order.name}", check, engines, command(*bare, engines), 3)
    Console(width=160).print(table)


if __name__ == "__main__":
    main()
