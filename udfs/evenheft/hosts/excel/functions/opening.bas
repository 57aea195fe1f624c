'Written by Evenheft: what is changed here is lost with the next build.
'When the file opens: the function wizard is given its texts, and what keeps Python from answering is said once.
Option Explicit

Private Const Patience As Long = 2

Private Planned As Date

Public Sub Auto_Open()
    'Excel is not up yet while it opens the files of its start folder.
    On Error Resume Next
    HeftPlan 0
End Sub

Public Sub Auto_Close()
    'Excel would open this file again for a macro that is still planned.
    On Error Resume Next
    If Planned <> 0 Then Application.OnTime Planned, HeftMacro("HeftOpened"), , False
    Planned = 0
End Sub

Private Sub HeftPlan(ByVal seconds As Long)
    Planned = Now + seconds / 86400
    Application.OnTime Planned, HeftMacro("HeftOpened")
End Sub

Private Function HeftMacro(ByVal name As String) As String
    HeftMacro = "'" & Replace(ThisWorkbook.Name, "'", "''") & "'!" & name
End Function

Public Sub HeftOpened()
    Dim trouble As String
    On Error Resume Next
    Planned = 0
    If ActiveWorkbook Is Nothing Then
        'The start screen: whatever shows a workbook now would close it.
        HeftPlan Patience
        Exit Sub
    End If
    HeftDescribe
    trouble = HeftTrouble()
    If trouble = "" Then trouble = HeftOtherAddIn()
    If trouble <> "" Then MsgBox Mid$(trouble, 3), vbExclamation, "Evenheft"
End Sub

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

Private Function HeftGiven(ByVal formula As String, ByVal category As String, ByVal help As String, _
                           ByVal arguments As Variant) As Boolean
    Dim macro As String
    macro = HeftMacro(formula)
    On Error Resume Next
    If IsArray(arguments) Then
        Application.MacroOptions macro:=macro, Description:=help, category:=category, ArgumentDescriptions:=arguments
    Else
        Application.MacroOptions macro:=macro, Description:=help, category:=category
    End If
    HeftGiven = (Err.Number = 0)
End Function

Private Function HeftDescribed() As Boolean
    HeftDescribed = True
@CALLS@
End Function
