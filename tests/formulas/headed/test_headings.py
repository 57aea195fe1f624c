from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.formulas.headed import headings
from evenheft.formulas.headed.headings import (
    dimension_of,
    label_of,
    needs_unit,
    read_heading,
    read_headings,
)
from evenheft.formulas.headed.vocabulary import VOCABULARY


@pytest.mark.parametrize(
    ("text", "quantity", "unit"),
    [
        ("Head mass (g)", "head_mass", "g"),
        ("Head wt. [oz]", "head_mass", "oz"),
        ("HEAD\nWEIGHT (grams)", "head_mass", "g"),
        ("Head (g)", "head_mass", "g"),
        ("Shaft (g)", "shaft_mass", "g"),
        ("Shaft (in)", "shaft_length", "in"),
        ("Shaft length, inches", "shaft_length", "in"),
        ('Length"', "club_length", "in"),
        ("Playing length (″)", "club_length", "in"),
        ("Club length in cm", "club_length", "cm"),
        ("Grip mass {g}", "grip_mass", "g"),
        ("Tip weight (g)", "tip_weight_mass", "g"),
        ("Tip wt g", "tip_weight_mass", "g"),
        ("Counter weight (g)", "butt_weight_mass", "g"),
        ("Adaptor (g)", "adapter_mass", "g"),
        ("Ferrules (g)", "ferrule_mass", "g"),
        ("Glue (g)", "epoxy_mass", "g"),
        ("Tape (g)", "tape_mass", "g"),
        ("Head rise (cm)", "head_rise", "cm"),
        ("Bore to ground (cm)", "bore_to_ground", "cm"),
        ("Bottom of bore to ground (mm)", "bore_to_ground", "mm"),
        ("Shaft balance point (in)", "shaft_balance", "in"),
        ("Shaft balance (%)", "shaft_balance", "%"),
        ("Shaft balance from the tip (in)", "shaft_balance_from_tip", "in"),
        ("Tip trim (in)", "tip_trim", "in"),
        ("Ferrule above tip (cm)", "ferrule_above_tip", "cm"),
        ("Total weight (oz)", "mass", "oz"),
        ("Balance point (in)", "balance", "in"),
        ("Dry-fit mass (g)", "dry_mass", "g"),
        ("Dry fitted balance (in)", "dry_balance", "in"),
        ("MOI (kg cm²)", "inertia", "kg cm2"),
        ("Swing weight", "points", None),
        ("Period (s)", "period", "s"),
        ("Scale reading (g)", "reading", "g"),
        ("Lie (°)", "lie", "deg"),
        ("Frequency (cpm)", "frequency", "cpm"),
        ("Loft", "loft", None),
    ],
)
def test_a_shops_heading_is_understood(text: str, quantity: str, unit: str | None) -> None:
    assert read_heading(text) == (quantity, unit, None)


@pytest.mark.parametrize(
    "text", ["Player", "Club", "Notes", "Flex", "Price (EUR)", "Head model", "", "Paint (g) not used"]
)
def test_what_names_no_quantity_is_not_used_and_no_problem(text: str) -> None:
    assert read_heading(text) == (None, None, None)
    assert label_of(read_heading(text)) == "not used"


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("Epxy (g)", 'did you mean "Epoxy"?'),
        ("Heda mass (g)", 'did you mean "Head mass"?'),
        ("Shaft", 'write the unit, e.g. "Shaft (g)" or "Shaft (in)"'),
        ("Paint (g)", 'a mass, but of no known part: call it "Other (g)", or write "not used" after it'),
        ("Ferrule position (cm)",
         'ferrule position may be from the butt or from the tip: write "Ferrule above tip"'),
    ],
)  # fmt: skip
def test_what_may_be_a_part_is_asked_about(text: str, problem: str) -> None:
    reading = read_heading(text)
    assert (reading.quantity, reading.problem) == (None, problem)
    assert label_of(reading) == f"not used: {problem}"


@pytest.mark.parametrize(
    ("text", "quantity", "problem"),
    [
        ("Head weight (stone)", "head_mass", "the unit stone is not known: use g or oz"),
        ("Head mass (in)", "head_mass", "must be a mass (g or oz): in is a unit of length"),
        ("Shaft (stone)", "shaft_mass", "the unit stone is not known: use g or oz or in or cm or mm"),
        ("Club length (g)", "club_length", "must be a length (in or cm or mm): g is a unit of mass"),
    ],
)
def test_a_part_in_a_wrong_unit_is_refused(text: str, quantity: str, problem: str) -> None:
    reading = read_heading(text)
    assert (reading.quantity, reading.problem) == (quantity, problem)
    assert label_of(reading) == f"! {problem}"


def test_two_headings_for_one_part_are_told_at_the_second() -> None:
    first, second = read_headings(["Grip (g)", "Grip weight (g)"])
    assert first.problem is None
    assert second.problem == 'two headings for grip mass: this one and "Grip (g)"'


def test_a_clubs_own_mass_may_stand_twice() -> None:
    assert [r.problem for r in read_headings(["Mass (g)", "Finished mass (g)"])] == [None, None]


def test_a_length_without_a_unit_says_nothing_a_mass_is_in_grams() -> None:
    assert needs_unit(read_heading("Club length"))
    assert not needs_unit(read_heading("Head mass"))
    assert label_of(read_heading("Club length")) == "club length: write the unit, in or cm or mm"
    assert label_of(read_heading("Head mass")) == "head mass (g, as none is written)"


@pytest.mark.parametrize("name", VOCABULARY)
def test_every_name_in_the_vocabulary_reads_back_as_itself(name: str) -> None:
    headed = VOCABULARY[name]
    for words in headed.words:
        assert read_heading(words).quantity == name
    example = {"mass": "oz", "length": "mm", "inertia": "kg cm2", "angle": "deg", "time": "s", "frequency": "cpm"}
    unit = example.get(headed.dimension or "")
    for words in (*headed.words, *headed.bare):
        if unit is not None:
            assert read_heading(f"{words.upper()} ({unit})") == (name, unit, None)
            assert dimension_of(unit) == headed.dimension


@given(st.text(max_size=40))
def test_no_text_at_all_breaks_the_reading(text: str) -> None:
    reading = read_heading(text)
    assert reading.quantity is None or reading.quantity in VOCABULARY
    assert "\n" not in label_of(reading)


@pytest.mark.parametrize("known", sorted(headings._EVERY))
def test_a_misspelt_word_of_any_language_is_asked_about_or_not_used(known: str) -> None:
    for text in (f"{known}x (g)", f"{known[1:]} (cm)", f"{known[:-1]}q (in)"):
        reading = read_heading(text)
        assert reading.problem is None or "\n" not in reading.problem
