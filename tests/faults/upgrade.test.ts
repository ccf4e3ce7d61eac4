import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createClient } from '@libsql/client';
import { afterAll, expect, test, vi } from 'vitest';
import { openDatabase } from '#db/database.ts';
import { freeConnections } from '#db/freeConnections.ts';
import { wholeJournal } from '#db/journal/chain.ts';
import { record } from '#db/journal/journal.ts';
import { migrate, readMigrations } from '#db/migrate.ts';
import { openLog } from '#db/opening/openLog.ts';
import { listBackups } from '#db/safety/backup.ts';
import { aStrain } from '#tests/support/brewery.ts';
import {
  aFolder,
  type Folder,
  killedOnce,
  launch,
  newId,
  soundReport,
  times,
  twoAtATime,
} from './rig.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const ownMigrations = new URL('../../db/migrations/', import.meta.url);
const released = new URL('../reference/released/', import.meta.url);
const folders: Folder[] = [];
afterAll(async () => {
  for (const folder of folders) await folder.remove();
});

/** A folder with a log as that version left it. */
async function aReleasedLog(name: string): Promise<Folder> {
  const folder = await aFolder();
  folders.push(folder);
  const client = createClient({ url: pathToFileURL(folder.file).href, concurrency: 1 });
  await client.executeMultiple(await readFile(new URL(name, released), 'utf8'));
  client.close();
  await freeConnections();
  return folder;
}

const entriesOf010 = 17;
const headOf010 = 'f899d551b5a889df9e43998c2e66b91b3d1df0f425f0c4741428e4b3d40eec91';

test.each(await readdir(released))(
  'a log of %s is brought to this version, backed up before',
  async (name) => {
    const folder = await aReleasedLog(name);
    const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
    await log.close();
    expect(await soundReport(folder.file)).toMatchObject({
      entries: entriesOf010,
      head: headOf010,
      steps: (await readMigrations()).length,
      instanceId: log.instance.id,
    });
    const [before] = await listBackups(folder.backupFolder);
    expect(before?.manifest).toMatchObject({
      reason: 'before upgrade',
      steps: 2,
      entries: entriesOf010,
      head: headOf010,
    });
  },
);

test('after it, the clock of a device is kept and sealed behind seals that did not speak of it', async () => {
  const folder = await aReleasedLog('0.1.0.sql');
  const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const { recorded } = await record(log.database, newId(), aStrain({ name: 'Skua', code: 'SKU' }), {
    receivedMs: Date.now(),
    actor: 'ines',
    via: 'web',
    clockFastMs: -10_800_000,
  });
  const rows = await wholeJournal(log.database.execute);
  await log.close();
  expect(rows.map(({ clockFastMs }) => clockFastMs)).toEqual([
    ...Array.from({ length: entriesOf010 }, () => null),
    -10_800_000,
  ]);
  expect(await soundReport(folder.file)).toMatchObject({ entries: recorded.seq });
});

/** The steps of this version, and one more. */
async function withOneMore(sql: string): Promise<URL> {
  const folder = await aFolder();
  folders.push(folder);
  const steps = join(folder.path, 'migrations');
  await mkdir(steps);
  const names = (await readdir(ownMigrations)).filter((name) => name.endsWith('.sql'));
  for (const name of names)
    await writeFile(join(steps, name), await readFile(new URL(name, ownMigrations)));
  await writeFile(join(steps, `${String(names.length + 1).padStart(4, '0')}_later.sql`), sql);
  return pathToFileURL(`${steps}/`);
}

test.each([
  ['does not run', 'CREATE TABLE more (a TEXT) STRICT;\nINSERT INTO nowhere VALUES (1);\n'],
  [
    'leaves a row pointing nowhere',
    "CREATE TABLE more (id TEXT REFERENCES lot (id) DEFERRABLE INITIALLY DEFERRED) STRICT;\nINSERT INTO more VALUES ('nobody');\n",
  ],
  [
    'takes an entry out of the journal',
    'DROP TRIGGER journal_no_delete;\nDELETE FROM journal WHERE seq = 17;\n',
  ],
])('a step that %s changes nothing', async (_how, sql) => {
  const folder = await aReleasedLog('0.1.0.sql');
  const database = await openDatabase(pathToFileURL(folder.file).href);
  await expect(migrate(database, 0, { folder: await withOneMore(sql) })).rejects.toMatchObject({
    exitCode: 6,
  });
  await database.close();
  expect(await soundReport(folder.file)).toMatchObject({ steps: 2, head: headOf010 });
});

test('a step after the newest is refused by the version that does not know it', async () => {
  const folder = await aReleasedLog('0.1.0.sql');
  const database = await openDatabase(pathToFileURL(folder.file).href);
  const later = await withOneMore('CREATE TABLE more (a TEXT) STRICT;\n');
  await migrate(database, 0, { folder: later });
  await database.close();
  await expect(openLog(folder, { nowMs: 0, newId: newId() })).rejects.toMatchObject({
    exitCode: 4,
  });
});

test('a step left out of the program, or out of its order, is refused', async () => {
  const later = await withOneMore('CREATE TABLE more (a TEXT) STRICT;\n');
  await rm(new URL('0003_people.sql', later));
  await expect(readMigrations(later)).rejects.toMatchObject({ exitCode: 5 });
});

const kills = times(4, 20);

test(`kill -9 while a log is brought to this version, ${kills} times: before or after`, async () => {
  const ends: string[] = [];
  await twoAtATime(kills, async (kill) => {
    const folder = await aReleasedLog('0.1.0.sql');
    const program = launch(['tests/faults/cutShortChild.ts', 'open', folder.path], folder);
    // The backup before the change is the first that is seen of it.
    const hasBegun = async () => existsSync(folder.backupFolder);
    ends.push(await killedOnce(program, { hasBegun, thenMs: (kill * 1_200) / kills }));
    const { steps, head } = await soundReport(folder.file);
    expect([2, (await readMigrations()).length]).toContain(steps);
    expect(head).toBe(headOf010);
    await (await openLog(folder, { nowMs: Date.now(), newId: newId() })).close();
  });
  console.log('upgrade', ends);
  expect(ends).toContain('cut short');
});
