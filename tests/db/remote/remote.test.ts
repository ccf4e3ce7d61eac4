import { createClient } from '@libsql/client';
import { afterEach, expect, test } from 'vitest';
import { openDatabase } from '#db/database.ts';
import { verifyChain } from '#db/journal/chain.ts';
import { record } from '#db/journal/journal.ts';
import { appliedSteps, migrate, readMigrations } from '#db/migrate.ts';
import { openRemote } from '#db/remote/openRemote.ts';
import { domainErrorIn } from '#shared/errors.ts';
import { aStrain, at, nextId, storyStartMs } from '#tests/support/brewery.ts';
import { aRemoteServer, type RemoteServer } from '#tests/support/remoteServer.ts';

const servers: RemoteServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await server.remove();
});

async function aServer(given: Parameters<typeof aRemoteServer>[0] = {}) {
  const server = await aRemoteServer(given);
  servers.push(server);
  return server;
}

const usual = { withinMs: 5_000, writeWithinMs: 15_000 };
const soon = { withinMs: 1_000, writeWithinMs: 3_000 };

async function aLogOn(server: RemoteServer, limits = usual) {
  const database = await openRemote(server.url, server.token, limits);
  await migrate(database, storyStartMs);
  return database;
}

const source = (hours: number) =>
  ({ receivedMs: Date.parse(at(hours)), actor: 'ines', via: 'web' }) as const;
const aVessel = (name: string) =>
  ({ kind: 'vessel', happenedAt: at(0), by: 'Ines', name }) as const;

test('the stand-in speaks to the driver itself: batches, transactions, refusals', async () => {
  const server = await aServer({ idleMs: 1_000 });
  const client = createClient({ url: server.url, authToken: server.token });
  await client.batch(['CREATE TABLE t (a INTEGER PRIMARY KEY, b TEXT) STRICT'], 'write');
  const failing = ["INSERT INTO t VALUES (1, 'x')", "INSERT INTO t VALUES (1, 'y')"];
  await expect(client.batch(failing, 'write')).rejects.toMatchObject({ code: 'SQLITE_CONSTRAINT' });
  expect((await client.execute('SELECT * FROM t')).rows).toEqual([]);
  const transaction = await client.transaction('write');
  await transaction.execute({ sql: 'INSERT INTO t VALUES (:a, :b)', args: { a: 7, b: 'seven' } });
  await transaction.commit();
  const { rows } = await client.execute('SELECT a, b, 1.5 AS c, NULL AS d FROM t');
  expect(rows.map((row) => ({ ...row }))).toEqual([{ a: 7, b: 'seven', c: 1.5, d: null }]);
  const late = await client.transaction('write');
  await late.execute("INSERT INTO t VALUES (8, 'eight')");
  await new Promise((resolve) => setTimeout(resolve, 1_500));
  await expect(late.execute('SELECT 1')).rejects.toMatchObject({ code: 'STREAM_EXPIRED' });
  expect((await client.execute('SELECT a FROM t')).rows).toHaveLength(1);
  client.close();
});

const refused = [
  'VACUUM',
  "VACUUM INTO '/tmp/copy.db'",
  "ATTACH DATABASE '/tmp/copy.db' AS other",
  'REINDEX',
  'ANALYZE',
  'PRAGMA optimize',
  'PRAGMA wal_checkpoint(TRUNCATE)',
  'PRAGMA journal_mode = WAL',
  'PRAGMA synchronous = FULL',
  'PRAGMA busy_timeout = 100',
  'PRAGMA recursive_triggers = ON',
  'PRAGMA application_id = 1',
  'PRAGMA query_only = ON',
  'PRAGMA defer_foreign_keys = ON',
  'CREATE TEMP TABLE t (a)',
  'CREATE TEMPORARY VIEW v AS SELECT 1',
];

test.each(refused)('the stand-in refuses %s, as a server does', async (sql) => {
  const server = await aServer();
  const client = createClient({ url: server.url, authToken: server.token });
  await expect(client.execute(sql)).rejects.toThrow('SQL not allowed');
  expect(server.seen.refused).toEqual([sql]);
  client.close();
});

test('migrate(database) takes every step on a server, and nothing it refuses', async () => {
  const server = await aServer();
  const database = await aLogOn(server);
  expect(await appliedSteps(database)).toHaveLength((await readMigrations()).length);
  await migrate(database, storyStartMs);
  expect(server.seen.refused).toEqual([]);
  await database.close();
});

test('two programs that start at once on an empty server take each step once', async () => {
  const server = await aServer();
  const databases = await Promise.all([aLogOn(server), aLogOn(server), aLogOn(server)]);
  const [first] = databases;
  expect(first && (await appliedSteps(first))).toHaveLength((await readMigrations()).length);
  for (const database of databases) await database.close();
});

test('openRemote(url) refuses a wrong token, a server that is gone, and one without references', async () => {
  const server = await aServer();
  await expect(openDatabase(server.url, 'another')).rejects.toMatchObject({
    exitCode: 7,
    message:
      'The log on the database server cannot be opened. The database server does not accept the token.',
  });
  await expect(openDatabase(server.url)).rejects.toThrow('does not accept the token');
  const loose = await aServer({ foreignKeys: false });
  await expect(openDatabase(loose.url, loose.token)).rejects.toThrow('foreign_keys is off');
  await server.stop();
  await expect(openDatabase(server.url, server.token)).rejects.toMatchObject({
    exitCode: 7,
    message:
      'The log on the database server cannot be opened. The database server cannot be reached (ECONNREFUSED).',
  });
});

test('a write whose answer is lost is looked for, and made once', async () => {
  const server = await aServer({ seed: 7 });
  const database = await aLogOn(server);
  server.faults.dropAnswers = 0.15;
  server.faults.dropRequests = 0.05;
  const ids = Array.from({ length: 20 }, nextId);
  for (const [index, id] of ids.entries()) {
    await database.write([`INSERT INTO upkeep_event (at_ms, kind, detail) VALUES (1, 'x', '{}')`]);
    // A caller that was told nothing sends the same again.
    for (;;)
      try {
        await record(database, id, aVessel(`FV${index}`), source(1));
        break;
      } catch (error) {
        expect(domainErrorIn(error)?.code).toMatch(/unanswered|unavailable/);
      }
  }
  server.faults.dropAnswers = 0;
  server.faults.dropRequests = 0;
  expect(server.seen.dropped).toBeGreaterThan(20);
  const { rows } = await database.execute(
    "SELECT (SELECT count(*) FROM vessel) AS v, (SELECT count(*) FROM upkeep_event WHERE kind = 'x') AS e",
  );
  expect({ ...rows[0] }).toEqual({ v: 20, e: 20 });
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries: 20 });
  await database.close();
});

test('a write of which no answer ever comes is found by looking, and the same again changes nothing', async () => {
  const server = await aServer();
  const database = await aLogOn(server);
  server.faults.dropAnswers = 1;
  const id = nextId();
  const recorded = record(database, id, aVessel('FV1'), source(1));
  await expect(recorded).rejects.toMatchObject({ code: 'unavailable' });
  // Reads answer again, and the write goes through unheard.
  server.faults.dropWrites = true;
  server.faults.dropAnswers = 0;
  await expect(record(database, id, aVessel('FV1'), source(1))).resolves.toMatchObject({
    isReplay: false,
  });
  server.faults.dropWrites = false;
  await expect(record(database, id, aVessel('FV1'), source(1))).resolves.toMatchObject({
    isReplay: true,
  });
  await database.close();
});

test('a server that stalls is given up in time, and used again when it answers', async () => {
  const server = await aServer();
  const database = await aLogOn(server, soon);
  server.faults.isStalled = true;
  const beganMs = performance.now();
  await expect(database.execute('SELECT 1')).rejects.toMatchObject({
    code: 'unavailable',
    message: 'The database server did not answer in time.',
  });
  expect(performance.now() - beganMs).toBeLessThan(5_000);
  expect(database.fault()).toMatchObject({ code: 'unavailable' });
  await expect(database.write(['DELETE FROM upkeep_event'])).rejects.toMatchObject({
    code: 'unanswered',
  });
  server.faults.isStalled = false;
  await database.write(['DELETE FROM upkeep_event']);
  expect(database.fault()).toBe(undefined);
  await database.close();
});

test.each([500, 502, 503, 429])(
  'HTTP %i is tried again for reads, and told when it lasts',
  async (status) => {
    const server = await aServer();
    const database = await aLogOn(server);
    server.faults.status = status;
    await expect(database.execute('SELECT 1')).rejects.toMatchObject({ code: 'unavailable' });
    const read = database.execute('SELECT 1 AS one');
    setTimeout(() => {
      server.faults.status = undefined;
    }, 50);
    expect((await read).rows[0]?.one).toBe(1);
    await database.close();
  },
);

test('of two programs that looked at the same state one writes and the other looks again', async () => {
  const server = await aServer();
  const one = await aLogOn(server);
  const other = await aLogOn(server);
  const seen: number[] = [];
  const count = async () =>
    Number((await one.execute('SELECT count(*) AS n FROM upkeep_event')).rows[0]?.n);
  const note = `INSERT INTO upkeep_event (at_ms, kind, detail) VALUES (1, 'x', '{}')`;
  await one.alone(async (write) => {
    seen.push(await count());
    if (seen.length === 1) await other.write([note]);
    await write([note]);
  });
  expect(seen).toEqual([0, 1]);
  expect(await count()).toBe(2);
  await one.close();
  await other.close();
});

test('two programs that write at once keep one unbroken chain, each entry once', async () => {
  const server = await aServer({ seed: 3 });
  const databases = [await aLogOn(server), await aLogOn(server)];
  server.faults.dropAnswers = 0.1;
  const strainId = nextId();
  const writeAll = async (database: (typeof databases)[number], name: string) => {
    for (let n = 0; n < 20; n += 1) {
      const id = nextId();
      for (let isKept = false; !isKept; )
        isKept = await record(database, id, aVessel(`${name}${n}`), source(1)).then(
          () => true,
          (error: unknown) => {
            expect(domainErrorIn(error)?.code).toMatch(/unanswered|unavailable/);
            return false;
          },
        );
    }
  };
  const [one, other] = databases;
  if (one === undefined || other === undefined) throw new Error('There are two.');
  await record(one, strainId, aStrain(), source(1));
  await Promise.all([writeAll(one, 'A'), writeAll(other, 'B')]);
  server.faults.dropAnswers = 0;
  expect(await verifyChain(one)).toMatchObject({ sound: true, entries: 41 });
  expect((await other.execute('SELECT count(*) AS n FROM vessel')).rows[0]?.n).toBe(40);
  expect(server.seen.refused).toEqual([]);
  await one.close();
  await other.close();
});
