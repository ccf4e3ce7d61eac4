import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { openDatabase } from '#db/database.ts';
import { headOfJournal, verifyChain } from '#db/journal/chain.ts';
import { lockInstance } from '#db/opening/instanceLock.ts';
import { exitCodes, StartRefusal } from '#db/opening/startRefusal.ts';
import { inspectRemote } from '#db/remote/inspectRemote.ts';
import { restoreRemote } from '#db/remote/restoreRemote.ts';
import { type Backup, copyBackup, listBackups, makeBackup, readBackup } from '#db/safety/backup.ts';
import { restoreDrill } from '#db/safety/drill.ts';
import type { FileReport } from '#db/safety/inspect.ts';
import { inspectApart } from '#db/safety/inspectApart.ts';
import { type Restored, restore } from '#db/safety/restore.ts';
import { rebuild } from '#db/safety/upkeep.ts';
import { noteUpkeep } from '#db/safety/upkeepEvents.ts';
import { type Environment, readEnvironment } from './environment.ts';
import { type ConfiguredLog, openConfigured } from './openConfigured.ts';
import { wantedFile } from './upkeep/backups.ts';

const usage = `npm run backup [-- FOLDER]     make a checked backup, also while Barmbook runs; copy it to FOLDER
npm run restore                put the newest good backup, and the mirror's later entries, in place;
                               onto a database server only when it is empty
npm run restore -- FILE        put this backup in place; --without-mirror leaves out what came later
npm run restore -- --drill     prove that a restore would work; nothing is changed
npm run verify                 look the whole log over: pages, shape, text, seals, projections
npm run verify -- --accept-clock   write again though the clock stands before the newest entry
npm run rebuild                make all other tables anew from the journal
All but backup need Barmbook to be stopped.`;

type Task = (environment: Environment, argument: string | undefined) => Promise<string>;

const tasks: Record<string, Task> = { verify, rebuild: rebuildAll, backup, restore: bringBack };

async function verify(environment: Environment, argument: string | undefined): Promise<string> {
  if (argument === '--accept-clock') return withLog(environment, acceptClock);
  const { file } = environment.upkeep;
  const report = file === undefined ? await serverReport(environment) : await fileReport(file);
  if (report.state === 'sound') return `Sound: ${report.entries} entries, head ${report.head}`;
  throw new StartRefusal('unusable', 'why' in report ? `Not sound: ${report.why}` : 'It is empty.');
}

async function fileReport(file: string): Promise<FileReport> {
  const unlock = await lockInstance(file, Date.now());
  try {
    return existsSync(file) ? await inspectApart(file, 'full') : { state: 'empty' };
  } finally {
    await unlock();
  }
}

async function serverReport({ databaseUrl, databaseAuthToken }: Environment) {
  const database = await openDatabase(databaseUrl, databaseAuthToken);
  try {
    return await inspectRemote(database, 'full');
  } finally {
    await database.close();
  }
}

async function acceptClock({ database }: ConfiguredLog): Promise<string> {
  const { entries: seq } = await headOfJournal(database);
  await noteUpkeep(database, { atMs: Date.now(), kind: 'clock accepted', detail: { seq } });
  return `From now on the clock counts as right: ${new Date().toISOString()}`;
}

function rebuildAll(environment: Environment): Promise<string> {
  return withLog(environment, async ({ database }) => {
    const report = await verifyChain(database);
    if (!report.sound) throw new Error(`Entry ${report.firstBad.seq}: ${report.firstBad.why}.`);
    return `Rebuilt from ${(await rebuild(database)).entries} entries`;
  });
}

async function backup(environment: Environment, argument: string | undefined): Promise<string> {
  const folder = environment.upkeep.backupFolder;
  const made = await withLog(environment, ({ database, upkeep }) =>
    upkeep.isCopiedElsewhere === true
      ? askedOfServer(folder)
      : makeBackup(database, { folder, nowMs: Date.now(), reason: 'asked' }),
  ).catch((error: unknown) => {
    if (error instanceof StartRefusal && error.exitCode === exitCodes.running)
      return askedOfServer(folder);
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

async function bringBack(environment: Environment, argument: string | undefined): Promise<string> {
  if (argument === '--drill') return withLog(environment, proveRestore);
  const chosen =
    argument === undefined || argument.startsWith('--') ? undefined : resolve(argument);
  const asked = chosen === undefined ? undefined : await readBackup(chosen);
  if (chosen !== undefined && asked === undefined)
    throw new Error(`${chosen} is no backup: it has no manifest beside it.`);
  const restored = await broughtBack(environment, {
    backup: asked,
    withMirror: !process.argv.includes('--without-mirror'),
    nowMs: Date.now(),
    newId: randomUUID(),
  });
  const skipped = restored.passedOver.map(({ file, why }) => `Passed over ${file}: ${why}\n`);
  return `${skipped.join('')}Restored ${restored.backup.file}: ${restored.entriesOfBackup} entries, and ${restored.entriesOfMirror} more from the mirror; head ${restored.head}`;
}

async function broughtBack(
  { upkeep, databaseUrl: url, databaseAuthToken: authToken }: Environment,
  restoring: Parameters<typeof restore>[1],
): Promise<Restored> {
  const { file, backupFolder, mirrorFolder } = upkeep;
  if (file === undefined)
    return inScratch((scratch) =>
      restoreRemote({ url, authToken, backupFolder, mirrorFolder }, { ...restoring, scratch }),
    );
  const unlock = await lockInstance(file, restoring.nowMs);
  try {
    return await restore({ file, backupFolder, mirrorFolder }, restoring);
  } finally {
    await unlock();
  }
}

function proveRestore({ database, upkeep }: ConfiguredLog): Promise<string> {
  const { backupFolder, mirrorFolder } = upkeep;
  return inScratch(async (scratch) => {
    const drill = await restoreDrill(
      database,
      { backupFolder, mirrorFolder: mirrorFolder ?? scratch },
      { nowMs: Date.now(), newId: randomUUID(), scratch },
    );
    return `Proven: ${drill.backup.file} brings back ${drill.entries} entries, ${drill.lost} would be lost`;
  });
}

async function inScratch<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const scratch = await mkdtemp(join(tmpdir(), 'barmbook-'));
  try {
    return await work(scratch);
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

async function withLog<T>(
  environment: Environment,
  work: (log: ConfiguredLog) => Promise<T>,
): Promise<T> {
  const log = await openConfigured(environment);
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
  console.log(await task(readEnvironment(process.env, { isDemo: false }), argument));
}

run(process.argv.slice(2)).then(
  () => process.exit(0),
  (error: unknown) => {
    console.error(error instanceof Error ? error.message : error);
    process.exit(error instanceof StartRefusal ? error.exitCode : 1);
  },
);
