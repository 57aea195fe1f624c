"""The looks of the workbook: what a cell's appearance says, in one place.

Input cells are framed and pale yellow, computed ones plain on white, headings dark. Verdict
colours come second to the words and stay apart for colour-blind readers (after the palette of
Okabe and Ito), and in black and white the words remain.
"""

from __future__ import annotations

from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.styles.numbers import NumberFormat

from evenheft.order.colours import VERDICT_FILLS as VERDICT_FILLS

FONT = "Liberation Sans"
INK = "FF1F2A37"
QUIET = "FF6B7280"
LINE = "FFB6BDC8"
EDGE = "FF838C98"
"""Of what is typed in: 3:1 against the paper and the fill (WCAG 2.2, 1.4.11)."""

TITLE = Font(name=FONT, size=16, bold=True, color=INK)
LEAD = Font(name=FONT, size=10, color=QUIET)
TEXT = Font(name=FONT, size=10, color=INK)
STRONG = Font(name=FONT, size=10, bold=True, color=INK)
WORKING = Font(name=FONT, size=9, italic=True, color=QUIET)
WARNING = Font(name=FONT, size=10, bold=True, color="FF9C1C5B")
ON_DARK = Font(name=FONT, size=10, bold=True, color="FFFFFFFF")

DARK_FILL = PatternFill("solid", fgColor="FF2F4858")
BAND_FILL = PatternFill("solid", fgColor="FFDCE4EA")
INPUT_FILL = PatternFill("solid", fgColor="FFFFF9DB")

_THIN = Side(style="thin", color=EDGE)
_FINE = Side(style="hair", color=LINE)
FRAME = Border(left=_THIN, right=_THIN, top=_THIN, bottom=_THIN)
RULE = Border(bottom=_FINE)

LEFT = Alignment(horizontal="left", vertical="center")
WRAPPED = Alignment(horizontal="left", vertical="center", wrap_text=True)
CENTRED = Alignment(horizontal="center", vertical="center", wrap_text=True)
TURNED = Alignment(horizontal="center", vertical="center", wrap_text=True, text_rotation=90)
GUIDE = Alignment(horizontal="left", vertical="top", wrap_text=True)

OPEN = Protection(locked=False)
LOCKED = Protection(locked=True)
UNSEEN = NumberFormat(numFmtId=166, formatCode=";;;")
"""A format in which a cell shows nothing, on the screen and on paper."""
NO_BORDER = Border(left=Side(style=None), right=Side(style=None), top=Side(style=None), bottom=Side(style=None))

MESSAGE_FILL = "FFF3D1E4"
