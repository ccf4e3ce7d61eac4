import type { FirstBad } from '#db/journal/chain.ts';
import type { WriteStop } from '#db/opening/writeStops.ts';
import { hourMs, minuteMs } from '#shared/durations.ts';
import type { UpkeepSettings } from '../environment.ts';

type Attempt = { atMs: number; why: string };

/** How the file of the log is kept, as the upkeep knows it. */
export type UpkeepState = {
  /** Why nothing can be written just now; none while all is well. */
  stops: readonly WriteStop[];
  backup: {
    everyHours: number;
    last: { madeMs: number; entries: number; file: string } | undefined;
    failed: Attempt | undefined;
  };
  secondPlace: { isSet: boolean; lastMs: number | undefined; failed: Attempt | undefined };
  /** `seq` of the last entry in the mirror. */
  mirror: { seq: number | undefined; behind: Attempt | undefined };
  check: {
    passed: { atMs: number; entries: number; head: string } | undefined;
    firstBad: FirstBad | undefined;
  };
  drill: {
    /** `lost`: entries of the running log that would not have come back. */
    passed: { atMs: number; entries: number; lost: number } | undefined;
    failed: Attempt | undefined;
  };
  disk: { freeBytes: number; neededBytes: number } | undefined;
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

export function firstState({
  everyHours,
  secondFolder,
}: Pick<UpkeepSettings, 'everyHours' | 'secondFolder'>): UpkeepState {
  return {
    stops: [],
    backup: { everyHours, last: undefined, failed: undefined },
    secondPlace: { isSet: secondFolder !== undefined, lastMs: undefined, failed: undefined },
    mirror: { seq: undefined, behind: undefined },
    check: { passed: undefined, firstBad: undefined },
    drill: { passed: undefined, failed: undefined },
    disk: undefined,
  };
}

const mirrorLateMs = minuteMs;
const secondPlaceLateMs = 26 * hourMs;

/** What someone should look after, in order of urgency; pure, so that it can be tested by itself. */
export function upkeepWarnings(state: UpkeepState, nowMs: number): UpkeepWarning[] {
  const { stops, backup, secondPlace, mirror, check, drill } = state;
  const isStoppedBy = (...codes: WriteStop['code'][]) =>
    stops.some(({ code }) => codes.includes(code));
  const found: [UpkeepWarning, boolean][] = [
    ['chain', check.firstBad !== undefined],
    ['disk', isStoppedBy('storage_full')],
    ['clock', isStoppedBy('clock_invalid')],
    ['readonly', isStoppedBy('read_only', 'unavailable')],
    ['backup', isBackupLate(backup, nowMs)],
    ['mirror', mirror.behind !== undefined && nowMs - mirror.behind.atMs > mirrorLateMs],
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

/** When a backup is due by the clock, if backups are made by themselves. */
export function backupDueMs({
  everyHours,
  last,
  failed,
}: UpkeepState['backup']): number | undefined {
  if (everyHours === 0) return undefined;
  return Math.max(last?.madeMs ?? 0, failed?.atMs ?? 0) + everyHours * hourMs;
}
