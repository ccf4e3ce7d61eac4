import { copyFile, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createClient } from '@libsql/client';
import { afterEach, expect, test } from 'vitest';
import { type Database, openDatabase } from '#db/database.ts';
import { freeConnections } from '#db/freeConnections.ts';
import { appendAll } from '#db/journal/bulk.ts';
import { headOfJournal, verifyChain } from '#db/journal/chain.ts';
import { recordAll } from '#db/journal/recordAll.ts';
import { projectionTables } from '#db/journal/replay.ts';
import { appliedSteps, migrate, readMigrations } from '#db/migrate.ts';
import { inspectRemote } from '#db/remote/inspectRemote.ts';
import { stagingTableName } from '#db/remote/staging.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { at, storyStartMs } from '#tests/support/brewery.ts';
import { aLongLog } from '#tests/support/longLog.ts';
import { aRemoteServer, type RemoteServer } from '#tests/support/remoteServer.ts';

const servers: RemoteServer[] = [];
const databases: Database[] = [];
const folders: string[] = [];
afterEach(async () => {
  for (const database of databases.splice(0)) await database.close();
  for (const server of servers.splice(0)) await server.remove();
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true });
});

async function aFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-long-'));
  folders.push(folder);
  return folder;
}

async function opened(url: string, token?: string): Promise<Database> {
  const database = await openDatabase(url, token);
  databases.push(database);
  return database;
}

async function aServer(given: Parameters<typeof aRemoteServer>[0] = {}) {
  const server = await aRemoteServer(given);
  servers.push(server);
  return { server, open: () => opened(server.url, server.token) };
}

const mostBytes = 800_000;
const source = { receivedMs: Date.parse(at(70)), actor: 'ines', via: 'import' } as const;

/** A log on a server, and the same in memory. */
async function twins(given: Parameters<typeof aRemoteServer>[0] = {}) {
  const { server, open } = await aServer(given);
  const there = await open();
  const here = await opened(':memory:');
  const { entries, readings } = aLongLog(300);
  for (const database of [there, here]) {
    await migrate(database, storyStartMs);
    await appendAll(database, entries, { actor: 'ines', via: 'web' });
  }
  server.faults.mostBytes = mostBytes;
  server.seen.largestBytes = 0;
  return { server, open, there, here, readings };
}

async function leftOf(database: Database): Promise<unknown> {
  const { rows } = await database.execute(`SELECT count(*) AS n FROM ${stagingTableName}`);
  return rows[0]?.n;
}

async function expectAlike(there: Database, here: Database): Promise<void> {
  expect(await headOfJournal(there)).toEqual(await headOfJournal(here));
  expect(await verifyChain(there)).toMatchObject({ sound: true });
  expect(await projectionDump(there)).toEqual(await projectionDump(here));
  expect(await inspectRemote(there, 'full')).toMatchObject({ state: 'sound' });
  expect(await leftOf(there)).toBe(0);
}

test('an import longer than a request comes in whole, by requests of a bounded size', async () => {
  const { server, there, here, readings } = await twins();
  for (const database of [there, here])
    expect(await recordAll(database, readings, source)).toMatchObject({
      fresh: 300,
      refusals: [],
      isWritten: true,
    });
  await expectAlike(there, here);
  expect(server.seen.largestBytes).toBeGreaterThan(100_000);
  expect(server.seen.largestBytes).toBeLessThan(mostBytes);
  expect(server.seen.refused).toEqual([]);
  // The same again, as after an answer that was lost on the way to the page.
  expect(await recordAll(there, readings, source)).toMatchObject({ fresh: 0, isWritten: true });
  await expectAlike(there, here);
});

test('an import of which answers are lost, or that another program disturbs, comes in once', async () => {
  const { server, open, there, here, readings } = await twins({ seed: 5 });
  const other = await open();
  server.faults.dropAnswers = 0.1;
  server.faults.dropRequests = 0.05;
  const writing = recordAll(there, readings, source);
  const note = "INSERT INTO upkeep_event (at_ms, kind, detail) VALUES (1, 'x', '{}')";
  await other.write([note]);
  expect(await writing).toMatchObject({ fresh: 300, isWritten: true });
  server.faults.dropAnswers = 0;
  server.faults.dropRequests = 0;
  await recordAll(here, readings, source);
  await expectAlike(there, here);
});

test('an import cut off half way leaves nothing in the log, and comes in when sent again', async () => {
  const { server, open, there, here, readings } = await twins();
  const before = await projectionDump(there);
  let hasFailed = 0;
  for (let isIn = false; !isIn; hasFailed += 1) {
    // Each time a little later: while it looks, while it puts rows by, while it takes them up.
    server.faults.requestsLeft = 12 + 4 * hasFailed;
    isIn = await recordAll(there, readings, source).then(
      ({ isWritten }) => isWritten,
      () => false,
    );
    server.faults.requestsLeft = Number.POSITIVE_INFINITY;
    const look = await open();
    const { entries } = await headOfJournal(look);
    expect([10, 310]).toContain(entries);
    if (entries === 10) expect(await projectionDump(look)).toEqual(before);
  }
  expect(hasFailed).toBeGreaterThan(2);
  await recordAll(here, readings, source);
  expect(await projectionDump(there)).toEqual(await projectionDump(here));
  expect(await verifyChain(there)).toMatchObject({ sound: true, entries: 310 });
});

test('a server with a smaller limit refuses an import with the size, and nothing is saved', async () => {
  const { server, there, readings } = await twins();
  const before = await projectionDump(there);
  server.faults.mostBytes = 100_000;
  await expect(recordAll(there, readings, source)).rejects.toMatchObject({
    code: 'unavailable',
    message: expect.stringMatching(
      /takes no request of \d+ kB; nothing was saved. Raise its limit/,
    ),
  });
  server.faults.mostBytes = mostBytes;
  expect(await projectionDump(there)).toEqual(before);
  expect(await leftOf(there)).toBe(0);
});

test('a batch whose rows are not all there any more changes nothing', async () => {
  const { there, readings } = await twins();
  const before = await projectionDump(there);
  await there.execute(
    `CREATE TRIGGER lost AFTER INSERT ON ${stagingTableName} WHEN NEW.number = 7
     BEGIN DELETE FROM ${stagingTableName} WHERE number = 7; END`,
  );
  await expect(recordAll(there, readings, source)).rejects.toThrow('NOT NULL');
  expect(await projectionDump(there)).toEqual(before);
  expect(await headOfJournal(there)).toMatchObject({ entries: 10 });
});

test('rebuild(database) makes the tables anew on a server, though answers are lost', async () => {
  const { server, there, here, readings } = await twins({ seed: 9 });
  for (const database of [there, here]) await recordAll(database, readings, source);
  await there.write(["UPDATE vessel SET name = name || ' altered'", 'DELETE FROM reading']);
  server.faults.dropAnswers = 0.1;
  expect(await rebuild(there)).toEqual({ entries: 310 });
  server.faults.dropAnswers = 0;
  await expectAlike(there, here);
  expect(server.seen.largestBytes).toBeLessThan(mostBytes);
});

const ownMigrations = new URL('../../../db/migrations/', import.meta.url);
const released = new URL('../../reference/released/0.1.0.sql', import.meta.url);

const steps = await readMigrations();
const { length: newest } = steps;
const beforeRebuild = steps.findLastIndex(({ rebuilds }) => rebuilds);

/** The log of the first release in a file, as the program of a number of steps would have left it. */
async function aReleasedLog(taken: number): Promise<string> {
  const file = join(await aFolder(), 'log.db');
  const client = createClient({ url: pathToFileURL(file).href, concurrency: 1 });
  await client.executeMultiple(await readFile(released, 'utf8'));
  client.close();
  await freeConnections();
  await broughtTo(file, Math.min(taken, beforeRebuild));
  if (taken > beforeRebuild) await takenOn(file, taken);
  return file;
}

async function broughtTo(file: string, taken: number): Promise<void> {
  const some = await aFolder();
  for (const { name } of steps.slice(0, taken))
    await copyFile(new URL(name, ownMigrations), join(some, name));
  const database = await openDatabase(pathToFileURL(file).href);
  await migrate(database, storyStartMs, { folder: pathToFileURL(`${some}/`) });
  await database.close();
}

/** Takes steps of which one empties the projections: they get today's rows in the columns of then. */
async function takenOn(file: string, taken: number): Promise<void> {
  const whole = `${file}.whole`;
  await copyFile(file, whole);
  await broughtTo(whole, newest);
  const client = createClient({ url: pathToFileURL(file).href, concurrency: 1 });
  await client.execute('PRAGMA foreign_keys = OFF');
  for (const { number, name, sha256, statements } of steps.slice(beforeRebuild, taken)) {
    for (const statement of statements) await client.execute(statement);
    await client.execute({
      sql: 'INSERT INTO schema_migration (number, name, sha256, applied_ms) VALUES (?, ?, ?, 0)',
      args: [number, name, sha256],
    });
  }
  await client.execute({ sql: 'ATTACH ? AS whole', args: [whole] });
  const { rows: triggers } = await client.execute(
    "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'",
  );
  for (const { name } of triggers) await client.execute(`DROP TRIGGER ${name}`);
  for (const table of projectionTables) {
    const { rows } = await client.execute(`SELECT name FROM pragma_table_info('${table}')`);
    if (rows.length === 0) continue;
    const columns = rows.map(({ name }) => name).join(', ');
    await client.execute(`INSERT INTO ${table} (${columns}) SELECT ${columns} FROM whole.${table}`);
  }
  for (const { sql } of triggers) await client.execute(String(sql));
  client.close();
  await freeConnections();
}

const olderSteps = Array.from({ length: newest - 2 }, (_, index) => index + 2);

test.each(olderSteps)(
  'a log with entries that has taken %i steps is brought to this version on a server',
  async (taken) => {
    const { server, open } = await aServer();
    const file = await aReleasedLog(taken);
    await copyFile(file, server.file);
    const there = await open();
    expect(await appliedSteps(there)).toHaveLength(taken);
    await migrate(there, storyStartMs);
    const here = await opened(pathToFileURL(file).href);
    await migrate(here, storyStartMs);
    expect(await appliedSteps(there)).toHaveLength(newest);
    await expectAlike(there, here);
    expect(server.seen.refused).toEqual([]);
  },
);

test('the same when every answer but a few is lost, and by two programs at once', async () => {
  const { server, open } = await aServer({ seed: 2 });
  const file = await aReleasedLog(2);
  await copyFile(file, server.file);
  const both = [await open(), await open()];
  server.faults.dropAnswers = 0.1;
  await Promise.all(both.map((database) => migrate(database, storyStartMs)));
  server.faults.dropAnswers = 0;
  const here = await opened(pathToFileURL(file).href);
  await migrate(here, storyStartMs);
  for (const there of both) await expectAlike(there, here);
});
