import { stat, statfs } from 'node:fs/promises';
import { dirname } from 'node:path';
import { performance } from 'node:perf_hooks';
import { clockFault } from '#db/journal/clock.ts';
import { proveWriting } from '#db/opening/marker.ts';
import type { WriteStop } from '#db/opening/writeStops.ts';
import { note, type Parts } from './parts.ts';
import type { UpkeepState } from './state.ts';

const clockJumpMs = 2_000;

/** Watches what can stop writing: room on the disk, the clock, and a fault that may be over. */
export function createWatch(parts: Parts, state: UpkeepState): () => Promise<void> {
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
    if (settings.file !== undefined) {
      state.disk = await roomFor(settings.file, settings.leastFreeBytes);
      database.writeStops.set(
        'disk',
        settings.leastFreeBytes === 0 ? undefined : tooLittle(state.disk),
      );
    }
    // A log that cannot be read is told as such below.
    await watchClock().catch((error: unknown) => {
      if (database.fault() === undefined) throw error;
    });
    await probe(parts);
    const reason = database.fault()?.reason;
    if (reason !== refused)
      log(reason === undefined ? 'info' : 'error', 'writing', { refused: reason ?? null });
    refused = reason;
  };
}

async function probe({ database }: Parts): Promise<void> {
  if (database.fault() === undefined || database.writeStops.current() !== undefined) return;
  // Should it fail, the fault stands and is told.
  await proveWriting(database).catch(() => undefined);
}

/** What is free on the disk of the log, and what must be: a copy of the log, and what comes next. */
async function roomFor(file: string, leastFreeBytes: number): Promise<Room> {
  const { bavail, bsize } = await statfs(dirname(file));
  const neededBytes = Math.max(leastFreeBytes, 2 * (await stat(file)).size);
  return { freeBytes: bavail * bsize, neededBytes };
}

/** Why writing stops before the disk is full, if so. */
function tooLittle({ freeBytes, neededBytes }: Room): WriteStop | undefined {
  if (freeBytes >= neededBytes) return undefined;
  return {
    code: 'storage_full',
    reason: `Only ${megabytes(freeBytes)} MB are free on the disk of the log and ${megabytes(neededBytes)} MB are needed to keep it safe. Nothing is saved until there is room; reading works.`,
  };
}

type Room = NonNullable<UpkeepState['disk']>;

const megabytes = (bytes: number) => Math.floor(bytes / 1024 / 1024);
