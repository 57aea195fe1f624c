"""The supplier's workbook: how it is laid out, drawn, and read when it comes back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from evenheft.formulas.wording import is_blank, show
from evenheft.ooxml.dangers import reaching
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import read_package
from evenheft.ooxml.places import column_letter
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import Held
from evenheft.order import ordinary
from evenheft.order.supplier.other_formats import ENDINGS, read_values
from evenheft.order.supplier.out import GRAMS, HEAD_MASS, HeadsOrder, Wanted, read_mass

if TYPE_CHECKING:
    from openpyxl.cell import Cell
    from openpyxl.worksheet.worksheet import Worksheet

HEADS_SHEET = "Heads"
_MARK = "evenheft heads 1"
"""Tells the workbook's kind and the version of its layout."""
MARK_AT, ORDER_AT = (4, 1), (3, 3)
HEADS_HEADING_ROW = 6
FIRST = 7
MOST_HEADS = 100


@dataclass(frozen=True, slots=True)
class SentColumn:
    """One column of the supplier's workbook."""

    key: str
    heading: str
    width: float
    number: str = "General"
    fill_in: bool = False
    wrap: bool = False


COLUMNS = (
    SentColumn("number", "No.", 6, "0"),
    SentColumn("club", "Club", 16),
    SentColumn("model", "Head model", 18, wrap=True),
    SentColumn("quantity", "Quantity", 10, "0"),
    SentColumn("loft", "Loft (deg)", 9, "0.0"),
    SentColumn("lie", "Lie (deg)", 9, "0.0"),
    SentColumn("mass", "Mass wanted (g)", 11, "0.0"),
    SentColumn("tolerance", "Plus or minus (g)", 11, "0.0"),
    SentColumn("note", "Note", 24, wrap=True),
    SentColumn("actual", "Actual mass (g)", 12, "0.0", fill_in=True),
    SentColumn("check", "Check", 13),
    SentColumn("remark", "Your note", 24, fill_in=True, wrap=True),
)
AT = {column.key: place for place, column in enumerate(COLUMNS, start=1)}
NO_NUMBER = "a number in g"
"""What the check says of a mass that is none."""


def check_formula(row: int) -> str:
    """Write the check beside a mass as an ordinary formula: the same word as HEFT_VERDICT without a doubt."""
    actual, wanted, most = (f"{column_letter(AT[key])}{row}" for key in ("actual", "mass", "tolerance"))
    judged = ordinary.verdict(actual, wanted, most)
    return f'=IF(ISBLANK({actual}),"",IF(ISNUMBER({actual}),{judged},"{NO_NUMBER}"))'


# ---------------------------------------------------------------------- drawing


def build(order: HeadsOrder) -> bytes:
    """Build the supplier's workbook for an order, as a file's bytes."""
    from openpyxl import Workbook

    from evenheft.order.drawing import looks
    from evenheft.order.drawing.template import save_bytes

    book = Workbook()
    sheet = book.active
    sheet.title = HEADS_SHEET
    _draw_head(sheet, order)
    for place, column in enumerate(COLUMNS, start=1):
        sheet.column_dimensions[column_letter(place)].width = column.width
        cell = sheet.cell(HEADS_HEADING_ROW, place, column.heading)
        cell.font, cell.fill, cell.border = looks.ON_DARK, looks.DARK_FILL, looks.FRAME
        cell.alignment = looks.CENTRED
    for row, head in enumerate(order.heads, start=FIRST):
        _draw_row(sheet, row, head)
    _complete(sheet, FIRST + len(order.heads) - 1)
    book.properties.creator = "Evenheft"
    book.properties.title = "Heads wanted"
    return save_bytes(book)


def _draw_head(sheet: Worksheet, order: HeadsOrder) -> None:
    from evenheft.order.drawing import looks

    last = FIRST + len(order.heads) - 1
    checks = f"${column_letter(AT['check'])}${FIRST}:${column_letter(AT['check'])}${last}"
    outside = "+".join(f'COUNTIF({checks},"{word}")' for word in (ordinary.LOW, ordinary.HIGH, NO_NUMBER))
    for place, text, look in (
        ((1, 1), "Heads wanted", looks.TITLE),
        ((2, 1), "Fill in the framed cells: what each picked head weighs, in grams, and a note where one is needed. "
                 "The check beside the mass says in, low or high. Then send this file back.", looks.LEAD),
        ((3, 1), "Order", looks.STRONG),
        (ORDER_AT, order.number, looks.STRONG),
        (MARK_AT, _MARK, looks.LEAD),
    ):  # fmt: skip
        _set_text(sheet.cell(*place), text)
        sheet.cell(*place).font = look
    summary = sheet.cell(4, AT["mass"])
    summary.value = f'=COUNTIF({checks},"{ordinary.IN}")&" of {len(order.heads)} in, "&({outside})&" to look at"'
    summary.font = looks.STRONG


def _draw_row(sheet: Worksheet, row: int, head: Wanted) -> None:
    from evenheft.order.drawing import looks

    for place, column in enumerate(COLUMNS, start=1):
        cell = sheet.cell(row, place)
        if column.key == "check":
            cell.value = check_formula(row)
        elif not column.fill_in:
            value = getattr(head, column.key)
            if isinstance(value, str):
                _set_text(cell, value)
            else:
                cell.value = value
        cell.number_format = "@" if column.key == "remark" else column.number
        cell.font = looks.STRONG if column.key in ("club", "check") else looks.TEXT
        cell.alignment = looks.WRAPPED if column.wrap else looks.LEFT if column.key == "club" else looks.CENTRED
        if column.fill_in:
            cell.fill, cell.border, cell.protection = looks.INPUT_FILL, looks.FRAME, looks.OPEN
        else:
            cell.border = looks.RULE


def _complete(sheet: Worksheet, last: int) -> None:
    """Colour the checks, guard what is not to be filled in, and set up the print."""
    from openpyxl.formatting.rule import FormulaRule
    from openpyxl.styles import PatternFill
    from openpyxl.worksheet.datavalidation import DataValidation

    from evenheft.order.drawing import looks

    check = column_letter(AT["check"])
    for word, colour in {**looks.VERDICT_FILLS, NO_NUMBER: looks.MESSAGE_FILL}.items():
        rule = FormulaRule(
            formula=[f'${check}{FIRST}="{word}"'],
            fill=PatternFill("solid", bgColor=colour),
            font=looks.STRONG if word != "in" else None,
        )
        sheet.conditional_formatting.add(f"{column_letter(AT['actual'])}{FIRST}:{check}{last}", rule)
    actual = column_letter(AT["actual"])
    bound = DataValidation(type="decimal", operator="between", allow_blank=True)
    bound.formula1, bound.formula2 = (ordinary.number(mass) for mass in (HEAD_MASS.low, HEAD_MASS.high))
    bound.errorTitle, bound.error, bound.errorStyle = "Please check", "The head's mass in grams, a number.", "warning"
    bound.promptTitle, bound.prompt = "Actual mass", "What the picked head weighs, in grams."
    bound.showErrorMessage = bound.showInputMessage = True
    bound.add(f"{actual}{FIRST}:{actual}{last}")
    sheet.add_data_validation(bound)
    sheet.row_dimensions[1].height, sheet.row_dimensions[HEADS_HEADING_ROW].height = 24, 32
    sheet.freeze_panes = sheet.cell(FIRST, 3)
    sheet.sheet_view.showGridLines = False
    sheet.protection.sheet = True  # no password: it guards against slips
    sheet.protection.formatColumns = sheet.protection.formatRows = False
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.print_title_rows = f"{HEADS_HEADING_ROW}:{HEADS_HEADING_ROW}"


def _set_text(cell: Cell, text: str) -> None:
    """Set a text that stays text, whatever it begins with, also when somebody edits the cell."""
    if not text:
        return
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    cell.value = ILLEGAL_CHARACTERS_RE.sub(" ", text)
    cell.data_type = "s"
    cell.quotePrefix = text[:1] in "=+-@\t\r\n|%＝＋－＠"  # the full-width ones are read as formulas too
    cell.number_format = "@"


# ---------------------------------------------------------------------- reading


@dataclass(frozen=True, slots=True)
class ReturnedHead:
    """One row as it came back."""

    number: int
    club: str
    wanted: float | None
    """What the file says was wanted [g]."""
    tolerance: float | None
    mass: float | None
    """The actual mass [g], None where none was filled in or it cannot be read."""
    problem: str
    """Why the mass cannot be read, or ""."""
    remark: str


@dataclass(frozen=True, slots=True)
class ReturnedHeads:
    """A supplier's workbook as it came back."""

    name: str
    order_number: str
    heads: tuple[ReturnedHead, ...]
    warnings: tuple[str, ...]


def read_returned(path: Path) -> ReturnedHeads:
    """Read a supplier's workbook; stored values only, nothing in it is computed.

    Raises:
        Refused: it is not safe to open, is no supplier's workbook, or its layout was changed.
    """
    content, warnings = _content_of(path)
    _need_layout(content, path.name)
    heads = [_returned(content, row) for row in range(FIRST, content.last_row + 1) if not _is_empty(content, row)]
    if len(heads) > MOST_HEADS:
        raise Refused(f"{path.name} holds {len(heads)} heads, more than any order does")
    numbers = [head.number for head in heads]
    if len(set(numbers)) < len(numbers):
        twice = next(number for number in numbers if numbers.count(number) > 1)
        raise Refused(f"{path.name} holds club {twice} twice")
    return ReturnedHeads(path.name, plain_text(content.value(*ORDER_AT)), tuple(heads), warnings)


def _content_of(path: Path) -> tuple[SheetContent, tuple[str, ...]]:
    """Return the sheet's values, whatever format the answer came in, and what could act in it."""
    if path.suffix.lower() in ENDINGS:
        return read_values(path, HEADS_SHEET), ()
    with read_package(path) as package:
        if HEADS_SHEET.lower() not in (sheet.name.lower() for sheet in package.sheets):
            package.refuse(f'is not a supplier\'s workbook of Evenheft: it has no sheet "{HEADS_SHEET}"')
        return read_sheet(package, HEADS_SHEET), (*package.warnings, *reaching(package))


def _need_layout(content: SheetContent, name: str) -> None:
    if plain_text(content.value(*MARK_AT)) != _MARK:
        found = re.fullmatch(r"evenheft heads (\d+)", plain_text(content.value(*MARK_AT)))
        if found:
            raise Refused(f"{name} was made by another version of Evenheft (heads {found[1]})")
        raise Refused(f"{name} is not a supplier's workbook of Evenheft, or its layout was changed: nothing was taken")
    for place, column in enumerate(COLUMNS, start=1):
        found_text = plain_text(content.value(HEADS_HEADING_ROW, place))
        if found_text != column.heading:
            where = f"{column_letter(place)}{HEADS_HEADING_ROW}"
            raise Refused(
                f'{name}: the layout was changed, {where} should say "{column.heading}" and says '
                f'"{show(found_text)}": nothing was taken'
            )


def _is_empty(content: SheetContent, row: int) -> bool:
    return all(is_blank(content.values.get((row, place))) for place in range(1, len(COLUMNS) + 1))


def _returned(content: SheetContent, row: int) -> ReturnedHead:
    def cell(key: str) -> Held | None:
        return content.values.get((row, AT[key]))

    number = cell("number")
    mass, problem = None, ""
    if (row, AT["actual"]) in content.formulas:
        problem = "the mass is a formula, which is not taken: it must be a number"
    elif not is_blank(cell("actual")):
        try:
            mass = read_mass(cell("actual"), GRAMS, "the mass")
        except ValueError as error:
            problem = str(error)
    return ReturnedHead(
        number=int(number) if isinstance(number, float) and number == int(number) else 0,
        club=plain_text(cell("club")),
        wanted=_plain(cell("mass")),
        tolerance=_plain(cell("tolerance")),
        mass=mass,
        problem=problem,
        remark=plain_text(cell("remark")),
    )


def _plain(value: Held | None) -> float | None:
    return value if isinstance(value, float) and not isinstance(value, bool) else None
