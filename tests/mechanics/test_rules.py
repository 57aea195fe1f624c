"""The equipment rules' limits on length."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.mechanics.rules import length_limit


@pytest.mark.parametrize(
    ("inches", "putter", "word"),
    # R&A / USGA, Equipment Rules, Part 2, 1c (from memory): at least 18 in (0.457 m); at most 48 in (1.219 m) except
    # for putters; measured with the 60 degree plane. Both limits belong to what is allowed.
    [
        (18, False, "within"),
        (17.99, False, "too short"),
        (17.99, True, "too short"),
        (48, False, "within"),
        (48.01, False, "too long"),
        (48.01, True, "within"),
        (60, True, "within"),
        (37.5, False, "within"),
    ],
)
def test_length_limits(inches: float, putter: bool, word: str) -> None:
    assert length_limit(inches * 2.54, putter=putter) == word


@pytest.mark.parametrize("sixteenths", range(18 * 16, 48 * 16 + 1))
def test_every_sixteenth_between_the_limits_is_within(sixteenths: int) -> None:
    assert length_limit(sixteenths / 16 * 2.54) == "within"


@given(length=st.floats(min_value=1, max_value=200))
def test_a_putter_is_never_too_long_and_otherwise_judged_alike(length: float) -> None:
    word, of_putter = length_limit(length), length_limit(length, putter=True)
    assert of_putter != "too long"
    assert word == of_putter or word == "too long"
