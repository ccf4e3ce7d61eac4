import { existsSync } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { openDatabase } from '../database.ts';
import { journalInsertion } from '../journal/seal.ts';
import { migrate } from '../migrate.ts';
import { instanceOf, readMarker, writeMarker } from '../opening/marker.ts';
import type { LogPlace } from '../opening/openLog.ts';
import { type Backup, faultOfBackup, listBackups } from './backup.ts';
import { inspectApart } from './inspectApart.ts';
import { mirroredAfter, setMirrorAside } from './mirror.ts';
import { copyWhole, moveWhole } from './safeFiles.ts';
import { rebuild } from './upkeep.ts';
import { noteUpkeep } from './upkeepEvents.ts';

export type Restored = {
  backup: Backup;
  /** Backups passed over, newest first, and why. */
  passedOver: { file: string; why: string }[];
  entriesOfBackup: number;
  entriesOfMirror: number;
  head: string;
};

const sideFiles = ['', '-wal', '-shm', '-journal'];

/** The newest backup of a folder that can be relied on. */
export async function newestSound(
  folder: string,
): Promise<{ backup: Backup | undefined; passedOver: Restored['passedOver'] }> {
  const passedOver: Restored['passedOver'] = [];
  for (const backup of await listBackups(folder)) {
    const why = await faultOfBackup(backup);
    if (why === undefined) return { backup, passedOver };
    passedOver.push({ file: backup.file, why });
  }
  return { backup: undefined, passedOver };
}

/**
 * Makes a log from a backup and the mirror's later entries under a passing name, and looks it over;
 * nothing else is touched.
 */
export async function rebuiltFrom(
  backup: Backup,
  target: string,
  {
    mirrorFolder,
    nowMs,
    newId,
  }: { mirrorFolder: string | undefined; nowMs: number; newId: string },
): Promise<{ entriesOfMirror: number; entries: number; head: string }> {
  for (const side of sideFiles) await rm(`${target}${side}`, { force: true });
  await copyWhole(backup.file, target);
  const database = await openDatabase(pathToFileURL(target).href);
  await migrate(database, nowMs);
  const { entries, head } = backup.manifest;
  const later =
    mirrorFolder === undefined
      ? []
      : await mirroredAfter(mirrorFolder, { seq: entries, hash: head });
  for (const row of later) await database.write([journalInsertion([row])]);
  if (later.length > 0) await rebuild(database);
  await instanceOf(database, { id: newId, createdMs: nowMs });
  await noteUpkeep(database, {
    atMs: nowMs,
    kind: 'restored',
    detail: { from: basename(backup.file), entries, entriesOfMirror: later.length },
  });
  await database.close();
  const report = await inspectApart(target, 'full');
  if (report.state !== 'sound')
    throw new Error(
      `What was restored is not sound${'why' in report ? ` (${report.why})` : ''}; the log was not touched.`,
    );
  return { entriesOfMirror: later.length, entries: report.entries, head: report.head };
}

/**
 * Puts a backup in the place of the log, with what the mirror holds beyond it. What stood there is
 * moved aside, never overwritten. The log must be locked by the caller and closed.
 * @throws Error when no backup can be relied on, or it is of another log
 */
export async function restore(
  place: LogPlace,
  {
    backup: asked,
    withMirror,
    nowMs,
    newId,
  }: { backup?: Backup | undefined; withMirror: boolean; nowMs: number; newId: string },
): Promise<Restored> {
  const { backup, passedOver } = await chosenBackup(place.backupFolder, asked);
  const marker = readMarker(place.file);
  const { instanceId } = backup.manifest;
  if (marker !== undefined && instanceId !== null && instanceId !== marker.id)
    throw new Error(
      `${backup.file} is a backup of another log. To use it, set DATA_DIR to an empty folder.`,
    );
  const made = `${place.file}.restoring`;
  const { entriesOfMirror, head } = await rebuiltFrom(backup, made, {
    mirrorFolder: withMirror ? place.mirrorFolder : undefined,
    nowMs,
    newId: marker?.id ?? newId,
  });
  const asideName = asideNameAt(nowMs);
  if (!withMirror && place.mirrorFolder !== undefined)
    await setMirrorAside(place.mirrorFolder, asideName);
  await moveAside(place.file, join(dirname(place.file), asideName));
  await moveWhole(made, place.file);
  await markRestored(place.file, nowMs, marker?.id ?? instanceId ?? newId);
  for (const side of sideFiles.slice(1)) await rm(`${made}${side}`, { force: true });
  return {
    backup,
    passedOver,
    entriesOfBackup: backup.manifest.entries,
    entriesOfMirror,
    head,
  };
}

export const asideNameAt = (atMs: number) =>
  `aside-${new Date(atMs).toISOString().replace(/[-:.]/g, '')}`;

/**
 * The backup asked for, or the newest that can be relied on.
 * @throws Error when there is none
 */
export async function chosenBackup(backupFolder: string, asked: Backup | undefined) {
  if (asked === undefined) {
    const { backup, passedOver } = await newestSound(backupFolder);
    if (backup !== undefined) return { backup, passedOver };
    const all = passedOver.map(({ file, why }) => `\n  ${file}: ${why}`).join('');
    throw new Error(`There is no backup to rely on in ${backupFolder}.${all}`);
  }
  const why = await faultOfBackup(asked);
  if (why !== undefined) throw new Error(`${asked.file} cannot be relied on: ${why}.`);
  return { backup: asked, passedOver: [] };
}

async function moveAside(file: string, folder: string): Promise<void> {
  const present = sideFiles.map((side) => `${file}${side}`).filter((path) => existsSync(path));
  if (present.length === 0) return;
  await mkdir(folder, { mode: 0o700 });
  for (const path of present) await rename(path, join(folder, basename(path)));
}

async function markRestored(file: string, nowMs: number, id: string): Promise<void> {
  if (readMarker(file) === undefined) await writeMarker(file, { id, createdMs: nowMs });
}
