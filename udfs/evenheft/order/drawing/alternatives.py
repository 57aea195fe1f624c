"""What a screen reader says of a chart: kept with its place on the sheet, and written into the file beside it."""

from __future__ import annotations

import re
from typing import Any
from xml.sax.saxutils import quoteattr

from openpyxl import Workbook
from openpyxl.drawing.graphic import GraphicFrame, NonVisualGraphicFrame
from openpyxl.drawing.properties import NonVisualDrawingProps

_FRAME = re.compile(rb'(<cNvPr id="\d+" name="[^"]*")(/?>)')


def frame_saying(words: str) -> GraphicFrame:
    """Make the frame of a chart with its alternative text, for the chart's anchor.

    Args:
        words: what the chart shows, and where the same is read [-].
    """
    properties = NonVisualDrawingProps(id=1, name="Chart", descr=words)
    return GraphicFrame(nvGraphicFramePr=NonVisualGraphicFrame(cNvPr=properties))


def said_of(chart: Any) -> str:
    """Return the alternative text of a chart that was drawn or read; "" where it has none.

    Args:
        chart: a chart on a sheet [-].
    """
    frame = getattr(chart.anchor, "graphicFrame", None)
    properties = None if frame is None else frame.nvGraphicFramePr.cNvPr
    return (properties.descr if properties is not None else None) or ""


def texts_of_drawings(book: Workbook) -> list[list[str]]:
    """List what is said of each chart: a list for each sheet that has any, in the order in which they are saved.

    Args:
        book: a workbook without other pictures: openpyxl saves charts alone as they are [-].
    """
    return [[said_of(chart) for chart in sheet._charts] for sheet in book.worksheets if sheet._charts]


def with_alternatives(parts: dict[str, bytes], texts: list[list[str]]) -> dict[str, bytes]:
    """Write alternative texts into the drawings of a workbook that openpyxl saved: it leaves them out.

    Args:
        parts: the parts of the workbook, by their names [-].
        texts: from `texts_of_drawings` [-].
    """
    changed = dict(parts)
    for number, of_sheet in enumerate(texts, start=1):
        name = f"xl/drawings/drawing{number}.xml"
        left = iter(of_sheet)

        def with_words(frame: re.Match[bytes], left: Any = left) -> bytes:
            words = next(left, "")
            return frame[1] + (f" descr={quoteattr(words)}".encode() if words else b"") + frame[2]

        changed[name] = _FRAME.sub(with_words, parts[name])
    return changed
