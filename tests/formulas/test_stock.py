"""Stock weights: what a builder types and reads, for one club and for a set."""

from __future__ import annotations

from typing import Any

import pytest

from formula_answers import heft


def test_stock_weights_row_by_row_from_one_stock() -> None:
    wanted = [[9.4], [0.0], [-3.0], [None], ["heavy"], [100.0]]
    assert heft("HEFT_PICK", wanted, [[2, 3.5, None, 6]], 2) == (
        ("6 + 3.5", 9.5, -0.1),
        ("none", 0.0, 0.0),
        ("none", 0.0, -3.0),
        ("", "", ""),
        ("! grams must be a mass such as 431 or 15.2 oz, got heavy", "", ""),
        ("6 + 6", 12.0, 88.0),
    )
    assert heft("HEFT_PICK", [[9.4], [4.0]], [[2], [4]], None, "sum") == ((4.0,), (4.0,))


def test_a_size_that_is_used_up_is_not_picked() -> None:
    stock, counts = [[2, 3.5, 6]], [[4, 0, 1]]
    assert heft("HEFT_PICK", 9.4, stock, 2, "pieces", counts) == "6 + 2"
    assert heft("HEFT_PICK", 9.4, stock, 3, "pieces", counts) == "6 + 2 + 2"
    assert heft("HEFT_PICK", 9.4, stock, 2, "pieces", [[4, None, 1]]) == "6 + 3.5"
    assert heft("HEFT_PICK", 9.4, stock, 2, "pieces", [[0, 0, 0]]) == "none"


def test_no_weight_is_promised_twice_over_a_set() -> None:
    wants, stock, counts = [[6.0], [None], [6.0], ["! no balance"], [5.5], [-2.0], ["heavy"]], [[4, 6]], [[1, 2]]
    assert heft("HEFT_PICK_SET", wants, stock, counts) == (
        ("6", 6.0, 0.0),
        ("", "", ""),
        ("6", 6.0, 0.0),
        ("! no balance",) * 3,
        ("4", 4.0, 1.5),
        ("none", 0.0, -2.0),
        ("! grams must be a mass such as 431 or 15.2 oz, got heavy",) * 3,
    )


def test_one_club_of_a_set_is_the_same_as_its_row() -> None:
    wants, stock, counts = [[6.0], [5.0], [4.4], [9.0]], [[2], [4], [6]], [[2], [None], [1]]
    rows = heft("HEFT_PICK_SET", wants, stock, counts, 2)
    assert isinstance(rows, tuple)
    for n, row in enumerate(rows, start=1):
        assert heft("HEFT_PICK_SET", wants, stock, counts, 2, None, n) == (row,)
        for what, cell in zip(("pieces", "sum", "remainder"), row, strict=True):
            assert heft("HEFT_PICK_SET", wants, stock, counts, 2, what, n) == cell
    assert heft("HEFT_PICK_SET", wants, stock, counts, 2, "sum", [[1], [2], [3], [4]]) == tuple(
        (row[1],) for row in rows
    )


def test_without_counts_each_club_gets_what_it_would_alone() -> None:
    wants = [[9.4], [4.0], [1.0]]
    alone = heft("HEFT_PICK", wants, [[2, 3.5, 6]], 2)
    assert heft("HEFT_PICK_SET", wants, [[2, 3.5, 6]], None, 2) == alone


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_PICK", (9.4, [[None, ""]]), "! stock must hold at least one weight"),
        ("HEFT_PICK", (9.4, None), "! stock must hold at least one weight"),
        ("HEFT_PICK", (None, [[None, ""]]), ""),
        ("HEFT_PICK", (9.4, [[2, -4]]), "! stock (cell 2) must be from 0.01 g to 500 g, got -4"),
        ("HEFT_PICK", (9.4, [[2, 4]], 7), "! most must be a whole number from 1 to 4, got 7"),
        ("HEFT_PICK", (9.4, [[2, 4]], 1, "sum", [[1], [1]]), "! counts must be a range of the stock's shape"),
        ("HEFT_PICK", (9.4, [[2, 4]], 1, "sum", [[1, 1.5]]),
         "! counts (cell 2) must be a whole number from 0 to 100000, got 1.5"),
        ("HEFT_PICK_SET", ([[5], [6]], [[2, 4]], None, 1, "sum", 3),
         "! which must be a cell of grams, from 1 to 2, got 3"),
        ("HEFT_PICK", (9.4, [[n / 2] for n in range(1, 42)], 4),
         "! stock must hold at most 40 different sizes, got 41"),
        ("HEFT_PICK_SET", ([[5.0]] * 61, [[2, 4]]), "! grams must be a range of at most 60 clubs, got 61"),
        ("HEFT_PICK_SET", ([[None], [""]], [[2, 4]]), ""),
        ("HEFT_PICK_SET", ([[5], [6]], [[None]]), "! stock must hold at least one weight"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str) -> None:
    assert heft(name, *args) == message
