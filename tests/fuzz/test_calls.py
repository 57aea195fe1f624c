"""A few of the calls that `python tests/fuzz/calls.py 300000` makes by hand."""

from __future__ import annotations

from fuzz.calls import run


def test_no_cell_content_makes_a_formula_fail() -> None:
    outcome = run(1500, seed=20261125)
    assert outcome.failures == []
    assert outcome.calls == 1500
