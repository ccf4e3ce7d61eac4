import type { Backup, BackupReason } from '#db/backup.ts';
import { openMirror } from '#db/mirror.ts';
import { faultFields } from '../log.ts';
import { createBackups } from './backups.ts';
import type { Parts } from './parts.ts';
import { createProofs } from './proofs.ts';
import { firstState, type UpkeepState, type UpkeepWarning, upkeepWarnings } from './state.ts';
import { createTimers } from './timers.ts';
import { createWatch } from './watch.ts';

type Job = () => Promise<void>;

export type Upkeep = {
  state: () => UpkeepState;
  warnings: () => UpkeepWarning[];
  /** Makes a backup now, whether or not anything changed. */
  backUp: (reason: BackupReason) => Promise<Backup>;
  /** What the timers run; each does only what is due. */
  jobs: { watch: Job; mirror: Job; backUpIfDue: Job; checkIfDue: Job; drillIfDue: Job };
  start: () => void;
  /** Ends the timers, and brings the mirror up to the last entry. */
  stop: Job;
};

const secondMs = 1_000;
const stopWithinMs = 2_000;

/** Looks after the file of the log: room, clock, mirror, backups, seals, and a restore now and then. */
export async function createUpkeep(parts: Parts): Promise<Upkeep> {
  const { database, settings, now, log } = parts;
  const state = firstState(settings);
  const { backUp, backUpIfDue } = await createBackups(parts, state);
  const { checkIfDue, drillIfDue } = await createProofs(parts, state);
  const mirror = await createMirrorJob(parts, state);
  const watch = createWatch(parts);
  const timers = createTimers(log);
  const current = (): UpkeepState => ({ ...state, stop: database.fault() });

  return {
    state: current,
    warnings: () => upkeepWarnings(current(), now()),
    backUp,
    jobs: { watch, mirror, backUpIfDue, checkIfDue, drillIfDue },
    start: () => {
      timers.every(5 * secondMs, watch);
      timers.every(secondMs, mirror);
      timers.every(2 * secondMs, backUpIfDue);
      timers.every(60 * secondMs, checkIfDue);
      timers.every(10 * 60 * secondMs, drillIfDue);
    },
    stop: async () => {
      await timers.stop(stopWithinMs);
      await mirror();
    },
  };
}

async function createMirrorJob({ database, settings, now, log }: Parts, state: UpkeepState) {
  if (settings.mirrorFolder === undefined) return async () => undefined;
  const mirror = await openMirror(settings.mirrorFolder, database);
  return async () => {
    try {
      await mirror.catchUp();
      state.mirror.behindSinceMs = undefined;
    } catch (error) {
      if (state.mirror.behindSinceMs === undefined)
        log('error', 'the mirror cannot be written', faultFields(error));
      state.mirror.behindSinceMs ??= now();
    }
  };
}
