import { type Client, createClient } from '@libsql/client';
import { type Migration, ownTables } from './migrate.ts';

// A trigger taken away, a rule loosened, a table added: the file then no longer keeps its promises.
export async function faultOfShape(
  client: Client,
  migrations: readonly Migration[],
): Promise<string | undefined> {
  const model = createClient({ url: ':memory:', concurrency: 1 });
  await model.batch([...ownTables, ...migrations.flatMap((step) => step.statements)], 'write');
  const expected = await shapeOf(model);
  const found = await shapeOf(client);
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

async function shapeOf(client: Client): Promise<Map<string, string>> {
  const { rows } = await client.execute(
    "SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%'",
  );
  return new Map(rows.map((row) => [`${row.type} ${row.name}`, String(row.sql)]));
}
