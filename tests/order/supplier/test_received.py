"""Whether what came back is another mass than the order holds, or was wanted: to a hundredth of a gram and far less."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from evenheft.formulas.wording import scale_named
from evenheft.order.layout import FIRST_ROW, SUPPLIER
from evenheft.order.supplier.book import ReturnedHead, ReturnedHeads
from evenheft.order.supplier.out import Wanted
from evenheft.order.supplier.received import Arrival, arrivals

WANTED = Wanted(1, "7-iron", "Forged", 1, 34, 62, 281.0, 1.0, "")


@pytest.mark.parametrize(
    ("old", "new", "changes"),
    [
        (281.0, 281.01, True), (281.0, 280.9, True), (281.0, 281.0001, True), (281.0, 281.0, False),
        (281.0, 281.0 * (1 + 1e-12), False),  # ounces there and back
        (None, 281.0, True), (281.0, None, False), (None, None, False),
    ],
)  # fmt: skip
def test_a_hundredth_of_a_gram_is_another_mass(old: float | None, new: float | None, changes: bool) -> None:
    assert Arrival(WANTED, old, new, "in", "", "").changes is changes


class _Order:
    """The little of an order that is asked."""

    name = "order.xlsx"
    number = "1001"
    hidden = False
    rows = {1: FIRST_ROW}  # noqa: RUF012  nobody writes into it
    scale = scale_named("g cm")

    class supplier:  # noqa: N801  a sheet
        hidden_rows: frozenset[int] = frozenset()

        @staticmethod
        def is_hidden(_: int) -> bool:
            return False

    class computed:  # noqa: N801
        @staticmethod
        def named_cell(_: str) -> str:
            return ""

    @staticmethod
    def cell(key: str, row: int) -> Any:
        held = {"wanted": WANTED.mass, "tolerance": WANTED.tolerance, "club": WANTED.club, "model": WANTED.model}
        return held.get(key) if row == FIRST_ROW else None


@pytest.mark.parametrize(
    ("wanted", "tolerance", "problem"),
    [
        (281.0, 1.0, False), (281.01, 1.0, True), (280.999, 1.0, True), (281.0, 1.01, True), (None, 1.0, True),
        (281.0 * (1 + 1e-12), 1.0, False),
    ],
)  # fmt: skip
def test_a_wanted_mass_that_was_changed_by_a_hundredth_is_told(
    wanted: float | None, tolerance: float, problem: bool
) -> None:
    head = {field.name: None for field in dataclasses.fields(ReturnedHead)}
    head |= {"number": 1, "club": "7-iron", "wanted": wanted, "tolerance": tolerance, "mass": 281.2, "problem": "",
             "remark": ""}  # fmt: skip
    answer = {field.name: "" for field in dataclasses.fields(ReturnedHeads)}
    answer |= {"name": "heads.xlsx", "order_number": "1001", "heads": (ReturnedHead(**head),)}
    (arrival,) = arrivals(_Order(), ReturnedHeads(**answer))  # type: ignore[arg-type]
    assert bool(arrival.problem) is problem
    assert arrival.verdict == "in"
    assert SUPPLIER.at["received"] > 0
