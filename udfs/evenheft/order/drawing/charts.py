"""The charts: a quantity along the set against the band of its target, and deviations before and after."""

from __future__ import annotations

from openpyxl.chart import Reference, ScatterChart, Series
from openpyxl.chart._chart import ChartBase
from openpyxl.chart.data_source import StrRef
from openpyxl.chart.series import SeriesLabel
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorClientData, AnchorMarker, OneCellAnchor
from openpyxl.drawing.text import CharacterProperties, Paragraph, ParagraphProperties, RegularTextRun
from openpyxl.drawing.xdr import XDRPositiveSize2D
from openpyxl.utils.units import cm_to_EMU
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing.alternatives import frame_saying
from evenheft.order.layout import BAND_ROW, FIRST_ROW, FIX, HEADING_ROW, LAST_ROW, SET, Table

HEIGHT, WIDTH = 6.8, 13.8
"""Size of a chart [cm]: two stand side by side in a window."""
BAND_SAID = (
    "Chart of the {place} judged quantity along the set, by the clubs' numbers: what was measured, the target, and the "
    "lowest and highest value accepted. The table below says the same in words."
)
"""Of a chart on Set."""
DEVIATIONS_SAID = (
    "Chart of how far each club is off what leads its group, in units of its tolerance, by the club's number: before "
    "and after what is planned, between the lowest and highest accepted. Advice, Then and Verdict say it in words."
)
"""Of the chart on Fix."""
Drawn = dict[str, tuple[str, str | None, str | None]]
"""Colour, dash and marker of each series, by the column that it draws."""
_SERIES: Drawn = {
    "value": ("1F2A37", None, "circle"),
    "aim": ("0072B2", None, None),
    "low": ("0072B2", "dash", None),
    "high": ("D55E00", "lgDashDot", None),
}
"""No two are told apart by their colour alone."""
_BEFORE_AND_AFTER: Drawn = {
    "drawn_before": ("6B7280", "sysDot", "triangle"),
    "drawn_after": ("1F2A37", None, "circle"),
    "drawn_low": ("0072B2", "dash", None),
    "drawn_high": ("D55E00", "lgDashDot", None),
}


def band_chart(sheet: Worksheet, number: int) -> ScatterChart:
    """Draw what a place shows along the set by the clubs' numbers, with the target and the edges of the tolerance."""
    series = {f"chart{number}_{part}": look for part, look in _SERIES.items()}
    chart = _along_the_set(sheet, SET, f"chart{number}_at", series)
    # What is drawn, as the table calls it.
    named = f"Set!${SET.letter(f'slot{number}_value')}${BAND_ROW}"
    chart.series[0].tx = SeriesLabel(strRef=StrRef(named))
    return chart


def deviation_chart(sheet: Worksheet) -> ScatterChart:
    """Draw how far each club is off before and after what is planned, with the edges of the tolerance."""
    chart = _along_the_set(sheet, FIX, "drawn_at", _BEFORE_AND_AFTER)
    chart.title = _titled("How far off what leads is, in tolerances, by the club's number")
    chart.width = 1.4 * WIDTH
    chart.x_axis.tickLblPos = "low"  # under the picture, not along the line of no deviation
    return chart


def _along_the_set(sheet: Worksheet, table: Table, at: str, drawn: Drawn) -> ScatterChart:
    """Draw columns of a table by the clubs' numbers."""
    chart = ScatterChart(scatterStyle="lineMarker")
    chart.visible_cells_only = False  # what is drawn stands in hidden columns
    chart.height, chart.width = HEIGHT, WIDTH
    chart.legend.position = "r"
    chart.display_blanks = "span"
    places = Reference(sheet, min_col=table.at[at], min_row=FIRST_ROW, max_row=LAST_ROW)
    for key, (colour, dash, marker) in drawn.items():
        values = Reference(sheet, min_col=table.at[key], min_row=FIRST_ROW, max_row=LAST_ROW)
        series = Series(values, places)
        series.tx = SeriesLabel(strRef=StrRef(f"{table.sheet}!${table.letter(key)}${HEADING_ROW}"))
        series.smooth = False
        series.graphicalProperties = GraphicalProperties(
            ln=LineProperties(solidFill=colour, prstDash=dash, w=22000 if marker == "circle" else 15000)
        )
        series.marker.symbol = marker or "none"
        if marker:
            series.marker.size = 7
            series.marker.graphicalProperties = GraphicalProperties(solidFill=colour)
        chart.series.append(series)
    chart.x_axis.majorUnit = 1
    chart.x_axis.number_format = "0"
    for axis in (chart.x_axis, chart.y_axis):
        axis.delete = False
        axis.txPr = _text(800)
    chart.x_axis.majorGridlines = None
    chart.y_axis.number_format = "General"
    chart.y_axis.majorGridlines.spPr = GraphicalProperties(ln=LineProperties(solidFill="E1E5EA", w=6000))
    return chart


def place_chart(sheet: Worksheet, chart: ChartBase, column: int, row: int, said: str, *, printed: bool = False) -> None:
    """Put a chart on the sheet, with what is said of it; the table is printed, it is not unless asked for."""
    at = AnchorMarker(col=column - 1, row=row - 1)
    size = XDRPositiveSize2D(cm_to_EMU(chart.width), cm_to_EMU(chart.height))
    chart.anchor = OneCellAnchor(
        _from=at, ext=size, graphicFrame=frame_saying(said), clientData=AnchorClientData(fPrintsWithSheet=printed)
    )
    sheet.add_chart(chart)


def _titled(words: str) -> Title:
    look = CharacterProperties(sz=1000, b=True)
    line = Paragraph(pPr=ParagraphProperties(defRPr=look), r=[RegularTextRun(rPr=look, t=words)])
    return Title(tx=Text(rich=RichText(p=[line])), overlay=False)


def _text(size: int, *, bold: bool = False) -> RichText:
    look = CharacterProperties(sz=size, b=bold)
    return RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=look), endParaRPr=look)])
