"""Lists that are kept by number, and things that may stand only once."""

import pytest

from evenheft.formulas import REGISTRY, call

ORDER = (("No.", "Club"), (1, "a"), (2, "b"), (3, None))


def column(cells: tuple[object, ...]) -> list[list[object]]:
    return [[cell] for cell in cells]


@pytest.mark.parametrize(
    ("numbers", "filled", "line"),
    [
        (("No.", 1, 2), ("Club", "a", "b"), ""),
        (("No.", 1, None), ("Club", "a", "b"), "! a row on Bench is filled in and has no number: b"),
        (("No.", 1, None), ("Club", "a", None), ""),
        (("No.", 1, None), ("Club", "a", "! club 2 has lost its row"), ""),
        (("No.", 2, 2), ("Club", "a", "b"), "! number 2 stands twice on Bench"),
        (("No.", 2, 2), ("Club", None, None), "! number 2 stands twice on Bench"),
    ],
)
def test_roll(numbers: tuple[object, ...], filled: tuple[object, ...], line: str) -> None:
    assert call(REGISTRY["HEFT_ROLL"], [column(numbers), column(filled), "Bench"]) == line


@pytest.mark.parametrize(
    ("numbers", "filled", "line"),
    [
        (("No.", 2, 1, 3), ("Mass", 431, 433, None), ""),
        (("No.", 1, 2), ("Mass", 431, 433), ""),  # nothing stands in row 3 of Order
        (("No.", 1, 3), ("Mass", None, None), "! club 2 (b) has lost its row on Bench"),
        (("No.", 1, 2, 4), ("Mass", 431, 433, 435), "! no club has number 4, which is filled in on Bench: 435"),
        (("No.", 1, 2, 4), ("Mass", 431, 433, None), ""),
    ],
)
def test_roll_beside_another_list(numbers: tuple[object, ...], filled: tuple[object, ...], line: str) -> None:
    assert call(REGISTRY["HEFT_ROLL"], [column(numbers), column(filled), "Bench", ORDER]) == line


def test_roll_of_unequal_columns() -> None:
    assert call(REGISTRY["HEFT_ROLL"], [column((1, 2)), column(("a",))]) == "! filled must be as high as numbers"


@pytest.mark.parametrize(
    ("rows", "line"),
    [
        ((("7-iron",), ("8-iron",)), ""),
        ((("7-iron",), ("8-iron",), (" 7-IRON",)), "! club 7-IRON stands twice"),
        ((("Irons", 3.0), ("Wedges", 3.0), ("Irons", 4.0)), ""),
        ((("Irons", 3.0), ("irons", 3.0)), "! club irons 3 stands twice"),
        ((("Irons", None), ("Irons", None), (None, None), (None, None)), ""),
        ((("! odd",), ("! odd",)), ""),
    ],
)
def test_twice(rows: tuple[tuple[object, ...], ...], line: str) -> None:
    assert call(REGISTRY["HEFT_TWICE"], [rows, "club"]) == line
