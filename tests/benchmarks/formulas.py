"""How fast formulas and the door answer: ratios of medians, each against something measured in the same run.

Run by hand: python tests/benchmarks/formulas.py [ORDER.xlsx]. With an order's path `evenheft check` is timed on it;
without one, on the demo's order where the door can write it.
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

from evenheft.hosts.embedded import serve_in

ROWS = 20_000
MOST_SPILLED = 10_000
"""The engine gives #SPILL! for a formula that fills more cells."""
ROUNDS = 7


def seconds(job: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Median time of a job [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        job()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def workbook_of_clubs() -> formualizer.Workbook:
    workbook = formualizer.Workbook()
    serve_in(workbook)
    sheet = workbook.sheet("Sheet1")
    sheet.set_values_batch(
        1, 1, ROWS, 3, [[390.0 + n % 50, 74.0 + n % 7 / 10, 1.85 + n % 9 / 100] for n in range(ROWS)]
    )
    return workbook


def range_formulas(call: str) -> float:
    """Time of evaluating all rows by as few formulas as the engine's spill limit allows [s]."""

    def prepared() -> formualizer.Workbook:
        workbook = workbook_of_clubs()
        for first in range(1, ROWS, MOST_SPILLED):
            last = first + MOST_SPILLED - 1
            ranges = (f"{c}{first}:{c}{last}" for c in "ABC")
            workbook.sheet("Sheet1").set_formula(first, 5, call.format(*ranges))
        return workbook

    return evaluation(prepared)


def single_cell_formulas(call: str) -> float:
    """Time of evaluating one formula in each row [s]."""

    def prepared() -> formualizer.Workbook:
        workbook = workbook_of_clubs()
        formulas = [[call.format(*(f"{c}{n}" for c in "ABC"))] for n in range(1, ROWS + 1)]
        workbook.sheet("Sheet1").set_formulas_batch(1, 5, ROWS, 1, formulas)
        return workbook

    return evaluation(prepared)


def evaluation(prepared: Callable[[], formualizer.Workbook]) -> float:
    times = []
    for _ in range(ROUNDS):
        workbook = prepared()
        start = time.perf_counter()
        workbook.evaluate_all()
        times.append(time.perf_counter() - start)
        last = workbook.get_value("Sheet1", ROWS, 5)
        assert isinstance(last, float) or (isinstance(last, str) and last and not last.startswith("!")), last
    return statistics.median(times)


def command(*words: str, ends: tuple[int, ...] = (0,)) -> Callable[[], None]:
    def run() -> None:
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        assert done.returncode in ends, done.stderr

    return run


def demo_order(folder: Path) -> Path | None:
    """The demo's order, or None where there is no demo."""
    subprocess.run([EVENHEFT, "demo", str(folder)], capture_output=True, check=False)
    return next(iter(sorted(folder.glob("*.xlsx"))), None)


EVENHEFT = str(Path(sys.executable).with_name("evenheft"))


def main() -> None:
    table = Table(
        "what", "against", "median", "against it", "ratio", "target", title=f"{ROWS} rows, medians of {ROUNDS}"
    )

    def add(what: str, against: str, one: float, other: float, ratio: float, target: str, met: bool) -> None:
        table.add_row(
            what, against, f"{one * 1e3:.0f} ms", f"{other * 1e3:.0f} ms", f"{ratio:.2f}",
            f"{target} {'met' if met else 'MISSED'}",
        )  # fmt: skip

    for call in ("=HEFT_POINTS({0},{1})", "=HEFT_SWINGWEIGHT({0},{1})", "=HEFT_INERTIA({0},{1},{2})"):
        whole, single = range_formulas(call), single_cell_formulas(call)
        name = call[1:].partition("(")[0]
        add(f"{name}, ranges", "single cells", whole, single, single / whole, "at least 5", single / whole >= 5)

    python = sys.executable
    version, click = seconds(command(EVENHEFT, "--version")), seconds(command(python, "-c", "import click"))
    add("evenheft --version", "import click", version, click, version / click, "at most 2", version / click <= 2)

    with tempfile.TemporaryDirectory() as folder:
        order = Path(sys.argv[1]) if len(sys.argv) > 1 else demo_order(Path(folder))
        if order is not None:
            check = seconds(command(EVENHEFT, "check", str(order), ends=(0, 3)))
            bare = seconds(command(python, "-c", "import openpyxl, formualizer"))
            add(f"evenheft check {order.name}", "import openpyxl, formualizer", check, bare, check / bare, "at most 3",
                check / bare <= 3)  # fmt: skip
    Console(width=120).print(table)


if __name__ == "__main__":
    main()
