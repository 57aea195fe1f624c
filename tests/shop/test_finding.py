"""Every table on a sheet is found, whichever way it lies."""

from __future__ import annotations

import pytest

from evenheft.ooxml.errors import Refused
from shop.tables import CLUBS, HEADINGS, quantities, tables


def test_tables_side_by_side_and_below_each_other_are_told_apart() -> None:
    rows = [
        [*HEADINGS, None, *HEADINGS],
        *([*club, None, *club] for club in CLUBS),
        [],
        ["Woods"],
        HEADINGS,
        ["3-wood", 340, 78.2],
    ]
    found = tables(rows)
    assert [table.called for table in found] == ["A1:C4", "E1:G4", "A7:C8"]
    assert [len(table.rows) for table in found] == [3, 3, 1]
    assert found[2].title == "Woods"


def test_a_table_that_begins_again_without_a_gap_is_two() -> None:
    found = tables([[*HEADINGS, *HEADINGS], *([*club, *club] for club in CLUBS)])
    assert [table.called for table in found] == ["A1:C4", "D1:F4"]


def test_an_empty_column_inside_a_table_is_no_gap_between_two() -> None:
    rows = [["Club", "Mass (g)", None, "Balance (cm)", None, "Loft (deg)", "Lie (deg)"]]
    rows += [[name, mass, None, balance, None, 34, 62] for name, mass, balance in CLUBS]
    (table,) = tables(rows)
    assert table.called == "A1:G4"
    assert list(quantities(table).values()) == [None, "mass", "balance", "loft", "lie"]


def test_two_columns_of_one_quantity_are_one_table_that_asks() -> None:
    (table,) = tables([["Club", "Mass (g)", "Mass (g)", "Balance (cm)"], ["7-iron", 428, 429, 72]])
    assert quantities(table) == {"A": None, "B": "?", "C": "?", "D": "balance"}


def test_clubs_in_columns_are_read_as_they_are() -> None:
    rows = [["Club", "5i", "6i", "7i"], ["Mass (g)", 415, 420, 428], ["Balance (in)", 29, 28.5, 28.2]]
    (table,) = tables(rows)
    assert table.layout == "columns"
    assert table.rows == (2, 3, 4)
    assert table.names == {2: "5i", 3: "6i", 4: "7i"}
    assert quantities(table) == {"1": None, "2": "mass", "3": "balance"}
    assert table.place(3, 2) == (2, 3)


def test_job_cards_are_clubs_of_one_table() -> None:
    rows = [
        ["Job 1", None, None, "Job 2"],
        ["Club", "7-iron", None, "Club", "8-iron"],
        ["Mass (g):", 428.4, None, "Mass (g):", 435],
        ["Balance (in):", 28.4, None, "Balance (in):", 28.1],
        [],
        ["Club", "9-iron"],
        ["Mass (g):", 440],
        ["Balance (in):", 27.4],
    ]
    (table,) = tables(rows)
    assert table.layout == "cards"
    assert list(table.names.values()) == ["7-iron", "8-iron", "9-iron"]
    mass = table.holding("mass")
    assert mass is not None
    assert [table.place(card, mass.at) for card in table.rows] == [(3, 2), (3, 5), (7, 2)]


def test_a_card_may_have_two_pairs_of_columns() -> None:
    (table,) = tables([["Club", "7-iron", "Mass (g)", 428], ["Balance (in)", 28.4, "Loft (deg)", 34]])
    assert table.layout == "cards"
    assert {column.quantity for column in table.columns} == {None, "mass", "balance", "loft"}


def test_cards_in_different_units_are_not_thrown_together() -> None:
    rows = [
        ["Mass (g)", 428.4, None, "Mass (oz)", 15.2],
        ["Balance (in)", 28.4, None, "Balance (in)", 28.1],
    ]
    assert [[column.unit for column in table.columns] for table in tables(rows)] == [["g", "in"], ["oz", "in"]]


def test_what_is_only_asked_about_is_a_table_too() -> None:
    (table,) = tables([["Club", "TW", "BP"], ["7-iron", 428, 72]])
    assert quantities(table) == {"A": None, "B": "?", "C": "?"}


def test_a_total_that_its_parts_add_up_to_is_the_clubs_mass() -> None:
    heads = ["Club", "Head (g)", "Shaft (g)", "Grip (g)", "Total", "Balance (cm)"]
    assert quantities(tables([heads, ["7-iron", 270, 100, 50, 425, 72]])[0])["E"] == "mass"
    assert quantities(tables([heads, ["7-iron", 270, 100, 50, 38, 72]])[0])["E"] == "?"


def test_a_heading_over_names_is_no_measure() -> None:
    (table,) = tables([["Club", "Shaft", "Mass (g)", "Balance (cm)"], ["7-iron", "steel R", 428, 72]])
    assert quantities(table)["B"] is None


def test_a_refusal_lists_what_it_saw() -> None:
    with pytest.raises(Refused, match=r'It has A "Ding" \(not used\); B "Wie schwer" \(not used\)'):
        tables([["Ding", "Wie schwer"], ["7-iron", 428]])
    with pytest.raises(Refused, match="no row with a club"):
        tables([HEADINGS])


@pytest.mark.parametrize(
    ("headings", "meanings"),
    [
        (["番手", "総重量（g）", "重心（cm）"], [None, "mass", "balance"]),
        (["Schläger", "Gewicht (g)", "Schwerpunkt (cm)"], [None, "mass", "balance"]),
        (["Club", "Poids (g)", "Point d'équilibre (cm)"], [None, "mass", "balance"]),
        (["Palo", "Peso (g)", "Punto de equilibrio (cm)"], [None, "mass", "balance"]),
    ],
)
def test_headings_in_other_languages(headings: list[str], meanings: list[str | None]) -> None:
    (table,) = tables([headings, *CLUBS])
    assert list(quantities(table).values()) == meanings
    assert table.named_at == 1
