/**
 * Sends the table of the sheet "Many" to the service, and writes each row's answer beside it. For Google Sheets.
 *
 * Upload lyestock.fods, saved as .xlsx, to Google Drive and open it with Google Sheets; then Extensions > Apps Script,
 * paste this text, save, and reload the sheet: the menu "Lyestock" appears.
 *
 * Google's machines send the request, so the service must have an address on the internet, not localhost: put it behind
 * a proxy with TLS and a key. Not tried in Google Sheets.
 */
const TABLE_SHEET = 'Many';
const ADDRESS_SHEET = 'Recipe';
const ADDRESS_CELL = 'B4';
const KEY_CELL = 'B5';
const CALCULATION_CELL = 'B4';
const STATE_CELL = 'B5';
const HEADER_ROW = 7; // names of members with their units, from column A on, until an empty cell
/**
 * A text that would be run as a formula, were it typed, but for apostrophes before it. In the service's CSV, in both
 * directions, such a text has one apostrophe more than it really has.
 */
const GUARDED = /^'*[=+\-@\t\r\n]/;

function onOpen() {
  SpreadsheetApp.getUi().createMenu('Lyestock').addItem('Send the table', 'sendTable').addToUi();
}

/**
 * Columns to the right of the table, after one empty column, are filled: those that are named there already, or, where
 * none is, all that the service answers. Columns of problems are there only where there is one.
 */
function sendTable() {
  const book = SpreadsheetApp.getActiveSpreadsheet();
  const sheet = book.getSheetByName(TABLE_SHEET);
  const state = sheet.getRange(STATE_CELL);
  state.setValue('Asking ...');
  try {
    const all = sheet.getRange(HEADER_ROW, 1, sheet.getLastRow() - HEADER_ROW + 1, sheet.getLastColumn()).getValues();
    const table = tableOf(all);
    if (table.length < 2) {
      throw new Error(`names of members go into row ${HEADER_ROW}, items into the rows below`);
    }
    const given = book.getSheetByName(ADDRESS_SHEET);
    const calculation = sheet.getRange(CALCULATION_CELL).getValue();
    const address = `${given.getRange(ADDRESS_CELL).getValue()}/v1/bulk/${calculation}?format=csv`;
    const rows = Utilities.parseCsv(postText(address, csvOf(table), given.getRange(KEY_CELL).getValue()));
    const first = table[0].length + 1;
    const named = namedFrom(all[0], first);
    const made = answersOf(rows, named.length ? named : rows[0], table.length - 1);
    sheet.getRange(HEADER_ROW, first + 1, made.cells.length, made.cells[0].length).setValues(made.cells);
    state.setValue(made.state);
  } catch (error) {
    state.setValue(`No answer: ${error.message}`);
  }
}

/** Names from a place on until an empty cell. */
function namedFrom(names, first) {
  const rest = names.slice(first);
  const end = rest.indexOf('');
  return end < 0 ? rest : rest.slice(0, end);
}

/** The table: named columns, and rows until the first one whose cells are all empty. */
function tableOf(all) {
  const width = namedFrom(all[0], 0).length;
  const cut = all.map((row) => row.slice(0, width));
  const end = cut.findIndex((row) => row.every((cell) => cell === ''));
  return end < 0 ? cut : cut.slice(0, end);
}

/** A table as CSV (RFC 4180); numbers have a decimal point whatever the locale. */
function csvOf(table) {
  const field = (cell) => {
    if (typeof cell === 'number') return String(cell);
    const text = GUARDED.test(cell) ? `'${cell}` : String(cell);
    return text === '' ? '' : `"${text.replace(/"/g, '""')}"`;
  };
  return table.map((row) => row.map(field).join(',')).join('\r\n') + '\r\n';
}

/** What is written: names and answers, and what the cell "State" says. */
function answersOf(rows, names, count) {
  if (rows.length - 1 !== count) {
    throw new Error(`not all rows were answered (${rows.length - 1}), nothing was written; ask again`);
  }
  const places = names.map((name) => rows[0].indexOf(name));
  const status = rows[0].indexOf('status');
  const refused = rows.slice(1).filter((row) => row[status] !== '200').length;
  const missing = names.filter((name, column) => places[column] < 0 && !name.startsWith('problem.'));
  const cells = rows.slice(1).map((row) =>
    places.map((place, column) => (place < 0 ? '' : cellOf(row[place], names[column]))),
  );
  const lacks = missing.length ? ` Not in the answer: ${missing.join(' ')}` : '';
  return { cells: [names, ...cells], state: `${count - refused} answered, ${refused} refused.${lacks}` };
}

/** A number where its column has a unit, and else the text, never a formula, before which Sheets wants an apostrophe. */
function cellOf(text, name) {
  if (text !== '' && (name.endsWith(']') || name === 'status' || name === 'index')) return Number(text);
  const plain = text.startsWith("'") && GUARDED.test(text) ? text.slice(1) : text;
  return GUARDED.test(plain) || plain.startsWith("'") ? `'${plain}` : plain;
}

/** Posts a text; where the answer is no success, its reason is an error. */
function postText(address, text, key) {
  const options = { method: 'post', contentType: 'text/csv; charset=utf-8', payload: text, muteHttpExceptions: true };
  if (key) options.headers = { Authorization: `Bearer ${key}` };
  const reply = UrlFetchApp.fetch(address, options);
  if (reply.getResponseCode() !== 200) throw new Error(reply.getContentText().slice(0, 1000));
  return reply.getContentText('UTF-8');
}
