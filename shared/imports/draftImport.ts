import type { Entry } from '../entries/entry.ts';
import { type CellProblem, type ImportUnits, readRow } from './cells.ts';
import type { ColumnUnits } from './headings.ts';
import { type Names, type RowsOf, rowEntries } from './rowEntries.ts';
import { nameKey } from './rowFacts.ts';
import type { SheetKind } from './sheets.ts';

/** A file as read: each row's cells by our keys. */
export type ReadSheet = {
  kind: SheetKind;
  rows: readonly Readonly<Record<string, string>>[];
  units: ImportUnits;
  /** Where headings name other units. */
  columnUnits?: ColumnUnits;
};

/** Where in the files something stands; rows are counted from 1 below the headings. */
export type Place = { sheet: number; row: number };
export type Draft = Place & { id: string; entry: Entry };
export type PlacedProblem = Place & CellProblem;

/**
 * The entries that files of old records stand for, in the order things happened. Rows may name the
 * gyles and lots of one another.
 *
 * @param idOf  the id of an entry by its place and its part in the row; the same for the same file
 */
export function draftImport(
  sheets: readonly ReadSheet[],
  known: Names,
  of: RowsOf,
  idOf: (place: Place, part: string) => string,
): { drafts: Draft[]; problems: PlacedProblem[] } {
  const names = withOwnNames(sheets, known, idOf);
  const drafts: Draft[] = [];
  const problems = namedTwice(sheets, known, idOf);
  sheets.forEach(({ kind, rows, units, columnUnits }, sheet) => {
    rows.forEach((cells, index) => {
      const place = { sheet, row: index + 1 };
      const row = readRow(cells, units, columnUnits);
      const made = rowEntries[kind](row, { names, ...of, idOf: (part) => idOf(place, part) });
      problems.push(...row.problems.map((problem) => ({ ...place, ...problem })));
      drafts.push(...made.map((each) => ({ ...place, ...each })));
    });
  });
  return { drafts: leavingWhatIsLeft(drafts).sort(inTime), problems };
}

/** What makes a gyle or a lot, the column of its name, and its part of the row. */
const namedBy = {
  ferments: { column: 'gyle', part: 'ferment', what: 'Gyle', known: 'ferments' },
  lots: { column: 'code', part: 'lot', what: 'Lot', known: 'lots' },
} as const;

/** Rows that make a gyle or a lot of a name that another has: whatever names it could mean either. */
function namedTwice(
  sheets: readonly ReadSheet[],
  known: Names,
  idOf: (place: Place, part: string) => string,
): PlacedProblem[] {
  const seen = new Set<string>();
  return sheets.flatMap(({ kind, rows }, sheet) => {
    if (kind !== 'ferments' && kind !== 'lots') return [];
    const { column, part, what, known: of } = namedBy[kind];
    return rows.flatMap((cells, index) => {
      const place = { sheet, row: index + 1 };
      const name = cells[column]?.trim() ?? '';
      const own = `${kind} ${nameKey(name)}`;
      const inLog = known[of].get(nameKey(name));
      const isOther = inLog !== undefined && inLog !== idOf(place, part);
      const where = seen.has(own) ? 'in a row above' : isOther ? 'in the log' : undefined;
      seen.add(own);
      if (name === '' || where === undefined) return [];
      const message = `${what} ${name} is ${where} already: give each a name of its own`;
      return [{ ...place, column, message }];
    });
  });
}

function withOwnNames(
  sheets: readonly ReadSheet[],
  known: Names,
  idOf: (place: Place, part: string) => string,
): Names {
  const own = (kind: SheetKind, key: string, part: string) =>
    sheets.flatMap((sheet, index) =>
      sheet.kind === kind
        ? sheet.rows.map(
            (cells, at) =>
              [nameKey(cells[key] ?? ''), idOf({ sheet: index, row: at + 1 }, part)] as const,
          )
        : [],
    );
  return {
    ...known,
    ferments: new Map([...own('ferments', 'gyle', 'ferment'), ...known.ferments]),
    lots: new Map([...own('lots', 'code', 'lot'), ...known.lots]),
  };
}

// A lot that is gone is thrown away only as far as no pitch took it.
function leavingWhatIsLeft(drafts: readonly Draft[]): Draft[] {
  const pitched = new Map<string, number>();
  for (const { entry } of drafts)
    if (entry.kind === 'pitch')
      pitched.set(entry.lotId, (pitched.get(entry.lotId) ?? 0) + amountOf(entry));
  return drafts.flatMap((draft): Draft[] => {
    const { entry } = draft;
    if (entry.kind !== 'discard') return [draft];
    const left = Math.round((amountOf(entry) - (pitched.get(entry.lotId) ?? 0)) * 1e6) / 1e6;
    if (left <= 0) return [];
    const amount = entry.amountL === undefined ? { amountKg: left } : { amountL: left };
    return [{ ...draft, entry: { ...entry, ...amount } }];
  });
}

const amountOf = (entry: { amountL?: number | undefined; amountKg?: number | undefined }) =>
  entry.amountL ?? entry.amountKg ?? 0;

// What makes a record comes before what speaks of it, when both are of one moment; and a fermenter is
// emptied before it is filled.
const rank: Partial<Record<Entry['kind'], number>> = {
  rack: -1,
  ferment: 0,
  freshCulture: 0,
  pitch: 1,
  crop: 2,
};

function inTime(a: Draft, b: Draft): number {
  return (
    Date.parse(a.entry.happenedAt) - Date.parse(b.entry.happenedAt) ||
    (rank[a.entry.kind] ?? 3) - (rank[b.entry.kind] ?? 3)
  );
}
