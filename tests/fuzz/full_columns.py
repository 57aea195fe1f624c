"""How long each formula takes where every argument is a full column of a sheet: the table in docs/security.md.

    python tests/fuzz/full_columns.py                                # 1,048,576 rows, some minutes
    python tests/fuzz/full_columns.py 65536                          # fewer rows
    python tests/fuzz/full_columns.py 1048576 --only HEFT_ADVICE     # a formula or several

Ranges that a formula reads cell by cell hold the dearest cells there are: several readings with their own unit in each.
Where numbers under more arguments are dearer still, that call is shown.
"""

from __future__ import annotations

import argparse
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


MORE: dict[str, tuple[object, ...]] = {
    "HEFT_ADVICE": ("inertia", 395, 75.3, 2670, 22.5, 1, 2700, 10, 94, 2.5, 3, 10, 2, 0.3, 3, 50, 11),
}
"""Numbers under arguments that may be left out, where these make a formula work the most; stock is one cell."""


def columns_of(formula: Formula, rows: int, values: tuple[object, ...], dear: dict[float, str]) -> list[object]:
    """Fill the arguments of a formula with columns: good cells over and over, headings once."""
    given: list[object] = []
    for argument, value in zip(formula.arguments, values, strict=False):
        if argument.takes == "range" and not isinstance(value, tuple):
            given.append([[value]])
        elif not isinstance(value, tuple):
            given.append(value if isinstance(value, str) and not dear else [[dear.get(value, value)]] * rows)  # type: ignore[call-overload]
        elif argument.takes == "table" and len(value) > 1:
            body = list(map(list, value[1:]))
            given.append([list(value[0]), *(body * (rows // len(body) + 1))[: rows - 1]])
        elif len(formula.arguments) > 1 and len(value) == 1 and all(isinstance(cell, str) for cell in value[0]):
            given.append([list(value[0])])  # headings, which stand once
        else:
            given.append((list(map(list, value)) * (rows // len(value) + 1))[:rows])
    return given


def measured(formula: Formula, rows: int) -> tuple[float, str]:
    """Call a formula over full columns: the most seconds that it works, and what it then answers."""
    given = [columns_of(formula, rows, GOOD[formula.name], DEAR)]
    if formula.name in MORE:
        given.append(columns_of(formula, rows, MORE[formula.name], {}))
    return max((timed(formula, columns) for columns in given), key=lambda shown: shown[0])


def timed(formula: Formula, given: list[object]) -> tuple[float, str]:
    """Call a formula: the seconds that it works, and what it answers."""
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
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("rows", nargs="?", type=int, default=SHEET_ROWS)
    asked.add_argument("--only", nargs="+", choices=REGISTRY, metavar="HEFT_NAME", default=list(REGISTRY))
    given = asked.parse_args()
    print(f"| formula | {given.rows:,} rows | answer |\n| --- | --- | --- |")
    for name in given.only:
        print(row_of(REGISTRY[name], *measured(REGISTRY[name], given.rows)), flush=True)


if __name__ == "__main__":
    main()
