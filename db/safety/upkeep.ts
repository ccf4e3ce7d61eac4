import type { Database } from '../database.ts';
import { wholeJournal } from '../journal/chain.ts';
import { withModel } from '../journal/model.ts';
import { projectionTables, replayStatements } from '../journal/replay.ts';
import { readMigrations, shapeOf } from '../migrate.ts';
import { emptying, filling } from '../project/anew.ts';

/** Empties the projections and makes them anew from the journal, all or nothing. */
export async function rebuild(database: Database): Promise<{ entries: number }> {
  return database.alone(async (write) => {
    const rows = await wholeJournal(database.execute);
    const projections = database.isLocal
      ? replayStatements(rows)
      : await withModel(shapeOf(await readMigrations()), rows, filling);
    await write([...(await emptying(database)), ...projections]);
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
