"""The sheets that a plan is made from: Heads, Shafts and Weights of a workbook, wherever their headings stand."""

from __future__ import annotations

from pathlib import Path

from evenheft.formulas.headed.pairing import batch_of
from evenheft.hosts.calc.open_document import read_workbook
from evenheft.hosts.embedded import Computed
from evenheft.mechanics.pairing.problem import Batch
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.reading import read_sheet
from evenheft.ooxml.values import CellRows
from evenheft.order.layout import KIND_OF_WORKBOOK

HEADS, SHAFTS, WEIGHTS = "Heads", "Shafts", "Weights"
SEARCHED_ROWS = 20
"""How far down a sheet its headings are looked for."""
_MOST_ROWS = 2_000
"""More rows than this are no batch that a person lays out."""


def is_order(path: Path) -> bool:
    """Tell whether a workbook says of itself that it is an order, of whatever layout.

    Args:
        path: the workbook; it is only read [-].

    Raises:
        Refused: the file cannot be read.
    """
    with read_workbook(path) as package:
        if package.find_sheet("Guide") is None:
            return False
        values = read_sheet(package, "Guide").values.values()
    return any(isinstance(value, str) and value.startswith(KIND_OF_WORKBOOK) for value in values)


def read_batch(path: Path, shafts_from: Path | None = None) -> Batch:
    """Read what is to be paired from a workbook; it is only read.

    Args:
        path: the workbook with the sheet Heads [-].
        shafts_from: the workbook with the sheets Shafts and Weights; the same one when None [-].

    Raises:
        Refused: a file cannot be read, a sheet is missing, or what it holds cannot be planned.
    """
    heads = table_of(path, HEADS)
    stock = shafts_from or path
    shafts, weights = table_of(stock, SHAFTS), table_of(stock, WEIGHTS)
    if heads is None:
        raise Refused(f'{path.name} has no sheet "{HEADS}" with the heads and what their clubs must read')
    if shafts is None:
        raise Refused(f'{stock.name} has no sheet "{SHAFTS}" with the shafts to choose from')
    return batch_of(heads, shafts, weights)


def table_of(path: Path, sheet: str) -> CellRows | None:
    """Read a sheet's rows from its headings down, as wide as these; None where there is no such sheet.

    Args:
        path: the workbook; it is only read [-].
        sheet: the sheet's name [-].

    Raises:
        Refused: the file cannot be read.
    """
    with read_workbook(path) as package:
        computed = Computed(package)
        if sheet not in computed.sheet_names:
            return None
        content = read_sheet(package, sheet)
    last_row, width = min(content.last_row, _MOST_ROWS), content.last_column
    rows = [[computed.value(sheet, row, column) for column in range(1, width + 1)] for row in range(1, last_row + 1)]
    filled = [sum(isinstance(cell, str) and bool(cell.strip()) for cell in row) for row in rows[:SEARCHED_ROWS]]
    if not filled:
        return []
    return rows[filled.index(max(filled)) :]
