"""Shop books made by code: as many orders as a test or a benchmark wants, all of it invented."""

from __future__ import annotations

import datetime
import random
from pathlib import Path

from click.testing import CliRunner
from openpyxl import Workbook

from evenheft.cli import main
from evenheft.order.drawing.template import save_bytes
from evenheft.shop.book.drawing import build_book
from evenheft.shop.book.grid import FIRST_BOOK_ROW, ListSheet, in_row
from evenheft.shop.book.layout import BOOK_SHEETS, FIT_LIST, HEAD_LIST, ORDER_LIST, SCALE_LIST, SHAFT_LIST, USED_LIST

CLUBS = (
    "4-iron",
    "5-iron",
    "6-iron",
    "7-iron",
    "8-iron",
    "9-iron",
    "Pitching wedge",
    "Gap wedge",
    "Sand wedge",
    "Driver",
)


def put_row(book: Workbook, declared: ListSheet, row: int, values: dict[str, object]) -> None:
    """Write one row of a list, with the formulas of a row that the template did not prepare."""
    sheet = book[declared.sheet]
    for column in declared.columns:
        cell = sheet.cell(row, declared.at[column.key])
        if column.key in values:
            cell.value = values[column.key]
        elif column.formula and cell.value is None:
            cell.value = in_row(column.formula, declared, row, BOOK_SHEETS)


def big_book(orders: int, *, models: int = 20, seed: int = 1) -> Workbook:
    """Build a book that has kept so many orders of ten clubs."""
    draw = random.Random(seed)
    book = build_book()
    for n in range(models * len(CLUBS)):
        model, club = f"Model {n // len(CLUBS)}", CLUBS[n % len(CLUBS)]
        put_row(book, HEAD_LIST, FIRST_BOOK_ROW + n, {"model": model, "club": club, "added": "A-0"})
    first_day = datetime.date(2020, 1, 6)
    for n in range(orders):
        order, model, day = f"A-{n}", f"Model {n % models}", first_day + datetime.timedelta(days=n)
        for place, club in enumerate(CLUBS):
            row = FIRST_BOOK_ROW + n * len(CLUBS) + place
            own = {"order": order, "number": place + 1}
            rise, points = draw.gauss(2.0 + place / 10, 0.1), draw.gauss(32, 1)
            shaft = f"S{n * 10 + place}"
            put_row(book, FIT_LIST, row, {**own, "date": day, "model": model, "club": club,
                                         "head_mass": 250.0 + 7 * place, "rise": rise, "doubt": 0.2,
                                         "miss": draw.gauss(0, 0.3), "counts": 1, "sequence": n + 1})  # fmt: skip
            put_row(book, ORDER_LIST, row, {**own, "date": day, "customer": f"Invented {n % 400}", "club": club,
                                        "group": "Irons", "model": model, "head_mass": 250.0,
                                        "shaft": shaft, "grip": "Grip A", "length": 96.5, "mass": 420.0,
                                        "balance": 73.0,
                                        "target": "D2", "reads": "D2.1", "inertia_target": 2700, "inertia": 2701.0,
                                        "verdict": "all in"})  # fmt: skip
            put_row(book, USED_LIST, row, {**own, "part": 1, "kept": day, "shaft": shaft, "grip": "Grip A", "size": 4,
                                      "where": "head", "count": 1})  # fmt: skip
            put_row(book, SCALE_LIST, row, {**own, "date": day, "club": club, "calculated": points,
                                       "reading": points + 0.2, "difference": 0.2 + n / 1e4})  # fmt: skip
    for n in range(min(orders * 10, 300)):
        put_row(book, SHAFT_LIST, FIRST_BOOK_ROW + n, {"number": f"S{n}", "model": "Shaft A", "mass": 110.0,
                                                       "length": 100.0, "balance": 50.0})  # fmt: skip
    return book


def write_big_book(path: Path, orders: int, **options: int) -> Path:
    """Write such a book to a file."""
    path.write_bytes(save_bytes(big_book(orders, **options)))
    return path


def run(*given: object) -> tuple[int, str]:
    """Run a command, and return its exit code and what it printed."""
    done = CliRunner().invoke(main, [*map(str, given)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.output
    return done.exit_code, done.output
