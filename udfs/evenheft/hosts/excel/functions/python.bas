'Written by Evenheft: what is changed here is lost with the next build.
'Starts the Python that answers, hands each call to it, and says in one line what keeps it from answering.
Option Explicit
Option Private Module

#If Win64 Then
    Private Const XlwingsLibrary As String = "xlwings64-@VERSION@.dll"
    Private Declare PtrSafe Function XLPyDLLActivateAuto Lib "xlwings64-@VERSION@.dll" ( _
        ByRef server As Variant, ByVal command As String, ByVal mode As Long) As Long
#Else
    Private Const XlwingsLibrary As String = "xlwings32-@VERSION@.dll"
    Private Declare PtrSafe Function XLPyDLLActivateAuto Lib "xlwings32-@VERSION@.dll" ( _
        ByRef server As Variant, ByVal command As String, ByVal mode As Long) As Long
#End If
Private Declare PtrSafe Function LoadLibraryA Lib "kernel32" (ByVal path As String) As LongPtr

Private Const MostRestarts As Long = 20
Private Const LongestText As Long = 255

'Looked up once, not at each call: evenheft excel install asks for Excel to be closed.
Private Python As String

'How often Python has been started again. xlwings' library keeps a Python by its command line and never lets go of a
'dead one, so that each start needs a command line of its own; a second workbook counts up to the one that lives.
Private Restarts As Long

Public Function HeftAnswer(ByVal formula As String, ByVal names As String, ByRef given As Variant) As Variant
    Dim again As Boolean, number As String, text As String
    On Error GoTo Failed
    If Python = "" Then HeftFindPython
CallPython:
    HeftAnswer = HeftServer().CallUDF("@SERVED@", (formula), HeftValues(given, names))
    Exit Function
Failed:
    'At once: a call of another procedure may clear them.
    number = CStr(Err.Number)
    text = Err.Description
    If HeftStopped(number) And Not again Then
        again = True
        Restarts = Restarts + 1
        Resume CallPython
    End If
    HeftAnswer = HeftLine(text, IIf(HeftStopped(number), "Python has stopped", "Python could not answer"))
End Function

Private Function HeftValues(ByRef given As Variant, ByVal names As String) As Variant
    'Values, not ranges: Python would have to ask Excel for each thing it wants to know about a range.
    'Value2, as Value rounds what has a currency format to four decimals, and makes dates of numbers.
    Dim values As Variant, i As Long
    If UBound(given) < LBound(given) Then
        HeftValues = given
        Exit Function
    End If
    ReDim values(LBound(given) To UBound(given))
    For i = LBound(given) To UBound(given)
        If IsObject(given(i)) Then
            If given(i).Areas.Count > 1 Then
                Err.Raise 1000, Description:="! " & Split(names, ",")(i) & " must be one block of cells, got " & _
                    given(i).Areas.Count & " blocks"
            End If
            values(i) = given(i).Value2
        Else
            values(i) = given(i)
        End If
    Next i
    HeftValues = values
End Function

Private Function HeftServer() As Object
    Dim server As Variant, tries As Long
    Do While XLPyDLLActivateAuto(server, HeftCommand(), 1) <> 0
        If tries = MostRestarts Or Not HeftStopped(CStr(server)) Then
            'Whoever mends it need not start Excel anew.
            Python = ""
            Err.Raise 1000, Description:="! Python has stopped: " & HeftShort(CStr(server)) & ": run evenheft doctor"
        End If
        tries = tries + 1
        Restarts = Restarts + 1
        server = Empty
    Loop
    Set HeftServer = server
End Function

Private Function HeftCommand() As String
    'Nothing here differs from workbook to workbook, so that one Python answers all of them. Python is started itself,
    'not through a command window, which would outlive it: the library then sees at once that it does not start.
    '-P: a file of Python's that lies in the folder Excel happens to be in must not be taken for a library.
    Dim quote As String, code As String
    quote = Chr$(34)
    code = "import xlwings; xlwings.serve('$(CLSID)')"
    If Restarts > 0 Then code = code & " # " & Restarts
    HeftCommand = quote & Python & quote & " -B -P -c " & quote & code & quote
End Function

Private Function HeftStopped(ByVal text As String) As Boolean
    'The numbers by which VBA, COM and xlwings' library say that a server is no longer there.
    Dim number As Variant
    If text = "462" Then HeftStopped = True
    For Each number In Array("-2147023174", "-2147023170", "-2147417848", "-2147220995")
        If InStr(text, number) > 0 Then HeftStopped = True
    Next number
End Function

Private Function HeftLine(ByVal text As String, ByVal what As String) As String
    Dim lines As Variant, i As Long
    If Left$(text, 2) <> "! " Then
        'The last line of a Python error says what it is; those before it say where.
        lines = Split(Replace(text, vbCr, ""), vbLf)
        For i = UBound(lines) To 0 Step -1
            If Trim$(lines(i)) <> "" Then
                text = Trim$(lines(i))
                Exit For
            End If
        Next i
        text = "! " & what & ": " & text
    End If
    HeftLine = Left$(text, LongestText)
End Function

Private Function HeftShort(ByVal text As String) As String
    'What xlwings' library says, without the command line that it adds.
    Dim cut As Long
    text = Replace(Replace(text, vbCr, ""), vbLf, " ")
    cut = InStr(text, "Command:")
    If cut > 1 Then text = Left$(text, cut - 1)
    text = Trim$(text)
    Do While Right$(text, 1) = "." Or Right$(text, 1) = " "
        text = Left$(text, Len(text) - 1)
    Loop
    HeftShort = Left$(text, 150)
End Function

Private Sub HeftFindPython()
    Dim trouble As String, named As String
    trouble = HeftTrouble()
    If trouble <> "" Then Err.Raise 1000, Description:=trouble
    named = HeftNamedPython()
    If LoadLibraryA(HeftLibrary(named)) = 0 Then
        Err.Raise 1000, Description:="! " & HeftLibrary(named) & " cannot be loaded: run evenheft doctor"
    End If
    Python = named
End Sub

Public Function HeftTrouble() As String
    'What keeps Python from answering, or nothing.
    Dim named As String
    #If Mac Then
        HeftTrouble = "! Evenheft's formulas work in Excel on Windows only"
        Exit Function
    #End If
    named = HeftNamedPython()
    If named = "" Then
        HeftTrouble = "! Evenheft is not set up on this machine: install it and run evenheft excel install"
    ElseIf InStr(named, "\") = 0 Then
        HeftTrouble = "! " & named & " is not the whole path of a Python: run evenheft excel install"
    ElseIf Not FileExists(named) Then
        HeftTrouble = "! Python is no longer at " & named & ": close Excel and run evenheft excel install"
    ElseIf HeftLibrary(named) = "" Then
        HeftTrouble = "! the xlwings of " & named & " is not version @VERSION@: close Excel, run evenheft doctor"
    End If
End Function

Private Function HeftNamedPython() As String
    'This file's own settings, then the user's; never a file that lies beside a workbook.
    HeftNamedPython = CStr(GetConfig("INTERPRETER_WIN", "", "sheet"))
    If HeftNamedPython = "" Then HeftNamedPython = CStr(GetConfig("INTERPRETER_WIN", "", "user"))
End Function

Private Function HeftLibrary(ByVal named As String) As String
    'The library's path: beside Python, or above it where Python is an environment's; or nothing.
    Dim folder As String
    folder = ParentFolder(named)
    HeftLibrary = folder & "\" & XlwingsLibrary
    If FileExists(HeftLibrary) Then Exit Function
    HeftLibrary = ""
    If InStr(folder, "\") = 0 Then Exit Function
    HeftLibrary = ParentFolder(folder) & "\" & XlwingsLibrary
    If Not FileExists(HeftLibrary) Then HeftLibrary = ""
End Function
