"""Cells changed in a sheet's text: what comes out is what was meant, and the rest is the same bytes."""

import datetime
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.ooxml.cells import SheetText
from evenheft.ooxml.edits import Cached, Edit, NewFormula, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.places import Area, Place, reference
from evenheft.ooxml.values import CellError
from untouched import without_cells

NS = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def sheet(rows: str, *, before: str = "", after: str = "", prefix: str = "") -> bytes:
    text = f'<?xml version="1.0"?>\n<worksheet {NS}>{before}<sheetData>{rows}</sheetData>{after}</worksheet>'
    if prefix:
        text = re.sub(r"<(/?)(?=[a-z])", rf"<\1{prefix}:", text).replace("xmlns=", f"xmlns:{prefix}=")
    return text.encode()


def changed(text: bytes, edits: dict[Place, Edit], *, epoch_1904: bool = False) -> str:
    pieces, _ = SheetText(text, label="shop.xlsx", epoch_1904=epoch_1904).edited(edits)
    return b"".join(pieces).decode()


def cells_of(text: str) -> str:
    return re.search(r"sheetData>(.*)</(?:\w+:)?sheetData>", text, re.DOTALL)[1]


ROW = '<row r="2" spans="1:3" ht="20"><c r="A2" s="4"><v>1</v></c><c r="C2" s="5" t="s"><v>0</v></c></row>'


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (431.25, '<c r="A2" s="4"><v>431.25</v></c>'),
        (431, '<c r="A2" s="4"><v>431</v></c>'),
        (0.1 + 0.2, '<c r="A2" s="4"><v>0.30000000000000004</v></c>'),
        (True, '<c r="A2" s="4" t="b"><v>1</v></c>'),
        (None, '<c r="A2" s="4"/>'),
        ("a & <b>", '<c r="A2" s="4" t="inlineStr"><is><t xml:space="preserve">a &amp; &lt;b&gt;</t></is></c>'),
        ("=1+1", '<c r="A2" s="4" t="inlineStr"><is><t xml:space="preserve">=1+1</t></is></c>'),
        ("\x07", '<c r="A2" s="4" t="inlineStr"><is><t xml:space="preserve">_x0007_</t></is></c>'),
        ("_x0041_", '<c r="A2" s="4" t="inlineStr"><is><t xml:space="preserve">_x005F_x0041_</t></is></c>'),
        (CellError("#N/A"), '<c r="A2" s="4" t="e"><v>#N/A</v></c>'),
        (CellError("#SPILL!"), '<c r="A2" s="4" t="e"><v>#VALUE!</v></c>'),
        (datetime.date(2026, 11, 25), '<c r="A2" s="4"><v>46351</v></c>'),
        (datetime.datetime(2026, 11, 25, 12), '<c r="A2" s="4"><v>46351.5</v></c>'),
        (datetime.time(6), '<c r="A2" s="4"><v>0.25</v></c>'),
    ],
)
def test_a_value_is_written_in_its_cell_and_nowhere_else(value: object, written: str) -> None:
    old = '<c r="A2" s="4"><v>1</v></c>'
    assert changed(sheet(ROW), {(2, 1): Put(value)}) == sheet(ROW.replace(old, written)).decode()


def test_days_are_counted_from_where_the_workbook_counts() -> None:
    text = changed(sheet(ROW), {(2, 1): Put(datetime.date(2026, 11, 25))}, epoch_1904=True)
    assert "<v>44889</v>" in text  # 1462 days fewer than from 1900


def test_a_cell_that_was_not_there_comes_in_order() -> None:
    text = changed(sheet(ROW), {(2, 2): Put(7), (2, 9): Put(8), (1, 1): Put(5), (4, 2): Put(9)})
    assert cells_of(text) == (
        '<row r="1"><c r="A1"><v>5</v></c></row>'
        '<row r="2" spans="1:9" ht="20"><c r="A2" s="4"><v>1</v></c><c r="B2"><v>7</v></c>'
        '<c r="C2" s="5" t="s"><v>0</v></c><c r="I2"><v>8</v></c></row>'
        '<row r="4"><c r="B4"><v>9</v></c></row>'
    )


@pytest.mark.parametrize("empty", ["<sheetData/>", "<sheetData />", "<sheetData></sheetData>"])
def test_an_empty_sheet_takes_cells(empty: str) -> None:
    text = f"<worksheet {NS}>{empty}</worksheet>".encode()
    assert cells_of(changed(text, {(1, 1): Put(1)})) == '<row r="1"><c r="A1"><v>1</v></c></row>'
    assert changed(text, {(1, 1): Put(None)}).encode() == text


def test_a_row_without_cells_takes_some() -> None:
    text = changed(sheet('<row r="3" s="7" customFormat="1"/>'), {(3, 2): Put(1)})
    assert cells_of(text) == '<row r="3" s="7" customFormat="1"><c r="B3" s="7"><v>1</v></c></row>'


def test_a_new_cell_looks_as_its_column_does() -> None:
    columns = '<cols><col min="2" max="3" width="9" style="6"/></cols>'
    assert 'r="C1" s="6"' in changed(sheet("", before=columns), {(1, 3): Put(1)})
    assert 'r="D1">' in changed(sheet("", before=columns), {(1, 4): Put(1)})
    assert 'r="C1" s="2"' in changed(sheet("", before=columns), {(1, 3): Put(1, style=2)})


def test_cells_and_rows_without_names_are_counted() -> None:
    rows = "<row><c><v>1</v></c></row><row><c><v>2</v></c><c><v>3</v></c></row>"
    assert cells_of(changed(sheet(rows), {(2, 2): Put(9)})) == rows.replace("<v>3</v>", "<v>9</v>")


def test_names_with_a_prefix_keep_it() -> None:
    text = changed(sheet(ROW, prefix="x"), {(2, 1): Put("a"), (3, 1): Put(2)})
    assert '<x:c r="A2" s="4" t="inlineStr"><x:is><x:t xml:space="preserve">a</x:t></x:is></x:c>' in text
    assert '<x:row r="3"><x:c r="A3"><x:v>2</x:v></x:c></x:row></x:sheetData>' in text


def test_the_stated_extent_grows_with_the_cells() -> None:
    text = sheet(ROW, before='<dimension ref="A2:C2"/>')
    assert '<dimension ref="A2:C9"/>' in changed(text, {(9, 1): Put(1)})
    assert '<dimension ref="A2:F2"/>' in changed(text, {(2, 6): Put(1)})
    inner = sheet('<row r="3"><c r="C3"><v>1</v></c></row>', before='<dimension ref="C3:D3"/>')
    assert '<dimension ref="A3:D3"/>' in changed(inner, {(3, 1): Put(1)})
    assert '<dimension ref="C1:D3"/>' in changed(inner, {(1, 4): Put(1)})
    assert '<dimension ref="B2:E4"/>' in changed(inner, {(2, 2): Put(1), (4, 5): Put(1)})
    assert '<dimension ref="A2:C2"/>' in changed(text, {(2, 1): Put(7)})


FORMULAS = (
    '<row r="1"><c r="A1" s="1" t="str"><f>HEFT_LABEL(B1)</f><v>D2.0</v></c>'
    '<c r="B1"><f t="shared" ref="B1:B2" si="0">C1*2</f><v>62</v></c></row>'
    '<row r="2"><c r="B2"><f t="shared" si="0"/><v>1</v></c><c r="C2"><v>3</v></c></row>'
)


def test_a_formula_keeps_its_text_and_shows_another_result() -> None:
    edits: dict[Place, Edit] = {(1, 1): Cached("D3.1"), (1, 2): Cached(71.0), (2, 2): Cached(CellError("#DIV/0!"))}
    assert cells_of(changed(sheet(FORMULAS), edits)) == (
        '<row r="1"><c r="A1" s="1" t="str"><f>HEFT_LABEL(B1)</f><v>D3.1</v></c>'
        '<c r="B1"><f t="shared" ref="B1:B2" si="0">C1*2</f><v>71</v></c></row>'
        '<row r="2"><c r="B2" t="e"><f t="shared" si="0"/><v>#DIV/0!</v></c><c r="C2"><v>3</v></c></row>'
    )


def test_the_same_result_leaves_the_same_bytes() -> None:
    text = sheet(FORMULAS)
    pieces, count = SheetText(text, label="s").edited({(1, 1): Cached("D2.0"), (1, 2): Cached(62.0)})
    assert (b"".join(pieces), count) == (text, 0)


def test_formula_cells_are_found() -> None:
    assert list(SheetText(sheet(FORMULAS), label="s").formula_cells()) == [(1, 1), (1, 2), (2, 2)]


def test_a_new_formula_stands_with_its_value() -> None:
    text = changed(sheet(ROW), {(2, 4): NewFormula('HEFT_LABEL(IF(A2<5,"D2",A2))', "D2.0")})
    assert '<c r="D2" t="str"><f>HEFT_LABEL(IF(A2&lt;5,"D2",A2))</f><v>D2.0</v></c>' in text


def test_what_only_looks_like_cells_is_passed_over() -> None:
    text = sheet(
        '<!-- <row r="1"><c r="A1"><v>9</v></c></row> --><row r="1"><c r="A1" t="str"><f><![CDATA[A2<c r="B1">]]></f>'
        "<v>1</v></c></row>",
        before="<!-- <sheetData/> -->",
    )
    assert changed(text, {(1, 2): Put(3)}).count('<c r="B1"><v>3</v></c></row>') == 1


@pytest.mark.parametrize(
    ("rows", "after", "edit", "words"),
    [
        (FORMULAS, "", {(1, 1): Put(1)}, "holds a formula in A1"),
        (FORMULAS, "", {(1, 1): NewFormula("A9", 1)}, "holds a formula in A1"),
        (FORMULAS, "", {(2, 3): NewFormula("A9", 1)}, "holds something in C2 already"),
        (FORMULAS, "", {(2, 3): Cached(1)}, "holds no formula in C2"),
        (FORMULAS, "", {(7, 3): Cached(1)}, "holds no formula in C7"),
        (ROW, '<mergeCells><mergeCell ref="A2:B3"/></mergeCells>', {(3, 2): Put(1)}, "B3 inside merged cells"),
        ('<row r="1"><c r="A1"><f t="array" ref="A1:A3">B1:B3</f><v>1</v></c></row>', "", {(2, 1): Put(1)},
         "A2 inside a formula's range"),
        ('<row r="1"><c r="A1"><new/></c></row>', "", {(1, 1): Put(1)}, "not understood"),
        ('<row r="1"><c r="A1" vm="1" t="e"><v>#VALUE!</v></c></row>', "", {(1, 1): Put(1)}, "of a kind that is not"),
        ('<row r="1"><c r="B2"><v>1</v></c></row>', "", {(1, 1): Put(1)}, "says it is elsewhere"),
        ('<row r="1"><c r="B1"/><c r="A1"/></row>', "", {(1, 3): Put(1)}, "in order"),
        ('<row r="1"><c r="A1"/><c r="A1"/></row>', "", {(1, 1): Put(1)}, "in order"),
        ('<row r="2"/><row r="1"/>', "", {(3, 1): Put(1)}, "rows in order"),
        (ROW, "", {(2, 1): Put(float("nan"))}, "cannot hold nan in A2"),
        (ROW, "", {(2, 1): Put("a" * 40_000)}, "40000 characters"),
        (ROW, "", {(2, 1): Put("\ud800")}, "not Unicode"),
        (ROW, "", {(2_000_000, 1): Put(1)}, "has no cell"),
    ],
)  # fmt: skip
def test_what_would_break_something_is_refused(rows: str, after: str, edit: dict[Place, Edit], words: str) -> None:
    with pytest.raises(Refused, match=re.escape(words)):
        changed(sheet(rows, after=after), edit)


@pytest.mark.parametrize(
    "text",
    [
        b"<chartsheet/>",
        f"<worksheet {NS}/>".encode(),
    ],
)
def test_sheets_of_other_kinds_are_refused(text: bytes) -> None:
    with pytest.raises(Refused):
        SheetText(text, label="s")


def test_merged_areas_are_told() -> None:
    text = sheet("", after='<mergeCells count="1"><mergeCell ref="B2:C4"/></mergeCells>')
    assert SheetText(text, label="s").merged() == [Area(2, 2, 4, 3)]


VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=12),
)
PLACES = st.tuples(st.integers(1, 8), st.integers(1, 30))


def laid(cells: dict[Place, float], *, named: bool) -> str:
    rows = ""
    for row in sorted({place[0] for place in cells}):
        inner = "".join(
            f'<c r="{reference(*place)}"><v>{value!r}</v></c>'
            for place, value in sorted(cells.items())
            if place[0] == row
        )
        rows += f'<row r="{row}"{" spans=" + chr(34) + "1:9" + chr(34) if named else ""}>{inner}</row>'
    return rows


@given(
    st.dictionaries(PLACES, st.floats(0, 1e6), max_size=20),
    st.dictionaries(PLACES, VALUES, min_size=1, max_size=8),
    st.booleans(),
)
def test_any_edit_of_any_sheet_changes_the_named_cells_only(
    cells: dict[Place, float], values: dict[Place, object], spans: bool
) -> None:
    old = sheet(laid(cells, named=spans), before='<dimension ref="A1:B2"/>')
    new = changed(old, {place: Put(value) for place, value in values.items()}).encode()
    named = {reference(*place) for place in values}
    assert without_cells(new, named) == without_cells(old, named)
    again, count = SheetText(new, label="s").edited({place: Put(value) for place, value in values.items()})
    assert (b"".join(again), count) == (new, 0)
