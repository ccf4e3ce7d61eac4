import { mkdtemp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Database } from '../database.ts';
import type { Backup } from './backup.ts';
import { newestSound, type Restored, rebuiltFrom } from './restore.ts';

type Drill = {
  backup: Backup;
  passedOver: Restored['passedOver'];
  entries: number;
  head: string;
  /** Entries of the running log that could not have been brought back. */
  lost: number;
};

/**
 * Restores the newest backup and the mirror into a folder of its own, and compares it with the
 * running log: the seal of its last entry must be the seal the log bears there.
 * @throws Error when nothing can be restored, or what is restored is not the log
 */
export async function restoreDrill(
  { execute }: Pick<Database, 'execute'>,
  places: { backupFolder: string; mirrorFolder: string },
  { nowMs, newId, scratch }: { nowMs: number; newId: string; scratch: string },
): Promise<Drill> {
  const { backup, passedOver } = await newestSound(places.backupFolder);
  if (backup === undefined) throw new Error('There is no backup to rely on.');
  const folder = await mkdtemp(join(scratch, 'barmbook-drill-'));
  try {
    const { entries, head } = await rebuiltFrom(backup, join(folder, 'log.db'), {
      mirrorFolder: places.mirrorFolder,
      nowMs,
      newId,
    });
    const { rows } = await execute(
      'SELECT hash, (SELECT count(*) FROM journal) AS entries FROM journal WHERE seq = ?',
      [entries],
    );
    if (entries > 0 && rows[0]?.hash !== head)
      throw new Error('What was restored is not what the running log says.');
    return { backup, passedOver, entries, head, lost: Number(rows[0]?.entries ?? 0) - entries };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
