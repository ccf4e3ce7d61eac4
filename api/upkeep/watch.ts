import { stat, statfs } from 'node:fs/promises';
import { dirname } from 'node:path';
import { performance } from 'node:perf_hooks';
import { clockFault } from '#db/clock.ts';
import type { WriteStop } from '#db/writeStops.ts';
import { note, type Parts } from './parts.ts';

const clockJumpMs = 2_000;

/** Watches what can stop writing: room on the disk, the clock, and a fault that may be over. */
export function createWatch(parts: Parts): () => Promise<void> {
  const { database, settings, now, log } = parts;
  let clockBase = now() - performance.now();
  let refused: string | undefined;

  const watchClock = async () => {
    const base = now() - performance.now();
    const movedMs = Math.round(base - clockBase);
    clockBase = base;
    if (Math.abs(movedMs) > clockJumpMs) {
      log('warn', 'the clock was moved', { movedMs });
      await note(parts, 'clock moved', { movedMs });
    }
    database.writeStops.set('clock', await clockFault(database.query, now()));
  };

  return async () => {
    if (settings.file !== undefined)
      database.writeStops.set('disk', await roomFault(settings.file, settings.leastFreeBytes));
    await watchClock();
    await probe(parts);
    const reason = database.fault()?.reason;
    if (reason !== refused)
      log(reason === undefined ? 'info' : 'error', 'writing', { refused: reason ?? null });
    refused = reason;
  };
}

// A write that succeeds is the only proof that a fault is over.
async function probe({ database }: Parts): Promise<void> {
  if (database.fault() === undefined || database.writeStops.current() !== undefined) return;
  await database.write(['UPDATE instance SET created_ms = created_ms']).catch(() => undefined);
}

/** Too little room, before the disk is full: a copy of the log must fit, and what is written next. */
async function roomFault(file: string, leastFreeBytes: number): Promise<WriteStop | undefined> {
  if (leastFreeBytes === 0) return undefined;
  const { bavail, bsize } = await statfs(dirname(file));
  const free = bavail * bsize;
  const needed = Math.max(leastFreeBytes, 2 * (await stat(file)).size);
  return free >= needed
    ? undefined
    : {
        code: 'storage_full',
        reason: `Only ${megabytes(free)} MB are free on the disk of the log and ${megabytes(needed)} MB are needed to keep it safe. Nothing is saved until there is room; reading works.`,
      };
}

const megabytes = (bytes: number) => Math.floor(bytes / 1024 / 1024);
