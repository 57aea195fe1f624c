"""The embedded engine answers as `formulas.call` does: the engine computes, nothing is mocked."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import formualizer
import openpyxl
import openpyxl.workbook.defined_name
import pytest

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.calling import Cell, Grid
from evenheft.formulas.serving import server
from evenheft.hosts.embedded import HOST, Computed, EngineError, as_served, evaluate, serve_in
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellError
from parity_cases import CASES, GOOD, Case

MAKES_ERROR = {"#N/A": "=NA()", "#DIV/0!": "=1/0"}
"""A formula that puts each error of the table into a cell."""


def test_every_formula_has_cases() -> None:
    assert set(GOOD) == set(REGISTRY)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_answers_as_the_plain_call_does(case: Case) -> None:
    expected = server(REGISTRY[case.formula], HOST)(*case.args)
    found = computed_in_cells(case, shape_of(expected))
    assert_same(found, expected)


def shape_of(answer: Cell | Grid) -> tuple[int, int]:
    return (len(answer), len(answer[0])) if isinstance(answer, tuple) else (1, 1)


def computed_in_cells(case: Case, shape: tuple[int, int]) -> object:
    """The case's answer, its arguments standing in cells of a workbook of the engine."""
    workbook = formualizer.Workbook()
    serve_in(workbook)
    given = workbook.sheet("In")
    answer = workbook.sheet("Out")
    references = []
    row = 1
    for argument in case.args:
        rows = argument if isinstance(argument, tuple) else ((argument,),)
        for r, cells in enumerate(rows):
            for c, cell in enumerate(cells):
                put(given, row + r, 1 + c, cell)
        last = row + len(rows) - 1
        first_cell, last_cell = f"$A${row}", f"${chr(ord('A') + len(rows[0]) - 1)}${last}"
        references.append(f"In!{first_cell}" if first_cell == last_cell else f"In!{first_cell}:{last_cell}")
        row = last + 2
    answer.set_formula(1, 1, f"={case.formula}({','.join(references)})")
    workbook.evaluate_all()
    rows_found = [[workbook.get_value("Out", 1 + r, 1 + c) for c in range(shape[1] + 1)] for r in range(shape[0] + 1)]
    inside = [line[: shape[1]] for line in rows_found[: shape[0]]]
    outside = [line[-1] for line in rows_found] + rows_found[-1]
    assert set(map(repr, outside)) == {"None"}, f"the answer spills beyond {shape}: {rows_found}"
    return inside[0][0] if shape == (1, 1) else tuple(map(tuple, inside))


def put(sheet: formualizer.Sheet, row: int, column: int, cell: object) -> None:
    if isinstance(cell, CellError):
        sheet.set_formula(row, column, MAKES_ERROR[cell.code])
    elif cell is not None:
        sheet.set_value(row, column, cell)


def assert_same(found: object, expected: object) -> None:
    """Same type, shape and text, and numbers to 1e-12 relative."""
    if isinstance(expected, tuple) and len(expected) == len(expected[0]) == 1:
        expected = expected[0][0]  # a range of one cell and that cell are one and the same in a sheet
    if isinstance(expected, tuple):
        assert isinstance(found, tuple)
        assert [len(line) for line in found] == [len(line) for line in expected]
        for found_line, expected_line in zip(found, expected, strict=True):
            for found_cell, expected_cell in zip(found_line, expected_line, strict=True):
                assert_same(found_cell, expected_cell)
    elif isinstance(expected, float):
        assert isinstance(found, float | int)
        assert not isinstance(found, bool)
        assert found == pytest.approx(expected, rel=1e-12, abs=1e-12)
    else:
        assert found == expected


@pytest.mark.parametrize(
    ("typed", "served"),
    [
        # How Excel saves a function of an add-in: the file format's own indexed and quoted forms.
        ("=[1]!HEFT_POINTS(A1,B1)", "=HEFT_POINTS(A1,B1)"),
        ("=A1/[1]!HEFT_POINTS(B1,C1)", "=A1/HEFT_POINTS(B1,C1)"),
        ("=A1-[12]!heft_points(B1,C1)", "=A1-heft_points(B1,C1)"),
        ("=3 - evenheft.xlam!HEFT_LABEL(1)", "=3 - HEFT_LABEL(1)"),
        (r"='C:\it''s here\[evenheft.xlam]'!HEFT_LABEL(1)", "=HEFT_LABEL(1)"),
        ("=Sheet1!A1+[1]!HEFT_LABEL(1)", "=Sheet1!A1+HEFT_LABEL(1)"),
        ('=[1]!HEFT_LABEL(1)&"[1]!HEFT_LABEL("', '=HEFT_LABEL(1)&"[1]!HEFT_LABEL("'),
        ("=Sheet1!A1+'Bench 2'!B1", "=Sheet1!A1+'Bench 2'!B1"),
        # Skipped arguments, of our formulas only.
        ("=HEFT_POINTS(A1,B1,,12)", '=HEFT_POINTS(A1,B1,"",12)'),
        ("=HEFT_POINTS(,B1, ,)", '=HEFT_POINTS("",B1, "","")'),
        ("=IF(A1,,HEFT_VERDICT(B1,,C1))", '=IF(A1,,HEFT_VERDICT(B1,"",C1))'),
        ('=HEFT_FROM_LABEL("D2,,5")', '=HEFT_FROM_LABEL("D2,,5")'),
        ("=HEFT_GRADIENT({1,2;3,4},,)", '=HEFT_GRADIENT({1,2;3,4},"","")'),
        ("=HEFT_POINTS(SUM(A1,,B1),HEFT_MOMENT(,1),)", '=HEFT_POINTS(SUM(A1,,B1),HEFT_MOMENT("",1),"")'),
        ("=HEFT_VERSION()", "=HEFT_VERSION()"),
        ("=HEFT_VERSION( )", "=HEFT_VERSION( )"),
        # No formula: left for the engine to refuse.
        ("=HEFT_POINTS((,),", "=HEFT_POINTS((,),"),
        ('=HEFT_LABEL("D2,,', '=HEFT_LABEL("D2,,'),
    ],
)
def test_formulas_are_served_without_prefix_and_with_skipped_arguments_blank(typed: str, served: str) -> None:
    assert as_served(typed) == served


def test_skipped_argument_is_blank_and_not_zero() -> None:
    assert evaluate("=HEFT_POINTS(395, 75.3, , 14*2.54)") == evaluate("=HEFT_POINTS(395, 75.3)")
    assert evaluate("HEFT_POINTS(, 75.3)") == ""
    assert evaluate('=HEFT_VERDICT(32.4, "D2", 0.5, )') == "in"
    assert evaluate("=HEFT_INERTIA(395, 75.3, 1.9, , 2.5)") == call(
        REGISTRY["HEFT_INERTIA"], (395.0, 75.3, 1.9, None, 2.5)
    )


@pytest.mark.parametrize(
    ("formula", "answer"),
    [
        ("=SUM(1,2)*2", 6.0),
        ("=IF(HEFT_VERDICT(33, 32, 0.5)=\"high\", \"file\", \"leave\")", "file"),
        ("=1/0", CellError("#DIV/0!")),
        ("=NA()", CellError("#N/A")),
        ("=TRUE", True),
        ("={1,2;3,4}", [[1.0, 2.0], [3.0, 4.0]]),
        ("=HEFT_LABEL({32;75;29.96})", [["D2.0"], [call(REGISTRY["HEFT_LABEL"], (75.0,))], ["D0.0"]]),
    ],
)  # fmt: skip
def test_ordinary_functions_mix_with_ours(formula: str, answer: object) -> None:
    assert evaluate(formula) == answer


@pytest.mark.parametrize(
    ("formula", "line"),
    [
        ("=HEFT_POINT(1)", "HEFT_POINT is not a formula of Evenheft: did you mean HEFT_POINTS?"),
        ("=HEFT_POINTS(1", "cannot read the formula"),
        ('=HEFT_LABEL("D2', "cannot read the formula"),
        ("=", "cannot read the formula"),
        ("", "cannot read the formula"),
        ("=1+", "cannot read the formula"),
    ],
)
def test_what_is_no_formula_is_told_in_one_line(formula: str, line: str) -> None:
    with pytest.raises(EngineError, match=re.escape(line)) as refused:
        evaluate(formula)
    assert "\n" not in str(refused.value)


def saved_by_excel(tmp_path: Path) -> Path:
    """A workbook whose cells hold formulas as Excel writes them for an add-in's functions."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["A1"], sheet["B1"] = 395, 75.3
    sheet["C1"] = "=A1/[1]!HEFT_POINTS(A1,B1,,14*2.54)"
    sheet["C2"] = '=IF(AND(A1>0,B1<100),[1]!HEFT_LABEL(32)&" & up","")'
    sheet["C3"] = "=SUM(A1,B1)"
    book.create_sheet("Bench 2")["A1"] = "='Sheet'!A1"
    path = tmp_path / "saved.xlsx"
    book.save(path)
    return path


def test_a_workbook_saved_by_excel_is_computed_and_left_as_it_was(tmp_path: Path) -> None:
    path = saved_by_excel(tmp_path)
    before = path.read_bytes()
    computed = Computed.open(path)
    assert computed.sheet_names == ("Sheet", "Bench 2")
    points = call(REGISTRY["HEFT_POINTS"], (395.0, 75.3))
    assert isinstance(points, float)
    assert computed.value("Sheet", 1, 3) == pytest.approx(395 / points, rel=1e-12)
    assert computed.value("Sheet", 2, 3) == "D2.0 & up"
    assert computed.value("Sheet", 3, 3) == pytest.approx(470.3, rel=1e-12)
    assert computed.value("Bench 2", 1, 1) == 395.0
    assert computed.value("Sheet", 9, 9) is None
    assert path.read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"not a workbook", b"PK\x03\x04cut off"])
def test_what_is_no_workbook_is_told_in_one_line(content: bytes) -> None:
    with pytest.raises(Refused, match=r"^set\.xlsx (is empty|is not a workbook|is damaged or cut off).+$"):
        Computed.from_bytes(content, name="set.xlsx")


def test_named_cell_is_found_in_any_case(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["B2"] = "=1+1"
    book.defined_names["EvenheftFirst"] = openpyxl.workbook.defined_name.DefinedName(
        "EvenheftFirst", attr_text="Sheet!$B$2"
    )
    path = tmp_path / "named.xlsx"
    book.save(path)
    computed = Computed.open(path)
    assert computed.named_cell("evenheftfirst") == 2.0
    assert computed.named_cell("nowhere") is None


def with_sheet_xml(path: Path, change: Callable[[str], str]) -> bytes:
    """The workbook's bytes with its first sheet's XML changed, as another program might have written it."""
    target = io.BytesIO()
    with zipfile.ZipFile(path) as package, zipfile.ZipFile(target, "w") as copy:
        for name in package.namelist():
            data = package.read(name)
            copy.writestr(name, change(data.decode()) if name == "xl/worksheets/sheet1.xml" else data)
    return target.getvalue()


@pytest.mark.parametrize(
    ("formula", "value"),
    [
        ("[2]Prices!A1", 7.0),
        (r"'C:\shop\[prices.xlsx]Sheet 1'!A1*2", 7.0),
        ("SUM('[2]My Sheet'!A1:B2)", 7.0),
        ("[1]!HEFT_MOMENT(430,75.56)+[2]Prices!A1", 7.0),
        ("[1]!HEFT_MOMENT(430,75.56)", 17200.0),
        ('"[2]Prices!"&amp;A1', "[2]Prices!395"),
    ],
)
def test_another_file_is_never_read_and_the_cell_keeps_its_last_value(
    tmp_path: Path, formula: str, value: object
) -> None:
    path = saved_by_excel(tmp_path)
    cell = f'<c r="D1"><f>{formula}</f><v>7</v></c><c r="E1"><f>D1</f></c>'
    content = with_sheet_xml(path, lambda xml: xml.replace("</c></row>", f"</c>{cell}</row>", 1))
    computed = Computed.from_bytes(content)
    assert computed.value("Sheet", 1, 4) == value
    assert computed.value("Sheet", 1, 5) == value
    assert computed.value("Sheet", 3, 3) == pytest.approx(470.3, rel=1e-12)


def test_a_shared_formula_that_reads_another_file_is_its_last_value_in_every_cell(tmp_path: Path) -> None:
    path = saved_by_excel(tmp_path)
    first = '<c r="D1"><f t="shared" ref="D1:E1" si="4">[2]Prices!A1</f><v>7</v></c>'
    second = '<c r="E1"><f t="shared" si="4"/><v>8</v></c>'
    content = with_sheet_xml(path, lambda xml: xml.replace("</c></row>", f"</c>{first}{second}</row>", 1))
    computed = Computed.from_bytes(content)
    assert [computed.value("Sheet", 1, column) for column in (4, 5)] == [7.0, 8.0]
