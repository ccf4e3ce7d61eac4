import { CsvError, parse } from 'csv-parse/sync';
import { unguarded } from '#shared/csv.ts';
import { DomainError } from '#shared/errors.ts';
import type { CellProblem } from '#shared/imports/cells.ts';
import type { ReadSheet } from '#shared/imports/draftImport.ts';
import {
  type ColumnUnits,
  headingUnit,
  likelyMapping,
  type Mapping,
} from '#shared/imports/headings.ts';
import type { ImportRequest } from '#shared/imports/request.ts';
import { type SheetKind, sheetColumns } from '#shared/imports/sheets.ts';

export const mostRows = 5_000;

/** A line of headings counts as row 1 of the spreadsheet, unless other lines stand above it. */
export type Sheet = ReadSheet & {
  headings: string[];
  mapping: Mapping;
  columnUnits: ColumnUnits;
  /** What is wrong with a heading, by our column. */
  headingProblems: CellProblem[];
  /** Rows longer than the headings, counted from 1: a mark within a cell has split it. */
  longRows: number[];
  headingRow: number;
  /** Where each row stands in the spreadsheet. */
  rowNumbers: number[];
};

/**
 * Reads files of comma-, semicolon- or tab-separated values into rows by our keys.
 * @throws DomainError `invalid` naming the file that cannot be read
 */
export function readSheets(sheets: ImportRequest['sheets']): Sheet[] {
  const read = sheets.map((sheet, index) => readSheet(sheet, `sheets.${index}`));
  const rows = read.reduce((sum, sheet) => sum + sheet.rows.length, 0);
  if (rows > mostRows)
    throw refusal('sheets', `At most ${mostRows} rows in one import; these files hold ${rows}`);
  return read;
}

function readSheet(
  { kind, csv, mapping, units }: ImportRequest['sheets'][number],
  path: string,
): Sheet {
  const [head, ...lines] = linesOf(kind, csv, path);
  if (head === undefined || lines.length === 0)
    throw refusal(`${path}.csv`, 'The file needs a line of headings and a row below it');
  const headings = head.cells;
  const used = mapping ?? likelyMapping(kind, headings);
  const places = Object.entries(used).map(([key, heading]) => {
    if (!sheetColumns[kind].some((column) => column.key === key))
      throw refusal(`${path}.mapping.${key}`, `${key} is no column of ${kind}`);
    const at = headings.indexOf(heading);
    if (at < 0) throw refusal(`${path}.mapping.${key}`, `The file has no column headed ${heading}`);
    return { key, at };
  });
  const named = Object.entries(used).map(([column, heading]) => ({
    column,
    unit: headingUnit(column, heading, units),
  }));
  return {
    kind,
    units,
    headings,
    mapping: used,
    columnUnits: Object.fromEntries(
      named.flatMap(({ column, unit }) => ('problem' in unit ? [] : [[column, unit]])),
    ),
    headingProblems: named.flatMap(({ column, unit }) =>
      'problem' in unit ? [{ column, message: unit.problem }] : [],
    ),
    longRows: lines.flatMap(({ cells }, index) =>
      cells.slice(headings.length).some((cell) => cell !== '') ? [index + 1] : [],
    ),
    headingRow: head.number,
    rowNumbers: lines.map(({ number }) => number),
    rows: lines.map(({ cells }) =>
      Object.fromEntries(places.map(({ key, at }) => [key, unguarded(cells[at] ?? '')])),
    ),
  };
}

type Line = { cells: string[]; number: number };

/** The headings and the rows below them, numbered as a spreadsheet does; blank ones are passed over. */
function linesOf(kind: SheetKind, csv: string, path: string): Line[] {
  const lines = parsedLines(csv, likelyDelimiter(kind, csv), path)
    .map((cells, index) => ({ cells, number: index + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  // A title or a date may stand above the headings.
  const at = lines
    .slice(0, linesLookedAt)
    .findIndex(({ cells }) => knownColumns(kind, cells) >= leastKnown);
  return lines.slice(Math.max(0, at));
}

const linesLookedAt = 10;
const leastKnown = 2;
const knownColumns = (kind: SheetKind, cells: readonly string[]) =>
  Object.keys(likelyMapping(kind, cells)).length;

function parsedLines(csv: string, delimiter: string, path: string): string[][] {
  try {
    return parse(csv, { bom: true, delimiter, relax_column_count: true, trim: true });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    throw refusal(`${path}.csv`, `The file cannot be read near line ${error.lines ?? 1}`);
  }
}

/** The mark by which the most headings are known; of equals, the one found most often in a line. */
function likelyDelimiter(kind: SheetKind, csv: string): string {
  const lines = csv.replace(/^\uFEFF/, '').split(/\r?\n/, linesLookedAt);
  const cellsBy = (mark: string) =>
    lines.map((line) => line.split(mark).map((cell) => cell.replace(/^\s*"|"\s*$/g, '').trim()));
  const score = (mark: string) => {
    const split = cellsBy(mark);
    const known = Math.max(...split.map((cells) => knownColumns(kind, cells)));
    return 1_000 * known + Math.max(...split.map((cells) => cells.length));
  };
  return [',', ';', '\t'].reduce((best, mark) => (score(mark) > score(best) ? mark : best));
}

const refusal = (path: string, message: string) =>
  new DomainError('invalid', `${message}.`, [{ path, message }]);
