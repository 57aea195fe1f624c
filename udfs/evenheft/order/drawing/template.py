"""Builds the order template from the layout, with openpyxl and nothing remembered from a file."""

from __future__ import annotations

import gc
import io
import re
import sys
import traceback
import zipfile
from pathlib import Path

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font, PatternFill
from openpyxl.worksheet.worksheet import Worksheet

from evenheft import __version__
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.as_excel import as_excel_writes
from evenheft.ooxml.edit import refresh_all
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.zipped import packed
from evenheft.order.drawing import guide, looks
from evenheft.order.drawing.alternatives import texts_of_drawings, with_alternatives
from evenheft.order.drawing.blocks import absolute, name_cell, paint_input, section
from evenheft.order.drawing.card_blocks import complete_card
from evenheft.order.drawing.charts import DEVIATIONS_SAID, deviation_chart, place_chart
from evenheft.order.drawing.following import tell_on_set, tell_roll
from evenheft.order.drawing.order_blocks import complete_order
from evenheft.order.drawing.paper import print_guide, print_shop, set_print
from evenheft.order.drawing.parts_blocks import complete_parts
from evenheft.order.drawing.set_blocks import complete_set, name_quantities, name_rooms
from evenheft.order.drawing.shop_blocks import draw_shop
from evenheft.order.drawing.tables import draw_club_table, quiet_rows_without_a_name
from evenheft.order.layout import (
    CLUB_TABLES,
    FIRST_ROW,
    KIND_NAME,
    KIND_OF_WORKBOOK,
    LAST_ROW,
    LAYOUT_VERSION,
    SCALE,
    SUMMARY,
    SUMMARY_LINE,
    Table,
)

ORDER_SHEETS = ("Guide", "Order", "Shop", "Parts", "Card", "Bench", "Set", "Fix", "Supplier", "Scale")
"""The sheets in the order of the work."""
SHOP_LEAD = "What does not change from order to order: your instruments, stock weights, and what is usual by group."
TEMPLATE_NAME = "evenheft-order"
_PROPERTIES = "docProps/core.xml"
_FIXED_TIME = b"2026-01-01T00:00:00Z"
"""Stamped on every built file, so that the same code builds the same bytes."""


def build_order() -> Workbook:
    """Build the empty order workbook."""
    book = Workbook()
    book.remove(book.worksheets[0])
    _use_one_font(book)
    for name in ORDER_SHEETS:
        book.create_sheet(name)
    _write_guide(book)
    _write_head(book["Shop"], "Shop", SHOP_LEAD)
    draw_shop(book)
    print_shop(book)
    for table in CLUB_TABLES.values():
        sheet = book[table.sheet]
        _write_head(sheet, table.title, table.lead)
        draw_club_table(sheet, table)
        tell_roll(sheet, table)
        _tell_messages(sheet, table)
        set_print(sheet, table)
    complete_order(book)
    complete_parts(book["Parts"])
    complete_card(book["Card"])
    complete_set(book["Set"])
    place_chart(book["Fix"], deviation_chart(book["Fix"]), 1, LAST_ROW + 2, DEVIATIONS_SAID)
    name_quantities(book["Set"])
    name_rooms(book)
    tell_on_set(book)
    _complete_scale(book["Scale"])
    for table in CLUB_TABLES.values():
        quiet_rows_without_a_name(book[table.sheet], table)
    book.active = book.sheetnames.index("Order")
    for sheet in book.worksheets:
        sheet.protection.sheet = True  # no password: it guards against slips, not against people
        sheet.protection.formatColumns = False
        sheet.protection.formatRows = False
        sheet.sheet_view.showGridLines = False
    book.calculation.fullCalcOnLoad = True
    book.properties.title = "Order"
    book.properties.creator = "Evenheft"
    return book


def _use_one_font(book: Workbook) -> None:
    """Let columns be measured by a font that every system has the measures of: widths are then the same everywhere."""
    normal = Font(name=looks.FONT, size=10)
    book._named_styles["Normal"].font = normal
    book._fonts[0] = normal


def save_bytes(book: Workbook, *, template: bool = False) -> bytes:
    """Return the workbook as a file's bytes: the same workbook always gives the same bytes.

    Args:
        book: the workbook [-].
        template: whether it is an .xltx rather than an .xlsx [-].
    """
    book.template = template
    raw, said = io.BytesIO(), texts_of_drawings(book)
    try:
        book.save(raw)  # by way of temporary files, for which there may be no room
    except Exception as error:
        _end_quietly(error)
        if isinstance(error, OSError) or type(error).__name__ == "SerialisationError":  # lxml's, where it is there
            raise Refused(f"the workbook cannot be put together: {error}") from None
        raise
    with zipfile.ZipFile(raw) as made:
        parts = as_excel_writes(with_alternatives({name: made.read(name) for name in made.namelist()}, said))
    times = re.compile(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
    parts[_PROPERTIES] = times.sub(_FIXED_TIME, parts[_PROPERTIES])
    return packed(parts)


def _end_quietly(error: Exception) -> None:
    """Let what was being written end: openpyxl's half-written sheets fail once more, which Python would print."""
    heard, sys.unraisablehook = sys.unraisablehook, lambda _: None
    try:
        traceback.clear_frames(error.__traceback__)
        gc.collect()
    finally:
        sys.unraisablehook = heard


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
    sheet["A2"].value, sheet["A2"].font, sheet["A2"].alignment = lead, looks.LEAD, looks.LEFT
    sheet.row_dimensions[1].height = 20
    if title != "Order":
        sheet.row_dimensions[3].height = 3


def _tell_messages(sheet: Worksheet, table: Table) -> None:
    """Say over the table what a narrow cell in it has no room for; Set says it in a column of its own."""
    computed = [column.key for column in table.columns if column.role == "computed"]
    if not computed or table.name == "set":
        return
    cells = f"{table.framed(computed[0]).rpartition(':')[0]}:{table.framed(computed[-1]).rpartition(':')[2]}"
    cell = sheet["A5"]
    cell.value = f"=HEFT_MESSAGES({table.framed('club')},{cells})".replace(f"{table.sheet}!", "")
    cell.font, cell.alignment = looks.WARNING, looks.LEFT


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
    for row, (label, formula, number) in enumerate(SUMMARY, start=LAST_ROW + 3):
        label_cell = sheet.cell(row, 2)
        label_cell.value, label_cell.font, label_cell.alignment = label, looks.TEXT, looks.LEFT
        cell = sheet.cell(row, SCALE.at["difference"])
        cell.value = formula.format(both=both, **columns)
        cell.number_format, cell.font, cell.alignment = number, looks.STRONG, looks.CENTRED
    line = sheet.cell(LAST_ROW + 3 + len(SUMMARY), 2)
    line.value, line.font = SUMMARY_LINE.format(both=both, **columns), looks.WARNING


def _write_guide(book: Workbook) -> None:
    sheet = book["Guide"]
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
                head.protection = looks.LOCKED  # it only shows the look
            row += 1
        row += 1
    label = sheet.cell(row, 1, "Template")
    label.font = looks.LEAD
    kind = sheet.cell(row, 2, f"{KIND_OF_WORKBOOK} {LAYOUT_VERSION}")
    kind.font = looks.LEAD
    name_cell(book, KIND_NAME, sheet, absolute(kind))
    sheet.cell(row + 1, 1, "Made by").font = looks.LEAD
    sheet.cell(row + 1, 2, f"Evenheft {__version__}").font = looks.LEAD
    print_guide(book, row + 1)
