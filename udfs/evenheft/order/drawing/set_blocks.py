"""What the Set sheet has besides its table: places that show what is judged, colours, charts, the line at the top."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from evenheft.order.drawing import looks
from evenheft.order.drawing.blocks import absolute, name_cell
from evenheft.order.drawing.charts import BAND_SAID, band_chart, place_chart
from evenheft.order.layout import (
    ALIKE,
    BAND_ROW,
    BENCH,
    CHARTED,
    COUNTED,
    FIRST_ROW,
    GROUP_LINES,
    HEADING_ROW,
    LAST_ROW,
    LOST_AT,
    NEEDS,
    NOTICES,
    PARTS,
    PRINTED,
    QUANTITIES,
    REFERRED,
    ROOMS,
    SET,
    SLOT_PARTS,
    SLOT_ROW,
    SLOTS,
    TARGET,
    JudgedQuantity,
    summary,
)

CHART_ROWS = (3, 4)
"""The rows that the charts stand on, above the table: they are seen with it."""
BEYOND_THE_PAGE = "More is judged than fits on the page; the verdicts on it stand under What is flagged."
CHART_HEIGHT = 7.0
"""Height of a chart [cm]."""


def complete_set(sheet: Worksheet) -> None:
    """Write all that stands on the Set sheet besides the rows of its clubs."""
    flags = SET.letter("flags")
    sheet["C1"].value = summary(f"${flags}${FIRST_ROW}:${flags}${LAST_ROW}", LOST_AT)
    sheet["C1"].font = looks.STRONG
    sheet.conditional_formatting.add("C1", FormulaRule(formula=[f'{LOST_AT}<>""'], font=looks.WARNING))
    sheet.row_dimensions[SLOT_ROW].hidden = True
    for row in CHART_ROWS:
        sheet.row_dimensions[row].height = CHART_HEIGHT / 2.54 * 72 / len(CHART_ROWS) + 3
    _count_what_is_judged(sheet)
    _write_notices(sheet)
    _write_whether_alike(sheet)
    _write_foot(sheet)
    for number in range(1, SLOTS + 1):
        _draw_slot(sheet, number)
    for number in range(1, CHARTED + 1):
        column = 1 if number == 1 else SET.at[f"slot{number}_{SLOT_PARTS[0][0]}"]
        said = BAND_SAID.format(place=("first", "second")[number - 1])
        place_chart(sheet, band_chart(sheet, number), column, CHART_ROWS[0], said)
    sheet.freeze_panes = "C1"


def _write_foot(sheet: Worksheet) -> None:
    """Say on the printed page what stands above the charts, and that more is judged than it has room for."""
    beyond = f"{SET.letter(f'slot{PRINTED + 1}_{SLOT_PARTS[0][0]}')}${SLOT_ROW}"
    alike, noticed = f"{SET.letter('slot1_value')}$1", f"{SET.letter('rule')}${SLOT_ROW}"
    more = f'IF(${beyond}="",""," {BEYOND_THE_PAGE}")'
    foot = (f"=$C$1&{more}", f"=${alike}", f"=${noticed}")
    for row, text in enumerate(foot, start=LAST_ROW + 2):
        cell = sheet.cell(row, 1)
        cell.value, cell.font, cell.alignment = text, looks.STRONG, looks.LEFT


def _count_what_is_judged(sheet: Worksheet) -> None:
    """Write, over each quantity's target, how many quantities up to it have one in any group."""
    before = ""
    for quantity in QUANTITIES:
        cell = sheet.cell(SLOT_ROW, SET.at[f"{quantity.key}_goal"])
        first = (GROUP_LINES if quantity in REFERRED else TARGET).framed(f"{quantity.key}_first")
        cell.value = f'=IF(SUMPRODUCT(({first}<>"")*1)>1,1,0){before}'  # the heading is one
        before = f"+{cell.coordinate}"


def _write_notices(sheet: Worksheet) -> None:
    """Say at the top, once, which tolerances the instruments cannot support, and what else holds for all clubs."""
    cells = [sheet.cell(SLOT_ROW, SET.at[key]) for key in NOTICES]
    scatter = [SET.whole(f"{what}_scatter").removeprefix("Set!") for what in ("mass", "period")]  # and what is between
    scattered = f'COUNTIF({scatter[0].partition(":")[0]}:{scatter[1].rpartition(":")[2]},"?*")'
    *of_quantities, lacking, moved, unusual, no_room = cells
    for cell, quantity in zip(of_quantities, QUANTITIES, strict=True):
        cell.value = f'=IF({scattered}>0,"",{_notice(quantity)[1:]})'  # then read again first: each club says so
    count = f"COUNTIF({BENCH.whole('unasked')},TRUE)"
    lacking.value = f'=IF({count}=0,"","{_LACKING[0]}"&{count}&"{_LACKING[1]}")'
    names, lines = (SET.whole(key).removeprefix("Set!") for key in ("club", "no_room"))
    no_room.value = f'=IF({LOST_AT}="",SUBSTITUTE(HEFT_MESSAGES({names},{lines}),"! ",""),"")'
    counted = _count_moved_clubs(sheet)
    moved.value = f'=IF({"*".join(counted)}=0,"","{_MOVED}")'
    groups = PARTS.whole("group_unusual")
    unusual.value = f'=IFERROR("{_UNUSUAL[0]}"&INDEX({groups},MATCH("?*",{groups},0))&"{_UNUSUAL[1]}","")'
    notice = sheet.cell(SLOT_ROW, SET.at["rule"])
    joined = '&" "&'.join(cell.coordinate for cell in cells)
    notice.value = f"=TRIM({joined})"
    for cell in (*cells, notice):
        cell.font = looks.WORKING
    at = f"${notice.column_letter}${SLOT_ROW}"
    sheet["A2"].value = f'=IF({at}="","{SET.lead}",{at})'
    sheet.conditional_formatting.add("A2", FormulaRule(formula=[f'{at}<>""'], font=looks.WARNING))


def name_rooms(book: Workbook) -> None:
    """Write, in the hidden row, how many letters there is room for where a line is told in a narrow cell."""
    for column, (name, letters) in zip(("flags", "flags_in_full", "line_value"), ROOMS.items(), strict=True):
        cell = book[SET.sheet].cell(SLOT_ROW, SET.at[column], letters)
        cell.font = looks.WORKING
        name_cell(book, name, book[SET.sheet], absolute(cell))


def _count_moved_clubs(sheet: Worksheet) -> list[str]:
    """Count clubs that stand on Order above one of a lower number, and what changes from club to club of a group."""
    columns = [f"{SET.letter(key)}${{}}:{SET.letter(key)}${{}}" for key in ("row.order", "club")]
    (row, name), (next_row, next_name) = (
        [column.format(FIRST_ROW + below, LAST_ROW - 1 + below) for column in columns] for below in (0, 1)
    )
    first, last = (SET.letter(f"{QUANTITIES[n].key}_change") for n in (0, -1))
    changes = f"{first}${FIRST_ROW}:{last}${LAST_ROW}"
    formulas = (  # a number is less than a text, which tells of a lost row
        f'=SUMPRODUCT(({row}>{next_row})*({name}<>"")*({next_name}<>"")*({row}<"")*({next_row}<""))',
        f"=SUMPRODUCT(({changes}<>0)*1)",
    )
    counted = [sheet.cell(SLOT_ROW, SET.at[key], formula) for key, formula in zip(COUNTED, formulas, strict=True)]
    for cell in counted:
        cell.font = looks.WORKING
    return [cell.coordinate for cell in counted]


def _write_whether_alike(sheet: Worksheet) -> None:
    """Say beside the line at the top whether the clubs deviate alike, judged without what shifts every club alike."""
    cells = [sheet.cell(SLOT_ROW, SET.at[f"{key}_off"]) for key in ALIKE]
    for cell, key in zip(cells, ALIKE, strict=True):
        off, doubts, tolerances = (
            SET.whole(f"{key}_{part}").removeprefix("Set!") for part in ("off", "own_doubt", "tolerance")
        )
        line = f'"{key.capitalize()}: "&HEFT_ALIKE({off},MIN({tolerances}),{doubts},"line")&"."'
        cell.value, cell.font = f'=IF(COUNT({off})<2,"",{line})', looks.WORKING
    notice = sheet.cell(1, SET.at["slot1_value"])
    notice.value = f'=TRIM({cells[0].coordinate}&" "&{cells[1].coordinate})'
    notice.font, notice.alignment = looks.LEAD, looks.LEFT


_MOVED = "Clubs on Order do not stand by their numbers: places, and so targets, are counted down the list."
_UNUSUAL = ("Group ", " is not on Shop: what is usual of every group counts.")
_LACKING = ("Dry fits with nothing under Still lacking and no parts on Parts: ", ". Write what they lack, or none.")


def _notice(quantity: JudgedQuantity) -> str:
    ranges = [SET.whole(f"{quantity.key}_{part}").removeprefix("Set!") for part in ("tolerance", "doubt")]
    unit = quantity.unit if quantity.has_order_unit else f'"{quantity.unit}"'
    needs = ""
    if quantity.key in NEEDS:
        column, needs_unit = NEEDS[quantity.key]
        needs = f",{SET.whole(column).removeprefix('Set!')},{needs_unit}"
    return f'=HEFT_SUPPORTED("{quantity.name}",{",".join(ranges)},{unit}{needs})'


def _draw_slot(sheet: Worksheet, number: int) -> None:
    """Write which quantity a place shows, its heading, and its colours; nothing where it shows none."""
    first = SET.at[f"slot{number}_{SLOT_PARTS[0][0]}"]
    last = first + len(SLOT_PARTS) - 1
    counts = ":".join(f"${SET.letter(f'{q.key}_goal')}${SLOT_ROW}" for q in (QUANTITIES[0], QUANTITIES[-1]))
    slot = sheet.cell(SLOT_ROW, first)
    slot.value, slot.font = f'=IFERROR(MATCH({number},{counts},0),"")', looks.WORKING
    at = f"${slot.column_letter}${SLOT_ROW}"
    band = sheet.cell(BAND_ROW, first)
    names = ":".join(f"${SET.letter(f'{q.key}_goal')}${BAND_ROW - 2}" for q in (QUANTITIES[0], QUANTITIES[-1]))
    band.value = f'=IF({at}="","",INDEX({names},{at}))'
    for column, (_, heading, _) in zip(range(first, last + 1), SLOT_PARTS, strict=True):
        sheet.cell(HEADING_ROW, column).value = f'=IF({at}="","","{heading}")'
    area = f"{get_column_letter(first)}{BAND_ROW}:{get_column_letter(last)}{LAST_ROW}"
    sheet.conditional_formatting.add(
        area, FormulaRule(formula=[f'{at}=""'], fill=PatternFill("solid", bgColor="FFFFFFFF"), border=looks.NO_BORDER,
                          stopIfTrue=True)
    )  # fmt: skip
    letter = get_column_letter(last)
    for word, colour in looks.VERDICT_FILLS.items():
        rule = FormulaRule(
            formula=[f'{letter}{FIRST_ROW}="{word}"'],
            fill=PatternFill("solid", bgColor=colour),
            font=looks.STRONG if word != "in" else None,
        )
        sheet.conditional_formatting.add(f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}", rule)


def name_quantities(sheet: Worksheet) -> None:
    """Write what each quantity is called with its unit, for the headings of the places."""
    for quantity in QUANTITIES:
        cell = sheet.cell(BAND_ROW - 2, SET.at[f"{quantity.key}_goal"])
        unit = quantity.unit
        cell.value = f'="{quantity.name} ("&{unit}&")"' if quantity.has_order_unit else f"{quantity.name} ({unit})"
        if quantity.key == "swingweight":
            cell.value = quantity.name
