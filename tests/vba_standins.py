"""The built VBA in pyOpenVBA's interpreter, which is no Excel: what it lacks is replaced here, line for line.

Replaced are the two functions of Windows and of xlwings' library that are declared, xlwings' own module (settings and
files are what a test says), and Application.OnTime, MacroOptions and AddIns2. Everything else runs as it is built.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from pyopenvba.apps.excel import ExcelApplication

from evenheft.hosts.excel.functions.vba import opening_module, python_module, wrapper_module

VERSION = "0.37.8"
LIBRARY = f"xlwings64-{VERSION}.dll"
PYTHON = r"C:\Py\Scripts\python.exe"
IN_PLACE = rf"|{PYTHON}|C:\Py\{LIBRARY}|"
"""A Python that is there, with its library in the folder above, as in an environment."""

XLWINGS = r"""
Public InSheet As String
Public InUserFile As String
Public Files As String
Public Asked As Long

Function GetConfig(configKey As String, Optional default As String = "", Optional source As String = "") As Variant
    Asked = Asked + 1
    If source = "sheet" Then GetConfig = InSheet
    If source = "user" Then GetConfig = InUserFile
End Function

Function FileExists(ByVal FileSpec As String) As Boolean
    FileExists = InStr(Files, "|" & FileSpec & "|") > 0
End Function

Function ParentFolder(ByVal Folder)
    ParentFolder = Left$(Folder, InStrRev(Folder, "\") - 1)
End Function

Sub SetUp(ByVal sheet As String, ByVal userFile As String, ByVal existing As String)
    InSheet = sheet
    InUserFile = userFile
    Files = existing
End Sub
"""
"""What our modules use of xlwings' own: the same names and arguments."""

LIBRARIES = r"""
Public Started As String
Public Libraries As String
Public Dead As Long
Public Refusal As String
Public Lost As Long
Public LostNumber As Long
Public LostText As String

Function LoadLibraryA(ByVal path As String) As Long
    Libraries = Libraries & "|" & path
    LoadLibraryA = 1
End Function

Function XLPyDLLActivateAuto(ByRef server As Variant, ByVal command As String, ByVal mode As Long) As Long
    Started = Started & command & vbLf
    If Refusal <> "" Then
        server = Refusal
        XLPyDLLActivateAuto = 1
    ElseIf Dead > 0 Then
        Dead = Dead - 1
        server = "Could not activate Python COM server, hr = -2147023174" & vbCrLf & "1000"
        XLPyDLLActivateAuto = 1
    Else
        Set server = New Recorder
    End If
End Function

Sub LetDie(ByVal activations As Long, ByVal calls As Long, ByVal number As Long, ByVal text As String)
    Dead = activations
    Lost = calls
    LostNumber = number
    LostText = text
End Sub

Sub Refuse(ByVal text As String)
    Refusal = text
End Sub
"""
"""xlwings' library as it behaves under Wine: a dead Python stays dead under its command line."""

RECORDER = """
Public Function CallUDF(ByVal module As String, ByVal fname As String, ByVal args As Variant) As Variant
    Dim text As String, i As Long
    If Lost > 0 Then
        Lost = Lost - 1
        Err.Raise LostNumber, Description:=LostText
    End If
    text = module & "/" & fname
    For i = LBound(args) To UBound(args)
        text = text & "/"
        If IsMissing(args(i)) Then
            text = text & "-"
        ElseIf IsArray(args(i)) Then
            text = text & "array " & UBound(args(i), 1) & "x" & UBound(args(i), 2)
        ElseIf IsObject(args(i)) Then
            text = text & "object"
        Else
            text = text & TypeName(args(i)) & " " & CStr(args(i))
        End If
    Next i
    CallUDF = text
End Function
"""
"""Python's server: it answers with what was handed over to it."""

EXCEL = """
Public HiddenAddIn As Boolean
Public ShownBook As String
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

Public Sub Plan(ByVal time As Date, ByVal macro As String)
    Debug.Print "planned " & macro
End Sub

Public Sub PlanNoMore(ByVal time As Date, ByVal macro As String)
    Debug.Print "no longer planned " & macro
End Sub

Public Sub OpenBook(ByVal name As String)
    ShownBook = name
End Sub

Public Sub Take(ByVal macro As String, ByVal help As String, ByVal category As String, Optional ByVal texts As Variant)
    Dim text As String, i As Long
    If HiddenAddIn Then Err.Raise 1004, Description:="Cannot edit a macro on a hidden workbook."
    text = macro & "|" & help & "|" & category
    If Not IsMissing(texts) Then
        For i = LBound(texts) To UBound(texts)
            text = text & "|" & texts(i)
        Next i
    End If
    Debug.Print text
End Sub
"""

INSTEAD = {
    "Application.MacroOptions macro:=macro, Description:=help, category:=category, ArgumentDescriptions:=arguments":
        "Take macro, help, category, arguments",
    "Application.MacroOptions macro:=macro, Description:=help, category:=category": "Take macro, help, category",
    'Application.OnTime Planned, HeftMacro("HeftOpened"), , False': 'PlanNoMore Planned, HeftMacro("HeftOpened")',
    'Application.OnTime Planned, HeftMacro("HeftOpened")': 'Plan Planned, HeftMacro("HeftOpened")',
    "ActiveWorkbook Is Nothing": 'ShownBook = ""',
    "ThisWorkbook.IsAddin": "HiddenAddIn",
    "ThisWorkbook.Windows(1).Visible = True": "Show",
    "ThisWorkbook.FullName": '"C:\\XLSTART\\evenheft.xlam"',
    "Application.AddIns2": "Loaded",
}  # fmt: skip
"""What the interpreter lacks of Excel, and the recorder that takes its place."""


def as_interpreted(source: str) -> str:
    """Take away what VBA's editor writes and the interpreter does not know: attributes of procedures."""
    return re.sub(r"(?m)^Attribute HEFT_\w+\..*\r?\n", "", source)


def interpreted(macros: Mapping[str, str] | None = None) -> ExcelApplication:
    """The wrappers and the module that calls Python, with the libraries replaced.

    `macros`: the modules of a built file by their names; as they are generated now when left out.
    """
    macros = macros or {"evenheft_python": python_module(VERSION), "evenheft_udfs": wrapper_module()}
    application = ExcelApplication()
    application.add_workbook()
    application.add_module(XLWINGS, name="xlwings")
    application.add_module(LIBRARIES, name="declared")
    application.add_module(RECORDER, name="Recorder", kind="class")
    application.add_module(_undeclared(macros["evenheft_python"]), name="evenheft_python")
    application.add_module(as_interpreted(macros["evenheft_udfs"]), name="evenheft_udfs")
    return application


def with_opening(application: ExcelApplication, replaced: Mapping[str, str] = INSTEAD) -> ExcelApplication:
    """Add the module that runs when the file opens, with Excel's part of it replaced."""
    application.add_module(EXCEL, name="excel")
    application.add_module(
        "Public Name As String\nPublic FullName As String\nPublic IsOpen As Boolean\n", name="AddIn", kind="class"
    )
    text = opening_module()
    for real, recorder in replaced.items():
        assert real in text, real
        text = text.replace(real, recorder)
    application.add_module(text, name="evenheft_open")
    return application


def _undeclared(source: str) -> str:
    without = re.sub(r"(?m)^ *Private Declare (?:.* _\r?\n)*.*\r?\n", "", source)
    assert without.count("Declare") == 0
    return without
