import { copyFile, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, test, vi } from 'vitest';
import { type Database, openDatabase } from '#db/database.ts';
import { appendAll } from '#db/journal/bulk.ts';
import { headOfJournal, verifyChain } from '#db/journal/chain.ts';
import { record } from '#db/journal/journal.ts';
import { migrate } from '#db/migrate.ts';
import { instanceOf } from '#db/opening/marker.ts';
import { openRemoteLog } from '#db/remote/openRemoteLog.ts';
import { restoreRemote } from '#db/remote/restoreRemote.ts';
import { stagingTableName } from '#db/remote/staging.ts';
import { makeBackup } from '#db/safety/backup.ts';
import { openMirror } from '#db/safety/mirror.ts';
import { projectionDump } from '#db/safety/upkeep.ts';
import { nextId, storyStartMs } from '#tests/support/brewery.ts';
import { aLongLog } from '#tests/support/longLog.ts';
import { aRemoteServer, type RemoteServer } from '#tests/support/remoteServer.ts';
import { aSession } from '#tests/support/signedIn.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const nowMs = Date.UTC(2026, 9, 20, 9);
const restoring = { withMirror: true, nowMs, newId: 'a-new-one' };
// Less than the whole of it, and than its journal.
const mostBytes = 800_000;

// A log in a file that is longer than one request, a backup of it, and an entry that only the mirror has.
let folder: string;
let log: Database;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'barmbook-restore-'));
  log = await openDatabase(`file:${join(folder, 'log.db')}`);
  await migrate(log, storyStartMs);
  await instanceOf(log, { id: 'the-log', createdMs: storyStartMs });
  const { entries, readings } = aLongLog(900);
  await appendAll(log, [...entries, ...readings], { actor: 'ines', via: 'web' });
  await aSession(log, { userName: 'ines', roles: ['head'], atMs: nowMs });
  await makeBackup(log, { folder, nowMs, reason: 'asked' });
  await record(
    log,
    nextId(),
    { kind: 'vessel', happenedAt: new Date(nowMs).toISOString(), by: 'Ines', name: 'Later' },
    { receivedMs: nowMs, actor: 'ines', via: 'web' },
  );
  await (await openMirror(join(folder, 'mirror'), log)).catchUp();
});
afterAll(async () => {
  await log.close();
  await rm(folder, { recursive: true });
});

const servers: RemoteServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await server.remove();
});

async function anEmptyServer(given: Parameters<typeof aRemoteServer>[0] = {}) {
  const server = await aRemoteServer(given);
  servers.push(server);
  server.faults.mostBytes = mostBytes;
  const place = {
    url: server.url,
    authToken: server.token,
    backupFolder: folder,
    mirrorFolder: join(folder, 'mirror'),
  };
  const restore = async () => {
    const scratch = await mkdtemp(join(folder, 'scratch-'));
    return restoreRemote(place, { ...restoring, scratch });
  };
  return { server, place, restore };
}

const beside = ['journal', 'account', 'account_role', 'session', 'security_event', 'instance'];

async function expectWhole(server: RemoteServer): Promise<void> {
  const database = await openDatabase(server.url, server.token);
  const sorted = beside.map((table) => `SELECT * FROM ${table} ORDER BY 1`);
  const [found, expected] = await Promise.all(
    [database, log].map(async ({ together }) =>
      (await together(sorted)).map(({ rows }) => rows.map((row) => ({ ...row }))),
    ),
  );
  expect(found).toEqual(expected);
  expect(await projectionDump(database)).toEqual(await projectionDump(log));
  expect(await verifyChain(database)).toMatchObject({ sound: true, ...(await headOfJournal(log)) });
  const { rows } = await database.execute(`SELECT count(*) AS n FROM ${stagingTableName}`);
  expect(rows[0]?.n).toBe(0);
  await database.close();
}

async function tablesOn(server: RemoteServer): Promise<unknown[]> {
  const database = await openDatabase(server.url, server.token);
  const { rows } = await database.execute(
    "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name",
  );
  await database.close();
  return rows.map(({ name }) => name);
}
const ownToServers = [stagingTableName, 'write_turn'];

test('a backup and the mirror are put onto an empty server in bounded requests, and it opens', async () => {
  const { server, place, restore } = await anEmptyServer();
  const restored = await restore();
  expect(restored).toMatchObject({ entriesOfMirror: 1, head: (await headOfJournal(log)).head });
  expect(restored.entriesOfBackup).toBe(910);
  await expectWhole(server);
  expect(server.seen.refused).toEqual([]);
  expect(server.seen.largestBytes).toBeLessThan(mostBytes);
  const opened = await openRemoteLog(place, { nowMs, newId: 'another' });
  expect(opened.instance.id).toBe('the-log');
  await record(
    opened.database,
    nextId(),
    { kind: 'vessel', happenedAt: new Date(nowMs).toISOString(), by: 'Ines', name: 'After' },
    { receivedMs: nowMs, actor: 'ines', via: 'web' },
  );
  expect(await verifyChain(opened.database)).toMatchObject({ sound: true });
  await opened.close();
});

test('a server that holds anything is refused, says what it holds, and stays as it was', async () => {
  const { server, restore } = await anEmptyServer();
  const database = await openDatabase(server.url, server.token);
  await database.write(['CREATE TABLE recipe (a TEXT) STRICT', "INSERT INTO recipe VALUES ('x')"]);
  await database.close();
  await expect(restore()).rejects.toThrow(
    /not empty \(it has recipe …\); nothing was changed.*make a new one/,
  );
  expect(await tablesOn(server)).toEqual(['recipe', ...ownToServers].sort());
  const { server: used, restore: again } = await anEmptyServer();
  await again();
  await expect(again()).rejects.toThrow('not empty');
  await expectWhole(used);
});

test('answers and requests that are lost leave no half of it, and nothing twice', async () => {
  const { server, restore } = await anEmptyServer({ seed: 11 });
  server.faults.dropAnswers = 0.15;
  server.faults.dropRequests = 0.1;
  await restore();
  expect(server.seen.dropped).toBeGreaterThan(3);
  server.faults.dropAnswers = 0;
  server.faults.dropRequests = 0;
  await expectWhole(server);
});

test('a server that goes away half way is left empty or whole; the next try brings all', async () => {
  const { server: measured, restore: measure } = await anEmptyServer();
  await measure();
  const { requests } = measured.seen;
  const { server, restore } = await anEmptyServer();
  // While it looks, and while it puts rows by.
  for (const taken of [4, 14]) {
    server.faults.requestsLeft = taken;
    await expect(restore()).rejects.toThrow(/database server/);
    server.faults.requestsLeft = Number.POSITIVE_INFINITY;
    expect(await tablesOn(server)).toEqual(ownToServers);
  }
  // All has arrived, but cannot be looked over.
  server.faults.requestsLeft = requests - 3;
  await expect(restore()).rejects.toThrow(/database server/);
  server.faults.requestsLeft = Number.POSITIVE_INFINITY;
  await expectWhole(server);
});

test('a server that takes only small requests is told of with its size, and stays empty', async () => {
  const { server, restore } = await anEmptyServer();
  server.faults.mostBytes = 50_000;
  await expect(restore()).rejects.toThrow(
    /takes no request of \d+ kB; nothing was saved. Raise its limit/,
  );
  expect(await tablesOn(server)).toEqual(ownToServers);
});

test('a backup that is damaged is not sent', async () => {
  const { server, place } = await anEmptyServer();
  const { file, manifest } = await makeBackup(log, {
    folder: await mkdtemp(join(folder, 'damaged-')),
    nowMs,
    reason: 'asked',
  });
  await copyFile(join(folder, 'log.db'), file);
  const scratch = await mkdtemp(join(folder, 'scratch-'));
  const backup = { file, manifest };
  await expect(restoreRemote(place, { ...restoring, backup, scratch })).rejects.toThrow(
    'cannot be relied on: it is not the file that was written',
  );
  expect(await tablesOn(server)).toEqual(ownToServers);
});
