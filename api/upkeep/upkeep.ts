import type { WriteStop } from '#db/opening/writeStops.ts';
import type { Backup, BackupReason } from '#db/safety/backup.ts';
import { openMirror } from '#db/safety/mirror.ts';
import type { UpkeepSettings } from '../environment.ts';
import { faultFields } from '../log.ts';
import { createBackups } from './backups.ts';
import { type Parts, whyOf } from './parts.ts';
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
  /** When the next is due, and whether it would hold anything new; none when only made if asked. */
  nextBackup: () => Promise<{ dueMs: number; hasNews: boolean } | undefined>;
  settings: UpkeepSettings;
  /** What the timers run; each does only what is due. */
  jobs: { watch: Job; mirror: Job; backUpIfDue: Job; checkIfDue: Job; drillIfDue: Job };
  start: () => void;
  /** Ends the timers, and brings the mirror up to the last entry. */
  stop: Job;
};

const secondMs = 1_000;
const stopWithinMs = 2_000;
const often = { watchMs: 5_000, mirrorMs: 1_000 };
/** Each look at a server is a request of its own. */
const seldom = { watchMs: 15_000, mirrorMs: 30_000 };

/** Looks after the file of the log: room, clock, mirror, backups, seals, and a restore now and then. */
export async function createUpkeep(parts: Parts): Promise<Upkeep> {
  const { database, settings, now, log } = parts;
  const state = firstState(settings);
  const { backUp, backUpIfDue, nextBackup } = await createBackups(parts, state);
  const { checkIfDue, drillIfDue } = await createProofs(parts, state);
  const mirror = await createMirrorJob(parts, state);
  const watch = createWatch(parts, state);
  const timers = createTimers(log);
  const current = (): UpkeepState => ({ ...state, stops: stopsOf(database) });

  return {
    state: current,
    warnings: () => upkeepWarnings(current(), now()),
    backUp,
    nextBackup,
    settings,
    jobs: { watch, mirror, backUpIfDue, checkIfDue, drillIfDue },
    start: () => {
      const pace = database.isLocal ? often : seldom;
      timers.every(pace.watchMs, watch);
      timers.every(pace.mirrorMs, mirror);
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

function stopsOf({ writeStops, fault }: Parts['database']): WriteStop[] {
  const known = writeStops.all();
  const failed = fault();
  return known.length === 0 && failed !== undefined ? [failed] : known;
}

/** Keeps the mirror; whatever goes wrong, the place is looked at anew at the next turn. */
async function createMirrorJob({ database, settings, now, log }: Parts, state: UpkeepState) {
  const { mirrorFolder } = settings;
  if (mirrorFolder === undefined) return async () => undefined;
  const anew = async () => {
    const opened = await openMirror(mirrorFolder, database);
    state.mirror.seq = opened.end().seq;
    return opened;
  };
  // The first turn tries again, and tells why it fails.
  let mirror = await anew().catch(() => undefined);
  return async () => {
    try {
      mirror ??= await anew();
      state.mirror = { seq: (await mirror.catchUp()).seq, behind: undefined };
    } catch (error) {
      mirror = undefined;
      if (state.mirror.behind === undefined)
        log('error', 'the mirror cannot be written', faultFields(error));
      const { atMs } = state.mirror.behind ?? { atMs: now() };
      state.mirror.behind = { atMs, why: whyOf(error) };
    }
  };
}
