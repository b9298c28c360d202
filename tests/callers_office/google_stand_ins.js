// Runs bulk_sheets.gs with small stand-ins of Google's objects; the request itself is a real one, made by a child.
'use strict';
const { execFileSync } = require('node:child_process');
const { readFileSync } = require('node:fs');
const vm = require('node:vm');

const job = JSON.parse(readFileSync(0, 'utf8'));
const single = { B4: { Many: job.calculation, Recipe: job.address }, B5: { Many: '', Recipe: '' } };
const width = Math.max(...job.grid.map((row) => row.length));
const grid = job.grid.map((row) => [...row, ...Array(width - row.length).fill('')]);

const sheetOf = (name) => ({
  getLastRow: () => grid.length,
  getLastColumn: () => width,
  getRange: (row, column, rows, columns) =>
    typeof row === 'string'
      ? {
          getValue: () => single[row][name],
          setValue: (value) => {
            single[row][name] = value;
          },
        }
      : {
          getValues: () => grid.slice(row - 1, row - 1 + rows).map((cells) => cells.slice(column - 1, column - 1 + columns)),
          setValues: (values) =>
            values.forEach((cells, down) => cells.forEach((cell, on) => (grid[row - 1 + down][column - 1 + on] = cell))),
        },
});

// RFC 4180, as Google describes Utilities.parseCsv
function parseCsv(text) {
  const rows = [[]];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^,\r\n]*))(,|\r\n|\n|$)/g)) {
    rows.at(-1).push(quoted === undefined ? plain : quoted.replace(/""/g, '"'));
    if (end === '') break;
    if (end !== ',') rows.push([]);
  }
  return rows.filter((row) => row.length > 1);
}

const CHILD = `
const [address, options] = JSON.parse(require('node:fs').readFileSync(0, 'utf8'));
const headers = { 'Content-Type': options.contentType, ...(options.headers ?? {}) };
fetch(address, { method: options.method, headers, body: options.payload }).then(async (reply) =>
  process.stdout.write(JSON.stringify({ status: reply.status, text: await reply.text() })));
`;
const UrlFetchApp = {
  fetch(address, options) {
    const said = execFileSync(process.execPath, ['-e', CHILD], { input: JSON.stringify([address, options]) });
    const { status, text } = JSON.parse(said);
    return { getResponseCode: () => status, getContentText: () => text };
  },
};
const SpreadsheetApp = { getActiveSpreadsheet: () => ({ getSheetByName: sheetOf }) };

const context = vm.createContext({ SpreadsheetApp, UrlFetchApp, Utilities: { parseCsv } });
vm.runInContext(`${readFileSync(process.argv[2], 'utf8')}\nsendTable();`, context);
process.stdout.write(JSON.stringify({ state: single.B5.Many, grid }));
