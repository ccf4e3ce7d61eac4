import { asc } from 'drizzle-orm';
import type { Database } from './database.ts';
import { projectionTables, replayStatements } from './replay.ts';
import { journal } from './schema/index.ts';

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
export async function projectionDump({
  execute,
}: Pick<Database, 'execute'>): Promise<Record<string, string[]>> {
  const dump: Record<string, string[]> = {};
  for (const table of projectionTables) {
    const { rows } = await execute(`SELECT * FROM ${table}`);
    dump[table] = rows.map((row) => JSON.stringify({ ...row })).sort();
  }
  return dump;
}
