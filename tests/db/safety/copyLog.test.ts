import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { type Database, openDatabase } from '#db/database.ts';
import { fillDemo } from '#db/demo/fillDemo.ts';
import { headOfJournal, verifyChain } from '#db/journal/chain.ts';
import { record } from '#db/journal/journal.ts';
import { migrate } from '#db/migrate.ts';
import { instanceOf } from '#db/opening/marker.ts';
import { makeBackup } from '#db/safety/backup.ts';
import { copyLog } from '#db/safety/copyLog.ts';
import { inspectApart } from '#db/safety/inspectApart.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { nextId, storyStartMs } from '#tests/support/brewery.ts';
import { aRemoteServer, type RemoteServer } from '#tests/support/remoteServer.ts';

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true });
});

async function aFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-copy-'));
  folders.push(folder);
  return folder;
}

// The demo brewery of eighteen months on a stand-in for a server; each test leaves it whole.
let server: RemoteServer;
let database: Database;
beforeAll(async () => {
  server = await aRemoteServer();
  database = await openDatabase(server.url, server.token);
  await migrate(database, storyStartMs);
  await instanceOf(database, { id: 'the-log', createdMs: storyStartMs });
  await fillDemo(database, Date.now());
});
afterAll(async () => {
  await database.close();
  await server.remove();
});

async function rowsOf(database: Database, tables: readonly string[]) {
  const contents = await database.together(
    tables.map((table) => `SELECT * FROM ${table} ORDER BY 1`),
  );
  return contents.map(({ rows }) => rows.map((row) => JSON.stringify({ ...row })));
}

test('a copy from a server holds every table of it, in a file that stands by itself', async () => {
  const folder = await aFolder();
  const { file, manifest } = await makeBackup(database, {
    folder,
    nowMs: storyStartMs,
    reason: 'asked',
  });
  expect(manifest).toMatchObject({ instanceId: 'the-log', ...(await headOfJournal(database)) });
  expect(manifest.entries).toBeGreaterThan(3_000);
  const copy = await openDatabase(`file:${file}`);
  const beside = [
    'journal',
    'account',
    'account_role',
    'session',
    'security_event',
    'schema_migration',
  ];
  expect(await rowsOf(copy, beside)).toEqual(await rowsOf(database, beside));
  expect(await projectionDump(copy)).toEqual(await projectionDump(database));
  await copy.close();
  expect(server.seen.refused).toEqual([]);
});

test.each([1, 1e9])(
  'a copy made while others write ends at one entry (made anew from %i)',
  async (replaysFrom) => {
    const file = join(await aFolder(), 'copy.db');
    const before = await headOfJournal(database);
    const source = { receivedMs: Date.now(), actor: 'ines', via: 'web' } as const;
    const happenedAt = new Date(Date.now() - 60_000).toISOString();
    let written = 0;
    let isCopying = true;
    const writing = (async () => {
      for (; isCopying; written += 1)
        await record(
          database,
          nextId(),
          { kind: 'vessel', happenedAt, by: 'Ines', name: `New ${written} ${replaysFrom}` },
          source,
        );
    })();
    await copyLog(database, file, { replaysFrom }).finally(() => {
      isCopying = false;
    });
    await writing;
    const after = await headOfJournal(database);
    expect(after.entries).toBe(before.entries + written);
    const report = await inspectApart(file, 'full');
    expect(report.state).toBe('sound');
    expect(report.state === 'sound' && report.entries).toBeGreaterThanOrEqual(before.entries);
    expect(report.state === 'sound' && report.entries).toBeLessThan(after.entries);
  },
);

test('rebuild(database) gives identical tables on a server', async () => {
  const before = await projectionDump(database);
  const { entries } = await rebuild(database);
  expect(entries).toBeGreaterThan(3_000);
  expect(await projectionDump(database)).toEqual(before);
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries });
  expect(server.seen.refused).toEqual([]);
});
