import { CsvError, parse } from 'csv-parse/sync';
import { unguarded } from '#shared/csv.ts';
import { DomainError } from '#shared/errors.ts';
import type { ReadSheet } from '#shared/imports/draftImport.ts';
import type { ImportRequest } from '#shared/imports/request.ts';
import { likelyMapping, type Mapping, sheetColumns } from '#shared/imports/sheets.ts';

export const mostRows = 5_000;

export type Sheet = ReadSheet & { headings: string[]; mapping: Mapping };

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
  const [headings = [], ...lines] = linesOf(csv, path);
  if (lines.length === 0)
    throw refusal(`${path}.csv`, 'The file needs a line of headings and a row below it');
  const used = mapping ?? likelyMapping(kind, headings);
  const places = Object.entries(used).map(([key, heading]) => {
    if (!sheetColumns[kind].some((column) => column.key === key))
      throw refusal(`${path}.mapping.${key}`, `${key} is no column of ${kind}`);
    const at = headings.indexOf(heading);
    if (at < 0) throw refusal(`${path}.mapping.${key}`, `The file has no column headed ${heading}`);
    return { key, at };
  });
  const rows = lines.map((cells) =>
    Object.fromEntries(places.map(({ key, at }) => [key, unguarded(cells[at] ?? '')])),
  );
  return { kind, units, headings, mapping: used, rows };
}

function linesOf(csv: string, path: string): string[][] {
  try {
    return parse(csv, {
      bom: true,
      delimiter: likelyDelimiter(csv),
      relax_column_count: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
      trim: true,
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    throw refusal(`${path}.csv`, `The file cannot be read near line ${error.lines ?? 1}`);
  }
}

/** The mark found most often in the headings. */
function likelyDelimiter(csv: string): string {
  const [headings = ''] = csv.split(/\r?\n/, 1);
  const count = (mark: string) => headings.split(mark).length;
  return [',', ';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best));
}

const refusal = (path: string, message: string) =>
  new DomainError('invalid', `${message}.`, [{ path, message }]);
