"""What a builder tells with --map counts before anything is decided."""

from __future__ import annotations

import pytest

from evenheft.ooxml.errors import Refused
from shop.tables import CLUBS, HEADINGS, quantities, tables

TOLD = {"B": "mass (g)", "C": "balance (cm)"}


@pytest.mark.parametrize("headings", [["Ding", "Zzz", "Yyy"], ["見出し", "甲", "乙"], [None, "Zzz", None]])
def test_a_letter_will_do_in_any_language_and_without_a_heading(headings: list[str | None]) -> None:
    (table,) = tables([headings, *CLUBS], mapped=TOLD)
    assert [column.quantity for column in table.columns if column.letter in "BC"] == ["mass", "balance"]
    assert table.rows == (2, 3, 4)


def test_a_letter_under_a_merged_band() -> None:
    rows = [[None, "Ding", None, "Zzz"], ["Klub", "Gwt", None, "Spkt"], *([a, b, None, c] for a, b, c in CLUBS)]
    (table,) = tables(rows, merged=["B1:C1"], mapped={"B": "mass (g)", "D": "balance (cm)"})
    assert table.heading_rows == (1, 2)
    assert quantities(table) == {"A": None, "B": "mass", "C": None, "D": "balance"}


def test_a_row_number_where_clubs_stand_in_columns() -> None:
    rows = [["Club", "5i", "6i"], ["Zzz", 415, 420], ["Yyy", 74, 73]]
    (table,) = tables(rows, mapped={"2": "mass (g)", "3": "balance (cm)"})
    assert (table.layout, quantities(table)["2"], quantities(table)["3"]) == ("columns", "mass", "balance")


def test_a_column_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(Refused, match=r'no column "Z" that --map could mean; it has A "Club" \(not used\); B "Mass'):
        tables([HEADINGS, *CLUBS], mapped={"Z": "mass (g)"})
    with pytest.raises(Refused, match="use the letter"):
        tables([["Club", "W", "W"], *CLUBS], mapped={"W": "mass (g)", "C": "balance (cm)"})
