import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterEach, expect, test } from 'vitest';
import { openDatabase } from '#db/database.ts';
import { appliedSteps, migrate, readMigrations } from '#db/migrate.ts';
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
  const steps = await appliedSteps(database);
  expect(steps).toHaveLength((await readMigrations()).length);
  await database.close();
});

const connectionPragmas: [string, string | number][] = [
  ['foreign_keys', 1],
  ['synchronous', 2],
  ['trusted_schema', 0],
  ['cell_size_check', 1],
  ['journal_mode', 'wal'],
  ['locking_mode', 'exclusive'],
];

test.each(connectionPragmas)(
  'PRAGMA %s is %s on the connection in use',
  async (pragma, expected) => {
    const database = await openDatabase(await aFile());
    const { rows } = await database.execute(`PRAGMA ${pragma}`);
    expect(Object.values(rows[0] ?? {})[0]).toBe(expected);
    await database.close();
  },
);

test('close(database) frees the file: it can be opened again at once', async () => {
  const url = await aFile();
  for (let time = 0; time < 3; time += 1) {
    const database = await openDatabase(url);
    await migrate(database, 0);
    await database.close();
  }
  expect(await readdir(dirname(fileURLToPath(url)))).toEqual(['log.db']);
});

test('a write refused as read-only leaves a fresh connection, set up like the first', async () => {
  const database = await openDatabase(await aFile());
  await migrate(database, 0);
  await database.execute('PRAGMA query_only = ON');
  const touch = ['DELETE FROM upkeep_event'];
  await expect(database.write(touch)).rejects.toMatchObject({ code: 'read_only' });
  expect(database.fault()).toMatchObject({ code: 'read_only' });
  await database.write(touch);
  expect(database.fault()).toBe(undefined);
  for (const [pragma, expected] of connectionPragmas) {
    const { rows } = await database.execute(`PRAGMA ${pragma}`);
    expect(Object.values(rows[0] ?? {})[0], pragma).toBe(expected);
  }
  await database.close();
});

test('a failed batch leaves nothing behind and later writes still count', async () => {
  const database = await freshDatabase();
  const good = "INSERT INTO schema_migration VALUES (90, 'x', 'y', 0)";
  await expect(database.write([good, 'INSERT INTO nowhere VALUES (1)'])).rejects.toThrow('nowhere');
  const before = (await appliedSteps(database)).length;
  await database.write([good]);
  expect(await appliedSteps(database)).toHaveLength(before + 1);
});

test('migrate(database) refuses a step edited after it was applied', async () => {
  const database = await freshDatabase();
  await database.write(["UPDATE schema_migration SET sha256 = 'edited' WHERE number = 1"]);
  await expect(migrate(database, 0)).rejects.toThrow('Migration 1 was edited');
});

test('migrate(database) refuses a database newer than the program', async () => {
  const database = await freshDatabase();
  await database.write(["INSERT INTO schema_migration VALUES (9999, 'later', 'x', 0)"]);
  await expect(migrate(database, 0)).rejects.toThrow('newer version');
});

test('the typed tables are those of the database, column by column', async () => {
  const database = await freshDatabase();
  const schema = await import('#db/schema/index.ts');
  const { getTableConfig, SQLiteTable } = await import('drizzle-orm/sqlite-core');
  const tables = Object.values(schema).filter((value) => value instanceof SQLiteTable);
  expect(tables.length).toBeGreaterThan(20);
  for (const table of tables) {
    const { name, columns } = getTableConfig(table);
    const { rows } = await database.execute(`PRAGMA table_info(${name})`);
    const stored = rows.map((row) => String(row.name));
    const snake = (text: string) => text.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
    for (const column of columns) expect(stored, name).toContain(snake(column.name));
  }
});
