"""The VBA that stands between a cell and the served module, generated from the registry.

The wrappers are what xlwings' own generator writes. Beside them stands a module of ours: it gives the
function wizard its texts when the file opens, and says in one line what is wrong where Python is not found.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from types import SimpleNamespace

from evenheft.formulas import REGISTRY
from evenheft.formulas.registry import Formula
from evenheft.hosts.excel import SERVED_MODULE

WRAPPER_MODULE = "evenheft_udfs"
OPENING_MODULE = "evenheft_open"

RESERVED = frozenset(
    """
    abs addressof and any array as attribute boolean byref byte byval call case cbool cbyte ccur cdate cdbl cdec cdecl
    cint circle clng clnglng clngptr close const csng cstr currency cvar cverr date debug decimal declare defbool
    defbyte defcur defdate defdbl defdec defint deflng deflnglng deflngptr defobj defsng defstr defvar dim do doevents
    double each else elseif empty end endif enum eqv erase event exit false fix for friend function get global gosub
    goto if imp implements in input inputb int integer is lbound len lenb let like line linput local lock long longlong
    longptr loop lset me mod name new next not nothing null on open option optional or paramarray preserve print
    private property pset public put raiseevent redim rem resume return rset scale seek select set sgn shared single
    spc static step stop string sub tab then to true type typeof ubound unlock until variant vb_base vb_control
    vb_creatable vb_customizable vb_description vb_exposed vb_ext_key vb_globalnamespace vb_helpid vb_invoke_func
    vb_invoke_property vb_invoke_propertyput vb_invoke_propertyputref vb_memberflags vb_name vb_predeclaredid
    vb_procdata vb_templatederived vb_usermemid vb_vardescription vb_varhelpid vb_varmemberflags vb_varprocdata
    vb_varusermemid wend while with withevents write xor
    """.split()  # noqa: SIM905  a list of quoted words would be ten times as long
)
"""Words that no VBA argument may be named by ([MS-VBAL] 3.3.5.2), in lower case."""

USED_BY_WRAPPERS = frozenset(("application", "array", "caller", "err", "range", "thisworkbook", "xlpy"))
"""Words that the generated wrappers themselves use, or that xlwings keeps for itself: an argument would hide them."""

_CELL_ADDRESS = re.compile(r"[A-Z]{1,3}\d+|R\d*(C\d*)?|C\d*", re.IGNORECASE)
_VBA_NAME = re.compile(r"[A-Z][A-Z0-9_]{0,254}", re.IGNORECASE)
_LINE = "\r\n"


def need_usable_names(formulas: Iterable[Formula]) -> None:
    """Refuse names that Excel or VBA would take for something else.

    Raises:
        ValueError: a formula is named like a cell, or an argument by a word that VBA keeps.
    """
    for formula in formulas:
        if _CELL_ADDRESS.fullmatch(formula.name) or not _VBA_NAME.fullmatch(formula.name):
            raise ValueError(f"{formula.name} cannot name a function in Excel")
        for argument in formula.arguments:
            word = argument.name.lower()
            if word in RESERVED or word in USED_BY_WRAPPERS or not _VBA_NAME.fullmatch(word):
                raise ValueError(f"{formula.name}: {argument.name} cannot name an argument in VBA")


def wrapper_module() -> str:
    """Write the VBA module whose functions Excel calls, as xlwings' own generator writes them."""
    from evenheft.hosts.excel.functions import served
    from evenheft.hosts.excel.functions.xlwings_udfs import udfs

    need_usable_names(REGISTRY.values())
    text = io.StringIO()
    text.write("'Written by Evenheft with xlwings: what is changed here is lost with the next build.\n")
    text.write('#Const App = "Microsoft Excel"\n')
    # Named like a workbook, not an add-in, so that the wrappers hand over ThisWorkbook: what stands in
    # the workbook that happens to be active (a mailed one, say) must not reach Python's set-up.
    udfs.generate_vba_wrapper(SERVED_MODULE, served, text, SimpleNamespace(Name="evenheft.xlsm"))
    return text.getvalue().replace("\n", _LINE)


def opening_module(xlwings_version: str) -> str:
    """Write the VBA module that runs when the file opens.

    Args:
        xlwings_version: the version of xlwings whose library Excel loads, e.g. "0.37.8" [-].
    """
    from evenheft.hosts.excel.functions.served import category

    described = [_description(formula, category(formula)) for formula in REGISTRY.values()]
    calls = _LINE.join(f"    If HeftDescribed Then HeftDescribed = {_describer(f)}()" for f in REGISTRY.values())
    text = _OPENING.replace("\n", _LINE).replace("@VERSION@", xlwings_version).replace("@CALLS@", calls)
    return text + _LINE + _LINE.join(described)


def _describer(formula: Formula) -> str:
    return f"Describe_{formula.name}"


def _description(formula: Formula, category: str) -> str:
    """Write a function of its own for each formula, a line for each text: VBA limits procedures and continued lines."""
    call = f"HeftTold({vba_text(formula.name)}, {vba_text(category)}, {vba_text(formula.help)}, texts)"
    lines = [f"Private Function {_describer(formula)}() As Boolean", "    Dim texts As Variant"]
    if formula.arguments:
        lines.append(f"    ReDim texts(0 To {len(formula.arguments) - 1})")
        lines += [f"    texts({i}) = {vba_text(argument.help)}" for i, argument in enumerate(formula.arguments)]
    lines += [f"    {_describer(formula)} = {call}", "End Function", ""]
    return _LINE.join(lines)


def vba_text(text: str) -> str:
    """Write a text as VBA source of plain ASCII, whatever code page the reader's machine has.

    >>> print(vba_text("½ of “29”"))
    "" & ChrW(189) & " of " & ChrW(8220) & "29" & ChrW(8221) & ""
    """
    return '"' + "".join(_vba_characters(text)) + '"'


def _vba_characters(text: str) -> Iterator[str]:
    for character in text:
        if character == '"':
            yield '""'
        elif " " <= character <= "~":
            yield character
        else:
            units = character.encode("utf-16-le")
            codes = [int.from_bytes(units[i : i + 2], "little") for i in range(0, len(units), 2)]
            yield '" & ' + " & ".join(f"ChrW({code})" for code in codes) + ' & "'


_OPENING = """\
'Written by Evenheft: what is changed here is lost with the next build.
Option Explicit

#If Win64 Then
    Private Const XlwingsLibrary As String = "xlwings64-@VERSION@.dll"
#Else
    Private Const XlwingsLibrary As String = "xlwings32-@VERSION@.dll"
#End If

Private PythonFound As Boolean

Public Sub Auto_Open()
    Dim trouble As String
    On Error Resume Next
    HeftDescribe
    trouble = HeftTrouble()
    If trouble = "" Then trouble = HeftOtherAddIn()
    If trouble <> "" Then MsgBox Mid$(trouble, 3), vbExclamation, "Evenheft"
End Sub

Public Sub HeftNeedPython()
    'xlwings calls this before each call of Python: the line it raises is what the cell shows.
    Dim trouble As String
    If PythonFound Then Exit Sub
    trouble = HeftTrouble()
    If trouble <> "" Then Err.Raise 1000, Description:=trouble
    PythonFound = True
End Sub

Private Function HeftTrouble() As String
    Dim python As String
    #If Mac Then
        HeftTrouble = "! Evenheft's formulas work in Excel on Windows only"
        Exit Function
    #End If
    python = CStr(GetConfig("INTERPRETER_WIN", ""))
    If python = "" Then
        HeftTrouble = "! Evenheft is not set up on this machine: install it and run evenheft excel install"
    ElseIf InStr(python, "\\") = 0 Then
        HeftTrouble = "! " & python & " is not the whole path of a Python: run evenheft excel install"
    ElseIf Not FileExists(python) Then
        HeftTrouble = "! Python is no longer at " & python & ": close Excel and run evenheft excel install"
    ElseIf Not HeftLibraryBeside(python) Then
        HeftTrouble = "! the xlwings of " & python & " is not version @VERSION@: close Excel, run evenheft doctor"
    End If
End Function

Private Function HeftLibraryBeside(ByVal python As String) As Boolean
    Dim folder As String
    folder = ParentFolder(python)
    HeftLibraryBeside = FileExists(folder & "\\" & XlwingsLibrary)
    If Not HeftLibraryBeside And InStr(folder, "\\") > 0 Then
        HeftLibraryBeside = FileExists(ParentFolder(folder) & "\\" & XlwingsLibrary)
    End If
End Function

Private Function HeftOtherAddIn() As String
    Dim other As Object
    On Error Resume Next
    If Not ThisWorkbook.IsAddin Then Exit Function
    For Each other In Application.AddIns2
        If LCase$(other.Name) Like "evenheft*.xlam" And other.IsOpen Then
            If LCase$(other.FullName) <> LCase$(ThisWorkbook.FullName) Then
                HeftOtherAddIn = "! two Evenheft add-ins are loaded: take away " & other.FullName
            End If
        End If
    Next other
End Function

Public Sub HeftDescribe()
    Dim wasSaved As Boolean
    On Error Resume Next
    wasSaved = ThisWorkbook.Saved
    If Not HeftDescribed() Then
        If ThisWorkbook.IsAddin Then
            'Excel may refuse to describe the functions of a hidden workbook: show it for that moment.
            Application.ScreenUpdating = False
            ThisWorkbook.IsAddin = False
            ThisWorkbook.Windows(1).Visible = True
            HeftDescribed
            ThisWorkbook.IsAddin = True
            Application.ScreenUpdating = True
        End If
    End If
    ThisWorkbook.Saved = wasSaved
End Sub

Private Function HeftTold(ByVal formula As String, ByVal category As String, ByVal help As String, _
                          ByVal arguments As Variant) As Boolean
    Dim macro As String
    macro = "'" & Replace(ThisWorkbook.Name, "'", "''") & "'!" & formula
    On Error Resume Next
    If IsArray(arguments) Then
        Application.MacroOptions macro:=macro, Description:=help, category:=category, ArgumentDescriptions:=arguments
    Else
        Application.MacroOptions macro:=macro, Description:=help, category:=category
    End If
    HeftTold = (Err.Number = 0)
End Function

Private Function HeftDescribed() As Boolean
    HeftDescribed = True
@CALLS@
End Function
"""
