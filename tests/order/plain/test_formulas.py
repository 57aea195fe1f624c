"""Ordinary formulas in the place of HEFT_ ones, at the very edge of what they decide.

R&A and USGA, Equipment Rules, Part 2, 1c (from memory): at least 18 in, and but for putters at most 48 in.
"""

from __future__ import annotations

import pytest

from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import call
from evenheft.hosts.embedded import compute_beside
from evenheft.mechanics.rules import LONGEST, SHORTEST
from evenheft.order.plain.formulas import plain

A_HAIR = 1e-6
"""A hundredth of what any tape shows [cm]."""


def both(text: str, *held: float | str) -> tuple[object, object]:
    """What the ordinary formula and the HEFT_ one answer, for arguments in A1, B1 ..."""
    cells = {(1, at): value for at, value in enumerate(held, start=1)}
    formula = plain(text, lambda cell: cells[1, ord(cell[0]) - 64])
    name = text[1:].partition("(")[0]
    return compute_beside(cells, {(1, 20): formula})[1, 20], call(REGISTRY[name], held)


@pytest.mark.parametrize("kind", ["other", "putter"])
@pytest.mark.parametrize(
    ("length", "of_any", "of_a_putter"),
    [
        (SHORTEST - A_HAIR, "too short", "too short"), (SHORTEST, "within", "within"),
        (SHORTEST + A_HAIR, "within", "within"), (45.0, "too short", "too short"), (46.0, "within", "within"),
        (LONGEST - A_HAIR, "within", "within"), (LONGEST, "within", "within"), (LONGEST + A_HAIR, "too long", "within"),
        (121.9, "within", "within"), (122.0, "too long", "within"), (117.0, "within", "within"),
    ],
)  # fmt: skip
def test_the_length_limits_are_the_rules(length: float, of_any: str, of_a_putter: str, kind: str) -> None:
    expected = of_a_putter if kind == "putter" else of_any
    assert both("=HEFT_LENGTH_LIMIT(A1,B1)", length, kind) == (expected, expected)


@pytest.mark.parametrize(
    ("points", "label"),
    [(0.0, "A0.0"), (29.96, "D0.0"), (32.25, "D2.3"), (39.94, "D9.9"), (39.96, "E0.0"), (69.94, "G9.9")],
)
def test_labels_change_where_the_formulas_do(points: float, label: str) -> None:
    assert both("=HEFT_LABEL(A1)", points) == (label, label)
