Option Explicit

' Sends the table of the sheet "Many" to the service, and writes each row's answer beside it. For Excel on Windows.
'
' Save lyestock.fods as .xlsx in LibreOffice Calc and open that in Excel; then Alt+F11, Insert > Module, paste this text,
' and run SendTable with Alt+F8 while this workbook is in front. (Save as .xlsm to keep it.)
'
' Not tried in Excel itself. What is tried, in LibreOffice's mode for VBA: all of it but PostText.
' Excel on a Mac has no WinHttp: there PostText must be another one.

Const TABLE_SHEET = "Many"
Const ADDRESS_SHEET = "Recipe"
Const ADDRESS_CELL = "B4"
Const KEY_CELL = "B5"
Const CALCULATION_CELL = "B4"
Const STATE_CELL = "B5"
Const HEADER_ROW = 7        ' names of members with their units, from column A on, until an empty cell
Const MOST_COLUMNS = 1000

' Columns to the right of the table, after one empty column, are filled: those that are named there already, or, where
' none is, all that the service answers. Columns of problems are there only where there is one.
Sub SendTable()
  Dim sheet As Object, given As Object
  Dim address As String, answer As String
  Dim lastColumn As Long, lastRow As Long
  Set sheet = Application.Worksheets(TABLE_SHEET)
  Set given = Application.Worksheets(ADDRESS_SHEET)
  sheet.Range(STATE_CELL).Value = "Asking ..."
  On Error GoTo Failed
  lastColumn = LastNamed(sheet, 1)
  lastRow = LastFilled(sheet, lastColumn)
  If lastColumn < 1 Or lastRow <= HEADER_ROW Then
    sheet.Range(STATE_CELL).Value = "No table: names of members go into row " & HEADER_ROW & ", items into the rows below."
    Exit Sub
  End If
  address = given.Range(ADDRESS_CELL).Value & "/v1/bulk/" & sheet.Range(CALCULATION_CELL).Value & "?format=csv"
  answer = PostText(address, CsvOf(sheet, lastColumn, lastRow), "text/csv; charset=utf-8", _
    CStr(given.Range(KEY_CELL).Value))
  sheet.Range(STATE_CELL).Value = WriteAnswers(sheet, RowsOf(answer), lastColumn + 2, lastRow)
  Exit Sub
Failed:
  sheet.Range(STATE_CELL).Value = "No answer: " & Err.Description
End Sub

' Last column of the names that begin in a column; one less than it where there is none.
Function LastNamed(sheet As Object, first As Long) As Long
  Dim column As Long
  column = first
  Do While CStr(sheet.Cells(HEADER_ROW, column).Value) <> "" And column < first + MOST_COLUMNS
    column = column + 1
  Loop
  LastNamed = column - 1
End Function

' Last row before the first one whose cells are all empty.
Function LastFilled(sheet As Object, lastColumn As Long) As Long
  Dim row As Long, column As Long, filled As Boolean
  row = HEADER_ROW
  Do
    filled = False
    For column = 1 To lastColumn
      If CStr(sheet.Cells(row + 1, column).Value) <> "" Then filled = True
    Next column
    If filled Then row = row + 1
  Loop While filled
  LastFilled = row
End Function

' Puts the answers into the sheet, a row for each item; gives what the cell "State" is to say.
Function WriteAnswers(sheet As Object, rows As Variant, firstColumn As Long, lastRow As Long) As String
  Dim lastColumn As Long, column As Long, item As Long, place As Long, status As Long, refused As Long, count As Long
  Dim name As String, missing As String, said As String, cells() As Variant
  count = UBound(rows)
  If count <> lastRow - HEADER_ROW Then
    WriteAnswers = "Not all rows were answered (" & count & "): nothing was written. Ask again."
    Exit Function
  End If
  lastColumn = LastNamed(sheet, firstColumn)
  If lastColumn < firstColumn Then
    lastColumn = firstColumn + UBound(rows(0))
    For column = firstColumn To lastColumn
      sheet.Cells(HEADER_ROW, column).Value = rows(0)(column - firstColumn)
    Next column
  End If
  ReDim cells(1 To count, 1 To lastColumn - firstColumn + 1)
  For column = firstColumn To lastColumn
    name = CStr(sheet.Cells(HEADER_ROW, column).Value)
    place = PlaceOf(rows(0), name)
    If place < 0 And Left(name, 8) <> "problem." Then missing = missing & " " & name
    For item = 1 To count
      cells(item, column - firstColumn + 1) = ""
      If place >= 0 Then cells(item, column - firstColumn + 1) = CellOf(CStr(rows(item)(place)), name)
    Next item
  Next column
  sheet.Range(sheet.Cells(HEADER_ROW + 1, firstColumn), sheet.Cells(lastRow, lastColumn)).Value = cells
  status = PlaceOf(rows(0), "status")
  If status >= 0 Then
    For item = 1 To count
      If rows(item)(status) <> "200" Then refused = refused + 1
    Next item
  End If
  said = (count - refused) & " answered, " & refused & " refused."
  If missing <> "" Then said = said & " Not in the answer:" & missing
  WriteAnswers = said
End Function

' A cell of the answer: a number where its column has a unit, and else the text, never a formula, for which Excel wants
' an apostrophe before it. Val reads a decimal point whatever the locale.
Function CellOf(ByVal text As String, name As String) As Variant
  If text <> "" And (Right(name, 1) = "]" Or name = "status" Or name = "index") Then
    CellOf = Val(text)
    Exit Function
  End If
  If IsGuarded(text) And Left(text, 1) = "'" Then text = Mid(text, 2)
  If IsGuarded(text) Or Left(text, 1) = "'" Then text = "'" & text
  CellOf = text
End Function

' Whether a text would be run as a formula, were it typed, but for apostrophes before it. In the service's CSV, in both
' directions, such a text has one apostrophe more than it really has.
Function IsGuarded(text As String) As Boolean
  Dim at As Long
  at = 1
  Do While Mid(text, at, 1) = "'"
    at = at + 1
  Loop
  IsGuarded = False
  If at <= Len(text) Then IsGuarded = InStr("=+-@" & Chr(9) & Chr(10) & Chr(13), Mid(text, at, 1)) > 0
End Function

Function PlaceOf(names As Variant, name As String) As Long
  Dim place As Long
  PlaceOf = -1
  For place = 0 To UBound(names)
    If names(place) = name Then PlaceOf = place
  Next place
End Function

' The table as CSV (RFC 4180). Str writes a decimal point whatever the locale.
Function CsvOf(sheet As Object, lastColumn As Long, lastRow As Long) As String
  Dim row As Long, column As Long, lines() As String, fields() As String, content As Variant
  ReDim lines(lastRow - HEADER_ROW)
  For row = HEADER_ROW To lastRow
    ReDim fields(lastColumn - 1)
    For column = 1 To lastColumn
      content = sheet.Cells(row, column).Value
      If VarType(content) = vbDouble Then
        fields(column - 1) = Trim(Str(content))
      ElseIf CStr(content) <> "" Then
        fields(column - 1) = FieldOf(CStr(content))
      End If
    Next column
    lines(row - HEADER_ROW) = Join(fields, ",")
  Next row
  CsvOf = Join(lines, vbCrLf) & vbCrLf
End Function

' A text as a field of CSV.
Function FieldOf(ByVal text As String) As String
  If IsGuarded(text) Then text = "'" & text
  FieldOf = Chr(34) & Join(Split(text, Chr(34)), Chr(34) & Chr(34)) & Chr(34)
End Function

' CSV (RFC 4180) as rows of texts, counted from 0.
Function RowsOf(text As String) As Variant
  Dim rows() As Variant, at As Long, count As Long
  at = 1
  count = -1
  ReDim rows(63)
  Do While at <= Len(text)
    count = count + 1
    If count > UBound(rows) Then  ' on one line, Calc's Basic would empty the array in any case
      ReDim Preserve rows(2 * count)
    End If
    rows(count) = NextRow(text, at)
  Loop
  ReDim Preserve rows(count)
  RowsOf = rows
End Function

' The texts of the row that begins at a place, which is moved behind it. A line end or a comma within quotes is part of a
' text: what has an odd number of quotes goes on.
Function NextRow(text As String, at As Long) As Variant
  Dim parts As Variant, fields() As Variant, row As String, field As String, quote As String
  Dim ends As Long, part As Long, last As Long
  quote = Chr(34)
  ends = at - 2
  Do
    ends = InStr(ends + 2, text, Chr(13) & Chr(10))
    If ends = 0 Then ends = Len(text) + 1
    row = Mid(text, at, ends - at)
  Loop While ends <= Len(text) And UBound(Split(row, quote)) Mod 2 = 1
  at = ends + 2
  parts = Split(row, ",")
  ReDim fields(UBound(parts))
  last = -1
  part = 0
  Do While part <= UBound(parts)
    field = parts(part)
    If Left(field, 1) = quote Then
      Do While part < UBound(parts) And UBound(Split(field, quote)) Mod 2 = 1
        part = part + 1
        field = field & "," & parts(part)
      Loop
      field = Join(Split(Mid(field, 2, Len(field) - 2), quote & quote), quote)
    End If
    last = last + 1
    fields(last) = field
    part = part + 1
  Loop
  ReDim Preserve fields(last)
  NextRow = fields
End Function

' Posts a text; where the answer is no success, its reason is an error.
Function PostText(address As String, text As String, mediaType As String, key As String) As String
  Dim request As Object
  Set request = CreateObject("WinHttp.WinHttpRequest.5.1")
  request.Open "POST", address, False
  request.SetRequestHeader "Content-Type", mediaType
  If key <> "" Then request.SetRequestHeader "Authorization", "Bearer " & key
  request.Send text                  ' WinHttp sends texts as UTF-8
  PostText = request.ResponseText    ' and reads them by the charset that the answer names
  If request.Status <> 200 Then Err.Raise vbObjectError + 1, , Left(PostText, 1000)
End Function
