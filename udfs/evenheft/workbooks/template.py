"""Builds the order template from the layout, with openpyxl and nothing remembered from a file."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.chart import LineChart, Reference
from openpyxl.chart.data_source import AxDataSource, StrRef
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.text import CharacterProperties, Paragraph, ParagraphProperties, RegularTextRun
from openpyxl.formatting.rule import FormulaRule, Rule
from openpyxl.styles import PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.pagebreak import Break, ColBreak
from openpyxl.worksheet.worksheet import Worksheet

from evenheft import __version__
from evenheft.hosts.embedded import Computed
from evenheft.hosts.zipped import packed
from evenheft.workbooks import guide, looks
from evenheft.workbooks.edit import refresh_all
from evenheft.workbooks.layout import (
    BAND_ROW,
    CHARTED,
    DEFAULT_ROW,
    DEFAULT_TITLE_ROW,
    DEFAULTS,
    FIRST_ROW,
    FIXING,
    GROUP_NAMES,
    GROUPS,
    HEADER_FIELDS,
    HEADING_ROW,
    KIND_NAME,
    KIND_OF_WORKBOOK,
    LAST_ROW,
    LAYOUT_VERSION,
    QUANTITIES,
    SCALE,
    SET,
    SETTING_ROW,
    SETTINGS,
    STOCK_ROW,
    STOCKS,
    SUMMARY,
    TABLES,
    TARGET_COLUMN,
    TARGET_GROUP_ROW,
    TARGET_PART_ROW,
    TARGET_PARTS,
    TARGET_ROW,
    TARGET_TITLE_ROW,
    Column,
    Setting,
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
        _set_print(sheet, table)
    _complete_order(book)
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
    """The workbook as a file's bytes: the same workbook always gives the same bytes.

    Args:
        book: the workbook [-].
        template: whether it is an .xltx rather than an .xlsx [-].
    """
    book.template = template
    raw = io.BytesIO()
    book.save(raw)
    with zipfile.ZipFile(raw) as made:
        parts = {name: made.read(name) for name in made.namelist()}
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
    told = sheet["C1" if sheet.title in _SECOND_PAGE_AFTER else "A2"]
    told.value, told.font, told.alignment = lead, looks.LEAD, looks.LEFT
    sheet.row_dimensions[1].height = 24


def _write_table(sheet: Worksheet, table: Table) -> None:
    _write_bands(sheet, table)
    for number, column in enumerate(table.columns, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = column.width
        heading = sheet.cell(HEADING_ROW, number, column.heading)
        _paint_heading(heading, working=column.role == "work")
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


def _paint_heading(cell: Cell, *, working: bool = False) -> None:
    cell.alignment = looks.CENTRED
    cell.border = looks.FRAME
    cell.font = looks.WORKING if working else looks.ON_DARK
    cell.fill = looks.BAND_FILL if working else looks.DARK_FILL


def _write_club_cell(cell: Cell, column: Column, sheet: str) -> None:
    if column.formula:
        cell.value = in_row(column.formula, cell.row, sheet)
    elif column.key == "number":
        cell.value = cell.row - FIRST_ROW + 1
    cell.number_format = column.number
    cell.font = {"label": looks.STRONG, "work": looks.WORKING}.get(column.role, looks.TEXT)
    cell.alignment = looks.WRAPPED if column.wrap else looks.LEFT if column.key == "club" else looks.CENTRED
    if column.role == "input":
        _paint_input(cell)
    else:
        cell.border = looks.RULE


def _paint_input(cell: Cell) -> None:
    cell.fill, cell.border, cell.protection = looks.INPUT_FILL, looks.FRAME, looks.OPEN


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
    """A heading's words, where it is a formula with a unit the words before the bracket."""
    found = re.match(r'="([^(]+) \(', column.heading)
    return found[1] if found else column.heading


def _complete_order(book: Workbook) -> None:
    sheet = book["Order"]
    for number in range(len(TABLES["order"].columns) + 1, TARGET_COLUMN + GROUPS * len(TARGET_PARTS)):
        sheet.column_dimensions[get_column_letter(number)].width = 9
    _write_header_fields(book, sheet)
    _section(sheet, HEADING_ROW, (_SETTING_COLUMNS[0][0], _SETTING_COLUMNS[2][1]), "Units and instruments")
    _write_settings(book, sheet, SETTINGS, SETTING_ROW, _SETTING_COLUMNS)
    _write_groups(book, sheet)
    _write_stock(book, sheet)
    _write_targets(book, sheet)
    _write_defaults(book, sheet)
    _section(sheet, DEFAULT_TITLE_ROW, (_FIXING_COLUMNS[0][0], _FIXING_COLUMNS[2][1]), "Where weights go")
    _write_settings(book, sheet, FIXING, DEFAULT_ROW, _FIXING_COLUMNS)


_Block = tuple[tuple[int, int], tuple[int, int], tuple[int, int]]
"""Columns of a block of settings: label, value and note."""
_SETTING_COLUMNS: _Block = ((6, 9), (10, 11), (12, 14))
_FIXING_COLUMNS: _Block = ((8, 11), (12, 13), (14, 17))
_GROUP_COLUMNS = (15, 17)
_DEFAULT_NOTE = (4, 7)


def _merge(sheet: Worksheet, row: int, columns: tuple[int, int]) -> Cell:
    """Merge a run of cells in a row and return the cell that holds the value."""
    sheet.merge_cells(start_row=row, end_row=row, start_column=columns[0], end_column=columns[1])
    cell: Cell = sheet.cell(row, columns[0])
    return cell


def _merge_input(sheet: Worksheet, row: int, columns: tuple[int, int]) -> Cell:
    cell = _merge(sheet, row, columns)
    for number in range(columns[0], columns[1] + 1):
        _paint_input(sheet.cell(row, number))
    cell.font, cell.alignment = looks.TEXT, looks.LEFT
    return cell


def _section(sheet: Worksheet, row: int, columns: tuple[int, int], title: str) -> None:
    cell = _merge(sheet, row, columns)
    for number in range(columns[0], columns[1] + 1):
        _paint_heading(sheet.cell(row, number))
    cell.value, cell.alignment = title, looks.LEFT


def _name(book: Workbook, name: str, sheet: Worksheet, address: str) -> None:
    book.defined_names[name] = DefinedName(name, attr_text=f"{sheet.title}!{address}")


def _absolute(cell: Cell) -> str:
    return f"${cell.column_letter}${cell.row}"


def _write_header_fields(book: Workbook, sheet: Worksheet) -> None:
    """Who the order is for: two lines above the club table."""
    places = {
        "order_number": (3, (1, 2), (3, 4)),
        "order_customer": (3, (6, 7), (8, 11)),
        "order_date": (4, (1, 2), (3, 4)),
        "order_builder": (4, (6, 7), (8, 11)),
        "order_note": (5, (1, 2), (3, 17)),
    }
    for name, label in HEADER_FIELDS:
        row, label_at, value_at = places[name]
        told = _merge(sheet, row, label_at)
        told.value, told.font, told.alignment = label, looks.STRONG, looks.LEFT
        cell = _merge_input(sheet, row, value_at)
        if name == "order_date":
            cell.number_format = "yyyy-mm-dd"
        _name(book, name, sheet, _absolute(cell))


def _write_settings(
    book: Workbook, sheet: Worksheet, settings: tuple[Setting, ...], first_row: int, block: _Block
) -> None:
    """Write a block of named settings, one under the other."""
    label_at, value_at, note_at = block
    for row, setting in enumerate(settings, start=first_row):
        label = _merge(sheet, row, label_at)
        label.value, label.font, label.alignment = setting.label, looks.TEXT, looks.LEFT
        if setting.computed:
            cell = _merge(sheet, row, value_at)
            cell.font, cell.alignment = looks.WORKING, looks.LEFT
        else:
            cell = _merge_input(sheet, row, value_at)
        cell.value = setting.value
        note = _merge(sheet, row, note_at)
        note.value, note.font, note.alignment = setting.note, looks.LEAD, looks.LEFT
        if setting.options:
            check = DataValidation(type="list", formula1=f'"{",".join(setting.options)}"', allow_blank=False)
            check.error, check.showErrorMessage = "Choose one from the list.", True
            check.add(cell.coordinate)
            sheet.add_data_validation(check)
        _name(book, setting.name, sheet, _absolute(cell))


def _write_groups(book: Workbook, sheet: Worksheet) -> None:
    _section(sheet, HEADING_ROW, _GROUP_COLUMNS, "Groups of clubs")
    for number, name in enumerate(GROUP_NAMES):
        _merge_input(sheet, FIRST_ROW + number, _GROUP_COLUMNS).value = name
    letter = get_column_letter(_GROUP_COLUMNS[0])
    _name(book, "order_groups", sheet, f"${letter}${FIRST_ROW}:${letter}${FIRST_ROW + GROUPS - 1}")


def _write_stock(book: Workbook, sheet: Worksheet) -> None:
    """Write the lists of stock weights, one column each."""
    _section(sheet, STOCK_ROW - 2, _GROUP_COLUMNS, "Stock weights (g)")
    for place, (name, title, sizes) in enumerate(STOCKS):
        column = _GROUP_COLUMNS[0] + place
        heading = sheet.cell(STOCK_ROW - 1, column, title)
        heading.font, heading.alignment, heading.fill = looks.STRONG, looks.CENTRED, looks.BAND_FILL
        for row in range(STOCK_ROW, LAST_ROW + 1):
            cell = sheet.cell(row, column)
            _paint_input(cell)
            cell.font, cell.alignment = looks.TEXT, looks.CENTRED
            cell.value = sizes[row - STOCK_ROW] if row - STOCK_ROW < len(sizes) else None
        letter = get_column_letter(column)
        _name(book, name, sheet, f"${letter}${STOCK_ROW}:${letter}${LAST_ROW}")


def _write_defaults(book: Workbook, sheet: Worksheet) -> None:
    """Write the shop's defaults for loose parts: headings that HEFT_CLUB reads, beside their values."""
    _section(
        sheet, DEFAULT_TITLE_ROW, (1, _DEFAULT_NOTE[1]), "Shop defaults for loose parts, used where Parts is blank"
    )
    for row, (heading, value, note) in enumerate(DEFAULTS, start=DEFAULT_ROW):
        label = sheet.cell(row, 2, heading)
        label.font, label.alignment = looks.TEXT, looks.LEFT
        cell = sheet.cell(row, 3, value)
        cell.font, cell.alignment = looks.TEXT, looks.CENTRED
        if isinstance(value, str):
            cell.font = looks.WORKING
        else:
            _paint_input(cell)
        told = sheet.cell(row, 4, note)
        told.font, told.alignment = looks.LEAD, looks.LEFT
    _name(book, "shop_defaults", sheet, f"$B${DEFAULT_ROW}:$C${DEFAULT_ROW + len(DEFAULTS) - 1}")


def _write_targets(book: Workbook, sheet: Worksheet) -> None:
    """Draw the table of targets: a row for each quantity, three columns for each group."""
    last = TARGET_COLUMN + GROUPS * len(TARGET_PARTS) - 1
    _section(sheet, TARGET_TITLE_ROW, (1, last),
             "Targets: the first club's value, the change from club to club, and the deviation you accept. "
             "Leave a first value blank where a quantity is not judged.")  # fmt: skip
    for group in range(GROUPS):
        start = TARGET_COLUMN + group * len(TARGET_PARTS)
        cell = _merge(sheet, TARGET_GROUP_ROW, (start, start + len(TARGET_PARTS) - 1))
        cell.value = f'=IF({get_column_letter(_GROUP_COLUMNS[0])}{FIRST_ROW + group}="","",' \
                     f"{get_column_letter(_GROUP_COLUMNS[0])}{FIRST_ROW + group})"  # fmt: skip
        cell.font, cell.alignment = looks.STRONG, looks.CENTRED
        for part, word in enumerate(TARGET_PARTS):
            sheet.cell(TARGET_GROUP_ROW, start + part).fill = looks.BAND_FILL
            _paint_heading(sheet.cell(TARGET_PART_ROW, start + part, word.capitalize()))
    for number, quantity in enumerate(QUANTITIES):
        row = TARGET_ROW + number
        unit = quantity.unit
        label = _merge(sheet, row, (1, 2))
        label.value = f'="{quantity.name} ("&{unit}&")"' if unit.startswith("unit_") else f"{quantity.name} ({unit})"
        if quantity.key == "swingweight":
            label.value = "Swingweight (D2 or points)"
        label.font, label.alignment = looks.STRONG, looks.LEFT
        for column in range(TARGET_COLUMN, last + 1):
            cell = sheet.cell(row, column)
            _paint_input(cell)
            cell.font, cell.alignment = looks.TEXT, looks.CENTRED
        _name(book, f"target_{quantity.key}", sheet,
              f"${get_column_letter(TARGET_COLUMN)}${row}:${get_column_letter(last)}${row}")  # fmt: skip
    _warn_missing_tolerances(sheet, last)


def _warn_missing_tolerances(sheet: Worksheet, last: int) -> None:
    """Mark the tolerance cell that is blank beside a first value: nothing is judged without it."""
    rows = (TARGET_ROW, TARGET_ROW + len(QUANTITIES) - 1)
    fill = PatternFill("solid", bgColor=looks.MESSAGE_FILL)
    for start in range(TARGET_COLUMN, last, len(TARGET_PARTS)):
        first, tolerance = get_column_letter(start), get_column_letter(start + 2)
        sheet.conditional_formatting.add(
            f"{tolerance}{rows[0]}:{tolerance}{rows[1]}",
            FormulaRule(formula=[f'AND({first}{rows[0]}<>"",{tolerance}{rows[0]}="")'], fill=fill),
        )


def _complete_set(sheet: Worksheet) -> None:
    _write_summary(sheet)
    for quantity in QUANTITIES:
        _colour_verdicts(sheet, SET.letter(judged(quantity).verdict))
    _colour_messages(sheet)
    for place, key in enumerate(CHARTED):
        # Not under A and B: the second page repeats these columns, with a slice of whatever lies on them.
        sheet.add_chart(_band_chart(sheet, key), f"{get_column_letter(3 + place * 6)}{LAST_ROW + 3}")


def _complete_scale(sheet: Worksheet) -> None:
    """Write what the set as a whole says of the scale under the table, and colour the verdicts."""
    letter = SCALE.letter("verdict")
    area = f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}"
    for word, like in (("agrees", "in"), ("differs", "high")):
        fill = PatternFill("solid", bgColor=looks.VERDICT_FILLS[like])
        sheet.conditional_formatting.add(area, FormulaRule(formula=[f'{letter}{FIRST_ROW}="{word}"'], fill=fill))
    columns = {key: SCALE.whole(key).removeprefix(f"{SCALE.sheet}!") for key in ("calculated", "scale")}
    both = f"COUNT({SCALE.whole('difference').removeprefix(f'{SCALE.sheet}!')})"
    _section(sheet, LAST_ROW + 2, (2, SCALE.at["verdict"]), "Over all clubs with both values, in points")
    for row, (label, formula) in enumerate(SUMMARY, start=LAST_ROW + 3):
        told = _merge(sheet, row, (2, SCALE.at["scale_label"]))
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


def _band_chart(sheet: Worksheet, key: str) -> LineChart:
    """Draw a quantity along the set, with the line of its target and the edges of the tolerance."""
    quantity = next(q for q in QUANTITIES if q.key == key)
    chart = LineChart()
    chart.title = _chart_title(f"{quantity.name} along the set ({quantity.unit})")
    chart.height, chart.width = 8.2, 17.5
    chart.legend.position = "b"
    chart.display_blanks = "span"  # LibreOffice takes "gap" for zero; a trailing #N/A ends the line either way
    for part, (colour, dash, marker) in {
        "plot": ("1F2A37", None, "circle"),
        "aim": ("0072B2", None, None),
        "low": ("0072B2", "dash", None),
        "high": ("D55E00", "dash", None),
    }.items():
        column = SET.at[f"{key}_{part}"]
        chart.add_data(Reference(sheet, min_col=column, min_row=HEADING_ROW, max_row=LAST_ROW), titles_from_data=True)
        series = chart.series[-1]
        series.smooth = False
        series.graphicalProperties = GraphicalProperties(
            ln=LineProperties(solidFill=colour, prstDash=dash, w=22000 if part == "plot" else 15000)
        )
        series.marker.symbol = marker or "none"
        if marker:
            series.marker.size = 7
            series.marker.graphicalProperties = GraphicalProperties(solidFill=colour)
    for series in chart.series:
        series.cat = AxDataSource(strRef=StrRef(SET.whole("club")))
    for axis in (chart.x_axis, chart.y_axis):
        axis.delete = False
        axis.txPr = _small_text()
    chart.y_axis.number_format = "0"
    chart.y_axis.majorGridlines.spPr = GraphicalProperties(ln=LineProperties(solidFill="E1E5EA", w=6000))
    return chart


def _chart_title(text: str) -> Title:
    look = CharacterProperties(sz=1100, b=True)
    run = RegularTextRun(rPr=look, t=text)
    paragraph = Paragraph(pPr=ParagraphProperties(defRPr=look), r=[run])
    return Title(tx=Text(rich=RichText(p=[paragraph])), overlay=False)


def _small_text() -> RichText:
    size = CharacterProperties(sz=800)
    return RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=size), endParaRPr=size)])


_SECOND_PAGE_AFTER = {"Set": "inertia_verdict", "Parts": "cut_grip_mass", "Fix": "head_inertia"}
"""The last column of the first page, on the sheets that are too wide for one."""


def _set_print(sheet: Worksheet, table: Table) -> None:
    """Fit A4 and Letter alike: landscape, one page high, the clubs' names on every page."""
    printed = [n for n, column in enumerate(table.columns, start=1) if column.role != "work"]
    last = max(printed[-1], TARGET_COLUMN + GROUPS * len(TARGET_PARTS) - 1 if table.sheet == "Order" else 0)
    bottom = {"Order": DEFAULT_ROW + len(DEFAULTS), "Set": LAST_ROW + 20, "Scale": LAST_ROW + 2 + len(SUMMARY)}.get(
        table.sheet, LAST_ROW
    )
    sheet.print_area = f"A1:{get_column_letter(last)}{bottom}"
    sheet.print_title_cols = "A:B"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 1
    sheet.page_setup.fitToWidth = 1
    if table.sheet in _SECOND_PAGE_AFTER:
        after = table.at[_SECOND_PAGE_AFTER[table.sheet]]
        # Programs that fit a sheet to its pages break it where the paper ends, not where they are told.
        sheet.sheet_properties.pageSetUpPr.fitToPage = False
        sheet.page_setup.scale = _scale(table, (after, last), bottom, sheet)
        sheet.col_breaks = ColBreak(brk=[Break(id=after)])
    for side in ("left", "right", "top", "bottom"):
        setattr(sheet.page_margins, side, 0.4)
    sheet.oddFooter.left.text = "&F"
    sheet.oddFooter.center.text = "&A"
    sheet.oddFooter.right.text = "&P of &N"


_WIDEST, _HIGHEST = 10.2, 7.4
"""What A4 and Letter both hold between margins of 0.4 in, in inches."""


def _scale(table: Table, page_ends: tuple[int, int], bottom: int, sheet: Worksheet) -> int:
    """How small a sheet must be printed so that both its pages fit, in percent."""
    repeated = 2

    def inches(first: int, last: int) -> float:
        # Excel takes 7.4 dots a character; LibreOffice without Excel's font up to 9.4.
        return sum(column.width * 9.4 for column in table.columns[first:last]) / 96

    first_page = inches(0, page_ends[0])
    second_page = inches(0, repeated) + inches(page_ends[0], page_ends[1])
    high = sum(sheet.row_dimensions[row].height or 15 for row in range(1, bottom + 1)) / 72
    return int(99 * min(_WIDEST / max(first_page, second_page), _HIGHEST / high, 1))


def _write_guide(book: Workbook) -> None:
    sheet = book.create_sheet("Guide")
    _write_head(sheet, "Guide", "How this workbook is used, from left to right.")
    sheet.column_dimensions["A"].width = 26
    sheet.column_dimensions["B"].width = 92
    row = 4
    for title, lines in guide.SECTIONS:
        _section(sheet, row, (1, 2), title)
        row += 1
        for word, text in lines:
            head, body = sheet.cell(row, 1, word), sheet.cell(row, 2, text)
            head.font, head.alignment = looks.STRONG, looks.GUIDE
            body.font, body.alignment = looks.TEXT, looks.GUIDE
            sheet.row_dimensions[row].height = 13.5 * max(1, -(-len(text) // 95), -(-len(word) // 24)) + 3
            if word in looks.VERDICT_FILLS:
                head.fill = PatternFill("solid", fgColor=looks.VERDICT_FILLS[word])
            if word == "Framed, pale yellow":
                _paint_input(head)
            row += 1
        row += 1
    told = sheet.cell(row, 1, "Template")
    told.font = looks.LEAD
    kind = sheet.cell(row, 2, f"{KIND_OF_WORKBOOK} {LAYOUT_VERSION}")
    kind.font = looks.LEAD
    _name(book, KIND_NAME, sheet, _absolute(kind))
    sheet.cell(row + 1, 1, "Made by").font = looks.LEAD
    sheet.cell(row + 1, 2, f"Evenheft {__version__}").font = looks.LEAD
    sheet.print_area = f"A1:B{row + 1}"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0
    sheet.oddFooter.center.text = "&A"
