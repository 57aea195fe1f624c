"""How fast Excel is served, as ratios against something measured in the same run.

    python tests/benchmarks/excel.py

The calls go through xlwings' real server and call_udf, with stand-ins for pywin32 and Excel's objects: what COM
itself costs (much more, for each call and not for each row) is not in these figures, so in Excel a range saves more.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS.parent / "udfs")]

from excel_standins import MISSING, SERVED, Excel, as_value2  # noqa: E402

ROWS = 2000
CALL_TARGET = 10
IMPORT_TARGET = 2


def best(work: Callable[[], object], repeats: int = 9) -> float:
    """The shortest of several times [s]: what else the machine does only ever adds."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def calls() -> tuple[float, float]:
    """Times of one call over a range and of as many single calls, from cells [s]."""
    excel = Excel()
    masses = [(390 + i / 100,) for i in range(ROWS)]
    balances = [(70 + i / 1000,) for i in range(ROWS)]
    whole = as_value2(masses), as_value2(balances)
    singles = [(as_value2([mass]), as_value2([balance])) for mass, balance in zip(masses, balances, strict=True)]
    together = [row[0] for row in excel.call("HEFT_POINTS", *whole, MISSING, MISSING)]
    assert together == [excel.call("HEFT_POINTS", *single, MISSING, MISSING) for single in singles]
    over_range = best(lambda: excel.call("HEFT_POINTS", *whole, MISSING, MISSING))
    one_by_one = best(lambda: [excel.call("HEFT_POINTS", *single, MISSING, MISSING) for single in singles], 5)
    return over_range, one_by_one


def cold_imports(pairs: int = 9) -> tuple[float, float]:
    """Times of `import xlwings` and of importing the served module, each in a Python of its own [s].

    On Windows `import xlwings` loads its server and pywin32 as well; here the stand-ins take their place in both.
    """
    plain, served = [], []
    for _ in range(pairs):  # in turns, so that a busy moment meets both
        plain.append(in_a_python_of_its_own("xlwings"))
        served.append(in_a_python_of_its_own(SERVED))
    return statistics.median(plain), statistics.median(served)


def in_a_python_of_its_own(module: str) -> float:
    code = (
        f"import sys, time; sys.path[:0] = {sys.path[:2]!r}\n"
        f"start = time.perf_counter(); import {module}; print(time.perf_counter() - start)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, env={**os.environ, "PYTHONPATH": ""}
    )
    return float(done.stdout)


def main() -> None:
    """Print the table."""
    over_range, one_by_one = calls()
    xlwings, served = cold_imports()
    print(f"{'':58}{'measured':>12}{'wanted':>12}")
    print(f"{f'a range call over {ROWS} rows':58}{over_range * 1e3:>9.2f} ms")
    print(f"{f'{ROWS} single calls':58}{one_by_one * 1e3:>9.2f} ms")
    print(f"{'single calls : range call':58}{one_by_one / over_range:>11.1f}x{f'>= {CALL_TARGET}x':>12}")
    print(f"{'cold import xlwings':58}{xlwings * 1e3:>9.0f} ms")
    print(f"{'cold import of the served module':58}{served * 1e3:>9.0f} ms")
    print(f"{'served module : xlwings':58}{served / xlwings:>11.2f}x{f'<= {IMPORT_TARGET}x':>12}")


if __name__ == "__main__":
    main()
