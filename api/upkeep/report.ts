import { statSync } from 'node:fs';
import { dirname } from 'node:path';
import { headOfJournal } from '#db/journal/chain.ts';
import type { Services } from '../context.ts';
import { firstState, type UpkeepState } from './state.ts';
import type { Upkeep } from './upkeep.ts';

type Told = Pick<Services, 'database' | 'upkeep' | 'now'>;

/**
 * How the file of the log is kept. Folders, and what the system said of them, are told only to those
 * who may see how the machine is laid out.
 */
export async function upkeepReport(
  { database, upkeep, now }: Told,
  { seesFolders }: { seesFolders: boolean },
) {
  const state = upkeep?.state() ?? firstState({ everyHours: 0, secondFolder: undefined });
  const attempt = (tried: { atMs: number; why: string } | undefined) =>
    tried === undefined ? null : { at: moment(tried.atMs), why: seesFolders ? tried.why : null };
  const { backup, secondPlace, mirror, check, drill } = state;
  const places = placesOf(upkeep, seesFolders);
  const log = await headOfJournal(database);
  return {
    at: moment(now()),
    warnings: upkeep?.warnings() ?? [],
    stops: state.stops,
    /** Whether this process makes the copies; another one on the same folder may. */
    isKeptHere: upkeep !== undefined && upkeep.settings.isCopiedElsewhere !== true,
    isOnServer: !database.isLocal,
    log,
    backup: {
      ...places.backup,
      everyHours: backup.everyHours,
      last: lastOf(backup.last, seesFolders),
      next: await nextOf(upkeep),
      failed: attempt(backup.failed),
    },
    secondPlace: {
      ...places.second,
      isSet: secondPlace.isSet,
      lastAt: momentOrNull(secondPlace.lastMs),
      failed: attempt(secondPlace.failed),
    },
    mirror: {
      ...places.mirror,
      isKept: upkeep?.settings.mirrorFolder !== undefined,
      entriesBehind: log.entries - (mirror.seq ?? 0),
      behind: attempt(mirror.behind),
    },
    check: { last: sealsOf(check.passed), firstBad: check.firstBad ?? null },
    drill: { last: provenOf(drill.passed), failed: attempt(drill.failed) },
    disk: state.disk ?? null,
  };
}

export const moment = (ms: number) => new Date(ms).toISOString();
const momentOrNull = (ms: number | undefined) => (ms === undefined ? null : moment(ms));

function lastOf(last: UpkeepState['backup']['last'], seesFolders: boolean) {
  if (last === undefined) return null;
  return {
    at: moment(last.madeMs),
    entries: last.entries,
    file: seesFolders ? last.file : null,
  };
}

async function nextOf(upkeep: Upkeep | undefined) {
  const next = await upkeep?.nextBackup();
  return next === undefined ? null : { at: moment(next.dueMs), hasNews: next.hasNews };
}

const sealsOf = (passed: UpkeepState['check']['passed']) =>
  passed === undefined
    ? null
    : { at: moment(passed.atMs), entries: passed.entries, head: passed.head };

const provenOf = (passed: UpkeepState['drill']['passed']) =>
  passed === undefined
    ? null
    : { at: moment(passed.atMs), entries: passed.entries, lost: passed.lost };

type Place = {
  /** Null for those who may not see it, and where there is none. */
  folder: string | null;
  /** On another disk than the log; null where that cannot be told. */
  isOtherDisk: boolean | null;
};

function placesOf(upkeep: Upkeep | undefined, seesFolders: boolean) {
  const { file, backupFolder, secondFolder, mirrorFolder } = upkeep?.settings ?? {};
  const place = (folder: string | undefined): Place => ({
    folder: seesFolders ? (folder ?? null) : null,
    isOtherDisk:
      file === undefined || folder === undefined ? null : isOtherDisk(folder, dirname(file)),
  });
  return { backup: place(backupFolder), second: place(secondFolder), mirror: place(mirrorFolder) };
}

function isOtherDisk(folder: string, than: string): boolean | null {
  try {
    return statSync(folder).dev !== statSync(than).dev;
  } catch {
    return null;
  }
}
