import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type Backup, copyBackup, listBackups, makeBackup, readBackup } from '#db/backup.ts';
import { verifyChain } from '#db/chain.ts';
import { restoreDrill } from '#db/drill.ts';
import { inspectApart } from '#db/inspectApart.ts';
import { lockInstance } from '#db/instanceLock.ts';
import { type LogPlace, type OpenLog, openLog } from '#db/openLog.ts';
import { restore } from '#db/restore.ts';
import { exitCodes, StartRefusal } from '#db/startRefusal.ts';
import { rebuild } from '#db/upkeep.ts';
import { noteUpkeep } from '#db/upkeepEvents.ts';
import { readEnvironment } from './environment.ts';
import { wantedFile } from './upkeep/backups.ts';

const usage = `npm run backup [-- FOLDER]     make a checked backup, also while Barmbook runs; copy it to FOLDER
npm run restore                put the newest good backup, and the mirror's later entries, in place
npm run restore -- FILE        put this backup in place; --without-mirror leaves out what came later
npm run restore -- --drill     prove that a restore would work; nothing is changed
npm run verify                 look the whole log over: pages, shape, text, seals, projections
npm run verify -- --accept-clock   write again though the clock stands before the newest entry
npm run rebuild                make all other tables anew from the journal
All but backup need Barmbook to be stopped.`;

type Task = (place: LogPlace, argument: string | undefined) => Promise<string>;

const tasks: Record<string, Task> = { verify, rebuild: rebuildAll, backup, restore: bringBack };

async function verify(place: LogPlace, argument: string | undefined): Promise<string> {
  if (argument === '--accept-clock') return withLog(place, acceptClock);
  const unlock = await lockInstance(place.file, Date.now());
  const report = existsSync(place.file)
    ? await inspectApart(place.file, 'full')
    : ({ state: 'empty' } as const);
  await unlock();
  if (report.state === 'sound') return `Sound: ${report.entries} entries, head ${report.head}`;
  throw new StartRefusal('unusable', 'why' in report ? `Not sound: ${report.why}` : 'It is empty.');
}

async function acceptClock({ database }: OpenLog): Promise<string> {
  const { rows } = await database.execute('SELECT max(seq) AS seq FROM journal');
  const detail = { seq: Number(rows[0]?.seq ?? 0) };
  await noteUpkeep(database, { atMs: Date.now(), kind: 'clock accepted', detail });
  return `From now on the clock counts as right: ${new Date().toISOString()}`;
}

function rebuildAll(place: LogPlace): Promise<string> {
  return withLog(place, async ({ database }) => {
    const report = await verifyChain(database);
    if (!report.sound) throw new Error(`Entry ${report.firstBad.seq}: ${report.firstBad.why}.`);
    return `Rebuilt from ${(await rebuild(database)).entries} entries`;
  });
}

async function backup(place: LogPlace, argument: string | undefined): Promise<string> {
  const made = await withLog(place, ({ database }) =>
    makeBackup(database, { folder: place.backupFolder, nowMs: Date.now(), reason: 'asked' }),
  ).catch((error: unknown) => {
    if (error instanceof StartRefusal && error.exitCode === exitCodes.running)
      return askedOfServer(place.backupFolder);
    throw error;
  });
  if (argument !== undefined) await copyBackup(made, resolve(argument));
  const { entries, head } = made.manifest;
  return `Backed up and checked: ${made.file}\n${entries} entries, head ${head}`;
}

const serverAnswersWithinMs = 120_000;

// No other process may touch the running log, so the server is asked to make the backup.
async function askedOfServer(folder: string): Promise<Backup> {
  const fromMs = Date.now();
  await mkdir(folder, { recursive: true });
  await writeFile(wantedFile(folder), '');
  while (Date.now() - fromMs < serverAnswersWithinMs) {
    await new Promise((done) => setTimeout(done, 250));
    const [newest] = await listBackups(folder);
    if (newest !== undefined && newest.manifest.madeMs >= fromMs) return newest;
  }
  await rm(wantedFile(folder), { force: true });
  throw new Error('Barmbook is running but made no backup: see its log.');
}

async function bringBack(place: LogPlace, argument: string | undefined): Promise<string> {
  if (argument === '--drill') return withLog(place, proveRestore(place));
  const chosen =
    argument === undefined || argument.startsWith('--') ? undefined : resolve(argument);
  const asked = chosen === undefined ? undefined : await readBackup(chosen);
  if (chosen !== undefined && asked === undefined)
    throw new Error(`${chosen} is no backup: it has no manifest beside it.`);
  const unlock = await lockInstance(place.file, Date.now());
  try {
    const restored = await restore(place, {
      backup: asked,
      withMirror: !process.argv.includes('--without-mirror'),
      nowMs: Date.now(),
      newId: randomUUID(),
    });
    const skipped = restored.passedOver.map(({ file, why }) => `Passed over ${file}: ${why}\n`);
    return `${skipped.join('')}Restored ${restored.backup.file}: ${restored.entriesOfBackup} entries, and ${restored.entriesOfMirror} more from the mirror; head ${restored.head}`;
  } finally {
    await unlock();
  }
}

const proveRestore =
  (place: LogPlace) =>
  async ({ database }: OpenLog): Promise<string> => {
    const scratch = await mkdtemp(join(tmpdir(), 'barmbook-'));
    try {
      const drill = await restoreDrill(
        database,
        { backupFolder: place.backupFolder, mirrorFolder: place.mirrorFolder ?? scratch },
        { nowMs: Date.now(), newId: randomUUID(), scratch },
      );
      return `Proven: ${drill.backup.file} brings back ${drill.entries} entries, ${drill.lost} would be lost`;
    } finally {
      await rm(scratch, { recursive: true, force: true });
    }
  };

async function withLog<T>(place: LogPlace, work: (log: OpenLog) => Promise<T>): Promise<T> {
  const log = await openLog(place, { nowMs: Date.now(), newId: randomUUID() });
  try {
    return await work(log);
  } finally {
    await noteUpkeep(log.database, { atMs: Date.now(), kind: 'stopped', detail: {} });
    await log.close();
  }
}

async function run([name = '', argument]: readonly string[]): Promise<void> {
  const task = tasks[name];
  if (task === undefined) throw new Error(usage);
  const { upkeep } = readEnvironment(process.env, { isDemo: false });
  const { file, backupFolder, mirrorFolder } = upkeep;
  if (file === undefined)
    throw new Error('The log is on a database server: back it up and restore it there.');
  console.log(await task({ file, backupFolder, mirrorFolder }, argument));
}

run(process.argv.slice(2)).then(
  () => process.exit(0),
  (error: unknown) => {
    console.error(error instanceof Error ? error.message : error);
    process.exit(error instanceof StartRefusal ? error.exitCode : 1);
  },
);
