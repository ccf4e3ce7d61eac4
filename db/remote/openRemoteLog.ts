import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type Database, openDatabase } from '../database.ts';
import { appliedSteps, migrate, readMigrations, refuseUnknownSteps } from '../migrate.ts';
import { lockInstance } from '../opening/instanceLock.ts';
import { instanceOf } from '../opening/marker.ts';
import type { OpenLog } from '../opening/openLog.ts';
import { exitCodes, StartRefusal } from '../opening/startRefusal.ts';
import { makeBackup } from '../safety/backup.ts';
import { mirrorEnd } from '../safety/mirror.ts';
import { noteUpkeep } from '../safety/upkeepEvents.ts';
import { inspectRemote } from './inspectRemote.ts';

export type RemotePlace = {
  url: string;
  authToken: string | undefined;
  backupFolder: string;
  /** Undefined where no mirror is kept. */
  mirrorFolder: string | undefined;
};

type OpenRemoteLog = OpenLog & {
  /** Whether this process makes the copies of its folder; another one on the same folder may. */
  makesCopies: boolean;
};

/**
 * Opens the log on a database server: looked over, of the right identity, brought to the newest
 * shape. Other programs may have it open too.
 * @throws StartRefusal with the code to exit with and a sentence for whoever looks after the log
 */
export async function openRemoteLog(
  place: RemotePlace,
  { nowMs, newId }: { nowMs: number; newId: string },
): Promise<OpenRemoteLog> {
  const database = await openDatabase(place.url, place.authToken);
  let unlock: (() => Promise<void>) | undefined;
  try {
    await refuseUnfit(database, place);
    unlock = await copiesLock(place.backupFolder, nowMs);
    await migrate(database, nowMs, {
      beforeChange: async () => {
        await makeBackup(database, { folder: place.backupFolder, nowMs, reason: 'before upgrade' });
      },
    });
    const instance = await instanceOf(database, { id: newId, createdMs: nowMs });
    await noteUpkeep(database, { atMs: nowMs, kind: 'started', detail: {} });
    return {
      database,
      instance,
      makesCopies: unlock !== undefined,
      close: async () => {
        await database.close();
        await unlock?.();
      },
    };
  } catch (error) {
    // Why it could not be opened says more than that it does not close either.
    await database.close().catch(() => undefined);
    await unlock?.();
    throw error;
  }
}

async function refuseUnfit(database: Database, { mirrorFolder }: RemotePlace): Promise<void> {
  refuseUnknownSteps(await appliedSteps(database), await readMigrations());
  const report = await inspectRemote(database, 'start');
  if (report.state === 'edited') throw new StartRefusal('edited', report.why);
  if (report.state === 'damaged')
    throw new StartRefusal('unusable', `The log on the database server is damaged: ${report.why}.`);
  if (mirrorFolder !== undefined) await refuseBehindMirror(database, mirrorFolder, report.state);
}

// A server that was set back, or an address that now leads elsewhere, looks sound by itself.
async function refuseBehindMirror(
  { execute }: Database,
  mirrorFolder: string,
  state: 'sound' | 'empty',
): Promise<void> {
  const end = await mirrorEnd(mirrorFolder);
  if (end.seq === 0) return;
  const { rows } =
    state === 'empty'
      ? { rows: [] }
      : await execute('SELECT hash FROM journal WHERE seq = ?', [end.seq]);
  if (rows[0]?.hash === end.hash) return;
  throw new StartRefusal(
    'missing',
    rows.length === 0
      ? `The log on the database server is older than its mirror in ${mirrorFolder}, which ends at entry ${end.seq}. Is it the right database? If so, move the mirror away, and its later entries are lost.`
      : `The log on the database server is not the one that the mirror in ${mirrorFolder} was taken from. If it is the right one, move the mirror away.`,
  );
}

/** Undefined when another process makes the copies in this folder. */
export async function copiesLock(folder: string, nowMs: number) {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  try {
    return await lockInstance(join(folder, 'copies'), nowMs);
  } catch (error) {
    if (error instanceof StartRefusal && error.exitCode === exitCodes.running) return undefined;
    throw error;
  }
}
