"""The charts of the Set sheet: a quantity along the set, against the band of its target."""

from __future__ import annotations

from openpyxl.chart import LineChart, Reference
from openpyxl.chart.data_source import AxDataSource, StrRef
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.text import CharacterProperties, Paragraph, ParagraphProperties, RegularTextRun
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.layout import HEADING_ROW, LAST_ROW, QUANTITIES, SET


def band_chart(sheet: Worksheet, key: str) -> LineChart:
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
