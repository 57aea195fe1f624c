"""`evenheft demo --year`: the seventh order is forecast before any dry fit, because the book knew the heads."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from calc_office import Calc
from evenheft.cli import main
from evenheft.order.cells import OrderCells
from evenheft.order.report import open_order, read_order
from evenheft.shop.book.finding import BOOK_NAME
from evenheft.shop.book.into_order import filled_from
from evenheft.shop.book.reading import open_book
from evenheft.shop.year import YEAR_CLUBS, YEAR_ORDERS, Shop, truly


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The folder of a year, and what was printed."""
    folder = tmp_path_factory.mktemp("demo")
    done = CliRunner().invoke(main, ["demo", "--year", str(folder)])
    assert done.exit_code == 0, done.output
    return folder / "year", done.output


def test_the_book_knows_every_head_and_the_seventh_order_has_no_dry_fit(played: tuple[Path, str]) -> None:
    folder, text = played
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        [BOOK_NAME, *(f"order-{n}.xlsx" for n in range(1, YEAR_ORDERS + 2)), f"order-{YEAR_ORDERS + 1}-finished.xlsx"]
    )
    book = open_book(folder / BOOK_NAME)
    assert len(book.list("fits").rows) == len(book.list("orders").rows) == YEAR_ORDERS * len(YEAR_CLUBS)
    cells = OrderCells(open_order(folder / f"order-{YEAR_ORDERS + 1}.xlsx").computed)
    for number in range(1, len(YEAR_CLUBS) + 1):
        assert cells.text("bench", number, "stage") is None
        assert cells.length("parts", number, "rise_known") is not None
    snapshot = filled_from(cells.computed)
    assert snapshot is not None and snapshot[0] == BOOK_NAME
    assert cells.named_length("doubt_balance") == 0.05
    assert f"{len(YEAR_CLUBS)} of {len(YEAR_CLUBS)} clubs within half a point of their forecast" in text


def test_what_is_printed_is_what_the_two_workbooks_say(played: tuple[Path, str]) -> None:
    folder, text = played
    before = {club.name: club for club in read_order(folder / f"order-{YEAR_ORDERS + 1}.xlsx").clubs}
    after = {club.name: club for club in read_order(folder / f"order-{YEAR_ORDERS + 1}-finished.xlsx").clubs}
    for name in YEAR_CLUBS:
        found = re.search(rf"{name}\W+6\W+(\w\d\.\d)\W+(\d\.\d\d) points\W+(\w\d\.\d)", text)
        assert found is not None
        assert found[1] == before[name].forecast
        value = next(j for j in after[name].judgements if j.quantity == "swingweight")
        assert found[3] == value.shown


def test_what_the_shop_writes_down_is_what_is_true_within_its_bench() -> None:
    shop = Shop(1)
    for club in shop.clubs():
        assert abs(club.true.head_mass - club.weighed.head_mass) <= 0.1 + 0.05
        assert abs(club.true.club_length - club.weighed.club_length) <= 0.1 + 1e-9
        assert 25 < truly(club) < 36


def test_libreoffice_forecasts_the_seventh_order_alike(calc: Calc, played: tuple[Path, str]) -> None:
    path = played[0] / f"order-{YEAR_ORDERS + 1}.xlsx"
    expected = OrderCells(open_order(path).computed)
    from evenheft.order.layout import FIX

    with calc.open(path) as book:
        book.calculate()
        for number, row in expected.rows("fix").items():
            if number <= len(YEAR_CLUBS):
                found = book.value("Fix", f"{FIX.letter('points')}{row}")
                assert found == pytest.approx(expected.number("fix", number, "points", 9), abs=1e-6)
