"""Readings typed side by side: what is several, what is one, and what is neither."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from evenheft.mechanics.typed_readings import alike, read_numbers, read_quantities
from evenheft.mechanics.units import BY_SYMBOL, CM_PER_INCH, GRAMS_PER_OUNCE


def lengths(text: str, unit: str = "cm") -> list[float]:
    return read_quantities(text, "length", BY_SYMBOL[unit])


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("44 1/2 in", [44.5]),
        ("44-1/2", [44.5]),
        ("44½", [44.5]),
        ("3 ft 8 1/2 in", [44.5]),
        ("3' 8 1/2\"", [44.5]),
        ("44 1/2 44 5/8 in", [44.5, 44.625]),
        ("44-1/2 44-5/8", [44.5, 44.625]),
        ("44 44 1/2", [44.0, 44.5]),
        ("44 1/2 in 44 5/8 in", [44.5, 44.625]),
        ("44 1/2; 44 5/8", [44.5, 44.625]),
        ("44.5, 44.6", [44.5, 44.6]),
        ("44,5 44,6 44,5", [44.5, 44.6, 44.5]),
        ("44,5; 44,6", [44.5, 44.6]),
        ("44.5\n44.6", [44.5, 44.6]),
        ("3 ft 8 in; 3 ft 8 1/2 in", None),
    ],
)
def test_one_length_or_several(text: str, inches: list[float] | None) -> None:
    if inches is None:  # feet and inches side by side are one length, or four numbers: never two lengths
        assert not alike(lengths(text, "in"))
    else:
        assert lengths(text, "in") == approx([inch * CM_PER_INCH for inch in inches])


@pytest.mark.parametrize(
    "text", ["", " ", ";", "75.3;", "75.3+75.4", "75.3 x", "75.3 75.4 stone", "75.3 g 75.4 g", "a b"]
)
def test_neither_one_nor_several(text: str) -> None:
    with pytest.raises(ValueError, match=r"must|unit"):
        lengths(text)


def test_a_number_that_can_be_read_in_two_ways_stays_refused() -> None:
    with pytest.raises(ValueError, match="may be"):
        lengths("1,130 1,131")


def test_masses_with_their_unit_behind() -> None:
    assert read_quantities("13.9 13.95 oz", "mass", BY_SYMBOL["g"]) == approx(
        [13.9 * GRAMS_PER_OUNCE, 13.95 * GRAMS_PER_OUNCE]
    )
    assert read_quantities("395 g 0.396 kg", "mass", BY_SYMBOL["oz"]) == approx([395.0, 396.0])


@given(
    st.lists(st.integers(100, 999).map(lambda n: n / 10), min_size=1, max_size=6), st.sampled_from([" ", "; ", ", "])
)
def test_whatever_was_typed_is_read(readings: list[float], between: str) -> None:
    assert read_numbers(between.join(map(str, readings))) == readings
    assert lengths(between.join(map(str, readings))) == readings
    commas = [str(reading).replace(".", ",") for reading in readings]
    assert lengths(between.join(commas)) == readings


def test_readings_of_one_thing_are_alike() -> None:
    assert alike([19.1, 19.2, 18.4])
    assert not alike([19.1, 17.2])  # nine swings instead of ten
    assert not alike([75.3, 57.3])  # figures turned round
    assert not alike([395.0, 75.3])  # mass and balance in one cell
    assert alike([2.1, 2.4], least=0.5)
    assert not alike([2.1, 2.4])
