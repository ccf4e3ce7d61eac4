import { randomUUID } from 'node:crypto';
import type { Client, InStatement, InValue } from '@libsql/client';
import type { TableRows } from '../tableRows.ts';
import { isPassing, pause } from './sendOnce.ts';

/**
 * What is more than one request carries is put by on the server first, request by request, and taken
 * up by one short batch: so it is written as a whole or not at all, however many requests it took.
 */
export type Staged = {
  /** Fails when not all of it is there any more; to come first in the batch that takes it up. */
  guard: InStatement;
  taking: (rows: TableRows) => InStatement;
  end: InStatement;
  forget: () => Promise<void>;
};

/** A request of this size is thought to be taken by any server: a judgement, no source [bytes]. */
export const mostRequestBytes = 512 * 1024;

/** On servers alone, and in no copy. */
export const stagingTableName = 'staged_row';
const mostColumns = 24;
const staleAfterS = 24 * 60 * 60;
const places = Array.from({ length: mostColumns }, (_, index) => `c${index + 1}`);
export const stagingTable = `CREATE TABLE IF NOT EXISTS ${stagingTableName} (
  batch TEXT NOT NULL, table_name TEXT NOT NULL, number INTEGER NOT NULL,
  made_s INTEGER NOT NULL DEFAULT (unixepoch()), ${places.map((place) => `${place} ANY`).join(', ')},
  PRIMARY KEY (batch, table_name, number)) STRICT, WITHOUT ROWID`;

// A server that bounds the variables of a statement takes at least 32,766.
const mostRows = 1_000;
const mostTries = 4;

export async function stage(
  writer: Pick<Client, 'batch'>,
  loads: readonly TableRows[],
): Promise<Staged> {
  const batch = randomUUID();
  const forgetting = { sql: `DELETE FROM ${stagingTableName} WHERE batch = ?`, args: [batch] };
  const forget = () => again(writer, forgetting);
  // What was put by and never taken up: its program was ended.
  await again(
    writer,
    `DELETE FROM ${stagingTableName} WHERE made_s < unixepoch() - ${staleAfterS}`,
  );
  for (const load of loads)
    for (const { from, rows } of portions(load))
      await again(writer, putting(batch, load.table, from, rows));
  const total = loads.reduce((sum, { rows }) => sum + rows.length, 0);
  return {
    guard: {
      sql: `INSERT INTO ${stagingTableName} (batch, table_name, number)
            SELECT NULL, '', 0 WHERE (SELECT count(*) FROM ${stagingTableName} WHERE batch = ?) <> ?`,
      args: [batch, total],
    },
    taking: ({ table, columns }) => ({
      sql: `INSERT INTO ${table} (${columns.join(', ')})
            SELECT ${places.slice(0, columns.length).join(', ')} FROM ${stagingTableName}
            WHERE batch = ? AND table_name = ? ORDER BY number`,
      args: [batch, table],
    }),
    end: forgetting,
    forget,
  };
}

/** The rows by requests: as many as keep within the size, and one at least. */
function* portions({ table, columns, rows }: TableRows) {
  if (columns.length > mostColumns) throw new Error(`${table} has more columns than are put by.`);
  let from = 0;
  let bytes = 0;
  for (const [index, row] of rows.entries()) {
    const added = bytesOf(row);
    if (index > from && (bytes + added > mostRequestBytes || index - from === mostRows)) {
      yield { from, rows: rows.slice(from, index) };
      from = index;
      bytes = 0;
    }
    bytes += added;
  }
  if (from < rows.length) yield { from, rows: rows.slice(from) };
}

// The request names the type of each value, and has a mark for it in the statement.
const bytesPerValue = 40;
const bytesOf = (values: readonly InValue[]) =>
  values.reduce<number>(
    (sum, value) => sum + bytesPerValue + Buffer.byteLength(JSON.stringify(value)),
    0,
  );

/** The size of a request that carries these statements, or a little more [bytes]. */
export function requestBytes(statements: readonly InStatement[]): number {
  return statements.reduce((sum, each) => {
    if (typeof each === 'string') return sum + bytesOf([each]);
    const args = each.args ?? [];
    return sum + bytesOf([each.sql]) + bytesOf(Array.isArray(args) ? args : Object.values(args));
  }, 0);
}

function putting(
  batch: string,
  table: string,
  from: number,
  rows: readonly (readonly InValue[])[],
): InStatement {
  const filled = rows[0]?.length ?? 0;
  const columns = ['batch', 'table_name', 'number', ...places.slice(0, filled)];
  const marks = `(${columns.map(() => '?').join(', ')})`;
  return {
    sql: `INSERT OR REPLACE INTO ${stagingTableName} (${columns.join(', ')})
          VALUES ${rows.map(() => marks).join(', ')}`,
    args: rows.flatMap((row, index) => [batch, table, from + index, ...row]),
  };
}

// The same once more changes nothing, so that a lost answer needs no looking.
async function again(writer: Pick<Client, 'batch'>, statement: InStatement): Promise<void> {
  for (let tried = 1; ; tried += 1)
    try {
      await writer.batch([statement], 'write');
      return;
    } catch (error) {
      if (tried === mostTries || !isPassing(error)) throw error;
      await pause(100 * tried);
    }
}
