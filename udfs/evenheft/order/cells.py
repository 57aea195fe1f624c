"""Cells of a computed order by the club's number, masses and lengths in g and cm whatever the order's units are."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from evenheft.formulas.kinds import finite_number
from evenheft.formulas.wording import PASSED_ON
from evenheft.hosts.embedded import Computed
from evenheft.mechanics import units
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import CellError, Held
from evenheft.order.layout import FORECAST_DOUBTS, HEADING_ROW, PARTS, TABLES
from evenheft.order.layout.parts_sheet import PARTS_RUNS
from evenheft.order.report import rows_by_number


@dataclass(frozen=True)
class OrderCells:
    """A computed order, read by the club's number."""

    computed: Computed

    @cached_property
    def grams(self) -> float:
        """Grams in the order's unit of mass."""
        return self._factor("unit_mass", "g")

    @cached_property
    def centimetres(self) -> float:
        """Centimetres in the order's unit of length."""
        return self._factor("unit_length", "cm")

    def _factor(self, name: str, standard: str) -> float:
        unit = units.BY_SYMBOL.get(plain_text(self.computed.named_cell(name)))
        return unit.factor if unit is not None else units.BY_SYMBOL[standard].factor

    @cached_property
    def _rows(self) -> dict[str, dict[int, int]]:
        return {}

    def rows(self, table: str) -> dict[int, int]:
        """Return the row of each club on a sheet, by the club's number."""
        if table not in self._rows:
            self._rows[table] = rows_by_number(self.computed, TABLES[table])
        return self._rows[table]

    @property
    def numbers(self) -> list[int]:
        """The numbers of the clubs on Order, in the order of its rows."""
        return list(self.rows("order"))

    def raw(self, table: str, number: int, key: str) -> Held | None:
        """Look up a cell of a club, whatever it holds; None where it is blank or there is no such column."""
        declared, row = TABLES[table], self.rows(table).get(number)
        if key not in declared.at or row is None:
            return None
        found = self.computed.value(declared.sheet, row, declared.at[key])
        return None if found == "" else found

    def value(self, table: str, number: int, key: str) -> Held | None:
        """Look up a cell of a club, None where it holds a message or an error too."""
        found = self.raw(table, number, key)
        is_message = isinstance(found, CellError) or (isinstance(found, str) and found.startswith(PASSED_ON))
        return None if is_message else found

    def text(self, table: str, number: int, key: str) -> str | None:
        """Look up a text, None where there is none."""
        return plain_text(self.value(table, number, key)) or None

    def number(self, table: str, number: int, key: str, digits: int = 3) -> float | None:
        """Look up a number, None where there is none."""
        found = finite_number(self.value(table, number, key))
        return None if found is None else round(found, digits)

    def mass(self, table: str, number: int, key: str) -> float | None:
        """Look up a mass [g]."""
        return self._in(self.value(table, number, key), "g", self.grams)

    def length(self, table: str, number: int, key: str) -> float | None:
        """Look up a length [cm]."""
        return self._in(self.value(table, number, key), "cm", self.centimetres)

    def named_mass(self, name: str) -> float | None:
        """Look up a mass by its cell's name [g]."""
        return self._in(self.computed.named_cell(name), "g", self.grams)

    def named_length(self, name: str) -> float | None:
        """Look up a length by its cell's name [cm]."""
        return self._in(self.computed.named_cell(name), "cm", self.centimetres)

    def run(self, number: int, name: str) -> tuple[list[object], list[object]]:
        """Look up a run of columns of Parts that HEFT_CLUB reads: its headings, and a club's cells under them.

        Args:
            number: the club's number [-].
            name: the run, a key of `PARTS_RUNS` [-].
        """
        first, last = (PARTS.at[key] for key in PARTS_RUNS[name])
        columns = PARTS.columns[first - PARTS.first_column : last - PARTS.first_column + 1]
        headings = [self.computed.value(PARTS.sheet, HEADING_ROW, PARTS.at[column.key]) for column in columns]
        return list(headings), [self.raw(PARTS.name, number, column.key) for column in columns]

    @cached_property
    def instruments(self) -> list[tuple[str, object]]:
        """What the order's instruments admit to, as the defaults of a table of parts."""
        rows = (
            (f"{heading} ({plain_text(self.computed.named_cell(unit))})", self.computed.named_cell(name))
            for heading, unit, name in FORECAST_DOUBTS
        )
        return [row for row in rows if row[1] not in (None, "")]

    def _in(self, value: Held | None, symbol: str, factor: float) -> float | None:
        """Read a text with its own unit, or a plain number in the order's [g or cm]."""
        if isinstance(value, str):
            unit = units.BY_SYMBOL[symbol]
            own = units.Unit(symbol, unit.dimension, factor, symbol)
            try:
                return round(units.read_quantity(value, unit.dimension, own), 4)
            except ValueError:
                return None
        number = finite_number(value)
        return None if number is None else round(number * factor, 4)
