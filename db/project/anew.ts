import type { InStatement } from '@libsql/client';
import type { Database } from '../database.ts';
import { projectionTables } from '../journal/replay.ts';
import { type TableRows, tableRows } from '../tableRows.ts';

type Readable = Pick<Database, 'execute'>;

/** What empties the projections a log has, in an order in which a server takes it. */
export async function emptying(log: Readable): Promise<string[]> {
  const present = await presentTables(log);
  if (!present.includes('lot')) return [];
  return [
    // A pitch stays while a crop rests on it, and a lot while it is pitched.
    `UPDATE lot SET kind = 'freshCulture', base_generation = 0, ferment_id = NULL WHERE kind = 'crop'`,
    ...(await parentsFirst(log, present)).reverse().map((table) => `DELETE FROM ${table}`),
  ];
}

/** What fills the emptied projections of another log with those of this one, which it must equal. */
export async function filling(model: Readable): Promise<(InStatement | TableRows)[]> {
  const present = await presentTables(model);
  const { rows: triggers } = await model.execute(
    `SELECT name, sql FROM sqlite_master
     WHERE type = 'trigger' AND tbl_name IN (${quoted(present)}) ORDER BY name`,
  );
  const loads: TableRows[] = [];
  for (const table of await parentsFirst(model, present))
    loads.push(tableRows(table, await model.execute(`SELECT * FROM ${table}`)));
  return [
    // They guard the order in which things happen, not that in which rows are copied.
    ...triggers.map(({ name }) => `DROP TRIGGER ${name}`),
    ...loads,
    ...triggers.map(({ sql }) => String(sql)),
  ];
}

/** Tables so that whatever they refer to comes before them: a server defers no check. */
export async function parentsFirst(
  { execute }: Readable,
  tables: readonly string[],
): Promise<string[]> {
  const { rows } = await execute(`
    SELECT child.name AS child, reference."table" AS parent
    FROM sqlite_master AS child, pragma_foreign_key_list(child.name) AS reference
    WHERE child.type = 'table' AND child.name <> reference."table"`);
  const left = new Set(tables);
  const order: string[] = [];
  while (left.size > 0) {
    const refers = (table: string) =>
      rows.some((row) => row.child === table && left.has(String(row.parent)));
    const free = [...left].filter((table) => !refers(table));
    if (free.length === 0) throw new Error(`These tables refer to one another: ${[...left]}.`);
    for (const table of free) left.delete(table);
    order.push(...free);
  }
  return order;
}

// A log of an earlier shape has not all of them.
async function presentTables({ execute }: Readable): Promise<string[]> {
  const { rows } = await execute(
    `SELECT name FROM sqlite_master WHERE type = 'table' AND name IN (${quoted(projectionTables)})`,
  );
  return rows.map(({ name }) => String(name));
}

const quoted = (names: readonly string[]) => names.map((name) => `'${name}'`).join(', ');
