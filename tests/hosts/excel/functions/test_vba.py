"""The generated VBA: its names, its wrappers, and what they hand over, run by pyOpenVBA's interpreter."""

from __future__ import annotations

import dataclasses
import re

import pytest
from pyopenvba.apps.excel import ExcelApplication

from evenheft.formulas import REGISTRY, Formula
from evenheft.hosts.excel import SERVED_MODULE
from evenheft.hosts.excel.functions.vba import (
    RESERVED,
    USED_BY_WRAPPERS,
    need_usable_names,
    opening_module,
    python_module,
    vba_text,
    wrapper_module,
)
from vba_standins import IN_PLACE, PYTHON, VERSION, interpreted

FORMULAS = list(REGISTRY.values())


@pytest.fixture
def application() -> ExcelApplication:
    application = interpreted()
    application.run("SetUp", PYTHON, "", IN_PLACE)
    return application


# --- names


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_no_argument_is_a_word_of_vba_or_of_the_wrappers(formula: Formula) -> None:
    assert not {argument.name.lower() for argument in formula.arguments} & (RESERVED | USED_BY_WRAPPERS)


def renamed(name: str = "HEFT_MOMENT", argument: str = "mass") -> Formula:
    formula = REGISTRY["HEFT_MOMENT"]
    first = dataclasses.replace(formula.arguments[0], name=argument)
    return dataclasses.replace(formula, name=name, arguments=(first, *formula.arguments[1:]))


@pytest.mark.parametrize(
    "word", ["step", "to", "Next", "type", "date", "string", "array", "caller", "1st", "_x", "a b"]
)
def test_a_word_of_vba_is_refused_as_an_argument(word: str) -> None:
    with pytest.raises(ValueError, match="cannot name an argument"):
        need_usable_names([renamed(argument=word)])


@pytest.mark.parametrize("name", ["HE1", "XFD1048576", "R1C1", "R", "C", "C5", "RC", "A1", "HEFT-X", "1HEFT", "_HEFT"])
def test_a_cell_address_is_refused_as_a_formula(name: str) -> None:
    with pytest.raises(ValueError, match="cannot name a function"):
        need_usable_names([renamed(name=name)])


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_no_formula_is_named_like_a_cell(formula: Formula) -> None:
    assert not re.fullmatch(r"[A-Z]{1,3}[0-9]{1,7}", formula.name, re.IGNORECASE)  # A1
    assert not re.fullmatch(r"R[0-9]*C?[0-9]*|C[0-9]*", formula.name, re.IGNORECASE)  # R1C1
    need_usable_names([formula])


# --- wrappers


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_a_wrapper_hands_over_every_argument_in_its_place(formula: Formula, application: ExcelApplication) -> None:
    names = [argument.name for argument in formula.arguments]
    called = f"{SERVED_MODULE}/{formula.name}"
    assert application.run(formula.name, *names) == "/".join((called, *(f"String {name}" for name in names)))
    assert application.run(formula.name) == "/".join((called, *("-" for _ in names)))


def declared(formula: Formula) -> str:
    """A wrapper's first line, however many lines it takes."""
    found = re.search(
        rf"^Public Function {formula.name}\((.*?)\)\r$", re.sub(r" _\r\n +", " ", wrapper_module()), re.MULTILINE
    )
    assert found is not None
    return found[1]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_excel_refuses_an_argument_too_many(formula: Formula) -> None:
    assert declared(formula) == ", ".join(f"Optional {argument.name}" for argument in formula.arguments)


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_a_function_is_described_in_its_module_for_a_wizard_that_no_macro_has_run_for(formula: Formula) -> None:
    described = dict(re.findall(r'(?m)^Attribute (\w+)\.VB_Description = "(.*)"\r$', wrapper_module()))
    description = described[formula.name].replace('""', '"')
    assert description == formula.help.replace("±", "+/-")
    assert len(description) <= 255, "Excel cuts what is longer"


def test_a_description_that_is_not_ascii_becomes_its_nearest_characters(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is lost without a sign: 29½ must not be read as 2912."""
    description = '29½ "in" \N{PLUS-MINUS SIGN} 2\N{NO-BREAK SPACE}× é ≤ ⅓ 球'
    odd = dataclasses.replace(REGISTRY["HEFT_LABEL"], name="HEFT_ODD", help=description)
    monkeypatch.setitem(REGISTRY, "HEFT_ODD", odd)
    assert 'Attribute HEFT_ODD.VB_Description = "29 1/2 ""in"" +/- 2 x e <= 1/3 ?"' in wrapper_module()


def test_nothing_of_excels_is_handed_to_python_that_it_could_ask_again() -> None:
    """Neither workbook nor caller nor range: each would cost calls back into Excel, one for each thing asked."""
    for source in (wrapper_module(), python_module(VERSION)):
        assert not re.search(r"ThisWorkbook|ActiveWorkbook|Application\.", source)


def test_a_cell_hands_over_its_value_and_nothing_else(application: ExcelApplication) -> None:
    sheet = """
Public Function Asked(ByVal first As String, ByVal second As String) As Variant
    Asked = HEFT_POINTS(Range(first), Range(second))
End Function

Public Sub Fill()
    Range("B1:C2").Value = 1
    Range("A1").Value = 431
    Range("A2").Value = "12 oz"
    Range("A3").Value = CVErr(2042)
    Range("A4").Value = True
    Range("A6").NumberFormat = "$#,##0.00"
    Range("A6").Value = 1.23456
    Range("A7").NumberFormat = "yyyy-mm-dd"
    Range("A7").Value = 46054
End Sub
"""
    application.add_module(sheet, name="cells")
    application.run("Fill")

    def handed_over(first: str, second: str = "A1") -> str:
        answer = application.run("Asked", first, second)
        assert isinstance(answer, str)
        return answer.removeprefix(f"{SERVED_MODULE}/HEFT_POINTS/")

    assert handed_over("A1") == "Double 431/Double 431/-/-"
    assert handed_over("A2") == "String 12 oz/Double 431/-/-"
    assert handed_over("A3") == "Error Error 2042/Double 431/-/-"
    assert handed_over("A4") == "Boolean True/Double 431/-/-"
    assert handed_over("A5") == "Empty /Double 431/-/-"
    assert handed_over("A6") == "Double 1.23456/Double 431/-/-", "Value would round a currency to four decimals"
    assert handed_over("A7") == "Double 46054/Double 431/-/-", "Value would make a date of it"
    assert handed_over("A1:A4", "B1:C2") == "array 4x1/array 2x2/-/-"
    assert handed_over("A1,A3:A4") == "! mass must be one block of cells, got 2 blocks"
    assert handed_over("A1", "A1:A2,C1:C2,E5") == "! balance must be one block of cells, got 3 blocks"


def test_no_line_and_no_procedure_is_longer_than_vba_takes() -> None:
    for text in (opening_module(), python_module(VERSION), wrapper_module()):
        assert max(map(len, text.split("\r\n"))) < 1023
        procedures = re.split(r"(?m)^End (?:Function|Sub)\r$", text)
        assert max(map(len, procedures)) < 32_000


@pytest.mark.parametrize("text", ["plain", 'a "quoted" word', "29½ in", "kg cm²", "→ and 𝛼", ""])
def test_a_text_survives_as_vba_source(text: str, application: ExcelApplication) -> None:
    application.add_module(f"Function Told()\n    Told = {vba_text(text)}\nEnd Function\n", name="told")
    assert vba_text(text).isascii()
    answer = application.run("Told")
    assert isinstance(answer, str)
    assert answer.encode("utf-16-le", "surrogatepass").decode("utf-16-le") == text
