export type CsvCell = string | number | boolean | null | undefined;

// A spreadsheet would take such a text for a formula and run it; one guarded already is guarded once
// more, so that reading it back gives what was written.
const looksLikeFormula = /^'*[=+\-@\t\r\n＝＋－＠]/;
const guardedFormula = /^'+[=+\-@\t\r\n＝＋－＠]/;

/** What a file of rows begins with, so that spreadsheets read it as UTF-8. */
export const csvStart = '\uFEFF';

/**
 * One line of a file of comma-separated values: every text quoted, numbers bare, ended by CR LF; a
 * text that a spreadsheet would run as a formula gets an apostrophe before it. Source: RFC 4180.
 */
export function csvLine(cells: readonly CsvCell[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`;
}

/** A whole file: the headings, then a line for each row. */
export function csvFile(
  headings: readonly string[],
  rows: readonly (readonly CsvCell[])[],
): string {
  return csvStart + csvLine(headings) + rows.map(csvLine).join('');
}

function csvCell(cell: CsvCell): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell !== 'string') return String(cell);
  const safe = looksLikeFormula.test(cell) ? `'${cell}` : cell;
  return `"${safe.replaceAll('"', '""')}"`;
}

/** A cell as it was before it was guarded against being run as a formula. */
export function unguarded(cell: string): string {
  return guardedFormula.test(cell) ? cell.slice(1) : cell;
}
