"""A whole copy of an order that needs no add-in: each HEFT_ formula becomes an ordinary one, or its value."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from evenheft.hosts.embedded import Computed, EngineError
from evenheft.ooxml.edit import NOT_COMPUTED, CellAt, replaced_formulas
from evenheft.ooxml.edits import Edit, InPlaceOfFormula
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import column_letter
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.values import CellError, Value
from evenheft.order.files import write_new
from evenheft.order.plain.clean import clean_copy
from evenheft.order.plain.fixed import WATCHING, OrderReader, with_fixed_inputs
from evenheft.order.plain.formulas import NoPlainError, functions_in, plain
from evenheft.order.plain.same import same
from evenheft.order.report import open_order

_ROUNDS = 4
"""How often translations that do not hold are taken back and the copy is computed again."""


@dataclass(frozen=True, slots=True)
class Replaced:
    """One cell whose HEFT_ formula was replaced."""

    sheet: str
    row: int
    column: int
    functions: tuple[str, ...]
    formula: str
    """The ordinary formula that stands there now, "" where the value does."""


@dataclass(frozen=True)
class _Found:
    """A cell with a HEFT_ formula."""

    formula: str
    value: Value
    functions: tuple[str, ...]
    shared: bool


@dataclass(frozen=True)
class PlainCopy:
    """What became of an order in its copy."""

    replaced: tuple[Replaced, ...]
    """Each cell whose formula was replaced, and by what."""
    warnings: tuple[str, ...]
    """What in the order could act on its own, or is hidden."""


def plain_copy(path: Path, to: Path, *, clean: bool = False) -> PlainCopy:
    """Write a copy of an order without HEFT_ formulas; everything else in it is as it was.

    Args:
        path: the order, which is only read [-].
        to: the copy, which must not exist yet [-].
        clean: whether only what a reader sees comes along, as for a customer [-].

    Raises:
        Refused: it is no order, or the copy cannot be written.
        EngineError: the embedded engine cannot compute it.
    """
    order = open_order(path)
    computed = order.computed
    with order.package as package:
        sheets = {sheet.name: read_sheet(package, sheet.name) for sheet in package.sheets}
        found = _found(sheets, computed, package.name)
        formulas = _translations(found, computed)
        for _ in range(_ROUNDS):
            edits = _edits(found, formulas)
            made = replaced_formulas(package, edits)
            wrong = _wrong(made, found, sheets, computed, formulas)
            if not wrong:
                break
            for place in wrong:
                formulas.pop(place, None)
        else:
            made = replaced_formulas(package, _edits(found, {}))
            formulas = {}
        frozen = [
            place
            for place, cell in found.items()
            if place not in formulas and not (WATCHING.issuperset(cell.functions) and cell.value in (None, ""))
        ]
        made = with_fixed_inputs(made, OrderReader(package, sheets, computed), frozen, formulas, datetime.date.today())
    if clean:
        held = {(name, *place) for name, content in sheets.items() for place in content.formulas}
        made = clean_copy(made, package.name, held)
    write_new(to, made)
    replaced = (
        Replaced(sheet, row, column, cell.functions, formulas.get((sheet, row, column), ""))
        for (sheet, row, column), cell in found.items()
    )
    return PlainCopy(tuple(replaced), package.warnings)


def _found(sheets: Mapping[str, SheetContent], computed: Computed, name: str) -> dict[CellAt, _Found]:
    """Every cell whose formula calls a HEFT_ function, with the value that it has."""
    found: dict[CellAt, _Found] = {}
    for sheet, content in sheets.items():
        masters = {
            group for place, group in content.shared.items() if "HEFT_" in content.formulas.get(place, "").upper()
        }
        for (row, column), text in content.formulas.items():
            shared = content.shared.get((row, column), "") in masters
            if not shared and "HEFT_" not in text.upper():
                continue
            functions = tuple(sorted(functions_in(f"={text}"))) if text else ("HEFT_",)
            if not functions:
                continue  # the name stands in a text
            value = computed.value(sheet, row, column)
            if isinstance(value, CellError) and value.code in NOT_COMPUTED:
                raise Refused(f"{name}: {sheet} {column_letter(column)}{row} cannot be computed here ({value.code})")
            group = shared or (row, column) in content.shared or (row, column) in content.arrays
            found[sheet, row, column] = _Found(f"={text}", value, functions, group)
    return found


def _translations(found: Mapping[CellAt, _Found], computed: Computed) -> dict[CellAt, str]:
    formulas: dict[CellAt, str] = {}
    for (sheet, row, column), cell in found.items():
        if cell.shared:
            continue
        try:
            formulas[sheet, row, column] = plain(cell.formula, _Looker(computed, sheet).look)
        except NoPlainError:
            continue
    return formulas


class _Looker:
    """Tells what a reference in a formula holds."""

    def __init__(self, computed: Computed, sheet: str) -> None:
        self._computed = computed
        self._sheet = sheet

    def look(self, reference: str) -> Value:
        """Look up the value of a cell or a named cell."""
        from openpyxl.utils.cell import coordinate_to_tuple

        sheet, bang, cell = reference.rpartition("!")
        try:
            row, column = coordinate_to_tuple(cell.replace("$", ""))
        except ValueError:
            return self._computed.named_cell(reference)
        return self._computed.value(sheet.strip("'") if bang else self._sheet, row, column)


def _edits(found: Mapping[CellAt, _Found], formulas: Mapping[CellAt, str]) -> dict[CellAt, Edit]:
    return {place: _in_place(formulas.get(place, ""), cell.value) for place, cell in found.items()}


def _in_place(formula: str, value: Value) -> Edit:
    """Put an ordinary formula or the value in a cell; no text stays one, since a cell that refers to none shows 0."""
    shown = "" if value is None else value
    return InPlaceOfFormula(formula.removeprefix("=") or ('""' if shown == "" else ""), shown)


def _wrong(
    made: bytes,
    found: Mapping[CellAt, _Found],
    sheets: Mapping[str, SheetContent],
    computed: Computed,
    formulas: Mapping[CellAt, str],
) -> list[CellAt]:
    """List the translated cells that do not give what they gave; all of them where another cell went wrong by them."""
    try:
        again = Computed.from_bytes(made, name="the copy")
    except EngineError:
        return list(formulas)
    wrong = [place for place in formulas if not same(again.value(*place), found[place].value)]
    if wrong:
        return wrong
    for sheet, content in sheets.items():
        for row, column in content.formulas:
            if not same(again.value(sheet, row, column), computed.value(sheet, row, column)):
                return list(formulas)
    return []
