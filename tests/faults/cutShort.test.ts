import { existsSync } from 'node:fs';
import { cp, mkdir, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { openLog } from '#db/opening/openLog.ts';
import { faultOfBackup, listBackups, makeBackup } from '#db/safety/backup.ts';
import { mirrorEnd, mirroredAfter, openMirror } from '#db/safety/mirror.ts';
import { restore } from '#db/safety/restore.ts';
import {
  aFolder,
  aSeededLog,
  type Folder,
  killedOnce,
  launch,
  mixedEntry,
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

const kills = times(4, 50);
const isFull = times(0, 1) === 1;
const kept = await aFolder();
afterAll(() => kept.remove());

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

const namesIn = async (path: string): Promise<string[]> => readdir(path).catch(() => []);

type Work = 'open' | 'backup' | 'mirror' | 'restore';
type Cut = {
  /** Prepares the copy; gives what shows that the work that is to be cut short has begun. */
  prepare: (folder: Folder) => Promise<() => Promise<boolean>>;
  /** From at once to so long after that it is done, so that some come in the midst of it [ms]. */
  withinMs: number;
  /** How it stands then, and what comes next. */
  look: (folder: Folder) => Promise<void>;
};

/** Ends a program at work, each time a little later and on a copy of its own; two at a time. */
async function cutShort(work: Work, { prepare, withinMs, look }: Cut): Promise<void> {
  const ends: string[] = [];
  await twoAtATime(kills, async (kill) => {
    const folder = await aFolder();
    await cp(kept.path, folder.path, { recursive: true });
    const hasBegun = await prepare(folder);
    const program = launch(isFull ? programs[work] : slim(work, folder), folder);
    ends.push(await killedOnce(program, { hasBegun, thenMs: (kill * withinMs) / kills }));
    await look(folder);
    await folder.remove();
  });
  console.log(work, ends);
  expect(ends).toHaveLength(kills);
  expect(ends).toContain('cut short');
}

const programs: Record<Work, string[]> = {
  open: ['api/server.ts'],
  backup: ['api/maintain.ts', 'backup'],
  mirror: ['api/server.ts'],
  restore: ['api/maintain.ts', 'restore'],
};
const slim = (work: Work, { path }: Folder) => ['tests/faults/cutShortChild.ts', work, path];

const isUntouched = async ({ file }: Folder) =>
  expect(await soundReport(file)).toMatchObject({ entries, head });

test(`kill -9 during a start, ${kills} times: the log is as it was, and the next start opens it`, () =>
  cutShort('open', {
    prepare: async (folder) => {
      await rm(`${folder.file}.lock`, { force: true });
      return async () => existsSync(`${folder.file}.lock`);
    },
    withinMs: isFull ? 2_000 : 800,
    look: async (folder) => {
      await isUntouched(folder);
      await (await openLog(folder, { nowMs: Date.now(), newId: newId() })).close();
    },
  }));

test(`kill -9 during a backup, ${kills} times: no half one under its final name`, () =>
  cutShort('backup', {
    prepare: async ({ backupFolder }) => {
      const known = new Set(await namesIn(backupFolder));
      return async () => (await namesIn(backupFolder)).some((name) => !known.has(name));
    },
    withinMs: isFull ? 1_500 : 900,
    look: async (folder) => {
      const names = await namesIn(folder.backupFolder);
      for (const name of names.filter((each) => /^barmbook-[^.]*\.db$/.test(each)))
        await soundReport(join(folder.backupFolder, name));
      for (const backup of await listBackups(folder.backupFolder))
        expect(await faultOfBackup(backup)).toBeUndefined();
      await isUntouched(folder);
    },
  }));

// Between the two moves nothing stands in the place of the log: a start then says so and makes none.
test(`kill -9 during a restore, ${kills} times: before or after, or refused until it is done`, () =>
  cutShort('restore', {
    prepare:
      async ({ path }) =>
      async () =>
        (await namesIn(path)).some((name) => name.includes('.restoring')),
    withinMs: isFull ? 2_500 : 1_200,
    look: async (folder) => {
      const at = { nowMs: Date.now(), newId: newId() };
      if (existsSync(folder.file)) await isUntouched(folder);
      else await expect(openLog(folder, at)).rejects.toMatchObject({ exitCode: 3 });
      await restore(folder, { ...at, withMirror: true });
      await isUntouched(folder);
    },
  }));

test(`kill -9 while the mirror is written, ${kills} times: whole lines, and then all of them`, () =>
  cutShort('mirror', {
    prepare: async ({ mirrorFolder }) => {
      await rm(mirrorFolder, { recursive: true });
      await mkdir(mirrorFolder);
      return async () => (await namesIn(mirrorFolder)).length > 0;
    },
    withinMs: isFull ? 40 : 15,
    look: async ({ mirrorFolder, ...folder }) => {
      const from = { seq: 0, hash: '0'.repeat(64) };
      const end = await mirrorEnd(mirrorFolder);
      expect(await mirroredAfter(mirrorFolder, from)).toHaveLength(end.seq);
      const log = await openLog({ ...folder, mirrorFolder }, { nowMs: Date.now(), newId: newId() });
      const caughtUp = await (await openMirror(mirrorFolder, log.database)).catchUp();
      await log.close();
      expect(caughtUp).toEqual({ seq: entries, hash: head });
      expect(await mirroredAfter(mirrorFolder, from)).toHaveLength(entries);
    },
  }));
