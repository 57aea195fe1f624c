"""What reading a sheet costs grows with the sheet, whatever it is made of: counted in calls, on no clock.

The wish was a bound for each megabyte that is read. A count is the same on every machine.
"""

from __future__ import annotations

import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from types import FrameType

import pytest
import xlsxwriter

from evenheft.ooxml.errors import Refused
from evenheft.shop.adopt import survey
from evenheft.shop.wishes import Wishes
from evenheft.shop.writing import write_copy

MOST_CALLS_PER_MEGABYTE = 50_000_000
"""Twice what the worst of these sheets needs, one of nothing but doubtful headings; clubs need a tenth of it."""
LONG = 1_000
HEADINGS = ["Club", "Mass (g)", "Balance (cm)", "Swing time (s)"]
CLUB = [428.4, 72.1, 1.86]
EffortRow = list[object]


def clubs(count: int) -> list[EffortRow]:
    return [list(HEADINGS), *([f"club {n}", *CLUB] for n in range(count))]


def long_stories(count: int) -> list[EffortRow]:
    return [[*row, "a long story " * 2_500] for row in clubs(count)]


def headings_in_every_other_row(count: int) -> list[EffortRow]:
    return [list(HEADINGS) if n % 2 == 0 else ["x", *CLUB] for n in range(count)]


def nothing_but_headings(count: int) -> list[EffortRow]:
    return [list(HEADINGS)] * count


def headings_to_be_asked_about(count: int) -> list[EffortRow]:
    return [["HW", "TW", "BP"]] * count


def rows_of_units(count: int) -> list[EffortRow]:
    one: list[EffortRow] = [["Club", "Mass", "Balance"], ["", "g", "cm"], ["x", 428, 72.1], []]
    return one * (count // 4)


def cards(count: int) -> list[EffortRow]:
    return [row for n in range(count // 5)
            for row in (["Club", f"{n}i"], ["Mass (g)", 428.4], ["Balance (cm)", 72.1], [], [])]  # fmt: skip


def lines_of_text(count: int) -> list[EffortRow]:
    return [*clubs(20), *([f"Irons {n}"] for n in range(count))]


def wide(count: int) -> list[EffortRow]:
    return [[name, *([value] * count)] for name, value in zip(HEADINGS, ["7i", *CLUB], strict=True)]


def far_apart(count: int) -> list[EffortRow]:
    return [["Mass (g)", *[None] * 300, "Balance (cm)"] if n % 9 == 0 else [428.4, *[None] * 300, 72.1]
            for n in range(count)]  # fmt: skip


def merged(count: int) -> list[EffortRow]:
    return [*clubs(20), *(["merged over four"] for _ in range(count))]


SHEETS = [clubs, long_stories, headings_in_every_other_row, nothing_but_headings, headings_to_be_asked_about,
          rows_of_units, cards, lines_of_text, wide, far_apart, merged]  # fmt: skip


def written(path: Path, rows: list[EffortRow]) -> float:
    """A workbook of some rows, and its size unpacked [MB]."""
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Irons")
    for number, row in enumerate(rows):
        if row == ["merged over four"]:
            sheet.merge_range(number, 0, number, 3, f"merged {number}")
        else:
            sheet.write_row(number, 0, row)
    book.close()
    with zipfile.ZipFile(path) as package:
        return sum(entry.file_size for entry in package.infolist()) / (1 << 20)


class Effort:
    """Counts the calls of functions, and how often one was handed a long text."""

    def __init__(self) -> None:
        self.calls = 0
        self.long_texts = 0

    def note(self, frame: FrameType, event: str, _: object) -> None:
        """Count one call."""
        if event in ("call", "c_call"):
            self.calls += 1
        if event == "call" and "/evenheft/" in frame.f_code.co_filename and "<" not in frame.f_code.co_name:
            given = frame.f_code.co_varnames[: frame.f_code.co_argcount]
            self.long_texts += any(
                isinstance(held := frame.f_locals.get(name), str) and len(held) > LONG for name in given
            )


def adopted(path: Path) -> Effort:
    """Read and adopt a workbook, and count."""
    effort = Effort()
    wishes = Wishes(target="D2", increment=0.5, tolerance=0.5)
    before = sys.getprofile()
    sys.setprofile(effort.note)
    try:
        write_copy(survey(path, wishes), (), wishes, path.with_name(f"copy of {path.name}"))
    except Refused:
        pass  # what holds nothing but headings costs as much to look at
    finally:
        sys.setprofile(before)
    return effort


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.__name__)
def test_four_times_the_sheet_costs_four_times_as_much(tmp_path: Path, sheet: Callable[[int], list[EffortRow]]) -> None:
    written(tmp_path / "first.xlsx", sheet(40))
    adopted(tmp_path / "first.xlsx")  # what is learnt once, such as patterns of headings, is not counted
    size = written(tmp_path / "small.xlsx", sheet(150))
    small = adopted(tmp_path / "small.xlsx")
    size = written(tmp_path / "large.xlsx", sheet(600))
    large = adopted(tmp_path / "large.xlsx")
    assert large.calls < 7 * small.calls  # where each row is held against each other, it is sixteen times as much
    assert large.calls < MOST_CALLS_PER_MEGABYTE * size
    assert large.long_texts <= 2 * 600 * (sheet is long_stories)
