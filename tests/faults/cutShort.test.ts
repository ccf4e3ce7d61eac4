import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { cp, mkdir, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeEach, expect, test, vi } from 'vitest';
import { faultOfBackup, listBackups, makeBackup } from '#db/backup.ts';
import { mirrorEnd, mirroredAfter, openMirror } from '#db/mirror.ts';
import { openLog } from '#db/openLog.ts';
import {
  aFolder,
  aSeededLog,
  launch,
  mixedEntry,
  newId,
  pause,
  soundReport,
  times,
} from './rig.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/inspect.ts');
  return { inspectApart: inspectFile };
});

const kills = times(2, 67);
const kept = await aFolder();
const folder = await aFolder();
afterAll(() => Promise.all([kept.remove(), folder.remove()]));

/** A backup of some entries, then more than two pages of the mirror can hold, mirrored too. */
async function aKeptLog() {
  await aSeededLog(kept, async ({ database }, put, seed) => {
    for (let n = 0; n < 20; n += 1) await put(mixedEntry(seed, n));
    await makeBackup(database, { folder: kept.backupFolder, nowMs: Date.now(), reason: 'asked' });
    for (let n = 20; n < times(120, 1_200); n += 1) await put(mixedEntry(seed, n));
    await (await openMirror(kept.mirrorFolder, database)).catchUp();
  });
  return soundReport(kept.file);
}
const { entries, head } = await aKeptLog();

beforeEach(async () => {
  await rm(folder.path, { recursive: true, force: true });
  await cp(kept.path, folder.path, { recursive: true });
});

/** Ends a program a while after the work that is to be cut short has begun. */
async function killedOnce(
  program: ChildProcess,
  { hasBegun, thenMs }: { hasBegun: () => Promise<boolean>; thenMs: number },
): Promise<'cut short' | 'ended by itself'> {
  const exited = once(program, 'exit');
  while (program.exitCode === null && !(await hasBegun())) await pause(1);
  await pause(thenMs);
  program.kill('SIGKILL');
  await exited;
  return program.signalCode === 'SIGKILL' ? 'cut short' : 'ended by itself';
}

const namesIn = async (path: string): Promise<string[]> => readdir(path).catch(() => []);

/** From at once to well after, so that some come in the midst of it. */
const spread = (kill: number, withinMs: number) => Math.round((kill * withinMs) / kills);

test(`kill -9 during a backup, ${kills} times: no half one under its final name`, async () => {
  const ends = [];
  for (let kill = 0; kill < kills; kill += 1) {
    const known = new Set(await namesIn(folder.backupFolder));
    ends.push(
      await killedOnce(launch(['api/maintain.ts', 'backup'], folder), {
        hasBegun: async () => (await namesIn(folder.backupFolder)).some((name) => !known.has(name)),
        thenMs: spread(kill, 1_500),
      }),
    );
    const names = await namesIn(folder.backupFolder);
    for (const name of names.filter((each) => /^barmbook-[^.]*\.db$/.test(each)))
      await soundReport(join(folder.backupFolder, name));
    for (const backup of await listBackups(folder.backupFolder))
      expect(await faultOfBackup(backup)).toBeUndefined();
    expect(await soundReport(folder.file)).toMatchObject({ entries, head });
  }
  console.log('backup', ends);
  expect(ends).toContain('cut short');
});

// Between the two moves nothing stands in the place of the log: a start then says so and makes none.
test(`kill -9 during a restore, ${kills} times: before or after, or refused until it is done`, async () => {
  const ends = [];
  for (let kill = 0; kill < kills; kill += 1) {
    ends.push(
      await killedOnce(launch(['api/maintain.ts', 'restore'], folder), {
        hasBegun: async () =>
          (await namesIn(folder.path)).some((name) => name.includes('.restoring')),
        thenMs: spread(kill, 2_500),
      }),
    );
    if (existsSync(folder.file))
      expect(await soundReport(folder.file)).toMatchObject({ entries, head });
    else
      await expect(openLog(folder, { nowMs: Date.now(), newId: newId() })).rejects.toMatchObject({
        exitCode: 3,
      });
  }
  console.log('restore', ends);
  expect(ends).toContain('cut short');
  const again = launch(['api/maintain.ts', 'restore'], folder);
  expect((await once(again, 'exit'))[0]).toBe(0);
  expect(await soundReport(folder.file)).toMatchObject({ entries, head });
});

test(`kill -9 while the mirror is written, ${kills} times: whole lines, and then all of them`, async () => {
  const ends = [];
  for (let kill = 0; kill < kills; kill += 1) {
    await rm(folder.mirrorFolder, { recursive: true });
    await mkdir(folder.mirrorFolder);
    ends.push(
      await killedOnce(launch(['api/server.ts'], folder), {
        hasBegun: async () => (await namesIn(folder.mirrorFolder)).length > 0,
        thenMs: spread(kill, 40),
      }),
    );
    const end = await mirrorEnd(folder.mirrorFolder);
    const lines = await mirroredAfter(folder.mirrorFolder, { seq: 0, hash: '0'.repeat(64) });
    expect(lines).toHaveLength(end.seq);
    const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
    const caughtUp = await (await openMirror(folder.mirrorFolder, log.database)).catchUp();
    await log.close();
    expect(caughtUp).toEqual({ seq: entries, hash: head });
    expect(await mirroredAfter(folder.mirrorFolder, { seq: 0, hash: '0'.repeat(64) })).toHaveLength(
      entries,
    );
  }
  console.log('mirror', ends);
  expect(ends).toContain('cut short');
});
