"""The generated VBA: compiled and run by pyOpenVBA's interpreter, which is no Excel.

It has no Application.Caller and no Application.MacroOptions; the wrappers are run as they stand for other Office
programs (xlwings generates that branch too), and MacroOptions is replaced by a recorder.
"""

from __future__ import annotations

import dataclasses
import re

import pytest
from pyopenvba.apps.excel import ExcelApplication
from pyopenvba.exceptions import VBARuntimeError

from evenheft.formulas import REGISTRY, Formula
from evenheft.hosts.excel import SERVED_MODULE
from evenheft.hosts.excel.functions.vba import (
    RESERVED,
    USED_BY_WRAPPERS,
    need_usable_names,
    opening_module,
    vba_text,
    wrapper_module,
)

FORMULAS = list(REGISTRY.values())

XLWINGS = """
Public Python As String
Public Files As String

Function GetConfig(configKey As String, Optional default As String = "", Optional source As String = "") As Variant
    GetConfig = Python
End Function

Function FileExists(ByVal FileSpec As String) As Boolean
    FileExists = InStr(Files, "|" & FileSpec & "|") > 0
End Function

Function ParentFolder(ByVal Folder)
    ParentFolder = Left$(Folder, InStrRev(Folder, "\\") - 1)
End Function

Sub SetUp(ByVal interpreter As String, ByVal existing As String)
    Python = interpreter
    Files = existing
End Sub

Function XLPy()
    Set XLPy = New Recorder
End Function
"""
"""What the wrappers and the opening module use of xlwings' own module: the same names and arguments."""

RECORDER = """
Public Function CallUDF(ByVal module As String, ByVal fname As String, ByVal args As Variant) As Variant
    Dim told As String, i As Long
    told = module & "/" & fname
    For i = LBound(args) To UBound(args)
        If IsMissing(args(i)) Then
            told = told & "/-"
        Else
            told = told & "/" & args(i)
        End If
    Next i
    CallUDF = told
End Function
"""

EXCEL = """
Public HiddenAddIn As Boolean
Public Loaded As New Collection

Public Sub Load(ByVal fullName As String, ByVal isOpen As Boolean)
    Dim one As New AddIn
    one.FullName = fullName
    one.Name = Mid$(fullName, InStrRev(fullName, "\\") + 1)
    one.IsOpen = isOpen
    HiddenAddIn = True
    Loaded.Add one
End Sub

Public Sub Hide()
    HiddenAddIn = True
End Sub

Public Sub Show()
    Debug.Print "shown"
End Sub

Public Sub Take(ByVal macro As String, ByVal help As String, ByVal category As String, Optional ByVal texts As Variant)
    Dim told As String, i As Long
    If HiddenAddIn Then Err.Raise 1004, Description:="Cannot edit a macro on a hidden workbook."
    told = macro & "|" & help & "|" & category
    If Not IsMissing(texts) Then
        For i = LBound(texts) To UBound(texts)
            told = told & "|" & texts(i)
        Next i
    End If
    Debug.Print told
End Sub
"""


@pytest.fixture
def application() -> ExcelApplication:
    application = ExcelApplication()
    application.add_workbook()
    application.add_module(XLWINGS, name="xlwings")
    application.add_module(RECORDER, name="Recorder", kind="class")
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


def test_the_wrappers_compile(application: ExcelApplication) -> None:
    application.add_module(wrapper_module(), name="evenheft_udfs")


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_a_wrapper_hands_over_every_argument_in_its_place(formula: Formula, application: ExcelApplication) -> None:
    elsewhere = wrapper_module().replace('#Const App = "Microsoft Excel"', '#Const App = "Microsoft Word"')
    application.add_module(elsewhere, name="evenheft_udfs")
    names = [argument.name for argument in formula.arguments]
    assert application.run(formula.name, *names) == "/".join((SERVED_MODULE, formula.name, *names))
    assert application.run(formula.name) == "/".join((SERVED_MODULE, formula.name, *("-" for _ in names)))


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_excel_refuses_an_argument_too_many(formula: Formula) -> None:
    declared = re.search(
        rf"^Function {formula.name}\((.*?)\)\r$", wrapper_module().replace(" _\r\n", " "), re.MULTILINE
    )
    assert declared is not None
    assert declared[1] == ", ".join(f"Optional {argument.name}" for argument in formula.arguments)


def test_the_wrappers_hand_over_their_own_workbook_not_the_active_one() -> None:
    assert "ThisWorkbook, Application.Caller)" in wrapper_module()
    assert "ActiveWorkbook" not in wrapper_module()


# --- the opening module


LIBRARY = "xlwings64-0.37.8.dll"
TROUBLES = {
    "not set up": ("", "", "! Evenheft is not set up on this machine: install it and run evenheft excel install"),
    "no path": ("pythonw", "", "! pythonw is not the whole path of a Python: run evenheft excel install"),
    "moved": (
        r"C:\Py\python.exe",
        "",
        r"! Python is no longer at C:\Py\python.exe: close Excel and run evenheft excel install",
    ),
    "another xlwings": (
        r"C:\Py\python.exe",
        r"|C:\Py\python.exe|C:\Py\xlwings64-0.30.1.dll|",
        r"! the xlwings of C:\Py\python.exe is not version 0.37.8: close Excel, run evenheft doctor",
    ),
}


INSTEAD = {
    "Application.MacroOptions macro:=macro, Description:=help, category:=category, ArgumentDescriptions:=arguments":
        "Take macro, help, category, arguments",
    "Application.MacroOptions macro:=macro, Description:=help, category:=category": "Take macro, help, category",
    "ThisWorkbook.IsAddin": "HiddenAddIn",
    "ThisWorkbook.Windows(1).Visible = True": "Show",
    "ThisWorkbook.FullName": '"C:\\XLSTART\\evenheft.xlam"',
    "Application.AddIns2": "Loaded",
}  # fmt: skip
"""What the interpreter lacks of Excel, and the recorder that takes its place."""


@pytest.fixture
def opening(application: ExcelApplication) -> ExcelApplication:
    application.add_module(EXCEL, name="excel")
    application.add_module(
        "Public Name As String\nPublic FullName As String\nPublic IsOpen As Boolean\n", name="AddIn", kind="class"
    )
    text = opening_module("0.37.8")
    for real, recorder in INSTEAD.items():
        assert real in text
        text = text.replace(real, recorder)
    application.add_module(text, name="evenheft_open")
    return application


def test_the_opening_module_compiles_as_it_is_built(application: ExcelApplication) -> None:
    application.add_module(opening_module("0.37.8"), name="evenheft_open")


@pytest.mark.parametrize(("python", "files", "line"), TROUBLES.values(), ids=TROUBLES)
def test_what_keeps_python_from_answering_is_one_line_in_the_cell(
    python: str, files: str, line: str, opening: ExcelApplication
) -> None:
    opening.run("SetUp", python, files)
    with pytest.raises(VBARuntimeError, match="run-time error 1000") as raised:
        opening.run("HeftNeedPython")
    assert str(raised.value).endswith(line)
    assert "\n" not in str(raised.value)


@pytest.mark.parametrize("library", [rf"C:\Py\Scripts\{LIBRARY}", rf"C:\Py\{LIBRARY}"])
def test_a_library_beside_python_or_above_it_is_found(library: str, opening: ExcelApplication) -> None:
    opening.run("SetUp", r"C:\Py\Scripts\python.exe", rf"|C:\Py\Scripts\python.exe|{library}|")
    opening.run("HeftNeedPython")


def test_a_trouble_is_told_once_when_the_file_opens(opening: ExcelApplication) -> None:
    opening.run("SetUp", r"C:\Py\python.exe", "")
    opening.run("Auto_Open")
    shown = [prompt for _, prompt, _, _ in opening.dialogs]
    assert shown == [TROUBLES["moved"][2].removeprefix("! ")]


def test_nothing_is_shown_where_all_is_well(opening: ExcelApplication) -> None:
    opening.run("SetUp", r"C:\Py\python.exe", rf"|C:\Py\python.exe|C:\Py\{LIBRARY}|")
    opening.run("Auto_Open")
    assert opening.dialogs == []


ALL_TEXTS = {f.name: [f.help, f"Evenheft {f.category}", *(a.help for a in f.arguments)] for f in FORMULAS}


def texts_told(lines: list[str]) -> dict[str, list[str]]:
    return {line.split("|")[0].rpartition("!")[2]: line.split("|")[1:] for line in lines}


def test_the_wizard_is_given_every_help_text(opening: ExcelApplication) -> None:
    opening.run("HeftDescribe")
    assert texts_told(opening.console) == ALL_TEXTS


def test_an_add_in_is_shown_for_a_moment_where_excel_refuses_to_describe_a_hidden_one(
    opening: ExcelApplication,
) -> None:
    opening.run("Hide")
    opening.run("HeftDescribe")
    assert opening.console[0] == "shown"
    assert texts_told(opening.console[1:]) == ALL_TEXTS
    assert opening.evaluate("HiddenAddIn") is True


@pytest.mark.parametrize(
    ("others", "shown"),
    [
        (
            [(r"C:\AddIns\evenheft (1).xlam", True)],
            [r"two Evenheft add-ins are loaded: take away C:\AddIns\evenheft (1).xlam"],
        ),
        ([(r"C:\AddIns\evenheft (1).xlam", False)], []),
        ([(r"C:\xlstart\EVENHEFT.xlam", True), (r"C:\AddIns\solver.xlam", True)], []),
    ],
)
def test_a_second_add_in_is_told_when_the_first_opens(
    others: list[tuple[str, bool]], shown: list[str], opening: ExcelApplication
) -> None:
    opening.run("SetUp", r"C:\Py\python.exe", rf"|C:\Py\python.exe|C:\Py\{LIBRARY}|")
    for other in others:
        opening.run("Load", *other)
    opening.run("Auto_Open")
    assert [prompt for _, prompt, _, _ in opening.dialogs] == shown


def test_no_line_and_no_procedure_is_longer_than_vba_takes() -> None:
    for text in (opening_module("0.37.8"), wrapper_module()):
        assert max(map(len, text.split("\r\n"))) < 1023
        procedures = re.split(r"(?m)^End (?:Function|Sub)\r$", text)
        assert max(map(len, procedures)) < 32_000


@pytest.mark.parametrize("text", ["plain", 'a "quoted" word', "29½ in", "kg cm²", "→ and 𝛼", ""])
def test_a_text_survives_as_vba_source(text: str, application: ExcelApplication) -> None:
    application.add_module(f"Function Told()\n    Told = {vba_text(text)}\nEnd Function\n", name="told")
    assert vba_text(text).isascii()
    told = application.run("Told")
    assert isinstance(told, str)
    assert told.encode("utf-16-le", "surrogatepass").decode("utf-16-le") == text
