"""Workbooks that would keep the engine busy for minutes: stopped in a line, or computed without what no sheet needs."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import xlsxwriter

from evenheft.hosts import embedded
from evenheft.hosts.embedded import (
    BASE_SECONDS,
    LONGEST_FORMULA,
    SECONDS_PER_FORMULA,
    TYPED_SECONDS,
    Computed,
    EngineError,
    evaluate,
)
from evenheft.hosts.patience import MOST_MEMORY
from packages import with_parts

SHEET = "xl/worksheets/sheet1.xml"


def book(*formulas: str, after: str = "") -> Computed:
    target = io.BytesIO()
    with xlsxwriter.Workbook(target, {"in_memory": True}) as made:
        made.add_worksheet("Bench")
    cells = "".join(f'<row r="{n}"><c r="A{n}"><f>{text}</f><v>7</v></c></row>' for n, text in enumerate(formulas, 1))
    sheet = (
        '<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        f"<sheetData>{cells}</sheetData>{after}</worksheet>"
    )
    return Computed.from_bytes(with_parts(target.getvalue(), {SHEET: sheet}), name="mine.xlsx")


def test_sums_over_whole_sheets_end_in_a_line(monkeypatch: pytest.MonkeyPatch) -> None:
    # A limit that no machine is fast enough for: these sums need seconds.
    monkeypatch.setattr(embedded, "BASE_SECONDS", 0.01)
    monkeypatch.setattr(embedded, "SECONDS_PER_FORMULA", 0.0)
    with pytest.raises(EngineError, match=r"^mine\.xlsx takes longer than \S+ s to compute: it was stopped$"):
        book("HEFT_POINTS(395,75.3)", *["SUM(Chart!A:XFD)+SUM(Bench!B:XFD)"] * 3000)


@pytest.mark.parametrize("text", ["[" * 100_000, "(" * 100_000, "HEFT_POINTS(" * 20_000, "[1]!" * 30_000])
def test_a_formula_longer_than_a_spreadsheet_accepts_keeps_its_last_value(text: str) -> None:
    assert len(text) > LONGEST_FORMULA
    computed = book("HEFT_POINTS(395,75.3)", text)
    assert computed.value("Bench", 1, 1) == evaluate("=HEFT_POINTS(395,75.3)")
    assert computed.value("Bench", 2, 1) == 7.0


def test_what_looks_like_a_formula_in_a_comment_is_none() -> None:
    computed = book("HEFT_POINTS(395,75.3)", after=f"<!--{'<f ' * 100_000}-->")
    assert computed.value("Bench", 1, 1) == evaluate("=HEFT_POINTS(395,75.3)")


def test_the_page_on_safety_tells_the_limits() -> None:
    text = (Path(__file__).parents[2] / "docs" / "security.md").read_text(encoding="utf-8")
    assert f"may take {BASE_SECONDS:g} s and besides {1000 * SECONDS_PER_FORMULA:g} ms for each formula" in text
    assert f"what needs more than {MOST_MEMORY >> 30} GB" in text
    assert TYPED_SECONDS == 0.5 and "One formula typed at `evenheft eval` may take half a second" in text
    assert f"a plan {BASE_SECONDS:g} s" in " ".join(text.split())
    assert f"A formula of more than {LONGEST_FORMULA} characters" in text
