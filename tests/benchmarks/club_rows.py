"""How much cheaper HEFT_CLUB is over many rows at once than cell by cell, in the embedded engine.

    python tests/benchmarks/club_rows.py

Prints the cost per row of one call over 200 and over 2,000 rows beside that of single-cell calls in the same
engine and the same run. Sought: a row of 2,000 at once costs at most 1/20 of a single-cell call, and from
200 to 2,000 rows the time grows no more than linearly, within 20 %.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable

import formualizer

from evenheft.hosts.embedded import serve_in

HEADINGS = (
    "Club", "Head mass (g)", "Head rise (cm)", "Bore to ground (cm)", "Shaft mass (g)", "Shaft length (in)",
    "Shaft balance (in)", "Tip trim (in)", "Club length (in)", "Grip mass (g)", "Grip balance (cm)", "Tape (g)",
    "Ferrule (g)", "Epoxy (g)", "Adapter (g)", "Tip weight (g)", "Butt weight (g)", "Lead tape (g)",
)  # fmt: skip
REPEATS = 7


def club(chance: random.Random, place: int) -> tuple[object, ...]:
    """An invented row: every sixth club lacks its small parts, as rows of a shop's sheet do."""
    u = chance.uniform
    small = (None,) * 5 if place % 6 == 0 else (u(0.5, 1.5), u(1, 3), u(0, 8), None, u(0, 6))
    return (
        f"club {place}", u(190, 300), u(0, 2), u(3, 4.5), u(50, 120), u(44.5, 46), u(21, 23.5), u(0, 1), u(37, 44),
        u(40, 55), u(10, 12), u(1, 4), *small, u(0, 4),
    )  # fmt: skip


def sheet(rows: int) -> formualizer.Workbook:
    """A workbook with headings in row 1 and clubs below."""
    chance = random.Random(20261125)
    workbook = formualizer.Workbook()
    serve_in(workbook)
    cells = workbook.sheet("Sheet1")
    for column, heading in enumerate(HEADINGS, start=1):
        cells.set_value(1, column, heading)
    for row in range(2, rows + 2):
        for column, value in enumerate(club(chance, row), start=1):
            if value is not None:
                cells.set_value(row, column, value)
    return workbook


def at_once(workbook: formualizer.Workbook, rows: int) -> None:
    """Enter one formula over all rows."""
    workbook.sheet("Sheet1").set_formula(2, 20, f'=HEFT_CLUB(A1:R1, A2:R{rows + 1}, "points")')


def cell_by_cell(workbook: formualizer.Workbook, rows: int) -> None:
    """Enter one formula in each row."""
    for row in range(2, rows + 2):
        workbook.sheet("Sheet1").set_formula(row, 20, f'=HEFT_CLUB($A$1:$R$1, A{row}:R{row}, "points")')


def seconds_per_row(rows: int, fill: Callable[[formualizer.Workbook, int], None]) -> float:
    """Time of the first computation of a sheet, per row."""
    workbook = sheet(rows)
    fill(workbook, rows)
    start = time.perf_counter()
    workbook.evaluate_all()
    taken = time.perf_counter() - start
    answer = workbook.get_value("Sheet1", rows + 1, 20)
    assert isinstance(answer, float), answer
    return taken / rows


def main() -> None:
    """Measure all in turn, several times, and print the best of each."""
    ways = {
        "single cells, 2,000 rows": (2000, cell_by_cell),
        "one call, 200 rows": (200, at_once),
        "one call, 2,000 rows": (2000, at_once),
        "one call, 8,000 rows": (8000, at_once),
    }
    best = dict.fromkeys(ways, float("inf"))
    for _ in range(REPEATS):
        for way, (rows, fill) in ways.items():
            best[way] = min(best[way], seconds_per_row(rows, fill))
    single, few, many, most = best.values()
    print(f"{'':28}{'µs per row':>12}{'of a single call':>18}")
    for way, cost in best.items():
        print(f"{way:28}{cost * 1e6:12.2f}{f'1/{single / cost:.1f}':>18}")
    print(f"2,000 rows against 200: {10 * many / few:.1f} times as long (linear: 10, sought: at most 12)")
    print(f"8,000 rows against 2,000: {4 * most / many:.1f} times as long (linear: 4)")


if __name__ == "__main__":
    main()
