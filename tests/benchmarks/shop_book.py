"""How long a book of many orders takes to keep one more, beside loading it with openpyxl: ratios, never asserted.

And how long LibreOffice, where it is there, takes to open and recompute it, beside the same book with values only.

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

from benchmarks.calc import compare_with_values  # noqa: E402
from calc_office import MissingError, running  # noqa: E402
from evenheft.cli.new_order import new_order  # noqa: E402
from evenheft.hosts.calc import extension  # noqa: E402
from evenheft.order.drawing.template import build_order, save_bytes  # noqa: E402
from evenheft.shop.book.keeping import plan_to_forget, plan_to_keep, write  # noqa: E402
from evenheft.shop.book.kept import KeptOrder  # noqa: E402
from evenheft.shop.book.reading import open_book  # noqa: E402
from evenheft.shop.book.taught import known_heads  # noqa: E402
from shop_books import write_big_book  # noqa: E402

ORDERS = 2000
MOST = 3
ROUNDS = 3
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
        kept = KeptOrder("NEW", fits=(_FIT,))
        template, order = save_bytes(build_order()), book.with_name("order.xlsx")
        works: dict[str, Callable[[], object]] = {
            "openpyxl": lambda: openpyxl.load_workbook(book),
            "read what heads are known": lambda: known_heads(open_book(book)),
            "start an order from it": lambda: new_order(template, order, book, shop=True, like=None),
            "repeat an order from it": lambda: new_order(template, order, book, shop=True, like="A-7"),
            "keep an order": lambda: write(plan_to_keep(open_book(book), kept)),
            "keep it again": lambda: plan_to_keep(open_book(book), kept),
            "forget it": lambda: write(plan_to_forget(open_book(book), "NEW")),
        }
        # The best of a few rounds: what else runs on a machine only ever adds.
        rounds = [{name: seconds(work) for name, work in works.items()} for _ in range(ROUNDS)]
        best = {name: min(each[name] for each in rounds) for name in works}
        loaded = best.pop("openpyxl")
        print(f"openpyxl loads it in {loaded:.1f} s; beside that:")
        for name, found in best.items():
            print(f"  {name:26} {found / loaded:5.2f} x", flush=True)
        _in_office(book, Path(folder) / "evenheft.oxt")


def _in_office(book: Path, add_in: Path) -> None:
    extension.write(add_in)
    try:
        with running(add_in) as calc:
            compare_with_values(calc, book, "book", most=MOST, rounds=ROUNDS)
    except MissingError as missing:
        print(f"not in LibreOffice: {missing}")


if __name__ == "__main__":
    main()
