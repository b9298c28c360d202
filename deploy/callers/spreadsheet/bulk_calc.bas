Option Explicit

' Sends the table of the sheet "Many" to the service, and writes each row's answer beside it. For LibreOffice Calc.
'
' It stands in lyestock.fods already: Tools > Macros > Run Macro > lyestock.fods > Standard > Bulk > SendTable.
' In another workbook, paste it with Tools > Macros > Edit Macros, and see the names of cells and sheets below.
'
' Calc shows nothing of the body of a refusal. So what is wrong with a row comes with status 200, in the row's own
' columns; where the table as a whole is refused, the cell "State" can only say what to look for.

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
  Dim sheet As Object, state As Object, given As Object
  Dim address As String, text As String, answer As String
  Dim lastColumn As Long, lastRow As Long
  sheet = ThisComponent.Sheets.getByName(TABLE_SHEET)
  given = ThisComponent.Sheets.getByName(ADDRESS_SHEET)
  state = sheet.getCellRangeByName(STATE_CELL)
  state.String = "Asking ..."
  On Error GoTo Failed
  lastColumn = LastNamed(sheet, 0)
  lastRow = LastFilled(sheet, lastColumn)
  If lastColumn < 0 Or lastRow < HEADER_ROW Then
    state.String = "No table: names of members go into row " & HEADER_ROW & ", items into the rows below."
    Exit Sub
  End If
  address = given.getCellRangeByName(ADDRESS_CELL).String & "/v1/bulk/" & _
    sheet.getCellRangeByName(CALCULATION_CELL).String & "?format=csv"
  If given.getCellRangeByName(KEY_CELL).String <> "" Then
    address = address & "&key=" & given.getCellRangeByName(KEY_CELL).String
  End If
  text = CsvOf(sheet.getCellRangeByPosition(0, HEADER_ROW - 1, lastColumn, lastRow).getDataArray())
  answer = PostText(address, text, "text/csv; charset=utf-8")
  state.String = WriteAnswers(sheet, RowsOf(answer), lastColumn + 2, lastRow)
  Exit Sub
Failed:
  state.String = "No answer. Is the service there, and the calculation's name right? If so, the table was refused " & _
    "as a whole: look for a misspelt name or unit in row " & HEADER_ROW & ". (" & Error$ & ")"
End Sub

' Last column, counted from 0, of the names that begin in a column; one less than it where there is none.
Function LastNamed(sheet As Object, first As Long) As Long
  Dim column As Long
  column = first
  Do While sheet.getCellByPosition(column, HEADER_ROW - 1).String <> "" And column < first + MOST_COLUMNS
    column = column + 1
  Loop
  LastNamed = column - 1
End Function

' Last row, counted from 0, before the first one whose cells are all empty.
Function LastFilled(sheet As Object, lastColumn As Long) As Long
  Dim row As Long, column As Long, filled As Boolean
  row = HEADER_ROW - 1
  Do
    filled = False
    For column = 0 To lastColumn
      If sheet.getCellByPosition(column, row + 1).String <> "" Then filled = True
    Next column
    If filled Then row = row + 1
  Loop While filled
  LastFilled = row
End Function

' Puts the answers into the sheet, a row for each item; gives what the cell "State" is to say.
Function WriteAnswers(sheet As Object, rows As Variant, firstColumn As Long, lastRow As Long) As String
  Dim wanted As Long, column As Long, item As Long, status As Long, refused As Long, count As Long
  Dim names() As String, places() As Long, missing As String, cells() As Variant
  count = UBound(rows)
  If count <> lastRow - HEADER_ROW + 1 Then
    WriteAnswers = "Not all rows were answered (" & count & "): nothing was written. Ask again."
    Exit Function
  End If
  wanted = LastNamed(sheet, firstColumn) - firstColumn
  If wanted < 0 Then
    wanted = UBound(rows(0))
    For column = 0 To wanted
      sheet.getCellByPosition(firstColumn + column, HEADER_ROW - 1).String = rows(0)(column)
    Next column
  End If
  ReDim names(wanted)
  ReDim places(wanted)
  For column = 0 To wanted
    names(column) = sheet.getCellByPosition(firstColumn + column, HEADER_ROW - 1).String
    places(column) = PlaceOf(rows(0), names(column))
    If places(column) < 0 And Left(names(column), 8) <> "problem." Then missing = missing & " " & names(column)
  Next column
  ReDim cells(count - 1)
  status = PlaceOf(rows(0), "status")
  For item = 1 To count
    cells(item - 1) = CellsOf(rows(item), places, names)
    If status >= 0 Then
      If rows(item)(status) <> "200" Then refused = refused + 1
    End If
  Next item
  sheet.getCellRangeByPosition(firstColumn, HEADER_ROW, firstColumn + wanted, lastRow).setDataArray(cells())
  WriteAnswers = (count - refused) & " answered, " & refused & " refused."
  If missing <> "" Then WriteAnswers = WriteAnswers & " Not in the answer:" & missing
End Function

' The cells of a row of the answer, from the places where its columns are.
Function CellsOf(row As Variant, places As Variant, names As Variant) As Variant
  Dim made() As Variant, column As Long
  ReDim made(UBound(places))
  For column = 0 To UBound(places)
    made(column) = ""
    If places(column) >= 0 Then made(column) = CellOf(CStr(row(places(column))), CStr(names(column)))
  Next column
  CellsOf = made
End Function

' A cell of the answer: a number where its column has a unit, and else the text.
Function CellOf(text As String, name As String) As Variant
  If text <> "" And (Right(name, 1) = "]" Or name = "status" Or name = "index") Then
    CellOf = Val(text)
  ElseIf IsGuarded(text) And Left(text, 1) = "'" Then
    CellOf = Mid(text, 2)
  Else
    CellOf = text
  End If
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

' A table as CSV (RFC 4180). Str writes a decimal point whatever the locale.
Function CsvOf(table As Variant) As String
  Dim row As Long, column As Long, lines() As String, fields() As String
  ReDim lines(UBound(table))
  For row = 0 To UBound(table)
    ReDim fields(UBound(table(row)))
    For column = 0 To UBound(table(row))
      If VarType(table(row)(column)) <> 8 Then
        fields(column) = Trim(Str(table(row)(column)))
      ElseIf table(row)(column) <> "" Then
        fields(column) = FieldOf(CStr(table(row)(column)))
      End If
    Next column
    lines(row) = Join(fields(), ",")
  Next row
  CsvOf = Join(lines(), Chr(13) & Chr(10)) & Chr(13) & Chr(10)
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

' Posts a text with Calc's own means; an answer that is no success is an error, without its body.
Function PostText(address As String, text As String, mediaType As String) As String
  Dim broker As Object, content As Object, source As Object, sink As Object, writer As Object, reader As Object
  Dim posted As New com.sun.star.ucb.PostCommandArgument2
  Dim command As New com.sun.star.ucb.Command
  source = CreateUnoService("com.sun.star.io.Pipe")
  writer = CreateUnoService("com.sun.star.io.TextOutputStream")
  writer.setOutputStream(source)
  writer.setEncoding("UTF-8")
  writer.writeString(text)
  writer.closeOutput()
  sink = CreateUnoService("com.sun.star.io.Pipe")
  broker = CreateUnoServiceWithArguments("com.sun.star.ucb.UniversalContentBroker", Array("Local", "Office"))
  content = broker.queryContent(broker.createContentIdentifier(address))
  posted.Source = source
  posted.Sink = sink
  posted.MediaType = mediaType
  command.Name = "post"
  command.Handle = -1
  command.Argument = posted
  content.execute(command, 0, Nothing)
  reader = CreateUnoService("com.sun.star.io.TextInputStream")
  reader.setInputStream(sink)
  reader.setEncoding("UTF-8")
  PostText = reader.readString(Array(), False)
End Function
