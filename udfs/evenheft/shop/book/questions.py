"""What a shop asks its book: a customer's clubs, what is low, and the scale over time."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.chart import LineChart, Reference
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, merge_input, name_cell, paint_heading, section
from evenheft.order.drawing.charts import place_chart
from evenheft.shop.book.grid import BOOK_HEADING_ROW, FIRST_BOOK_ROW, LAST_BOOK_ROW, ListSheet
from evenheft.shop.book.layout import GRIP_LIST, ORDER_LIST, SCALE_LIST, WEIGHT_LIST

ASK = "Ask"
CUSTOMER = "ask_customer"
"""The defined name of the cell in which a customer is typed."""
CLUBS_SHOWN, LOW_SHOWN, MONTHS = 150, 20, 24
ASK_ROW = 7
"""The first row of the answers."""
_SHOWN = ("order", "number", "date", "club", "model", "head_mass", "shaft", "grip", "length", "target", "reads",
          "inertia", "verdict")  # fmt: skip
_LOW_COLUMN = len(_SHOWN) + 3


def draw_ask(book: Workbook, sheet: Worksheet) -> None:
    """Draw the sheet that lists a customer's clubs and what is low."""
    sheet["A1"].value, sheet["A1"].font = "Ask", looks.TITLE
    sheet["A2"].value, sheet["A2"].font = "Type a customer: every club ever built for them stands below.", looks.LEAD
    sheet["A4"].value, sheet["A4"].font = "Customer", looks.STRONG
    cell = merge_input(sheet, 4, (2, 5))
    name_cell(book, CUSTOMER, sheet, absolute(cell))
    _draw_count(sheet)
    work = len(_SHOWN) + 1
    for number, key in enumerate(_SHOWN, start=1):
        column = ORDER_LIST.column(key)
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].width = column.width
        paint_heading(sheet.cell(ASK_ROW - 1, number, column.heading))
        for row in range(ASK_ROW, ASK_ROW + CLUBS_SHOWN):
            there = f"INDEX({ORDER_LIST.whole(key)},${get_column_letter(work)}{row})"
            cell = sheet.cell(row, number, f'=IF(${get_column_letter(work)}{row}="","",{there}&"")')
            if column.number != "General":
                cell.value = f'=IF(${get_column_letter(work)}{row}="","",IF({there}="","",{there}))'
            cell.number_format, cell.font, cell.border = column.number, looks.TEXT, looks.RULE
            cell.alignment = looks.LEFT if column.width >= 12 else looks.CENTRED
    _draw_chain(sheet, work, ASK_ROW, CLUBS_SHOWN, CUSTOMER, ORDER_LIST, "customer")
    _draw_low(sheet)
    sheet.row_dimensions[ASK_ROW - 1].height = 30
    sheet.freeze_panes = sheet.cell(ASK_ROW, 1)
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0


def _draw_count(sheet: Worksheet) -> None:
    count = f"COUNTIF({ORDER_LIST.whole('customer')},{CUSTOMER})"
    sheet["G4"].value = (
        f'=IF({CUSTOMER}="","",IF({count}=0,"no club of that name: is it written so on Orders?",'
        f'{count}&" clubs"&IF({count}>{CLUBS_SHOWN},", the first {CLUBS_SHOWN} are shown","")))'
    )
    sheet["G4"].font = looks.STRONG


def _draw_chain(sheet: Worksheet, column: int, first: int, rows: int, wanted: str, asked: ListSheet, key: str) -> None:
    """Find the rows of a list that hold what is wanted, each search beginning below the row found before it."""
    letter = get_column_letter(column)
    sheet.column_dimensions[letter].hidden = True
    paint_heading(sheet.cell(first - 1, column, "Row"), working=True)
    whole, source = asked.whole(key), asked.letter(key)
    rest = f"INDEX({whole},{letter}{{above}}+1):{asked.sheet}!${source}${LAST_BOOK_ROW}"
    for row in range(first, first + rows):
        cell = sheet.cell(row, column)
        cell.font = looks.WORKING
        if row == first:
            cell.value = f'=IF({wanted}="","",IFERROR(MATCH({wanted},{whole},0),""))'
        else:
            above = f"{letter}{row - 1}"
            cell.value = f'=IF({above}="","",IFERROR({above}+MATCH({wanted},{rest.format(above=row - 1)},0),""))'


def _draw_low(sheet: Worksheet) -> None:
    """List what is low, of grips and of weights, beside the clubs."""
    at = _LOW_COLUMN
    section(sheet, ASK_ROW - 2, (at, at + 5), "What is low")
    for place, (asked, identity) in enumerate(((GRIP_LIST, ("model",)), (WEIGHT_LIST, ("size", "where")))):
        first = ASK_ROW + place * (LOW_SHOWN + 2)
        work = at + 6 + place
        _draw_chain(sheet, work, first, LOW_SHOWN, '"low"', asked, "low")
        keys = (*identity, "hand", "least")
        for number, key in enumerate(keys, start=at):
            column = asked.column(key)
            paint_heading(sheet.cell(first - 1, number, column.heading))
            sheet.column_dimensions[get_column_letter(number)].width = max(column.width, 10) if number > at else 22
            for row in range(first, first + LOW_SHOWN):
                found = f"${get_column_letter(work)}{row}"
                cell = sheet.cell(row, number, f'=IF({found}="","",INDEX({asked.whole(key)},{found}))')
                cell.number_format, cell.font, cell.border = column.number, looks.TEXT, looks.RULE


OVER_TIME = len(SCALE_LIST.columns) + 2
"""The first column of what the Scale sheet says over time."""


def draw_scale_over_time(sheet: Worksheet) -> None:
    """Draw how calculation and scale agree, the drift, and the last two years by month with a chart."""
    at = OVER_TIME
    section(sheet, BOOK_HEADING_ROW - 1, (at, at + 4), "The scale against the calculation, over all orders")
    pairs = f"{SCALE_LIST.whole('calculated')},{SCALE_LIST.whole('reading')}"
    both = f"COUNT({SCALE_LIST.whole('difference')})"
    lines = (
        ("Clubs with both", f"={both}", "0"),
        ("Scale less calculated, mean (points)", f'=IF({both}<2,"",ROUND(HEFT_AGREEMENT({pairs},"bias"),2))', _SIGNED),
        ("Standard deviation (points)", f'=IF({both}<2,"",HEFT_AGREEMENT({pairs},"sd"))', "0.00"),
        ("The next club, 95 of 100, above (points)",
         f'=IF({both}<2,"",ROUND(HEFT_AGREEMENT({pairs},"next lower"),2))', _SIGNED),
        ("and below (points)", f'=IF({both}<2,"",ROUND(HEFT_AGREEMENT({pairs},"next upper"),2))', _SIGNED),
        ("Drift (points a year)",
         f'=IF({both}<10,"",IFERROR(ROUND(365.25*SLOPE({SCALE_LIST.whole("difference")},{SCALE_LIST.whole("date")}),2),""))',
         _SIGNED),
    )  # fmt: skip
    for row, (label, formula, number) in enumerate(lines, start=BOOK_HEADING_ROW):
        text_cell = sheet.cell(row, at, label)
        text_cell.font, text_cell.alignment = looks.TEXT, looks.LEFT
        cell = sheet.cell(row, at + 4, formula)
        cell.number_format, cell.font, cell.alignment = number, looks.STRONG, looks.CENTRED
    _draw_months(sheet, BOOK_HEADING_ROW + len(lines) + 1)


_SIGNED = "+0.00;-0.00;0.00"


MONTHS_SAID = (
    "Chart of the mean difference of scale and calculation in points, month by month. The table beside it holds the "
    "same numbers."
)
"""What is said of the chart."""


def _draw_months(sheet: Worksheet, top: int) -> None:
    at = OVER_TIME
    months, means, counts = (get_column_letter(at + n) for n in (0, 1, 2))
    for number, heading in enumerate(("Month from", "Mean (points)", "Clubs"), start=at):
        paint_heading(sheet.cell(top, number, heading))
    dates, difference = SCALE_LIST.whole("date"), SCALE_LIST.whole("difference")
    for place in range(MONTHS):
        row = top + 1 + place
        back = MONTHS - 1 - place
        latest = f"MAX({dates})"
        within = f'{dates},">="&{months}{row},{dates},"<"&EDATE({months}{row},1)'
        for number, formula, look in (
            (at, f'=IF({latest}=0,"",EDATE(DATE(YEAR({latest}),MONTH({latest}),1),-{back}))', "yyyy-mm"),
            (at + 1, f'=IF({months}{row}="","",IFERROR(ROUND(AVERAGEIFS({difference},{within}),2),NA()))', _SIGNED),
            (at + 2, f'=IF({months}{row}="","",COUNTIFS({within}))', "0"),
        ):
            cell = sheet.cell(row, number, formula)
            cell.number_format, cell.font, cell.alignment = look, looks.TEXT, looks.CENTRED
    sheet.column_dimensions[months].width = 13
    for letter in (means, counts):
        sheet.column_dimensions[letter].width = 11
    chart = LineChart()
    chart.height, chart.width = 8, 17
    chart.title = "Scale less calculated, by month (points)"
    chart.add_data(Reference(sheet, min_col=at + 1, min_row=top + 1, max_row=top + MONTHS))
    chart.set_categories(Reference(sheet, min_col=at, min_row=top + 1, max_row=top + MONTHS))
    chart.legend = None
    chart.x_axis.number_format, chart.x_axis.delete, chart.y_axis.delete = "yyyy-mm", False, False
    chart.series[0].marker.symbol = "circle"
    chart.series[0].smooth = False
    place_chart(sheet, chart, at + 4, BOOK_HEADING_ROW + len("months") + 2, MONTHS_SAID, printed=True)
    assert FIRST_BOOK_ROW > BOOK_HEADING_ROW
