"""How long each formula takes where every argument is a full column of a sheet: the table in docs/security.md.

    python tests/fuzz/full_columns.py            # 1,048,576 rows, some minutes
    python tests/fuzz/full_columns.py 65536      # fewer rows

Ranges that a formula reads cell by cell hold the dearest cells there are: several readings with their own unit in each.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from evenheft.formulas import REGISTRY, Formula
from evenheft.formulas.serving import server
from evenheft.ooxml.places import SHEET_ROWS
from parity_cases import GOOD

DEAR = {395.0: "395.1 395.2 395.3 g", 75.3: "75.3 75.4 75.3 cm"}
"""A mass and a balance as a person types several readings."""


def columns_of(formula: Formula, rows: int) -> list[object]:
    """Fill every argument of a formula with a column: good cells over and over, headings once."""
    given: list[object] = []
    for argument, value in zip(formula.arguments, GOOD[formula.name], strict=False):
        if not isinstance(value, tuple):
            given.append([[DEAR.get(value, value)]] * rows)  # type: ignore[call-overload]
        elif argument.takes == "table" and len(value) > 1:
            body = list(map(list, value[1:]))
            given.append([list(value[0]), *(body * (rows // len(body) + 1))[: rows - 1]])
        elif len(formula.arguments) > 1 and len(value) == 1 and all(isinstance(cell, str) for cell in value[0]):
            given.append([list(value[0])])  # headings, which stand once
        else:
            given.append((list(map(list, value)) * (rows // len(value) + 1))[:rows])
    return given


def measured(formula: Formula, rows: int) -> tuple[float, str]:
    """Call a formula over full columns: the seconds that it works, and what it answers."""
    given = columns_of(formula, rows)
    serve = server(formula, "columns")
    begun = time.process_time()
    answer = serve(*given)
    taken = time.process_time() - begun
    if isinstance(answer, tuple):
        first = answer[0][0]
        shape = f"{len(answer)} rows" if len(answer) > 1 else "one row"
        return taken, f"{shape}: {first}" if isinstance(first, str) and first.startswith("!") else shape
    return taken, answer if isinstance(answer, str) and answer.startswith("!") else "one answer"


def row_of(formula: Formula, taken: float, answer: str) -> str:
    """Write a formula's row of the table."""
    return f"| `{formula.name}` | {taken:.1f} s | {answer} |"


def main() -> None:
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else SHEET_ROWS
    print(f"| formula | {rows:,} rows | answer |\n| --- | --- | --- |")
    for formula in REGISTRY.values():
        print(row_of(formula, *measured(formula, rows)), flush=True)


if __name__ == "__main__":
    main()
