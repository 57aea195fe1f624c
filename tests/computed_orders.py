"""An order that the embedded engine has computed, asked by sheet, column and club; and a cell of it filled."""

from __future__ import annotations

import openpyxl

from evenheft.hosts.embedded import Computed, Value
from evenheft.order.demo import DEMO_CLUBS
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import FIRST_ROW, Table

ROWS = {club.name: FIRST_ROW + n for n, club in enumerate(DEMO_CLUBS)}


class Sheets:
    """A computed order, asked by sheet, column and club."""

    def __init__(self, book: openpyxl.Workbook) -> None:
        self.content = save_bytes(book)
        self.computed = Computed.from_bytes(self.content)

    def value(self, table: Table, key: str, club: str) -> Value:
        return self.computed.value(table.sheet, ROWS[club], table.at[key])

    def number(self, table: Table, key: str, club: str) -> float:
        found = self.value(table, key, club)
        assert isinstance(found, float), f"{table.sheet} {key} of {club} is {found}"
        return found


def put(book: openpyxl.Workbook, table: Table, key: str, club: str, value: object) -> None:
    book[table.sheet].cell(ROWS[club], table.at[key]).value = value
