import { createClient } from '@libsql/client';
import type { Database } from '../database.ts';
import { type Migration, shapeOf } from '../migrate.ts';
import { stagingTableName } from '../remote/staging.ts';
import { turnTableName } from '../remote/turns.ts';

type Readable = Pick<Database, 'execute'>;

/**
 * A trigger taken away, a rule loosened, a table added: the log then no longer keeps its promises.
 *
 * @param isReworded  true for a server, which may have put the statements in its own way
 */
export async function faultOfShape(
  log: Readable,
  migrations: readonly Migration[],
  { isReworded = false } = {},
): Promise<string | undefined> {
  const model = createClient({ url: ':memory:', concurrency: 1 });
  await model.batch(shapeOf(migrations), 'write');
  const words = (sql: string) => (isReworded ? sql.toLowerCase().replace(/[^a-z0-9]+/g, '') : sql);
  const expected = await wordsOf(model, words);
  const found = await wordsOf(log, words);
  model.close();
  const names = new Set([...expected.keys(), ...found.keys()]);
  const differing = [...names].filter(
    (name) => found.get(name) !== expected.get(name) && !isLaterOwnTable(name, found),
  );
  return differing.length === 0
    ? undefined
    : `The shape of the log was altered outside of Barmbook (${differing.join(', ')}); nothing was changed.`;
}

// Files of the first release do not have these yet.
const isLaterOwnTable = (name: string, found: ReadonlyMap<string, string>) =>
  (name === 'table instance' || name === 'table upkeep_event') && !found.has(name);

async function wordsOf(
  log: Readable,
  words: (sql: string) => string,
): Promise<Map<string, string>> {
  const { rows } = await log.execute(
    `SELECT type, name, sql FROM sqlite_master
     WHERE name NOT LIKE 'sqlite_%' AND name NOT LIKE 'libsql_%' AND name NOT IN ('${turnTableName}', '${stagingTableName}')`,
  );
  return new Map(rows.map((row) => [`${row.type} ${row.name}`, words(String(row.sql))]));
}
