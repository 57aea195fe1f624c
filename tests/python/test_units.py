"""Text with a unit, in g and cm; NIST SP 811 (2008), Appendix B.8, exact."""

from __future__ import annotations

import pytest

import evenheft


def test_a_mass_and_a_length_carry_their_units() -> None:
    assert evenheft.grams("1 oz") == 28.349523125
    assert evenheft.grams("395") == 395.0
    assert evenheft.cm("44 1/2 in") == pytest.approx(113.03, abs=1e-9)
    assert evenheft.cm("1,13 m") == pytest.approx(113.0, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("44 g", "text must be a length: grams are a unit of mass, got 44 g"),
        ("1,130 cm", "text: 1,130 may be 1.130 or 1130: write one of them"),
        ("", "text must be a length such as 75.3 or 29 1/2 in, got "),
    ],
)
def test_what_is_no_length_says_so(text: str, line: str) -> None:
    with pytest.raises(ValueError) as refused:
        evenheft.cm(text)
    assert str(refused.value) == line
