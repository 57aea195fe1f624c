"""What formulas answer, asked by their names as a cell asks."""

from __future__ import annotations

from evenheft.formulas.calling import Cell, Grid, call
from evenheft.formulas.registry import REGISTRY


def heft(name: str, *args: object) -> Cell | Grid:
    """A formula's answer."""
    return call(REGISTRY[name], args)


def number(name: str, *args: object) -> float:
    """The answer of a formula that must answer with one number."""
    answer = heft(name, *args)
    assert isinstance(answer, float), answer
    return answer
