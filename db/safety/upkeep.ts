import { asc } from 'drizzle-orm';
import type { Database } from '../database.ts';
import { projectionTables, replayStatements } from '../journal/replay.ts';
import { journal } from '../schema/index.ts';

/** Empties the projections and makes them anew from the journal, all or nothing. */
export async function rebuild(database: Database): Promise<{ entries: number }> {
  return database.alone(async (write) => {
    const rows = await database.query.select().from(journal).orderBy(asc(journal.seq));
    await write([
      // A pitch stays while a crop rests on it, and a lot while it is pitched.
      `UPDATE lot SET kind = 'freshCulture', base_generation = 0, ferment_id = NULL WHERE kind = 'crop'`,
      ...(await emptyingOrder(database)).map((table) => `DELETE FROM ${table}`),
      ...replayStatements(rows),
    ]);
    return { entries: rows.length };
  });
}

/** The projections so that whatever refers to a table comes before it: a server defers no check. */
async function emptyingOrder({ execute }: Database): Promise<string[]> {
  const { rows } = await execute(`
    SELECT child.name AS child, reference."table" AS parent
    FROM sqlite_master AS child, pragma_foreign_key_list(child.name) AS reference
    WHERE child.type = 'table' AND child.name <> reference."table"`);
  const left = new Set<string>(projectionTables);
  const order: string[] = [];
  while (left.size > 0) {
    const isReferred = (table: string) =>
      rows.some((row) => row.parent === table && left.has(String(row.child)));
    const free = [...left].filter((table) => !isReferred(table));
    if (free.length === 0) throw new Error(`These tables refer to one another: ${[...left]}.`);
    for (const table of free) left.delete(table);
    order.push(...free);
  }
  return order;
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
