import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, expect, test } from 'vitest';
import { openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { freshDatabase } from '#tests/support/brewery.ts';

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true });
});

async function aFile(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-'));
  folders.push(folder);
  return pathToFileURL(join(folder, 'log.db')).href;
}

const holder = `
  const { openDatabase } = await import('#db/database.ts');
  const { migrate } = await import('#db/migrate.ts');
  const database = await openDatabase(process.argv[1]);
  await migrate(database, 0);
  console.log('open');
  setInterval(() => {}, 1000);
`;

test('a log open in one program is refused to a second, and nothing is lost', async () => {
  const url = await aFile();
  const first = spawn(process.execPath, [
    '--import',
    'tsx',
    '--input-type=module',
    '-e',
    holder,
    url,
  ]);
  try {
    await once(first.stdout, 'data');
    await expect(openDatabase(url)).rejects.toThrow('already open in another program');
  } finally {
    first.kill('SIGKILL');
    await once(first, 'exit');
  }
  const database = await openDatabase(url);
  const { rows } = await database.execute('SELECT count(*) AS steps FROM schema_migration');
  expect(rows[0]?.['steps']).toBe(2);
  await database.close();
});

test.each([
  ['foreign_keys', 1],
  ['synchronous', 2],
  ['trusted_schema', 0],
  ['journal_mode', 'wal'],
  ['locking_mode', 'exclusive'],
])('PRAGMA %s is %s on the connection in use', async (pragma, expected) => {
  const database = await openDatabase(await aFile());
  const { rows } = await database.execute(`PRAGMA ${pragma}`);
  expect(Object.values(rows[0] ?? {})[0]).toBe(expected);
  await database.close();
});

test('a failed batch leaves nothing behind and later writes still count', async () => {
  const database = await freshDatabase();
  const good = "INSERT INTO schema_migration VALUES (90, 'x', 'y', 0)";
  await expect(database.write([good, 'INSERT INTO nowhere VALUES (1)'])).rejects.toThrow('nowhere');
  const count = async () =>
    (await database.execute('SELECT count(*) AS steps FROM schema_migration')).rows[0]?.['steps'];
  expect(await count()).toBe(2);
  await database.write([good]);
  expect(await count()).toBe(3);
});

test('migrate(database) refuses a step edited after it was applied', async () => {
  const database = await freshDatabase();
  await database.write(["UPDATE schema_migration SET sha256 = 'edited' WHERE number = 1"]);
  await expect(migrate(database, 0)).rejects.toThrow('Migration 1 was edited');
});

test('migrate(database) refuses a database newer than the program', async () => {
  const database = await freshDatabase();
  await database.write(["INSERT INTO schema_migration VALUES (3, 'later', 'x', 0)"]);
  await expect(migrate(database, 0)).rejects.toThrow('newer version');
});

test('the typed tables are those of the database, column by column', async () => {
  const database = await freshDatabase();
  const schema = await import('#db/schema/index.ts');
  const { getTableConfig, SQLiteTable } = await import('drizzle-orm/sqlite-core');
  const tables = Object.values(schema).filter((value) => value instanceof SQLiteTable);
  expect(tables.length).toBe(21);
  for (const table of tables) {
    const { name, columns } = getTableConfig(table);
    const { rows } = await database.execute(`PRAGMA table_info(${name})`);
    const stored = rows.map((row) => String(row['name']));
    const snake = (text: string) => text.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
    for (const column of columns) expect(stored, name).toContain(snake(column.name));
  }
});
