import { existsSync } from 'node:fs';
import { appendFile, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { jsonLog } from '#api/log.ts';
import { wantedFile } from '#api/upkeep/backups.ts';
import { createUpkeep } from '#api/upkeep/upkeep.ts';
import { record } from '#db/journal/journal.ts';
import { type OpenLog, openLog } from '#db/opening/openLog.ts';
import { listBackups, makeBackup, readBackup } from '#db/safety/backup.ts';
import { restoreDrill } from '#db/safety/drill.ts';
import { mirrorEnd, mirroredAfter, openMirror } from '#db/safety/mirror.ts';
import { restore } from '#db/safety/restore.ts';
import { hourMs } from '#shared/durations.ts';
import { aFolder, aSeed, type Folder, mixedEntry, newId, type Seed, soundReport } from './rig.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const folders: Folder[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await folder.remove();
});

async function ownFolder(): Promise<Folder> {
  const folder = await aFolder();
  folders.push(folder);
  return folder;
}

const opened = (folder: Folder) => openLog(folder, { nowMs: Date.now(), newId: newId() });

function writerOf({ database }: OpenLog) {
  return async (entry: unknown, id = newId()) => {
    const source = { receivedMs: Date.now(), actor: 'ines', via: 'web' as const };
    const { recorded } = await record(database, id, Object(entry), source);
    return { status: 201, body: { id: recorded.id }, ms: 0 };
  };
}

async function written(log: OpenLog, seed: Seed, from: number, to: number): Promise<void> {
  const put = writerOf(log);
  for (let n = from; n < to; n += 1) await put(mixedEntry(seed, n));
}

const backedUp = (log: OpenLog, folder: Folder, nowMs = Date.now()) =>
  makeBackup(log.database, { folder: folder.backupFolder, nowMs, reason: 'asked' });

/** Two backups, and entries after the newest that only the mirror has. */
async function aLogWithBackups() {
  const folder = await ownFolder();
  const log = await opened(folder);
  const seed = await aSeed({ put: writerOf(log) });
  const mirror = await openMirror(folder.mirrorFolder, log.database);
  await written(log, seed, 0, 4);
  const older = await backedUp(log, folder, Date.now() - hourMs);
  await written(log, seed, 4, 8);
  const newest = await backedUp(log, folder);
  await written(log, seed, 8, 12);
  const { seq, hash } = await mirror.catchUp();
  return { folder, log, seed, older, newest, seq, hash };
}

test('a backup says what it holds, and is the log it was taken from', async () => {
  const { newest, folder, log } = await aLogWithBackups();
  const report = await soundReport(newest.file);
  expect(newest.manifest).toMatchObject({
    entries: 13,
    head: report.head,
    counts: { journal: 13, stain: 2 },
  });
  expect(newest.manifest.instanceId).toBe(log.instance.id);
  expect((await listBackups(folder.backupFolder)).map(({ file }) => file)[0]).toBe(newest.file);
  expect((await readdir(folder.backupFolder)).filter((name) => name.includes('partial'))).toEqual(
    [],
  );
  await log.close();
});

test('the drill brings back every entry, from the newest backup and the mirror', async () => {
  const { folder, log, seq, hash, newest } = await aLogWithBackups();
  const began = performance.now();
  const drill = await restoreDrill(log.database, folder, {
    nowMs: Date.now(),
    newId: newId(),
    scratch: folder.path,
  });
  console.log('restore drill', {
    entries: drill.entries,
    ms: Math.round(performance.now() - began),
  });
  expect(drill).toMatchObject({ entries: seq, head: hash, lost: 0, passedOver: [] });
  expect(drill.backup.file).toBe(newest.file);
  await log.close();
});

test('the drill passes over a damaged backup and says so', async () => {
  const { folder, log, seq, older, newest } = await aLogWithBackups();
  const bytes = await readFile(newest.file);
  bytes[5000] = (bytes[5000] ?? 0) ^ 1;
  await writeFile(newest.file, bytes);
  const drill = await restoreDrill(log.database, folder, {
    nowMs: Date.now(),
    newId: newId(),
    scratch: folder.path,
  });
  expect(drill.passedOver).toEqual([
    { file: newest.file, why: 'it is not the file that was written' },
  ]);
  expect(drill).toMatchObject({ entries: seq, lost: 0 });
  expect(drill.backup.file).toBe(older.file);
  await log.close();
});

test('a restore moves the damaged log aside, brings back all, and notes it', async () => {
  const { folder, log, seq, hash } = await aLogWithBackups();
  await log.close();
  await writeFile(folder.file, 'not a log any more');
  await expect(opened(folder)).rejects.toMatchObject({ exitCode: 7 });
  const nowMs = Date.now();
  const restored = await restore(folder, { withMirror: true, nowMs, newId: newId() });
  expect(restored).toMatchObject({ entriesOfBackup: 13, entriesOfMirror: 4, head: hash });
  const aside = (await readdir(folder.path)).find((name) => name.startsWith('aside-')) ?? '';
  expect(await readFile(join(folder.path, aside, 'barmbook.db'), 'utf8')).toBe(
    'not a log any more',
  );
  const again = await opened(folder);
  expect(again.instance).toEqual(log.instance);
  const { rows } = await again.database.execute(
    "SELECT detail FROM upkeep_event WHERE kind = 'restored'",
  );
  expect(JSON.parse(String(rows[0]?.detail))).toMatchObject({
    entries: 13,
    entriesOfMirror: 4,
  });
  await again.close();
  expect((await soundReport(folder.file)).entries).toBe(seq);
});

test('a restore without the mirror puts the mirror aside too, and the log starts', async () => {
  const { folder, log } = await aLogWithBackups();
  await log.close();
  await restore(folder, { withMirror: false, nowMs: Date.now(), newId: newId() });
  const again = await opened(folder);
  expect((await mirrorEnd(folder.mirrorFolder)).seq).toBe(0);
  await again.close();
  expect((await soundReport(folder.file)).entries).toBe(13);
});

test('an old copy put in place of the log is refused: the mirror knows what came after', async () => {
  const { folder, log, older } = await aLogWithBackups();
  await log.close();
  for (const side of ['-wal', '-shm']) await rm(`${folder.file}${side}`, { force: true });
  await writeFile(folder.file, await readFile(older.file));
  await expect(opened(folder)).rejects.toThrow(/older than its mirror: 8 entries are missing/);
});

test('a backup of another log is not put in place', async () => {
  const [mine, other] = [await aLogWithBackups(), await aLogWithBackups()];
  await mine.log.close();
  await other.log.close();
  const backup = await readBackup(other.newest.file);
  await expect(
    restore(mine.folder, { backup, withMirror: true, nowMs: Date.now(), newId: newId() }),
  ).rejects.toThrow('a backup of another log');
  expect((await soundReport(mine.folder.file)).entries).toBe(17);
});

test('a line of the mirror cut short is dropped, and written again whole', async () => {
  const { folder, log, seq, hash } = await aLogWithBackups();
  const [name = ''] = await readdir(folder.mirrorFolder);
  await appendFile(join(folder.mirrorFolder, name), '{"seq":18,"id":"01');
  expect(await mirrorEnd(folder.mirrorFolder)).toEqual({ seq, hash });
  expect(await mirroredAfter(folder.mirrorFolder, { seq: 0, hash: '0'.repeat(64) })).toHaveLength(
    seq,
  );
  await log.close();
});

async function anUpkeep(
  log: OpenLog,
  folder: Folder,
  more: { everyHours: number; secondFolder?: string },
) {
  let nowMs = Date.now();
  const lines: string[] = [];
  const upkeep = await createUpkeep({
    database: log.database,
    settings: { ...folder, leastFreeBytes: 0, secondFolder: undefined, ...more },
    now: () => nowMs,
    newId,
    log: jsonLog(
      (line) => lines.push(line),
      () => nowMs,
    ),
  });
  const later = (hours: number) => {
    nowMs += hours * hourMs;
  };
  return { upkeep, later, lines };
}

test('backups are made when they are due and something changed, or when asked for', async () => {
  const folder = await ownFolder();
  const log = await opened(folder);
  const seed = await aSeed({ put: writerOf(log) });
  const second = join(folder.path, 'usb');
  const { upkeep, later } = await anUpkeep(log, folder, { everyHours: 1, secondFolder: second });
  const count = async () => (await listBackups(folder.backupFolder)).length;
  await upkeep.jobs.backUpIfDue();
  await upkeep.jobs.backUpIfDue();
  expect(await count()).toBe(1);
  later(2);
  await upkeep.jobs.backUpIfDue();
  expect(await count()).toBe(1);
  await written(log, seed, 0, 1);
  await upkeep.jobs.backUpIfDue();
  expect(await count()).toBe(2);
  await writeFile(wantedFile(folder.backupFolder), '');
  later(0.01);
  await upkeep.jobs.backUpIfDue();
  expect(await count()).toBe(3);
  expect(existsSync(wantedFile(folder.backupFolder))).toBe(false);
  expect((await listBackups(second)).length).toBe(3);
  expect(upkeep.warnings()).toEqual([]);
  await log.close();
});

test('a backup that cannot be made is told once it is late', async () => {
  const folder = await ownFolder();
  const log = await opened(folder);
  await aSeed({ put: writerOf(log) });
  await writeFile(folder.backupFolder, 'a file where the folder should be');
  const { upkeep, later, lines } = await anUpkeep(
    log,
    { ...folder, mirrorFolder: join(folder.path, 'mirror') },
    { everyHours: 1 },
  );
  later(3);
  await upkeep.jobs.backUpIfDue();
  expect(upkeep.warnings()).toEqual(['backup']);
  expect(lines.join('')).toContain('"event":"backup failed"');
  await log.close();
});

test('the daily check finds an entry rewritten while the log runs, names it and stops writing', async () => {
  const { folder, log, seed } = await aLogWithBackups();
  const { upkeep } = await anUpkeep(log, folder, { everyHours: 0 });
  await log.database.write([
    'DROP TRIGGER journal_no_update',
    "UPDATE journal SET by_name = 'Someone' WHERE seq = 7",
  ]);
  await upkeep.jobs.checkIfDue();
  expect(upkeep.state().check.firstBad).toMatchObject({ seq: 7 });
  expect(upkeep.warnings()).toEqual(['chain', 'readonly']);
  await expect(written(log, seed, 20, 21)).rejects.toMatchObject({ code: 'read_only' });
  await log.close();
});

test('the weekly drill runs by itself and is noted', async () => {
  const { folder, log } = await aLogWithBackups();
  const { upkeep } = await anUpkeep(log, folder, { everyHours: 1 });
  await upkeep.jobs.drillIfDue();
  expect(upkeep.state().drill).toMatchObject({ failed: undefined });
  const { rows } = await log.database.execute(
    "SELECT count(*) AS n FROM upkeep_event WHERE kind = 'drill passed'",
  );
  expect(rows[0]?.n).toBe(1);
  await log.close();
});
