"""How long a book of many orders takes to keep one more, beside loading it with openpyxl: ratios, never asserted.

.venv-tests/bin/python tests/benchmarks/shop_book.py [ORDERS]
"""

from __future__ import annotations

import gc
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import openpyxl

sys.path[:0] = [str(Path(__file__).parents[1])]

from evenheft.shop.book.keeping import plan_to_forget, plan_to_keep, write  # noqa: E402
from evenheft.shop.book.kept import KeptOrder  # noqa: E402
from evenheft.shop.book.reading import open_book  # noqa: E402
from evenheft.shop.book.taught import known_heads  # noqa: E402
from shop_books import write_big_book  # noqa: E402

ORDERS = 2000
_FIT = {"number": 1.0, "date": 46000.0, "model": "Model 1", "club": "7-iron", "head_mass": 250.0, "rise": 2.0,
        "doubt": 0.2, "counts": 1.0}  # fmt: skip


def seconds(work: Callable[[], object]) -> float:
    """Time one run of a piece of work [s]."""
    gc.collect()
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def main() -> None:
    """Print each ratio, and what it was measured on."""
    orders = int(sys.argv[1]) if len(sys.argv) > 1 else ORDERS
    with tempfile.TemporaryDirectory() as folder:
        book = write_big_book(Path(folder) / "evenheft-shop.xlsx", orders)
        print(f"{orders} orders of ten clubs, {book.stat().st_size / 1e6:.1f} MB")
        loaded = seconds(lambda: openpyxl.load_workbook(book))
        print(f"openpyxl loads it in {loaded:.1f} s; beside that:")
        order = KeptOrder("NEW", fits=(_FIT,))
        for name, work in (
            ("read what heads are known", lambda: known_heads(open_book(book))),
            ("keep an order", lambda: write(plan_to_keep(open_book(book), order))),
            ("keep it again", lambda: plan_to_keep(open_book(book), order)),
            ("forget it", lambda: write(plan_to_forget(open_book(book), "NEW"))),
        ):
            print(f"  {name:26} {seconds(work) / loaded:5.2f} x")


if __name__ == "__main__":
    main()
