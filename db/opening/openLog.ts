import { existsSync, rmSync, statSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { pathToFileURL } from 'node:url';
import { DomainError } from '#shared/errors.ts';
import { type Database, openDatabase } from '../database.ts';
import { migrate } from '../migrate.ts';
import { listBackups, makeBackup } from '../safety/backup.ts';
import type { FileReport, SoundFile } from '../safety/inspect.ts';
import { inspectApart } from '../safety/inspectApart.ts';
import { mirrorEnd, mirroredAfter } from '../safety/mirror.ts';
import { noteUpkeep } from '../safety/upkeepEvents.ts';
import { lockInstance } from './instanceLock.ts';
import { type Instance, instanceOf, readMarker, writeMarker } from './marker.ts';
import { networkShareOf, readMountTable } from './networkShare.ts';
import { StartRefusal } from './startRefusal.ts';

export type LogPlace = {
  file: string;
  backupFolder: string;
  /** Undefined where no mirror is kept. */
  mirrorFolder: string | undefined;
};
export type OpenLog = {
  database: Database;
  instance: Instance;
  /** Closes the file and gives up the lock; to be followed by the end of the process. */
  close: () => Promise<void>;
};

type Opening = {
  nowMs: number;
  newId: string;
  anew?: boolean;
  /** What is mounted where; as the machine tells it, unless it is given. */
  mountTable?: string;
};

/**
 * Opens the log in a file: alone, looked over, of the right identity, brought to the newest shape.
 * With `anew`, what stood in the file is thrown away first: for an invented log only.
 * @throws StartRefusal with the code to exit with and a sentence for whoever looks after the log;
 *   the file is then left as it was found
 */
export async function openLog(
  place: LogPlace,
  { nowMs, newId, anew = false, mountTable = readMountTable() }: Opening,
): Promise<OpenLog> {
  const { file } = place;
  await preparedFolder(file, mountTable);
  const unlock = await lockInstance(file, nowMs);
  let database: Database | undefined;
  try {
    if (anew) removeLog(file);
    else await refuseUnfit(place);
    database = await openedAlone(file);
    const opened = database;
    await migrate(opened, nowMs, {
      beforeChange: async () => {
        await makeBackup(opened, { folder: place.backupFolder, nowMs, reason: 'before upgrade' });
      },
    });
    const instance = await instanceOf(opened, readMarker(file) ?? { id: newId, createdMs: nowMs });
    if (readMarker(file) === undefined) await writeMarker(file, instance);
    await noteUpkeep(opened, { atMs: nowMs, kind: 'started', detail: {} });
    return {
      database: opened,
      instance,
      close: async () => {
        await opened.close();
        await unlock();
      },
    };
  } catch (error) {
    // Why it could not be opened says more than that it does not close either.
    await database?.close().catch(() => undefined);
    await unlock();
    throw error;
  }
}

const longestHeldMs = 5_000;
const askAgainMs = 200;

/**
 * Opens the file of the log. Of our programs none holds it, by the lock beside it; but a process that
 * looks it over may outlive for a moment the start that was killed.
 */
async function openedAlone(file: string): Promise<Database> {
  for (let waitedMs = 0; ; waitedMs += askAgainMs)
    try {
      return await openDatabase(pathToFileURL(file).href);
    } catch (error) {
      const isHeld = error instanceof DomainError && error.code === 'unavailable';
      if (!isHeld || waitedMs >= longestHeldMs) throw error;
      await new Promise((resolve) => setTimeout(resolve, askAgainMs));
    }
}

function removeLog(file: string): void {
  for (const side of ['', '-wal', '-shm', '-journal', '.instance.json'])
    rmSync(`${file}${side}`, { force: true });
}

async function preparedFolder(file: string, mountTable: string): Promise<void> {
  const folder = dirname(file);
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
  } catch {
    throw new StartRefusal('unusable', `The folder of the log cannot be made (${folder}).`);
  }
  const kind = networkShareOf(folder, mountTable);
  if (kind !== undefined)
    throw new StartRefusal(
      'unusable',
      `The folder of the log is on a network share (${kind}), which loses data. Use a disk of this machine.`,
    );
}

async function refuseUnfit(place: LogPlace): Promise<void> {
  const { file } = place;
  const report: FileReport =
    existsSync(file) && statSync(file).size > 0
      ? await inspectApart(file, 'start')
      : { state: 'empty' };
  if (report.state === 'sound') return refuseAnother(place, report);
  if (report.state === 'empty') return refuseMissing(place);
  if (report.state !== 'damaged') throw new StartRefusal(report.state, report.why);
  throw new StartRefusal(
    'unusable',
    `The log ${file} is damaged: ${report.why}. It was not touched. ${await wayOut(place)}`,
  );
}

async function refuseMissing(place: LogPlace): Promise<void> {
  // Where the backups cannot be read, nobody knows whether it is the first start.
  const backups = await listBackups(place.backupFolder).catch(unreadable);
  if (readMarker(place.file) === undefined && backups.length === 0) return;
  throw new StartRefusal(
    'missing',
    `The log ${place.file} is missing or empty, though one stood here. Is its disk there? ${await wayOut(place)}`,
  );
}

async function refuseAnother(place: LogPlace, found: SoundFile): Promise<void> {
  const marker = readMarker(place.file);
  if (marker !== undefined && found.instanceId !== marker.id)
    throw new StartRefusal(
      'missing',
      `The log ${place.file} is another one than stood here (${found.instanceId ?? 'none'} instead of ${marker.id}). ${await wayOut(place)}`,
    );
  await refuseBehindMirror(place, found);
}

// An old copy put in place of the log looks sound by itself; the mirror knows what came after.
async function refuseBehindMirror(place: LogPlace, { entries, head }: SoundFile): Promise<void> {
  const { mirrorFolder } = place;
  if (mirrorFolder === undefined) return;
  const end = await mirrorEnd(mirrorFolder);
  if (end.seq <= entries) return;
  const later = await mirroredAfter(mirrorFolder, { seq: entries, hash: head });
  throw new StartRefusal(
    'missing',
    later.length === 0
      ? `The log ${place.file} is not the one its mirror was taken from. ${await wayOut(place)}`
      : `The log ${place.file} is older than its mirror: ${later.length} entries are missing. ${await wayOut(place)}`,
  );
}

const unreadable = (error: unknown) => (error instanceof Error ? error.message : String(error));

async function wayOut({ backupFolder }: LogPlace): Promise<string> {
  const found = await listBackups(backupFolder).catch(unreadable);
  if (typeof found === 'string') return `The backups in ${backupFolder} cannot be read (${found}).`;
  const [newest] = found;
  return newest === undefined
    ? `There is no backup in ${backupFolder}.`
    : `The newest backup is ${newest.file} (${newest.manifest.entries} entries): npm run restore`;
}
