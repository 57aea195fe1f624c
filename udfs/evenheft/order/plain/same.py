"""Whether a cell of a copy gives what it gave in the order."""

from __future__ import annotations

import math

from evenheft.ooxml.values import Value


def same(new: Value, old: Value) -> bool:
    """Tell whether two values are the same to a reader: an empty cell and an empty text are."""
    new, old = ("" if value is None else value for value in (new, old))
    if isinstance(new, float) and isinstance(old, float):
        return math.isclose(new, old, rel_tol=1e-9, abs_tol=1e-9)
    return new == old
