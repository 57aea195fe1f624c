"""Values on their way between the embedded engine and the formulas: errors as dicts, whole numbers, ranges as lists."""

from __future__ import annotations

from typing import Any

from evenheft.formulas.calling import Cell, Grid
from evenheft.ooxml.values import CellError

_ERROR_CODES = {
    "Null": "#NULL!", "Ref": "#REF!", "Name": "#NAME?", "Value": "#VALUE!", "Div": "#DIV/0!", "Na": "#N/A",
    "Num": "#NUM!", "Error": "#ERROR!", "NImpl": "#N/IMPL!", "Spill": "#SPILL!", "Calc": "#CALC!",
    "Circ": "#CIRC!", "Cancelled": "#CANCELLED!",
}  # fmt: skip


def handed_over(raw: Any) -> Any:
    """Turn an argument into what `formulas.call` expects."""
    if isinstance(raw, list):
        rows = raw if raw and isinstance(raw[0], list) else [raw]
        return [[handed_over(cell) for cell in row] for row in rows] if _has_errors(rows) else rows
    return value_of(raw) if isinstance(raw, dict) else raw


def _has_errors(rows: list[list[Any]]) -> bool:
    """Whether a range holds an error, which the engine tells as a dict: the one kind of cell without a hash."""
    try:
        set(map(hash, map(tuple, rows)))  # the cheapest look at every cell of a long range
    except TypeError:
        return True
    return False


def handed_back(answer: Cell | Grid) -> Any:
    """Turn an answer into what the engine takes: rows as lists."""
    return list(map(list, answer)) if isinstance(answer, tuple) else answer


def value_of(raw: Any) -> Any:
    """Turn a value of the engine into that of a cell: its error dicts into `CellError`, whole numbers into floats."""
    if isinstance(raw, dict) and raw.get("type") == "Error":
        return CellError(_ERROR_CODES.get(str(raw.get("kind")), "#ERROR!"))
    if isinstance(raw, int) and not isinstance(raw, bool):
        return float(raw)
    return raw
