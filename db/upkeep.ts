import { asc } from 'drizzle-orm';
import type { Database } from './database.ts';
import { genesisHash, type JournalRow, journalHash } from './hash.ts';
import { projectionTables, replayStatements } from './replay.ts';
import { journal } from './schema/index.ts';

export type ChainReport =
  | { sound: true; entries: number; head: string }
  | { sound: false; entries: number; firstBad: { seq: number; id: string; why: string } };

/** Walks the journal from its first entry and checks every seal against the one before. */
export async function verifyChain({ query }: Database): Promise<ChainReport> {
  const rows = await query.select().from(journal).orderBy(asc(journal.seq));
  let head = genesisHash;
  for (const [index, row] of rows.entries()) {
    const why = faultOf(row, head, index + 1);
    if (why !== undefined)
      return { sound: false, entries: rows.length, firstBad: { seq: row.seq, id: row.id, why } };
    head = row.hash;
  }
  return { sound: true, entries: rows.length, head };
}

function faultOf(row: JournalRow, head: string, expectedSeq: number): string | undefined {
  if (row.seq !== expectedSeq) return `entry ${expectedSeq} is missing`;
  if (row.prevHash !== head) return 'it does not follow the entry before it';
  if (journalHash(row) !== row.hash) return 'its content does not match its seal';
  return undefined;
}

/** Empties the projections and makes them anew from the journal, all or nothing. */
export async function rebuild(database: Database): Promise<{ entries: number }> {
  return database.alone(async (write) => {
    const rows = await database.query.select().from(journal).orderBy(asc(journal.seq));
    await write([
      'PRAGMA defer_foreign_keys = ON',
      'DELETE FROM lot_parent',
      'DELETE FROM lot',
      ...projectionTables
        .filter((table) => table !== 'lot_parent' && table !== 'lot')
        .map((table) => `DELETE FROM ${table}`),
      ...replayStatements(rows),
    ]);
    return { entries: rows.length };
  });
}

/** Every projection row as text, for comparing two states of the tables. */
export async function projectionDump(database: Database): Promise<Record<string, string[]>> {
  const dump: Record<string, string[]> = {};
  for (const table of projectionTables) {
    const { rows } = await database.execute(`SELECT * FROM ${table}`);
    dump[table] = rows.map((row) => JSON.stringify({ ...row })).sort();
  }
  return dump;
}
