import type { FirstBad } from '#db/chain.ts';
import type { WriteStop } from '#db/writeStops.ts';
import type { UpkeepSettings } from '../environment.ts';

type Attempt = { atMs: number; why: string };

/** How the file of the log is kept, as the upkeep knows it. */
export type UpkeepState = {
  /** Why nothing can be written just now. */
  stop: WriteStop | undefined;
  backup: {
    everyHours: number;
    last: { madeMs: number; entries: number } | undefined;
    failed: Attempt | undefined;
  };
  secondPlace: { isSet: boolean; lastMs: number | undefined; failed: Attempt | undefined };
  mirror: { behindSinceMs: number | undefined };
  check: { passedMs: number | undefined; firstBad: FirstBad | undefined };
  drill: { passedMs: number | undefined; failed: Attempt | undefined };
};

export type UpkeepWarning =
  | 'disk'
  | 'readonly'
  | 'clock'
  | 'chain'
  | 'backup'
  | 'second_place'
  | 'mirror'
  | 'drill';

export function firstState({ everyHours, secondFolder }: UpkeepSettings): UpkeepState {
  return {
    stop: undefined,
    backup: { everyHours, last: undefined, failed: undefined },
    secondPlace: { isSet: secondFolder !== undefined, lastMs: undefined, failed: undefined },
    mirror: { behindSinceMs: undefined },
    check: { passedMs: undefined, firstBad: undefined },
    drill: { passedMs: undefined, failed: undefined },
  };
}

const hourMs = 3_600_000;
const mirrorLateMs = 60_000;
const secondPlaceLateMs = 26 * hourMs;

/** What someone should look after, in order of urgency; pure, so that it can be tested by itself. */
export function upkeepWarnings(state: UpkeepState, nowMs: number): UpkeepWarning[] {
  const { stop, backup, secondPlace, mirror, check, drill } = state;
  const found: [UpkeepWarning, boolean][] = [
    ['chain', check.firstBad !== undefined],
    ['disk', stop?.code === 'storage_full'],
    ['clock', stop?.code === 'clock_invalid'],
    ['readonly', stop?.code === 'read_only' || stop?.code === 'unavailable'],
    ['backup', isBackupLate(backup, nowMs)],
    ['mirror', mirror.behindSinceMs !== undefined && nowMs - mirror.behindSinceMs > mirrorLateMs],
    ['second_place', secondPlace.isSet && isSecondLate(secondPlace, nowMs)],
    ['drill', drill.failed !== undefined],
  ];
  return found.filter(([, isSo]) => isSo).map(([warning]) => warning);
}

/** The shortest a good backup may be overdue; a setting of longer intervals allows two of them. */
const leastLateMs = 2 * hourMs;

function isBackupLate({ everyHours, last, failed }: UpkeepState['backup'], nowMs: number): boolean {
  if (everyHours === 0) return false;
  if (last === undefined) return failed !== undefined;
  const isOverdue = nowMs - last.madeMs > Math.max(leastLateMs, 2 * everyHours * hourMs);
  return failed !== undefined && failed.atMs > last.madeMs && isOverdue;
}

function isSecondLate({ lastMs, failed }: UpkeepState['secondPlace'], nowMs: number): boolean {
  if (failed === undefined) return false;
  return lastMs === undefined || nowMs - lastMs > secondPlaceLateMs;
}
