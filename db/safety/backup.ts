import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { Database } from '../database.ts';
import { copyLog } from './copyLog.ts';
import { inspectApart } from './inspectApart.ts';
import { copyWhole, moveWhole, sha256OfFile, writeWhole } from './safeFiles.ts';

export type BackupReason = 'schedule' | 'asked' | 'before upgrade' | 'before restore';
type Manifest = {
  format: 1;
  instanceId: string | null;
  madeMs: number;
  reason: BackupReason;
  bytes: number;
  sha256: string;
  entries: number;
  /** The seal of the newest entry: a chain rewritten later does not bear it. */
  head: string;
  steps: number;
  counts: Record<string, number>;
};
export type Backup = { file: string; manifest: Manifest };

const namePattern = /^barmbook-\d{8}T\d{9}Z\.db$/;
const stamp = (atMs: number) => new Date(atMs).toISOString().replace(/[-:.]/g, '');
const manifestOf = (file: string) => file.replace(/\.db$/, '.json');

/**
 * Copies the running log, looks the copy over in a process of its own, and only then gives it its
 * name; the manifest comes last, so a copy without one was cut short.
 * @throws Error when the copy is not sound: nothing is kept of it
 */
export async function makeBackup(
  database: Database,
  { folder, nowMs, reason }: { folder: string; nowMs: number; reason: BackupReason },
): Promise<Backup> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await removePartial(folder);
  const file = join(folder, `barmbook-${stamp(nowMs)}.db`);
  const partial = `${file}.partial`;
  try {
    await copyLog(database, partial);
    const report = await inspectApart(partial, 'full');
    if (report.state !== 'sound')
      throw new Error(
        `The copy is not sound${'why' in report ? `: ${report.why}` : ''}. It was not kept.`,
      );
    const { instanceId, entries, head, steps, counts } = report;
    const manifest: Manifest = {
      format: 1,
      instanceId,
      madeMs: nowMs,
      reason,
      bytes: (await stat(partial)).size,
      sha256: await sha256OfFile(partial),
      entries,
      head,
      steps,
      counts,
    };
    await moveWhole(partial, file);
    await writeWhole(manifestOf(file), `${JSON.stringify(manifest, null, 2)}\n`);
    return { file, manifest };
  } finally {
    await rm(partial, { force: true });
  }
}

// What a process that was cut short left behind.
async function removePartial(folder: string): Promise<void> {
  for (const name of await readdir(folder))
    if (/^barmbook-.*\.partial(-journal|-wal|-shm)?$/.test(name))
      await rm(join(folder, name), { force: true });
}

/**
 * The finished backups of a folder, newest first; none where there is no such folder.
 * @throws Error when it is there and cannot be read: that is not a folder without backups
 */
export async function listBackups(folder: string): Promise<Backup[]> {
  const names = (await namesIn(folder)).filter((name) => namePattern.test(name));
  const backups = await Promise.all(names.map((name) => readBackup(join(folder, name))));
  return backups
    .filter((backup) => backup !== undefined)
    .sort((a, b) => b.manifest.madeMs - a.manifest.madeMs);
}

async function namesIn(folder: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return [];
    throw error;
  }
}

export async function readBackup(file: string): Promise<Backup | undefined> {
  try {
    const manifest: Manifest = JSON.parse(await readFile(manifestOf(file), 'utf8'));
    return manifest.format === 1 ? { file, manifest } : undefined;
  } catch {
    return undefined;
  }
}

/** Why a backup cannot be relied on, if so: it must be the very file that was made. */
export async function faultOfBackup({ file, manifest }: Backup): Promise<string | undefined> {
  if ((await sha256OfFile(file)) !== manifest.sha256) return 'it is not the file that was written';
  const report = await inspectApart(file, 'full');
  if (report.state !== 'sound') return 'why' in report ? report.why : 'it is empty';
  return report.head === manifest.head && report.entries === manifest.entries
    ? undefined
    : 'it does not hold what its manifest says';
}

/** Copies a backup to a second place and reads it there again. */
export async function copyBackup({ file, manifest }: Backup, folder: string): Promise<void> {
  const target = join(folder, basename(file));
  await copyWhole(file, target);
  if ((await sha256OfFile(target)) !== manifest.sha256) {
    await rm(target, { force: true });
    throw new Error('The copy in the second place differs from the backup. It was not kept.');
  }
  await writeWhole(manifestOf(target), `${JSON.stringify(manifest, null, 2)}\n`);
}

export async function removeBackup({ file }: Backup): Promise<void> {
  await rm(manifestOf(file), { force: true });
  await rm(file, { force: true });
}
