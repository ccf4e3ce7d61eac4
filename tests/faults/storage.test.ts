import { execFileSync } from 'node:child_process';
import { chmodSync, chownSync, existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, expect, test, vi } from 'vitest';
import { createApp } from '#api/app.ts';
import { jsonLog } from '#api/log.ts';
import { createUpkeep } from '#api/upkeep/upkeep.ts';
import { type Database, openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { openLog } from '#db/opening/openLog.ts';
import { asHead } from './asHead.ts';
import { aFolder, aSeed, type Folder, mixedEntry, newId, soundReport } from './rig.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const folders: Folder[] = [];
const mounts: string[] = [];
afterAll(async () => {
  for (const mount of mounts) execFileSync('umount', ['-l', mount]);
  for (const folder of folders) await folder.remove();
});

async function ownFolder(within?: string): Promise<Folder> {
  const folder = await aFolder(within);
  folders.push(folder);
  return folder;
}

/** A disk of 4 MB where this machine lets us make one. */
async function smallDisk(): Promise<string | undefined> {
  const { path } = await ownFolder();
  const mount = join(path, 'disk');
  mkdirSync(mount);
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=4m', 'none', mount], { stdio: 'ignore' });
    mounts.push(mount);
    return mount;
  } catch {
    return undefined;
  }
}

async function anApp(database: Database, folder: Folder, leastFreeBytes = 0) {
  const upkeep = await createUpkeep({
    database,
    settings: { ...folder, secondFolder: undefined, everyHours: 0, leastFreeBytes },
    now: Date.now,
    newId,
    log: jsonLog(() => undefined, Date.now),
  });
  const app = createApp({ database, now: Date.now, upkeep });
  const send = await asHead(app, database);
  return {
    upkeep,
    get: (path: string) => send('GET', path),
    put: (entry: unknown, id = newId()) => send('PUT', `/api/entries/${id}`, entry),
  };
}

test('a full disk: whole entries or none, reading goes on, and room brings writing back', async () => {
  const disk = await smallDisk();
  const folder = await ownFolder(disk);
  const database = await openDatabase(pathToFileURL(folder.file).href);
  await migrate(database, Date.now());
  const api = await anApp(database, folder);
  const seed = await aSeed(api);
  // Where no small disk can be made, the engine is told that there are no more pages.
  const fill = async () => {
    if (disk === undefined) {
      const { rows } = await database.execute('PRAGMA page_count');
      await database.execute(`PRAGMA max_page_count = ${Number(rows[0]?.page_count) + 4}`);
    } else
      execFileSync('sh', ['-c', `head -c 8M /dev/zero > ${disk}/ballast || true`], {
        stdio: 'ignore',
      });
  };
  const empty = async () => {
    if (disk === undefined) await database.execute('PRAGMA max_page_count = 1000000');
    else rmSync(join(disk, 'ballast'));
  };
  const entriesNow = async () =>
    Number((await database.execute('SELECT count(*) AS n FROM journal')).rows[0]?.n);

  await fill();
  let written = await entriesNow();
  let refused = 0;
  for (let n = 0; refused < 50 && n < 5_000; n += 1) {
    const { status, body, response } = await api.put(mixedEntry(seed, n));
    if (status === 201) {
      written += 1;
      continue;
    }
    refused += 1;
    expect({ status, code: body.code }).toEqual({ status: 503, code: 'storage_full' });
    expect(response.headers.get('retry-after')).toBe('10');
  }
  expect(refused).toBe(50);
  expect(await entriesNow()).toBe(written);
  expect((await api.get('/api/entries')).status).toBe(200);
  expect((await api.get('/readyz')).body).toMatchObject({ ready: false, missing: ['disk'] });
  await empty();
  await api.upkeep.jobs.watch();
  expect((await api.get('/readyz')).body).toMatchObject({ ready: true, missing: [] });
  expect((await api.put(mixedEntry(seed, 1))).status).toBe(201);
  await database.close();
  expect((await soundReport(folder.file)).entries).toBe(written + 1);
});

test('the guard refuses before the disk is full, and lets go when there is room', async () => {
  const folder = await ownFolder();
  const { database, close } = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const wanting = await anApp(database, folder, 1e15);
  await wanting.upkeep.jobs.watch();
  const refused = await wanting.put({
    kind: 'vessel',
    happenedAt: new Date().toISOString(),
    by: 'Ines',
    name: 'FV9',
  });
  expect(refused).toMatchObject({ status: 503, body: { code: 'storage_full' } });
  expect((await wanting.get('/api/entries')).status).toBe(200);
  database.writeStops.set('disk', undefined);
  const content = await anApp(database, folder, 1);
  await content.upkeep.jobs.watch();
  expect((await content.get('/readyz')).body.ready).toBe(true);
  await aSeed(content);
  await close();
});

test('a file that turns read-only stops writing, not reading, and is tried again', async () => {
  const folder = await ownFolder();
  const { database, close } = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const api = await anApp(database, folder);
  const seed = await aSeed(api);
  await database.execute('PRAGMA query_only = ON');
  const refused = await api.put(mixedEntry(seed, 0));
  expect(refused).toMatchObject({ status: 503, body: { code: 'read_only' } });
  expect((await api.get('/api/entries')).status).toBe(200);
  expect((await api.get('/readyz')).body).toMatchObject({ missing: ['readonly'] });
  await api.upkeep.jobs.watch();
  expect((await api.get('/readyz')).body).toMatchObject({ missing: [] });
  expect((await api.put(mixedEntry(seed, 0))).status).toBe(201);
  await close();
});

const nobody = 65_534;

// Root may write anywhere, so as root the test becomes someone else in a process of its own.
function openAs(folder: Folder, uid: number | undefined) {
  const script = `
    const { openLog } = await import('#db/opening/openLog.ts');
    const [path] = process.argv.slice(1);
    const place = { file: path + '/barmbook.db', backupFolder: path + '/backups', mirrorFolder: undefined };
    await openLog(place, { nowMs: 0, newId: 'a' }).then(
      () => process.exit(0),
      (error) => { console.log(error.message); process.exit(error.exitCode ?? 1); },
    );`;
  try {
    execFileSync(
      process.execPath,
      ['--import', 'tsx', '--input-type=module', '-e', script, folder.path],
      {
        stdio: ['ignore', 'pipe', 'pipe'],
        env: { ...process.env, HOME: folder.path, TMPDIR: '/tmp' },
        ...(uid === undefined ? {} : { uid, gid: uid }),
      },
    );
    return { exitCode: 0, said: '' };
  } catch (error) {
    const { status, stdout } = Object(error);
    return { exitCode: Number(status), said: String(stdout) };
  }
}

test('a folder that cannot be written is refused in one line, and nothing is made in it', async () => {
  const folder = await ownFolder();
  const uid = process.getuid?.() === 0 ? nobody : undefined;
  chmodSync(folder.path, 0o555);
  const { exitCode, said } = openAs(folder, uid);
  chmodSync(folder.path, 0o755);
  expect(exitCode).toBe(7);
  expect(said.trim().split('\n')).toHaveLength(1);
  expect(said).toContain('cannot be written');
  expect(existsSync(folder.file)).toBe(false);
});

test('a file that cannot be written is refused, and stays as it is', async () => {
  const folder = await ownFolder();
  const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  await log.close();
  const uid = process.getuid?.() === 0 ? nobody : undefined;
  if (uid !== undefined) chownSync(folder.path, uid, uid);
  chmodSync(folder.file, 0o400);
  const { exitCode, said } = openAs(folder, uid);
  expect(exitCode).toBe(7);
  expect(said.trim().split('\n')).toHaveLength(1);
});

test('a disk that is not there, where a log stood: no new log is made', async () => {
  const folder = await ownFolder();
  const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  await log.close();
  rmSync(folder.file);
  const { exitCode, said } = openAs(folder, undefined);
  expect(exitCode).toBe(3);
  expect(said).toContain('missing or empty');
  expect(existsSync(folder.file)).toBe(false);
  writeFileSync(folder.file, '');
  expect(openAs(folder, undefined).exitCode).toBe(3);
});
