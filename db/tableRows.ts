import type { InStatement, InValue, ResultSet } from '@libsql/client';

/** Rows for one table, however many: on a server they travel in requests of a bounded size. */
export type TableRows = {
  table: string;
  columns: readonly string[];
  rows: readonly (readonly InValue[])[];
};

const rowsAtOnce = 500;

export const isTableRows = (each: InStatement | TableRows): each is TableRows =>
  typeof each === 'object' && 'table' in each;

export const tableRows = (table: string, { columns, rows }: ResultSet): TableRows => ({
  table,
  columns,
  rows: rows.map((row) => columns.map((column) => row[column] ?? null)),
});

/** One statement for any number of rows: each statement has to be prepared anew. */
export function insertion({ table, columns, rows }: TableRows) {
  const marks = `(${columns.map(() => '?').join(', ')})`;
  return {
    sql: `INSERT INTO ${table} (${columns.join(', ')}) VALUES ${rows.map(() => marks).join(', ')}`,
    args: rows.flat(),
  };
}

/** The same for more rows than one statement takes. */
export function insertions({ table, columns, rows }: TableRows): InStatement[] {
  const statements: InStatement[] = [];
  for (let from = 0; from < rows.length; from += rowsAtOnce)
    statements.push(insertion({ table, columns, rows: rows.slice(from, from + rowsAtOnce) }));
  return statements;
}
