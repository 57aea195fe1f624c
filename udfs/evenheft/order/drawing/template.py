"""Builds the order template from the layout, with openpyxl and nothing remembered from a file."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.formatting.rule import FormulaRule, Rule
from openpyxl.styles import PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from evenheft import __version__
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.as_excel import as_excel_writes
from evenheft.ooxml.edit import refresh_all
from evenheft.ooxml.zipped import packed
from evenheft.order.drawing import guide, looks
from evenheft.order.drawing.blocks import absolute, merge, name_cell, paint_heading, paint_input, section
from evenheft.order.drawing.charts import band_chart
from evenheft.order.drawing.order_blocks import complete_order
from evenheft.order.drawing.paper import SECOND_PAGE_AFTER, set_print
from evenheft.order.layout import (
    BAND_ROW,
    CHARTED,
    FIRST_ROW,
    HEADING_ROW,
    KIND_NAME,
    KIND_OF_WORKBOOK,
    LAST_ROW,
    LAYOUT_VERSION,
    QUANTITIES,
    SCALE,
    SET,
    SUMMARY,
    TABLES,
    Column,
    Table,
    in_row,
    judged,
)

TEMPLATE_NAME = "evenheft-order"
_PROPERTIES = "docProps/core.xml"
_FIXED_TIME = b"2026-01-01T00:00:00Z"
"""Stamped on every built file, so that the same code builds the same bytes."""


def build_order() -> Workbook:
    """Build the empty order workbook."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for table in TABLES.values():
        sheet = book.create_sheet(table.sheet)
        _write_head(sheet, table.title, table.lead)
        _write_table(sheet, table)
        set_print(sheet, table)
    complete_order(book)
    _complete_set(book["Set"])
    _complete_scale(book["Scale"])
    _write_guide(book)
    for sheet in book.worksheets:
        sheet.protection.sheet = True  # no password: it guards against slips, not against people
        sheet.protection.formatColumns = False
        sheet.protection.formatRows = False
        sheet.sheet_view.showGridLines = False
    book.calculation.fullCalcOnLoad = True
    book.properties.title = "Order"
    book.properties.creator = "Evenheft"
    return book


def save_bytes(book: Workbook, *, template: bool = False) -> bytes:
    """Write the workbook as a file's bytes: the same workbook always gives the same bytes.

    Args:
        book: the workbook [-].
        template: whether it is an .xltx rather than an .xlsx [-].
    """
    book.template = template
    raw = io.BytesIO()
    book.save(raw)
    with zipfile.ZipFile(raw) as made:
        parts = as_excel_writes({name: made.read(name) for name in made.namelist()})
    times = re.compile(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
    parts[_PROPERTIES] = times.sub(_FIXED_TIME, parts[_PROPERTIES])
    return packed(parts)


def write_templates(folder: Path) -> list[Path]:
    """Write the order template as .xltx and .xlsx into a folder, and return their paths."""
    written = []
    for ending in ("xltx", "xlsx"):
        path = folder / f"{TEMPLATE_NAME}.{ending}"
        path.write_bytes(save_bytes(build_order(), template=ending == "xltx"))
        refresh_all(path, Computed.open(path).value)  # so that a preview without formulas shows the headings
        written.append(path)
    return written


def _write_head(sheet: Worksheet, title: str, lead: str) -> None:
    sheet["A1"].value, sheet["A1"].font = title, looks.TITLE
    # Columns A and B are repeated on a second page, where a long line would be cut off.
    told = sheet["C1" if sheet.title in SECOND_PAGE_AFTER else "A2"]
    told.value, told.font, told.alignment = lead, looks.LEAD, looks.LEFT
    sheet.row_dimensions[1].height = 24


def _write_table(sheet: Worksheet, table: Table) -> None:
    _write_bands(sheet, table)
    for number, column in enumerate(table.columns, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = column.width
        heading = sheet.cell(HEADING_ROW, number, column.heading)
        paint_heading(heading, working=column.role == "work")
        for row in range(FIRST_ROW, LAST_ROW + 1):
            _write_club_cell(sheet.cell(row, number), column, table.sheet)
        if column.role == "input":
            _add_validation(sheet, column, get_column_letter(number))
    _show_ounces_finer(sheet, table)
    sheet.row_dimensions[HEADING_ROW].height = 44
    tall = any(column.wrap and column.role == "computed" for column in table.columns)
    for row in range(FIRST_ROW, LAST_ROW + 1):
        sheet.row_dimensions[row].height = 26 if tall else 18
    sheet.freeze_panes = sheet.cell(FIRST_ROW, 3)


def _show_ounces_finer(sheet: Worksheet, table: Table) -> None:
    """Show one decimal more of a mass where the order speaks in ounces: a tenth of one is two points of swingweight."""
    of_mass = {f"mass_{part}" for part in ("value", "target", "deviation")} if table is SET else set()
    finer: dict[str, str] = {"0.0": "0.00", "+0.0;-0.0;0.0": "+0.00;-0.00;0.00"}
    for column in table.columns:
        is_mass = "unit_mass" in column.heading or column.key in of_mass
        if is_mass and column.role != "work" and column.number in finer:
            letter = table.letter(column.key)
            look = DifferentialStyle(numFmt=NumberFormat(numFmtId=_OUNCE_FORMATS, formatCode=finer[column.number]))
            rule = Rule(type="expression", dxf=look, formula=['unit_mass="oz"'])
            sheet.conditional_formatting.add(f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}", rule)


_OUNCE_FORMATS = 164
"""The first number that a format of one's own may have."""


def _write_bands(sheet: Worksheet, table: Table) -> None:
    """Write each band's name once and draw it over its run of columns."""
    start = 1
    for number, column in enumerate(table.columns, start=1):
        following = table.columns[number].band if number < len(table.columns) else None
        if column.band and following != column.band:
            for at in range(start, number + 1):
                sheet.cell(BAND_ROW, at).fill = looks.BAND_FILL
            cell = sheet.cell(BAND_ROW, start, column.band)
            cell.font, cell.alignment = looks.STRONG, looks.CENTRED
            if number > start:
                sheet.merge_cells(start_row=BAND_ROW, end_row=BAND_ROW, start_column=start, end_column=number)
        if following != column.band:
            start = number + 1


def _write_club_cell(cell: Cell, column: Column, sheet: str) -> None:
    if column.formula:
        cell.value = in_row(column.formula, cell.row, sheet)
    elif column.key == "number":
        cell.value = cell.row - FIRST_ROW + 1
    cell.number_format = column.number
    cell.font = {"label": looks.STRONG, "work": looks.WORKING}.get(column.role, looks.TEXT)
    cell.alignment = looks.WRAPPED if column.wrap else looks.LEFT if column.key == "club" else looks.CENTRED
    if column.role == "input":
        paint_input(cell)
    else:
        cell.border = looks.RULE


def _add_validation(sheet: Worksheet, column: Column, letter: str) -> None:
    """Tell at the cell what belongs there; a list or a bound asks back, and a builder may insist."""
    first = f"{letter}{FIRST_ROW}"
    if column.options:
        check = DataValidation(type="list", formula1=column.options, allow_blank=True)
        check.error = f"Choose one from the list for {column.key.replace('_', ' ')}."
    elif column.check:
        check = DataValidation(type="custom", formula1=column.check.format(cell=first), allow_blank=True)
        check.error = "This lies outside what a club can be. Is it in the order's units?"
        check.errorStyle = "warning"
    elif column.prompt:
        check = DataValidation(allow_blank=True)
    else:
        return
    check.errorTitle = "Please check"
    if column.prompt:
        check.promptTitle, check.prompt = _told_heading(column)[:32], column.prompt
        check.showInputMessage = True
    check.showErrorMessage = bool(column.options or column.check)
    check.add(f"{first}:{letter}{LAST_ROW}")
    sheet.add_data_validation(check)


def _told_heading(column: Column) -> str:
    """Return a heading's words, where it is a formula with a unit the words before the bracket."""
    found = re.match(r'="([^(]+) \(', column.heading)
    return found[1] if found else column.heading


def _complete_set(sheet: Worksheet) -> None:
    _write_summary(sheet)
    for quantity in QUANTITIES:
        _colour_verdicts(sheet, SET.letter(judged(quantity).verdict))
    _colour_messages(sheet)
    for place, key in enumerate(CHARTED):
        # Not under A and B: the second page repeats these columns, with a slice of whatever lies on them.
        sheet.add_chart(band_chart(sheet, key), f"{get_column_letter(3 + place * 6)}{LAST_ROW + 3}")


def _complete_scale(sheet: Worksheet) -> None:
    """Write what the set as a whole says of the scale under the table, and colour the verdicts."""
    letter = SCALE.letter("verdict")
    area = f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}"
    for word, like in (("agrees", "in"), ("differs", "high")):
        fill = PatternFill("solid", bgColor=looks.VERDICT_FILLS[like])
        sheet.conditional_formatting.add(area, FormulaRule(formula=[f'{letter}{FIRST_ROW}="{word}"'], fill=fill))
    columns = {key: SCALE.whole(key).removeprefix(f"{SCALE.sheet}!") for key in ("calculated", "scale")}
    both = f"COUNT({SCALE.whole('difference').removeprefix(f'{SCALE.sheet}!')})"
    section(sheet, LAST_ROW + 2, (2, SCALE.at["verdict"]), "Over all clubs with both values, in points")
    for row, (label, formula) in enumerate(SUMMARY, start=LAST_ROW + 3):
        told = merge(sheet, row, (2, SCALE.at["scale_label"]))
        told.value, told.font, told.alignment = label, looks.TEXT, looks.LEFT
        cell = sheet.cell(row, SCALE.at["difference"])
        cell.value = f'=IF({both}<2,"",{formula.format(**columns)})'
        cell.number_format, cell.font, cell.alignment = "+0.00;-0.00;0.00", looks.STRONG, looks.CENTRED


def _write_summary(sheet: Worksheet) -> None:
    flags = f"$E${FIRST_ROW}:$E${LAST_ROW}"
    sheet["C2"].value = (
        f'=IF(COUNTIF({flags},"?*")=0,"No club is judged yet: fill in Order and Bench.",'
        f'COUNTIF({flags},"all in*")&" of "&COUNTIF({flags},"?*")&" judged clubs are in; "'
        f'&(COUNTIF({flags},"?*")-COUNTIF({flags},"all in*"))&" flagged.")'
    )
    sheet["C2"].font = looks.STRONG


def _colour_verdicts(sheet: Worksheet, letter: str) -> None:
    area = f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}"
    for word, colour in looks.VERDICT_FILLS.items():
        rule = FormulaRule(
            formula=[f'{letter}{FIRST_ROW}="{word}"'],
            fill=PatternFill("solid", bgColor=colour),
            font=looks.STRONG if word != "in" else None,
        )
        sheet.conditional_formatting.add(area, rule)


def _colour_messages(sheet: Worksheet) -> None:
    """Mark every cell that holds a message, wherever it arises."""
    last = get_column_letter(SET.at["rule"])
    sheet.conditional_formatting.add(
        f"F{FIRST_ROW}:{last}{LAST_ROW}",
        FormulaRule(formula=[f'LEFT(F{FIRST_ROW},1)="!"'], fill=PatternFill("solid", bgColor=looks.MESSAGE_FILL)),
    )


def _write_guide(book: Workbook) -> None:
    sheet = book.create_sheet("Guide")
    _write_head(sheet, "Guide", "How this workbook is used, from left to right.")
    sheet.column_dimensions["A"].width = 26
    sheet.column_dimensions["B"].width = 92
    row = 4
    for title, lines in guide.SECTIONS:
        section(sheet, row, (1, 2), title)
        row += 1
        for word, text in lines:
            head, body = sheet.cell(row, 1, word), sheet.cell(row, 2, text)
            head.font, head.alignment = looks.STRONG, looks.GUIDE
            body.font, body.alignment = looks.TEXT, looks.GUIDE
            sheet.row_dimensions[row].height = 13.5 * max(1, -(-len(text) // 95), -(-len(word) // 24)) + 3
            if word in looks.VERDICT_FILLS:
                head.fill = PatternFill("solid", fgColor=looks.VERDICT_FILLS[word])
            if word == "Framed, pale yellow":
                paint_input(head)
            row += 1
        row += 1
    told = sheet.cell(row, 1, "Template")
    told.font = looks.LEAD
    kind = sheet.cell(row, 2, f"{KIND_OF_WORKBOOK} {LAYOUT_VERSION}")
    kind.font = looks.LEAD
    name_cell(book, KIND_NAME, sheet, absolute(kind))
    sheet.cell(row + 1, 1, "Made by").font = looks.LEAD
    sheet.cell(row + 1, 2, f"Evenheft {__version__}").font = looks.LEAD
    sheet.print_area = f"A1:B{row + 1}"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0
    sheet.oddFooter.center.text = "&A"
