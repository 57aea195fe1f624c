"""Formulas at work in a real LibreOffice: typed, nested, in arrays, recomputed, saved and opened again."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from calc_office import Calc, office_has_scipy, running
from evenheft import __version__
from evenheft.formulas import REGISTRY
from evenheft.formulas.headed.plan import NO_SOLVER
from evenheft.hosts.calc import HOST
from evenheft.hosts.calc import extension as package
from evenheft.hosts.calc.contents import contents
from evenheft.ooxml.values import CellError

pytestmark = pytest.mark.usefixtures("office_at_hand")

EXAMPLES = [
    (text, shown if not text.startswith("=HEFT_SELFTEST") else f"ok, evenheft {__version__} on {HOST}")
    for formula in REGISTRY.values()
    for text, shown in formula.examples
]


def test_every_formula_is_typed_as_the_reference_prints_it(calc: Calc) -> None:
    with calc.open() as book:
        for row, (text, _) in enumerate(EXAMPLES, start=1):
            book.type("Sheet1", f"A{row}", text)
        found = [cells[0] for cells in book.read("Sheet1", f"A1:A{len(EXAMPLES)}")]
        kept = [book.formula("Sheet1", f"A{row}") for row in range(1, len(EXAMPLES) + 1)]
    assert {text.partition("(")[0] for text, _ in EXAMPLES} == {f"={name}" for name in REGISTRY}
    for (text, shown), value, formula in zip(EXAMPLES, found, kept, strict=True):
        assert formula.partition("(")[0] == text.partition("(")[0]
        if text.startswith("=HEFT_PLAN") and not office_has_scipy():
            shown = f"! {NO_SOLVER}"
        try:
            number = float(shown)
        except ValueError:
            assert value == shown, text
        else:
            digits = len(shown.partition(".")[2])
            assert value == pytest.approx(number, abs=0.5 * 10**-digits * (1 + 1e-9)), text


def test_semicolons_and_small_letters_are_as_good(calc: Calc) -> None:
    with calc.open() as book:
        book.type("Sheet1", "A1", "=heft_swingweight(395;75.3)")
        assert book.value("Sheet1", "A1") == "D2.6"
        assert book.formula("Sheet1", "A1").startswith("=HEFT_SWINGWEIGHT(")


@pytest.mark.parametrize(
    ("formula", "answer"),
    [
        ("=ROUND(HEFT_POINTS(395;75.3)*2;1)", 65.1),
        ('=IF(HEFT_VERDICT(33;"D2";0.5)="high";"yes";"no")', "yes"),
        ('=IF(HEFT_POINTS("";75.3)="";"quiet";"loud")', "quiet"),
        ("=HEFT_LABEL(HEFT_POINTS(395;75.3))", "D2.6"),
        ('=HEFT_LABEL(HEFT_POINTS(395;753))&"?"', "! balance must be more than 0 cm and less than 145 cm, got 753: "
         "millimetres??"),
        ('=LEFT(HEFT_SWINGWEIGHT(395;75.3);1)', "D"),
        ("=SUM(HEFT_MOMENT({430;430};75.56))", 34400.0),
        ('=HEFT_LABEL(32)="D2.0"', 1.0),
        ("=HEFT_LABEL(32)=HEFT_LABEL(33)", 0.0),
        ("=ISTEXT(HEFT_VERSION())", 1.0),
        ("=ISNUMBER(HEFT_MOMENT(430;75.56))", 1.0),
        ("=MAX(HEFT_MOMENT(430;75.56);1)", 17200.0),
        ('=VLOOKUP(HEFT_FROM_LABEL("D2");{31;"a"|32;"b"};2;0)', "b"),
        ("=IFERROR(HEFT_MOMENT(1/0;75.56);7)", 7.0),
        ("=INDEX({5;6;7};HEFT_TARGET(1;1;2))", 6.0),
        ('=TEXT(HEFT_MOMENT(430;75.56);"0.0")', "17200.0"),
    ],
)  # fmt: skip
def test_answers_serve_calcs_own_functions(calc: Calc, formula: str, answer: object) -> None:
    with calc.open() as book:
        book.put("Sheet1", "A1", [[formula]])
        assert book.value("Sheet1", "A1") == (pytest.approx(answer) if isinstance(answer, float) else answer)


def test_texts_compare_with_what_they_are_in_other_cells_too(calc: Calc) -> None:
    # Calc compares texts by their place in its own store: a text that an add-in hands over in a range is not there.
    with calc.open() as book:
        book.put("Sheet1", "A1:A3", [[32], [33], [32]])
        book.fill_down("Sheet1", "B1:B3", '=HEFT_VERDICT(A1;"D2";0.5)')
        asked = {
            '=B1="in"': 1.0,
            "=B1=B3": 1.0,
            "=B1=B2": 0.0,
            '=COUNTIF(B1:B3;"in")': 2.0,
            '=MATCH("high";B1:B3;0)': 2.0,
            '=SUMIF(B1:B3;"in";A1:A3)': 64.0,
            '=SUMPRODUCT(B1:B3="in")': 2.0,
            '=SUMPRODUCT(HEFT_VERDICT(A1:A3;32;0.5)&""="in")': 2.0,
        }
        book.put("Sheet1", f"D1:D{len(asked)}", [[formula] for formula in asked])
        assert [row[0] for row in book.read("Sheet1", f"D1:D{len(asked)}")] == list(asked.values())


def test_texts_of_an_array_formula_compare_once_something_is_joined_to_them(calc: Calc) -> None:
    with calc.open() as book:
        book.put("Sheet1", "A1:A3", [[32], [33], [32]])
        book.put_array("Sheet1", "B1:B3", '=HEFT_VERDICT(A1:A3;"D2";0.5)&""')
        book.put("Sheet1", "C1", [['=COUNTIF(B1:B3;"in")']])
        assert book.value("Sheet1", "C1") == 2.0


def test_a_range_of_one_cell_tells_an_empty_cell_from_a_zero(calc: Calc) -> None:
    with calc.open() as book:
        book.put("Sheet1", "A2", [[0.0]])
        book.put("Sheet1", "B1:B3", [["=HEFT_VERDICT(A1:A1;32;1)"], ["=HEFT_VERDICT(A2:A2;32;1)"], ["=HEFT_LABEL(A1)"]])
        assert [row[0] for row in book.read("Sheet1", "B1:B3")] == ["", "low", "A0.0"]


def test_a_range_is_answered_row_by_row_in_an_array_formula(calc: Calc) -> None:
    with calc.open() as book:
        book.put("Sheet1", "A1:B4", [[395.0, 75.3], [None, 75.0], [15.2, 75.0], ["14.1 oz", "29 1/2 in"]])
        book.put_array("Sheet1", "C1:C4", "=HEFT_SWINGWEIGHT(A1:A4;B1:B4)")
        found = [row[0] for row in book.read("Sheet1", "C1:C4")]
        assert found[:2] == ["D2.6", ""]
        assert found[2] == "! mass must be from 50 g to 2000 g, got 15.2: ounces?"
        assert found[3] == "D2.9"
        book.put("Sheet1", "D1:D4", [[1], [2], [3], [4]])
        book.put("Sheet1", "E1:E4", [[30], [31], [32], [34]])
        book.put_array("Sheet1", "F1:I1", "=HEFT_GRADIENT(D1:D4;E1:E4)")
        assert book.read("Sheet1", "F1:I1")[0] == pytest.approx([29.8, 1.3, 0.15**0.5, -0.4])


def test_a_change_is_recomputed_at_once(calc: Calc) -> None:
    with calc.open() as book:
        book.put("Sheet1", "A1:D1", [[430.0, 75.56, "=HEFT_MOMENT(A1;B1)", "=HEFT_LABEL(C1/126.0)"]])
        assert book.value("Sheet1", "C1") == pytest.approx(17200)
        book.type("Sheet1", "A1", "215")
        assert book.value("Sheet1", "C1") == pytest.approx(8600)
        book.type("Sheet1", "A1", "7.5839 oz")
        assert book.value("Sheet1", "C1") == pytest.approx(8600, rel=1e-4)
        book.clear("Sheet1", "A1")
        assert book.value("Sheet1", "C1") == ""


@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_saved_and_opened_again_it_is_the_same(calc: Calc, ending: str) -> None:
    rows = [[text.replace(",", ";") if "{" not in text else text] for text, _ in EXAMPLES]
    with calc.open() as book:
        book.put("Sheet1", f"A1:A{len(rows)}", [["" for _ in row] for row in rows])
        for row, (text,) in enumerate(rows, start=1):
            book.type("Sheet1", f"A{row}", text)
        book.put("Sheet1", "C1:D3", [[395.0, 75.3], [402.0, None], [409.0, 74.3]])
        book.put_array("Sheet1", "E1:E3", "=HEFT_POINTS(C1:C3;D1:D3)")
        before = book.read("Sheet1", f"A1:E{len(rows)}")
        formulas = book.formulas("HEFT_")
        saved = book.save(f"kept.{ending}")
    assert not any(isinstance(cell, CellError) for row in before for cell in row)
    with calc.open(saved) as again:
        assert again.formulas("HEFT_") == formulas
        assert_alike(again.read("Sheet1", f"A1:E{len(rows)}"), before)
        again.calculate(everything=True)
        assert again.read("Sheet1", f"A1:E{len(rows)}") == before


def assert_alike(found: list[list[object]], before: list[list[object]]) -> None:
    """The same cells, numbers to the fifteen digits that a file keeps."""
    for found_row, row in zip(found, before, strict=True):
        for found_cell, cell in zip(found_row, row, strict=True):
            assert found_cell == (pytest.approx(cell, rel=1e-14) if isinstance(cell, float) else cell)


def test_an_xlsx_file_keeps_the_names_that_every_host_knows(calc: Calc) -> None:
    with calc.open() as book:
        book.put("Sheet1", "A1", [["=HEFT_POINTS(395;75.3)"]])
        saved = book.save("names.xlsx")
    with zipfile.ZipFile(saved) as file:
        sheet = file.read("xl/worksheets/sheet1.xml").decode()
    assert ">HEFT_POINTS(395,75.3)</f>" in sheet


def test_the_function_wizard_tells_what_the_registry_does(calc: Calc) -> None:
    described = calc.functions()
    assert set(described) == set(REGISTRY)
    for name, formula in REGISTRY.items():
        assert described[name]["help"] == formula.help
        assert [argument for argument, _ in described[name]["arguments"]] == [a.name for a in formula.arguments]
        for (_, text), argument in zip(described[name]["arguments"], formula.arguments, strict=True):
            assert text == ("Required: " if argument.required else "") + argument.help


def test_what_keeps_the_package_from_loading_is_told_in_the_cell(tmp_path: Path) -> None:
    broken = tmp_path / "evenheft.oxt"
    package.write(broken, {"pythonpath/evenheft/mechanics/units.py": b"import a_module_that_nobody_has\n"})
    with running(broken) as office, office.open() as book:
        book.put("Sheet1", "A1:A2", [["=HEFT_POINTS(395;75.3)"], ["=HEFT_SELFTEST()"]])
        begin = "! Evenheft cannot start in LibreOffice: No module named 'a_module_that_nobody_has'"
        assert [row[0].startswith(begin) for row in book.read("Sheet1", "A1:A2")] == [True, True]


def test_another_evenheft_on_the_machine_does_not_answer(tmp_path: Path) -> None:
    # The system's Python, which LibreOffice uses here, sees what the person installed for it with pip.
    extension = tmp_path / "evenheft.oxt"
    package.write(extension)
    with running(extension, before=put_another_evenheft) as office, office.open() as book:
        book.put("Sheet1", "A1", [["=HEFT_SELFTEST()"]])
        assert book.value("Sheet1", "A1") == f"ok, evenheft {__version__} on {HOST}"


def put_another_evenheft(home: Path) -> None:
    for version in range(10, 15):
        folder = home / f".local/lib/python3.{version}/site-packages/evenheft"
        folder.mkdir(parents=True)
        (folder / "__init__.py").write_text('__version__ = "9.9.9"\n')


def test_an_add_in_of_another_version_than_its_package_says_so(tmp_path: Path) -> None:
    mixed = tmp_path / "evenheft.oxt"
    init = contents()["pythonpath/evenheft/__init__.py"].replace(__version__.encode(), b"9.9.9")
    package.write(mixed, {"pythonpath/evenheft/__init__.py": init})
    with running(mixed) as office, office.open() as book:
        book.put("Sheet1", "A1", [["=HEFT_SELFTEST()"]])
        assert book.value("Sheet1", "A1") == (
            f"! the add-in is evenheft {__version__}, but evenheft 9.9.9 answers: close the program, all its windows, "
            "and start it again"
        )
