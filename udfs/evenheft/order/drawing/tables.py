"""A table drawn on its sheet: headings, bands, the rows' cells, what an input asks for."""

from __future__ import annotations

import re

from openpyxl.cell import Cell
from openpyxl.formatting.rule import FormulaRule, Rule
from openpyxl.styles import Border, PatternFill, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import paint_heading, paint_input
from evenheft.order.layout import BAND_ROW, FIRST_ROW, HEADING_ROW, LAST_ROW, Column, Table, in_row

_TURNING, _TWO_LINES = ("parts", "fix"), ("parts", "bench", "set", "fix", "supplier")
_SINGLE_TURNED: dict[str, tuple[str, ...]] = {"set": ("place",), "target": ("_first", "_change")}
"""Narrow columns of other sheets whose heading is written upwards."""
TURNED_UP_TO, TURNED_HEADINGS = 5.7, 67.0
"""Columns up to this width have their heading written upwards, and how high the row of headings then is."""
HEADINGS = 40.0
"""How high the row of other headings is, for three lines at most."""
ROW_HEIGHT, TALL_ROW, TALLER_ROW = 17.0, 23.2, 23.6
"""Height of a club's row, of one in which a line may need two, and where a page has room for it [points]."""


def draw_table(sheet: Worksheet, table: Table) -> None:
    """Draw a table: its bands, its headings and all its rows; working columns are hidden."""
    _draw_bands(sheet, table)
    for number, column in enumerate(table.columns, start=table.first_column):
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].width = column.width
        sheet.column_dimensions[letter].hidden = column.role == "work"
        heading = sheet.cell(table.first_row - 1, number, column.heading)
        paint_heading(heading, working=column.role == "work")
        if _is_turned(table, column):
            heading.alignment = looks.TURNED
        for row in range(table.first_row, table.last_row + 1):
            _draw_cell(sheet.cell(row, number), column, table)
        if column.role == "input":
            _add_validation(sheet, column, f"{letter}{table.first_row}", f"{letter}{table.last_row}")
    _show_ounces_finer(sheet, table)
    _show_messages_briefly(sheet, table)
    _show_inches_on_request(sheet, table)


def _is_turned(table: Table, column: Column) -> bool:
    """Whether a heading is written upwards: on sheets with many narrow columns."""
    if table.name in _SINGLE_TURNED:
        return column.key.endswith(_SINGLE_TURNED[table.name])
    return table.name in _TURNING and column.role != "work" and bool(column.band) and column.width <= TURNED_UP_TO


def _heading_height(table: Table) -> float:
    """Height of the row of headings [points]; on Bench one of them has four lines."""
    if table.name in _TURNING:
        return TURNED_HEADINGS
    return HEADINGS if table.name != "bench" else HEADINGS * 4 / 3


def draw_club_table(sheet: Worksheet, table: Table) -> None:
    """Draw the table with one row per club, and what such a sheet has besides."""
    draw_table(sheet, table)
    sheet.row_dimensions[HEADING_ROW].height = _heading_height(table)
    tall = any(column.wrap for column in table.columns)
    two_lines = TALL_ROW if table.name in _TURNING else TALLER_ROW
    for row in range(FIRST_ROW, LAST_ROW + 1):
        sheet.row_dimensions[row].height = two_lines if tall and table.name in _TWO_LINES else ROW_HEIGHT
    sheet.freeze_panes = sheet.cell(FIRST_ROW, 3)


def quiet_rows_without_a_name(sheet: Worksheet, table: Table) -> None:
    """Take frame and fill off rows that have no club's name: what is not filled in is neither seen nor printed."""
    nothing = Side(style=None)
    blank = f'$B{FIRST_ROW}=""'
    if table.name == "order":  # where the next name is typed is seen, and no more
        blank = f"COUNTA($B{FIRST_ROW - 1}:$B{FIRST_ROW})=0"
    look = DifferentialStyle(
        fill=PatternFill("solid", bgColor="FFFFFFFF"),
        border=Border(left=nothing, right=nothing, top=nothing, bottom=nothing),
        numFmt=looks.UNSEEN,
    )
    rule = Rule(type="expression", dxf=look, formula=[blank])
    last = max(n for n, column in enumerate(table.columns, start=1) if column.role != "work")
    sheet.conditional_formatting.add(f"A{FIRST_ROW}:{get_column_letter(last)}{LAST_ROW}", rule)


def _draw_bands(sheet: Worksheet, table: Table) -> None:
    """Write each band's name once and draw it over its run of columns."""
    visible = [n for n, c in enumerate(table.columns, start=table.first_column) if c.role != "work"]
    start = table.first_column
    for number in visible:
        column = table.columns[number - table.first_column]
        at = number - table.first_column + 1
        following = table.columns[at] if at < len(table.columns) else None
        same = following is not None and following.role != "work" and following.band == column.band
        if column.band and not same:
            for place in range(start, number + 1):
                sheet.cell(BAND_ROW, place).fill = looks.BAND_FILL
            cell = sheet.cell(BAND_ROW, start, column.band)
            cell.font, cell.alignment = looks.STRONG, looks.LEFT
        if not same:
            start = number + 1


def _draw_cell(cell: Cell, column: Column, table: Table) -> None:
    if column.formula:
        cell.value = in_row(column.formula, cell.row, table)
    elif column.key == "number":
        cell.value = cell.row - table.first_row + 1
    cell.number_format = column.number
    cell.font = {"label": looks.STRONG, "work": looks.WORKING}.get(column.role, looks.TEXT)
    cell.alignment = looks.WRAPPED if column.wrap else looks.LEFT if column.key == "club" else looks.CENTRED
    if column.role == "input":
        paint_input(cell)
    elif column.role != "work":
        cell.border = looks.RULE


def _show_ounces_finer(sheet: Worksheet, table: Table) -> None:
    """Show one decimal more of a mass where the order speaks in ounces: a tenth of one is two points of swingweight."""
    finer = {"0.0": "0.00", "+0.0;-0.0;0.0": "+0.00;-0.00;0.00"}
    for column in table.columns:
        if "unit_mass" in column.heading and column.role != "work" and column.number in finer:
            letter = table.letter(column.key)
            look = DifferentialStyle(numFmt=NumberFormat(numFmtId=_OUNCE_FORMATS, formatCode=finer[column.number]))
            rule = Rule(type="expression", dxf=look, formula=['unit_mass="oz"'])
            sheet.conditional_formatting.add(f"{letter}{table.first_row}:{letter}{table.last_row}", rule)


def _show_messages_briefly(sheet: Worksheet, table: Table) -> None:
    """Show a message in a narrow cell as a pointer to where it is read in full: no text is cut off at the edge.

    The cell keeps the whole message; only its number format says "! top".
    """
    pointer = POINTER_ON_SET if table.name == "set" else POINTER
    for column in table.columns:
        if column.role == "computed" and not column.wrap:
            letter = table.letter(column.key)
            point_at_messages(sheet, f"{letter}{table.first_row}:{letter}{table.last_row}", pointer)


def point_at_messages(sheet: Worksheet, area: str, pointer: str) -> None:
    """Let narrow cells show, in place of a message, where it is told in full."""
    look = DifferentialStyle(
        numFmt=NumberFormat(numFmtId=_MESSAGE_FORMAT, formatCode=f'General;General;General;"{pointer}"'),
        fill=PatternFill("solid", bgColor=looks.MESSAGE_FILL),
    )
    rule = Rule(type="expression", dxf=look, formula=[f'LEFT({area.partition(":")[0]},2)="! "'])
    sheet.conditional_formatting.add(area, rule)


def _show_inches_on_request(sheet: Worksheet, table: Table) -> None:
    """Leave the columns in inches white where Shop does not ask for them."""
    asked = [table.letter(column.key) for column in table.columns if column.key.endswith("_inches")]
    if asked:
        rule = FormulaRule(
            formula=['shop_inches<>"yes"'], fill=PatternFill("solid", bgColor="FFFFFFFF"), border=looks.NO_BORDER
        )
        area = f"{asked[0]}{table.first_row - 1}:{asked[-1]}{table.last_row}"
        sheet.conditional_formatting.add(area, rule)


POINTER, POINTER_ON_SET = "! top", "! left"
"""What a narrow cell shows in place of a message, which stands in full over the table; on Set beside it."""
_MESSAGE_FORMAT = 165
_OUNCE_FORMATS = 164
"""The first number that a format of one's own may have."""


def _add_validation(sheet: Worksheet, column: Column, first: str, last: str) -> None:
    """Tell at the cell what belongs there; a list or a bound asks back, and a builder may insist."""
    if column.options:
        check = DataValidation(type="list", formula1=column.options, allow_blank=True)
        check.error = f"Choose one from the list for {column.key.replace('_', ' ')}."
        check.errorStyle = "warning"
    elif column.check:
        absolute = ":".join(re.sub(r"([A-Z]+)(\d+)", r"$\1$\2", end) for end in (first, last))
        check = DataValidation(
            type="custom", formula1=column.check.format(cell=first, column=absolute), allow_blank=True
        )
        check.error = column.refusal
        check.errorStyle = "warning"
    elif column.prompt:
        check = DataValidation(allow_blank=True)
    else:
        return
    check.errorTitle = "Please check"
    if column.prompt:
        check.promptTitle, check.prompt = heading_words(column)[:32], column.prompt
        check.showInputMessage = True
    check.showErrorMessage = bool(column.options or column.check)
    check.add(f"{first}:{last}")
    sheet.add_data_validation(check)


def heading_words(column: Column) -> str:
    """Return a heading's words, where it is a formula with a unit the words before the bracket."""
    found = re.match(r'="([^(]+) \(', column.heading)
    return found[1] if found else column.heading
