import { once } from 'node:events';
import { chmod, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { openDatabase } from '#db/database.ts';
import { verifyChain } from '#db/journal/chain.ts';
import { migrate } from '#db/migrate.ts';
import { exitCodes } from '#db/opening/startRefusal.ts';
import { makeBackup } from '#db/safety/backup.ts';
import { aRemoteServer, type RemoteServer } from '#tests/support/remoteServer.ts';
import { aSession } from '#tests/support/signedIn.ts';
import {
  aClient,
  aFolder,
  aSeed,
  aSeededLog,
  type Folder,
  launch,
  mixedEntry,
  newId,
  pause,
  startedServer,
  startServer,
  times,
} from './rig.ts';

const folders: Folder[] = [];
const servers: RemoteServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await server.remove();
  for (const folder of folders.splice(0)) await folder.remove();
});

async function ownFolder(): Promise<Folder> {
  const folder = await aFolder();
  folders.push(folder);
  return folder;
}

/** A stand-in for a database server, with a log in it and the session of a head brewer. */
async function aSignedInServer(given: Parameters<typeof aRemoteServer>[0] = {}) {
  const server = await aRemoteServer(given);
  servers.push(server);
  const database = await openDatabase(server.url, server.token);
  await migrate(database, Date.now());
  const { cookie } = await aSession(database, {
    userName: 'ines',
    roles: ['head'],
    atMs: Date.now(),
  });
  const settings = { DATABASE_URL: server.url, DATABASE_AUTH_TOKEN: server.token };
  return { server, database, cookie, settings };
}

async function ran(program: readonly string[], folder: Folder, settings: Record<string, string>) {
  const child = launch(program, folder, settings);
  let output = '';
  for (const end of [child.stdout, child.stderr])
    end?.on('data', (part: Buffer) => {
      output += part;
    });
  await once(child, 'close');
  return { exitCode: child.exitCode, output };
}

test('a start says in one line why the database server cannot be used', async () => {
  const folder = await ownFolder();
  const { server, settings } = await aSignedInServer();
  const loose = join(folder.path, 'token');
  await writeFile(loose, `${server.token}\n`);
  await chmod(loose, 0o644);
  const { DATABASE_URL } = settings;
  const cases: [Record<string, string>, number, string][] = [
    [
      { DATABASE_URL, DATABASE_AUTH_TOKEN: 'wrong' },
      exitCodes.unusable,
      'The log on the database server cannot be opened. The database server does not accept the token.',
    ],
    [
      { DATABASE_URL: 'http://127.0.0.1:47191', DATABASE_AUTH_TOKEN: 'x' },
      exitCodes.unusable,
      'The log on the database server cannot be opened. The database server cannot be reached',
    ],
    [{ DATABASE_URL: 'http://log.example.org' }, 1, 'http:// is for this machine alone'],
    [{ DATABASE_URL: 'libsql://log.example.org?authToken=x' }, 1, 'must not hold the token'],
    [{ DATABASE_URL, DATABASE_AUTH_TOKEN_FILE: loose }, 1, `chmod 600 ${loose}`],
    [{ DATABASE_URL, DATABASE_AUTH_TOKEN_FILE: `${loose}.none` }, 1, 'cannot be read'],
  ];
  for (const [given, exitCode, says] of cases) {
    const ended = await startServer(folder, given);
    if (!('exitCode' in ended)) throw new Error('It started.');
    expect(ended.output).toContain(says);
    expect(ended.exitCode).toBe(exitCode);
    expect(ended.output).not.toMatch(/\n\s+at /);
  }
  await chmod(loose, 0o600);
  const started = await startedServer(folder, { DATABASE_URL, DATABASE_AUTH_TOKEN_FILE: loose });
  expect(await started.end('SIGTERM')).toBe(0);
});

test('two servers of ours on one database keep one chain, though every tenth answer is lost', async () => {
  const { server, database, cookie, settings } = await aSignedInServer({ seed: 5 });
  const places = [await ownFolder(), await ownFolder()];
  const running = await Promise.all(places.map((folder) => startedServer(folder, settings)));
  const clients = running.map(({ url }) => aClient(url, cookie));
  const [first] = clients;
  if (first === undefined) throw new Error('There are two.');
  const seed = await aSeed(first);
  server.faults.dropAnswers = 0.1;
  const each = times(15, 200);
  await Promise.all(
    clients.map(async ({ put }) => {
      for (let n = 0; n < each; n += 1) {
        const id = newId();
        // As a device does with what waits: the same again until it is answered.
        for (let status = 0; status !== 200 && status !== 201; )
          status = (await put(mixedEntry(seed, n), id)).status;
      }
    }),
  );
  server.faults.dropAnswers = 0;
  const total = 5 + 2 * each;
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries: total });
  for (const { get } of clients) {
    const { body } = await get('/api/upkeep');
    expect(body).toMatchObject({ log: { entries: total }, isKeptHere: true, isOnServer: true });
  }
  expect(server.seen.dropped).toBeGreaterThan(each / 2);
  expect(server.seen.refused).toEqual([]);
  for (const { end } of running) expect(await end('SIGTERM')).toBe(0);
  await database.close();
});

test('while the database server is gone it says so, and goes on by itself when it is back', async () => {
  const { server, database, cookie, settings } = await aSignedInServer();
  const running = await startedServer(await ownFolder(), settings);
  const client = aClient(running.url, cookie);
  const seed = await aSeed(client);
  await server.stop();
  const read = await client.get('/api/today');
  expect(read).toMatchObject({
    status: 503,
    body: { code: 'unavailable', title: 'The log cannot be reached just now; nothing was saved' },
  });
  const id = newId();
  const written = await client.put(mixedEntry(seed, 0), id);
  expect(written).toMatchObject({
    status: 503,
    body: { detail: 'The database server cannot be reached (ECONNREFUSED).' },
  });
  expect((await client.get('/readyz')).body).toMatchObject({ missing: ['database'] });
  await server.start();
  expect((await client.put(mixedEntry(seed, 0), id)).status).toBe(201);
  expect((await client.get('/api/today')).status).toBe(200);
  await pause(100);
  expect(await running.end('SIGTERM')).toBe(0);
  await database.close();
});

test('the commands for the log work on a server, or say in one line why not', async () => {
  const { server, database, cookie, settings } = await aSignedInServer();
  const folder = await ownFolder();
  const running = await startedServer(folder, settings);
  const client = aClient(running.url, cookie);
  const seed = await aSeed(client);
  for (let n = 0; n < 6; n += 1) await client.put(mixedEntry(seed, n));
  const second = await startedServer(folder, settings);
  expect((await aClient(second.url, cookie).get('/api/upkeep')).body).toMatchObject({
    isKeptHere: false,
    backup: { everyHours: 0 },
    mirror: { isKept: false },
  });
  expect(await second.end('SIGTERM')).toBe(0);
  expect((await client.post('/api/upkeep/backups')).body).toMatchObject({ entries: 11 });
  const maintain = (...given: string[]) => ran(['api/maintain.ts', ...given], folder, settings);
  expect(await maintain('backup')).toMatchObject({
    exitCode: 0,
    output: expect.stringContaining('11 entries'),
  });
  expect(await running.end('SIGTERM')).toBe(0);
  expect(await maintain('verify')).toMatchObject({
    exitCode: 0,
    output: expect.stringContaining('Sound: 11 entries'),
  });
  expect(await maintain('rebuild')).toMatchObject({ output: 'Rebuilt from 11 entries\n' });
  expect(await maintain('restore', '--drill')).toMatchObject({
    output: expect.stringMatching(/brings back 11 entries, 0 would be lost/),
  });
  const refused = await maintain('restore');
  expect(refused).toMatchObject({
    exitCode: 1,
    output: expect.stringMatching(/^The database on the server is not empty.*make a new one.*\n$/),
  });
  await database.write(["UPDATE vessel SET name = 'Altered'"]);
  expect(await maintain('verify')).toMatchObject({
    exitCode: exitCodes.unusable,
    output: expect.stringContaining('the table vessel does not say what the journal says'),
  });
  expect(server.seen.refused).toEqual([]);
  await database.close();
  // The way back without the server: a file from the backup.
  const file = { ...settings, DATABASE_URL: '', DATABASE_AUTH_TOKEN: '' };
  expect(await ran(['api/maintain.ts', 'restore'], folder, file)).toMatchObject({
    exitCode: 0,
    output: expect.stringContaining('11 entries'),
  });
});

test('npm run restore moves a log from a file onto an empty database server', async () => {
  const folder = await ownFolder();
  await aSeededLog(folder, ({ database }) =>
    makeBackup(database, {
      folder: folder.backupFolder,
      nowMs: Date.now(),
      reason: 'asked',
    }).then(() => undefined),
  );
  const server = await aRemoteServer();
  servers.push(server);
  const settings = { DATABASE_URL: server.url, DATABASE_AUTH_TOKEN: server.token };
  for (const command of ['restore', 'verify'])
    expect(await ran(['api/maintain.ts', command], folder, settings)).toMatchObject({
      exitCode: 0,
      output: expect.stringContaining('5 entries'),
    });
  expect(server.seen.refused).toEqual([]);
});

test('a server that was set back, or is another one, is refused by what the mirror knows', async () => {
  const { database, cookie, settings } = await aSignedInServer();
  const folder = await ownFolder();
  const running = await startedServer(folder, settings);
  await aSeed(aClient(running.url, cookie));
  expect(await running.end('SIGTERM')).toBe(0);
  const other = await aSignedInServer();
  const ended = await startServer(folder, other.settings);
  expect(ended).toMatchObject({
    exitCode: exitCodes.missing,
    output: expect.stringContaining('is older than its mirror'),
  });
  await database.close();
  await other.database.close();
});
