import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { headOfJournal } from '#db/journal/chain.ts';
import { genesisHash } from '#db/journal/hash.ts';
import {
  type Backup,
  type BackupReason,
  copyBackup,
  listBackups,
  makeBackup,
  removeBackup,
} from '#db/safety/backup.ts';
import { keptMoments } from '#db/safety/retention.ts';
import { faultFields } from '../log.ts';
import { note, type Parts, whyOf } from './parts.ts';
import { backupDueMs, type UpkeepState } from './state.ts';

/** The file in the backup folder by which the command asks the running server for a backup. */
export const wantedFile = (backupFolder: string) => join(backupFolder, 'backup-wanted');

/** Makes backups when they are due or asked for, copies them to a second place, and thins them out. */
export async function createBackups(parts: Parts, state: UpkeepState) {
  const { database, settings, now, log } = parts;
  const { backupFolder, secondFolder } = settings;
  const [newest] = await listBackups(backupFolder).catch((error: unknown) => {
    state.backup.failed = { atMs: now(), why: whyOf(error) };
    log('error', 'the backups cannot be read', faultFields(error));
    return [];
  });
  // A log without an entry needs no backup.
  let backedUpHead = newest?.manifest.head ?? genesisHash;
  if (newest !== undefined) state.backup.last = madeOf(newest);
  if (secondFolder !== undefined)
    try {
      state.secondPlace.lastMs = (await listBackups(secondFolder))[0]?.manifest.madeMs;
    } catch (error) {
      state.secondPlace.failed = { atMs: now(), why: whyOf(error) };
      log('error', 'the second place cannot be read', faultFields(error));
    }

  const backUp = async (reason: BackupReason): Promise<Backup> => {
    try {
      const backup = await makeBackup(database, { folder: backupFolder, nowMs: now(), reason });
      const { entries, head } = backup.manifest;
      backedUpHead = head;
      state.backup = { ...state.backup, last: madeOf(backup), failed: undefined };
      log('info', 'backup made', { file: backup.file, entries, head });
      await note(parts, 'backup made', { file: backup.file, entries, head, reason });
      await thinOut(backupFolder, now());
      if (secondFolder !== undefined) await copyTo(secondFolder, backup);
      return backup;
    } catch (error) {
      state.backup.failed = { atMs: now(), why: whyOf(error) };
      log('error', 'backup failed', faultFields(error));
      await note(parts, 'backup failed', { why: whyOf(error) });
      throw error;
    }
  };

  const copyTo = async (folder: string, backup: Backup) => {
    try {
      await copyBackup(backup, folder);
      state.secondPlace = { isSet: true, lastMs: now(), failed: undefined };
      await thinOut(folder, now());
    } catch (error) {
      state.secondPlace.failed = { atMs: now(), why: whyOf(error) };
      log('error', 'the second place cannot be written', faultFields(error));
    }
  };

  /** When the next is due by itself, and whether anything new was written that it would hold. */
  const nextBackup = async () => {
    const dueMs = backupDueMs(state.backup);
    return dueMs === undefined ? undefined : { dueMs, hasNews: await hasNews() };
  };
  const hasNews = async () => (await headOfJournal(database)).head !== backedUpHead;
  const isDue = async () => {
    const dueMs = backupDueMs(state.backup);
    return dueMs !== undefined && now() >= dueMs && (await hasNews());
  };
  const backUpIfDue = async () => {
    const wanted = wantedFile(backupFolder);
    const isAsked = existsSync(wanted);
    if (isAsked) await rm(wanted, { force: true });
    // A failure is in the log and in the state by then, and is tried again when it is due.
    if (isAsked || (await isDue()))
      await backUp(isAsked ? 'asked' : 'schedule').catch(() => undefined);
  };

  return { backUp, backUpIfDue, nextBackup };
}

const madeOf = ({ file, manifest: { madeMs, entries } }: Backup) => ({
  madeMs,
  entries,
  file: basename(file),
});

async function thinOut(folder: string, nowMs: number): Promise<void> {
  const backups = await listBackups(folder);
  const kept = keptMoments(
    backups.map(({ manifest }) => manifest.madeMs),
    nowMs,
  );
  for (const backup of backups) if (!kept.has(backup.manifest.madeMs)) await removeBackup(backup);
}
