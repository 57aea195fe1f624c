"""A plain copy for a customer: a workbook made from nothing, into which only what a reader sees is copied.

What is not copied cannot leak: no part of the old file is taken over, only values, ordinary formulas, looks and charts.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Collection, Iterator
from copy import copy
from functools import lru_cache
from typing import Any, TypeAlias

import openpyxl
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.formula.tokenizer import Token
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.hosts.embedded import LONGEST_FORMULA, Computed, EngineError
from evenheft.ooxml.edit import CellAt, refreshed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.places import SHEET_COLUMNS, area_of
from evenheft.ooxml.reading import read_sheet
from evenheft.ooxml.values import CellError
from evenheft.order.drawing.alternatives import frame_saying
from evenheft.order.drawing.template import save_bytes
from evenheft.order.files import template_file
from evenheft.order.plain.formulas import NoPlainError, tokens_of
from evenheft.order.plain.same import same

_ROUNDS = 4
"""How often formulas that do not hold are turned into values and the copy is computed again."""
_MOST_MERGED = 100_000
"""How many merged cells a workbook may have in all: openpyxl makes a cell of each."""
_MOST_RULES = 10_000
"""How many colour rules, rules for typing, names, comments or column widths: openpyxl makes objects of each."""
_RULES = {b"cfRule": "colour rules", b"dataValidation": "rules for typing", b"definedName": "names",
          b"comment": "comments", b"<col": "column widths"}  # fmt: skip
_ADDRESS = re.compile(r"\bHYPERLINK\s*\(", re.IGNORECASE)
"""A formula that holds an address: what it shows comes along, the address does not."""
_SHOWS_NOTHING = ";;;"
_PRINT = ("orientation", "paperSize", "fitToHeight", "fitToWidth", "scale")
_GUARDS = ("formatColumns", "formatRows", "selectLockedCells", "selectUnlockedCells", "sort", "autoFilter")
_Frozen: TypeAlias = set[CellAt]


def clean_copy(plain: bytes, name: str, formulas: Collection[CellAt]) -> bytes:
    """Return a workbook of its own with what a reader of an order's plain copy sees, and nothing else of it.

    Hidden cells stay behind, but for those by which the template itself works: a formula where the template has one,
    and a text that is the template's own.

    Args:
        plain: the order without HEFT_ formulas [-].
        name: how messages call it [-].
        formulas: the cells that held a formula in the order [-].

    Raises:
        Refused: no sheet of it can be seen.
        EngineError: the embedded engine cannot compute it.
    """
    was = Computed.from_bytes(plain, name=name)
    old = _read(plain, name)
    seen = [sheet for sheet in old.worksheets if sheet.sheet_state == "visible"]
    if not seen:
        raise Refused(f"{name} has no sheet that can be seen: there is nothing to copy")
    shown = _Shown(seen, formulas)
    frozen: _Frozen = set()
    for _ in range(_ROUNDS):
        with CheckedPackage(save_bytes(_Copying(old, shown, was, frozen).book()), name=name) as made:
            try:
                now = Computed(made)
            except EngineError:
                break
            wrong = set(_differing(made, now, was))
            if not wrong:
                return refreshed(made, now.value)
        frozen |= wrong
    return save_bytes(_Copying(old, shown, was, None).book())


def _need_little(plain: bytes, name: str) -> None:
    """Refuse a workbook that merges whole columns or has rules by the thousand: openpyxl would work for minutes."""
    with CheckedPackage(plain, name=name) as package:
        for tag, called in _RULES.items():
            count = sum(package.kept(part).count(tag) for part in package.entries)
            if count > _MOST_RULES:
                raise Refused(
                    f"{name} has {count:,} {called}, of which no clean copy can be made: {_MOST_RULES:,} are taken"
                )
        for sheet in package.sheets:
            merged = sum(area.cells for area in read_sheet(package, sheet.name).merged)
            if merged > _MOST_MERGED:
                raise Refused(
                    f"{name} has {merged:,} merged cells on sheet {sheet.name}, of which no clean copy can be made: "
                    f"unmerge them, {_MOST_MERGED:,} are taken"
                )


def _read(plain: bytes, name: str) -> Workbook:
    """Read a workbook with openpyxl, which takes less than spreadsheets do and says so by errors of every kind."""
    _need_little(plain, name)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of what openpyxl leaves behind: that is why it is asked
            return openpyxl.load_workbook(io.BytesIO(plain), keep_links=False)
    except Exception as error:
        reason = f"{type(error).__name__}: {error}"
        raise Refused(
            f"{name} is written as no clean copy can be made of it: save it anew in your spreadsheet program ({reason})"
        ) from None


def _differing(made: CheckedPackage, now: Computed, was: Computed) -> Iterator[CellAt]:
    """Yield the formulas of a copy that give something else than they gave."""
    for sheet in made.sheets:
        for place in read_sheet(made, sheet.name).formulas:
            if not same(now.value(sheet.name, *place), was.value(sheet.name, *place)):
                yield (sheet.name, *place)


class _Shown:
    """What of an order comes along: what its reader sees, and by what the template's own formulas work."""

    def __init__(self, sheets: list[Worksheet], formulas: Collection[CellAt]) -> None:
        """Look which rows and columns are hidden.

        Args:
            sheets: the sheets that can be seen [-].
            formulas: the cells that held a formula in the order [-].
        """
        self.sheets = sheets
        self._formulas = formulas
        self._template = openpyxl.load_workbook(template_file("xlsx"))
        self._rows = {s.title: _HiddenRows(s) for s in sheets}
        self._columns = {s.title: set(_hidden_columns(s)) for s in sheets}

    def comes_along(self, sheet: Worksheet, cell: Cell) -> bool:
        """Tell whether what a cell holds is copied."""
        if _shows_nothing(cell):
            return False
        if cell.row not in self._rows[sheet.title] and cell.column not in self._columns[sheet.title]:
            return True
        if sheet.title not in self._template.sheetnames:
            return False
        own = self._template[sheet.title].cell(cell.row, cell.column)
        if own.data_type == "f":
            return (sheet.title, cell.row, cell.column) in self._formulas
        return own.value is not None and bool(own.value == cell.value)


class _HiddenRows:
    """The rows of a sheet that nobody sees: hidden, of no height, or not named where a sheet hides all such rows."""

    def __init__(self, sheet: Worksheet) -> None:
        self._named = {n: bool(row.hidden) or row.height == 0 for n, row in sheet.row_dimensions.items()}
        self._others = bool(sheet.sheet_format.zeroHeight)

    def __contains__(self, row: int) -> bool:
        return self._named.get(row, self._others)


def _hidden_columns(sheet: Worksheet) -> Iterator[int]:
    for width in sheet.column_dimensions.values():
        if width.hidden or width.width == 0:
            yield from range(width.min or 1, min(width.max or 0, SHEET_COLUMNS) + 1)


class _Copying:
    """One workbook made from what can be seen of another."""

    def __init__(self, old: Workbook, shown: _Shown, was: Computed, frozen: _Frozen | None) -> None:
        """Remember what is copied.

        Args:
            old: the workbook as it is [-].
            shown: what of it comes along [-].
            was: its values [-].
            frozen: formulas that become values; None for every one [-].
        """
        self._old = old
        self._shown = shown
        self._was = was
        self._frozen = frozen
        self._titles = {sheet.title.lower() for sheet in shown.sheets}
        self._names = {name.lower(): name for name in old.defined_names if self._is_seen_name(name)}
        self._used: set[str] = set()
        self._looks: dict[int, Any] = {}

    def book(self) -> Workbook:
        """Make the new workbook."""
        new = Workbook()
        new.remove(new.active)
        new.properties.creator = new.properties.title = None
        # By the usual cells' font columns are measured; a program names their style in its own language.
        usual = (style.font for style in self._old._named_styles if style.builtinId == 0)
        normal = copy(next(usual, self._old._fonts[0]))
        new._named_styles["Normal"].font = new._fonts[0] = normal
        for sheet in self._shown.sheets:
            new.create_sheet(sheet.title)
        for sheet in self._shown.sheets:
            self._copy_sheet(sheet, new[sheet.title])
        for name in self._used:  # without its comment, which somebody wrote for himself
            new.defined_names[name] = DefinedName(name, attr_text=self._old.defined_names[name].attr_text)
        return new

    def _copy_sheet(self, old: Worksheet, new: Worksheet) -> None:
        for _, cell in sorted(old._cells.items()):  # those that there are: one far away makes a grid of millions
            if not isinstance(cell, MergedCell):
                self._copy_cell(old, cell, new)
        for letter, width in old.column_dimensions.items():
            beside = new.column_dimensions[letter]
            beside.width, beside.hidden, beside.min, beside.max = width.width, width.hidden, width.min, width.max
        for number, height in old.row_dimensions.items():
            new.row_dimensions[number].height = height.height
            new.row_dimensions[number].hidden = height.hidden
        for merged in old.merged_cells.ranges:
            new.merge_cells(merged.coord)
        self._copy_rules(old, new)
        self._copy_charts(old, new)
        _copy_paper(old, new)

    def _copy_cell(self, sheet: Worksheet, cell: Cell, new: Worksheet) -> None:
        if cell.value is None and not cell.has_style:
            return
        beside = new.cell(cell.row, cell.column)
        self._copy_look(cell, beside)
        if not self._shown.comes_along(sheet, cell):
            return
        if cell.data_type == "f" and isinstance(cell.value, str) and self._stays(sheet.title, cell):
            beside.value = cell.value
            self._used |= set(self._named_in(cell.value))
            return
        value = self._was.value(sheet.title, cell.row, cell.column) if cell.data_type == "f" else cell.value
        if value is None:
            return
        beside.value = value.code if isinstance(value, CellError) else value
        if isinstance(value, str):
            beside.data_type = "e" if cell.data_type == "e" else "s"  # a text that looks like a formula stays a text

    def _copy_look(self, cell: Cell, beside: Cell) -> None:
        if not cell.has_style:
            return
        known = self._looks.get(cell.style_id)
        if known is None:
            beside.font, beside.fill, beside.border = copy(cell.font), copy(cell.fill), copy(cell.border)
            beside.alignment, beside.protection = copy(cell.alignment), copy(cell.protection)
            beside.number_format = "General" if _shows_nothing(cell) else cell.number_format
            self._looks[cell.style_id] = copy(beside._style)
        else:
            beside._style = copy(known)

    def _stays(self, sheet: str, cell: Cell) -> bool:
        """Whether a formula reads only what comes along."""
        if self._frozen is None or (sheet, cell.row, cell.column) in self._frozen or cell.protection.hidden:
            return False
        return self._reads_only_seen(str(cell.value)) and not _ADDRESS.search(str(cell.value))

    def _reads_only_seen(self, formula: str) -> bool:
        if len(formula) > LONGEST_FORMULA:
            return False
        try:
            _operands(formula)
        except NoPlainError:
            return False
        return all(self._is_seen_operand(operand) for operand in _operands(formula))

    def _is_seen_operand(self, text: str) -> bool:
        if "[" in text or "#REF" in text:
            return False
        sheet, bang, place = text.rpartition("!")
        if bang:
            return sheet.strip("'").replace("''", "'").lower() in self._titles
        return area_of(place.upper()) is not None or place.lower() in self._names

    def _named_in(self, formula: str) -> Iterator[str]:
        for operand in _operands(formula):
            if operand.lower() in self._names:
                yield self._names[operand.lower()]

    def _is_seen_name(self, name: str) -> bool:
        """Whether a name stands for a cell of a sheet that comes along."""
        found = self._old.defined_names[name]
        sheet, bang, place = str(found.attr_text or "").rpartition("!")
        if not bang or found.hidden or sheet.strip("'").replace("''", "'").lower() not in self._titles:
            return False
        return area_of(place) is not None

    def _copy_rules(self, old: Worksheet, new: Worksheet) -> None:
        """Copy colours that depend on values, and rules for typing, as far as they read only what comes along."""
        for ranges in old.conditional_formatting:
            for rule in ranges.rules:
                if all(self._may_use(f"={text}") for text in (*rule.formula, *_bounds(rule))):
                    new.conditional_formatting.add(str(ranges.sqref), copy(rule))
        for rule in old.data_validations.dataValidation:
            if all(text is None or self._may_use(f"={text}") for text in (rule.formula1, rule.formula2)):
                new.add_data_validation(copy(rule))

    def _may_use(self, formula: str) -> bool:
        if not self._reads_only_seen(formula):
            return False
        self._used |= set(self._named_in(formula))
        return True

    def _copy_charts(self, old: Worksheet, new: Worksheet) -> None:
        for chart in old._charts:
            references = list(_references(chart))
            if all(self._reads_only_seen(f"={reference.f}") for reference in references):
                for reference in references:  # the numbers that it last showed, of hidden rows too
                    for kept in ("numCache", "strCache", "multiLvlStrCache"):
                        if hasattr(reference, kept):
                            setattr(reference, kept, None)
                chart.anchor.graphicFrame = frame_saying(self._alternative(old, chart))
                new.add_chart(chart)

    def _alternative(self, sheet: Worksheet, chart: Any) -> str:
        """Say what a chart shows by what its series are called: what was said of it may be for its owner alone."""
        found = [
            series.tx.strRef.f for series in chart.series if series.tx is not None and series.tx.strRef is not None
        ]
        cells = [self._old[name][area.replace("$", "")] for name, _, area in (f.rpartition("!") for f in found)
                 if name in self._old.sheetnames and ":" not in area]  # fmt: skip
        names = [text for cell in cells if (text := str(cell.value or "")) and not text.startswith("=")]
        return f"Chart on {sheet.title}: {', '.join(names) or 'its rows'}. The cells of the sheet hold the same values."


@lru_cache(maxsize=65536)  # every formula is asked twice in a row, and again when the copy is made a second time
def _operands(formula: str) -> tuple[str, ...]:
    tokens = tokens_of.__wrapped__(formula)  # its own memory is for far fewer formulas than an order has
    return tuple(token.value for token in tokens if token.type == Token.OPERAND and token.subtype == Token.RANGE)


def _bounds(rule: Any) -> Iterator[str]:
    """Yield the formulas by which a scale of colours, a bar or a set of icons finds its bounds."""
    for scale in (rule.colorScale, rule.dataBar, rule.iconSet):
        for bound in scale.cfvo if scale is not None else ():
            if bound.type == "formula" and bound.val:
                yield str(bound.val)


def _shows_nothing(cell: Cell) -> bool:
    return str(cell.number_format).strip().startswith(_SHOWS_NOTHING)


def _references(chart: object, depth: int = 0) -> Iterator[Any]:
    """Yield every reference to cells in a chart, wherever it stands."""
    from openpyxl.chart.data_source import MultiLevelStrRef, NumRef, StrRef

    if isinstance(chart, NumRef | StrRef | MultiLevelStrRef):
        yield chart
    elif isinstance(chart, list | tuple):
        for one in chart:
            yield from _references(one, depth)
    elif depth < 12 and hasattr(chart, "__elements__"):
        for name in (*chart.__elements__, "_charts", "ser", "series"):
            yield from _references(getattr(chart, name, None), depth + 1)


def _copy_paper(old: Worksheet, new: Worksheet) -> None:
    """Copy how a sheet is shown and printed; not the printer's own settings, nor a password's remains."""
    for name in _PRINT:
        setattr(new.page_setup, name, getattr(old.page_setup, name))
    new.page_margins = copy(old.page_margins)
    new.print_options = copy(old.print_options)
    new.sheet_properties.pageSetUpPr = copy(old.sheet_properties.pageSetUpPr)
    new.sheet_properties.tabColor = copy(old.sheet_properties.tabColor)
    new.freeze_panes = old.freeze_panes
    new.sheet_view.showGridLines = old.sheet_view.showGridLines
    new.sheet_view.zoomScale = old.sheet_view.zoomScale
    new.oddHeader, new.oddFooter = copy(old.oddHeader), copy(old.oddFooter)
    if old.print_area:
        new.print_area = old.print_area
    new.print_title_rows, new.print_title_cols = old.print_title_rows, old.print_title_cols
    new.row_breaks, new.col_breaks = copy(old.row_breaks), copy(old.col_breaks)
    if old.protection.sheet:
        new.protection.sheet = True
        for name in _GUARDS:
            setattr(new.protection, name, getattr(old.protection, name))
