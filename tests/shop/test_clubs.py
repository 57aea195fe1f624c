"""No club is dropped silently: a total is told from a sum along its own row, and what is skipped is named."""

from __future__ import annotations

import pytest

from evenheft.shop.clubs import skipped_notes
from shop.tables import CLUBS, HEADINGS, tables

PARTS = ["Club", "Head (g)", "Shaft (g)", "Grip (g)", "Mass (g)", "Balance (cm)"]


@pytest.mark.parametrize(
    "formula",
    ["=SUM(B{r}:D{r})", "=AVERAGE($B{r}:$D{r})", "=B{r}+C{r}+D{r}", "=SUM(Weighings!B2:B9)", "=MAX(B{r}:D{r},400)",
     "=SUM(B{r},C{r},D{r})", '=SUM(B{r}:D{r})+LEN("A1:A9")'],
)  # fmt: skip
def test_a_sum_along_its_own_row_is_a_measure(formula: str) -> None:
    rows = [PARTS, *([f"{r}-iron", 270, 100, 50, formula.format(r=r), 72] for r in (2, 3, 4))]
    (table,) = tables(rows)
    assert table.rows == (2, 3, 4)
    assert table.skipped == ()


@pytest.mark.parametrize(
    "formula", ["=AVERAGE(E2:E4)", "=SUBTOTAL(9,E$2:E$4)", "=SUM(E:E)", "=STDEV.S(E2:E4)", "=SUM(Table1[Mass])"]
)
def test_a_formula_that_reaches_other_rows_is_a_total(formula: str) -> None:
    rows = [PARTS, *([f"{r}-iron", 270, 100, 50, 420, 72] for r in (2, 3, 4)), ["Result", None, None, None, formula]]
    (table,) = tables(rows)
    assert table.rows == (2, 3, 4)
    assert skipped_notes(table.skipped, "row") == ["row 5 skipped: totals: its formulas reach other rows"]


def test_a_wish_computed_over_the_set_makes_no_total() -> None:
    rows = [["Club", "Mass (g)", "Balance (cm)", "Target mass (g)"]]
    rows += [[f"{r}-iron", 420 + r, 72, "=AVERAGE(B$2:B$4)"] for r in (2, 3, 4)]
    assert tables(rows)[0].rows == (2, 3, 4)


def test_every_skipped_row_is_named_with_its_reason() -> None:
    rows = [HEADINGS, ["Irons"], *CLUBS, [], ["Wedges"], ["PW", 450, 70], ["SW"], ["Average", 440, 71]]
    (table,) = tables(rows)
    assert table.rows == (3, 4, 5, 8)
    assert skipped_notes(table.skipped, "row") == [
        'row 2 skipped: a line of its own: "Irons"',
        "row 6 skipped: blank",
        'row 7 skipped: a line of its own: "Wedges"',
        'row 9 skipped: a line of its own: "SW"',
        'row 10 skipped: totals: "Average"',
    ]
    assert table.groups == {3: "Irons", 4: "Irons", 5: "Irons", 8: "Wedges"}


@pytest.mark.parametrize("name", ["Max power 7", "Total control 7i", "Range rover", "Mean machine"])
def test_a_clubs_own_name_is_no_total(name: str) -> None:
    assert tables([HEADINGS, *CLUBS, [name, 430, 72]])[0].rows == (2, 3, 4, 5)


def test_groups_by_a_column() -> None:
    rows = [["Club", "Set", "Mass (g)", "Balance (cm)"], ["5i", "irons", 415, 74], ["6i", "irons", 421, 73],
            ["GW", "wedges", 450, 70], ["SW", "wedges", 455, 69]]  # fmt: skip
    assert tables(rows)[0].groups == {2: "irons", 3: "irons", 4: "wedges", 5: "wedges"}
