import type { UpkeepReport } from './apiClient.ts';
import type { Tone } from './components/frame/Status.tsx';
import { bytes, figure, moment } from './format.ts';

export type UpkeepWarning = UpkeepReport['warnings'][number];

/** What stands in a warning, and what whoever looks after the machine does about it. */
export const warningWords: Record<UpkeepWarning, { says: string; todo: string }> = {
  chain: {
    says: 'The chain of seals is broken.',
    todo: 'Something changed an entry after it was sealed: a fault of the disk, or somebody. Nothing more is written, and all can still be read. Copy the whole data folder away first, for finding out how it came about. Then bring the log back as told below: the newest sound backup, and what the running copy holds after it.',
  },
  disk: {
    says: 'The disk of the log is full, or nearly.',
    todo: 'Make room on it. Writing begins again by itself within seconds.',
  },
  clock: {
    says: 'The clock of the server is wrong.',
    todo: 'Set it right; writing begins again by itself. If it is right and the newest entry bears the wrong time: stop Barmbook, npm run verify -- --accept-clock, and start it again.',
  },
  readonly: {
    says: 'The log can only be read.',
    todo: 'See that the disk is connected, healthy and may be written to by Barmbook. It tries again every few seconds. If the file itself is damaged, bring the log back as told below.',
  },
  backup: {
    says: 'The backup of the log is late.',
    todo: 'See that its folder can be written and has room, then press “Back up now”.',
  },
  second_place: {
    says: 'The copies in the second place are late: is it connected?',
    todo: 'Connect it, and press “Back up now”: the next backup goes there too.',
  },
  mirror: {
    says: 'The running copy of the journal cannot be written.',
    todo: 'See that its folder can be written and has room. It catches up by itself.',
  },
  drill: {
    says: 'The last trial of a restore failed.',
    todo: 'The backups may not be worth what they should. Press “Back up now”, keep that copy elsewhere, and try by hand while Barmbook is stopped: npm run restore -- --drill',
  },
};

type SafetyFact = { what: string; tone: Tone; word: string; says: string };

/** How the log is kept, a line a fact; pure, so that every state can be looked at. */
export function safetyFacts(report: UpkeepReport): SafetyFact[] {
  if (!report.isKeptHere)
    return [
      saving(report),
      {
        what: 'Copies',
        tone: 'watch',
        word: 'not by this one',
        says: 'Another Barmbook that is set to the same folder makes the copies of this log.',
      },
    ];
  return [
    saving(report),
    lastBackup(report),
    proven(report),
    nextBackup(report),
    secondPlace(report),
    mirror(report),
    chain(report),
    ...(report.isOnServer ? [] : [disk(report)]),
  ];
}

const entries = (count: number) => (count === 1 ? '1 entry' : `${figure(count, 9)} entries`);
const sentence = (...parts: (string | null | false)[]) =>
  parts.filter((part) => typeof part === 'string' && part !== '').join(' ');
const because = (failed: { at: string; why: string | null } | null, what: string) =>
  failed === null
    ? ''
    : `${what} ${moment(failed.at)}${failed.why === null ? '' : `: ${failed.why}`}.`;
const inFolder = (folder: string | null) => (folder === null ? '' : ` in ${folder}`);

function saving({ stops, isOnServer }: UpkeepReport): SafetyFact {
  const what = 'Saving';
  const where = isOnServer ? 'database server' : 'disk';
  return stops.length === 0
    ? {
        what,
        tone: 'good',
        word: 'works',
        says: `Every entry is on the ${where} before it counts as saved.`,
      }
    : { what, tone: 'stop', word: 'stopped', says: stops.map(({ reason }) => reason).join(' ') };
}

function lastBackup({ backup, warnings }: UpkeepReport): SafetyFact {
  const { last, failed, folder, isOtherDisk } = backup;
  const what = 'Last good backup';
  const fault = because(failed, 'It failed');
  if (last === null)
    return {
      what,
      tone: failed === null ? 'watch' : 'stop',
      word: 'none yet',
      says: sentence(`There is none${inFolder(folder)}.`, fault),
    };
  return {
    what,
    ...(warnings.includes('backup')
      ? { tone: 'stop', word: 'late' }
      : { tone: 'good', word: 'checked' }),
    says: sentence(
      `${moment(last.at)}, with ${entries(last.entries)}${last.file === null ? '' : `: ${last.file}`}${inFolder(folder)}.`,
      isOtherDisk === false && 'On the same disk as the log.',
      isOtherDisk === true && 'On another disk than the log.',
      fault,
    ),
  };
}

function proven({ drill: { last, failed } }: UpkeepReport): SafetyFact {
  const what = 'Proven by a restore';
  const passed =
    last === null
      ? 'It is tried by itself, once there is a backup and a running copy.'
      : `${moment(last.at)}: ${entries(last.entries)} came back${last.lost === 0 ? ', none was missing' : `, ${figure(last.lost, 9)} of the running log did not`}.`;
  if (failed !== null)
    return { what, tone: 'stop', word: 'failed', says: sentence(because(failed, 'Tried'), passed) };
  return last === null
    ? { what, tone: 'watch', word: 'not yet', says: passed }
    : { what, tone: 'good', word: 'proven', says: passed };
}

function nextBackup({ backup, at }: UpkeepReport): SafetyFact {
  const { next, everyHours } = backup;
  const what = 'Next backup';
  if (next === null)
    return { what, tone: 'watch', word: 'when asked', says: 'None is made by itself.' };
  const every = everyHours === 1 ? 'Every hour' : `Every ${figure(everyHours)} hours`;
  const isPast = next.at <= at;
  const when = next.hasNews
    ? isPast
      ? 'now due.'
      : `next ${moment(next.at)}.`
    : 'once something new is written: the last one holds everything.';
  return { what, tone: 'good', word: 'by itself', says: `${every}; ${when}` };
}

function secondPlace({ secondPlace: place, warnings }: UpkeepReport): SafetyFact {
  const { isSet, lastAt, failed, folder, isOtherDisk } = place;
  const what = 'Second place';
  if (!isSet)
    return {
      what,
      tone: 'watch',
      word: 'none',
      says: 'No copy leaves this machine by itself. Name another disk in BACKUP_SECOND_DIR when starting Barmbook.',
    };
  const says = sentence(
    lastAt === null
      ? `Nothing is${inFolder(folder)} yet.`
      : `The newest copy${inFolder(folder)} is of ${moment(lastAt)}.`,
    isOtherDisk === false && 'It is on the same disk as the log and would be lost with it.',
    because(failed, 'It could not be written'),
  );
  if (warnings.includes('second_place')) return { what, tone: 'stop', word: 'late', says };
  return failed !== null || isOtherDisk === false || lastAt === null
    ? { what, tone: 'watch', word: 'look', says }
    : { what, tone: 'good', word: 'kept', says };
}

function mirror({ mirror: copy, warnings, isOnServer }: UpkeepReport): SafetyFact {
  const { isKept, entriesBehind, behind, folder } = copy;
  const what = 'Running copy';
  if (!isKept)
    return { what, tone: 'watch', word: 'none', says: 'Entries are not mirrored as they come.' };
  const says = sentence(
    `Every entry as text within ${isOnServer ? 'half a minute' : 'a second'}${inFolder(folder)}.`,
    entriesBehind === 0 ? 'It holds them all.' : `It is ${entries(entriesBehind)} behind.`,
    because(behind, 'It cannot be written since'),
  );
  if (warnings.includes('mirror')) return { what, tone: 'stop', word: 'behind', says };
  return behind === null
    ? { what, tone: 'good', word: 'kept', says }
    : { what, tone: 'watch', word: 'behind', says };
}

function chain({ check, log }: UpkeepReport): SafetyFact {
  const { last, firstBad } = check;
  const what = 'Chain of seals';
  const passed =
    last === null
      ? 'It is looked over within a minute of the first start, then daily.'
      : `Looked over whole ${moment(last.at)}: ${entries(last.entries)}, each sealed to the one before. ${log.entries > last.entries ? `${entries(log.entries - last.entries)} came since.` : ''}`;
  if (firstBad !== null)
    return {
      what,
      tone: 'stop',
      word: 'broken',
      says: sentence(badEntry(firstBad), last !== null && `It was last sound ${moment(last.at)}.`),
    };
  return last === null
    ? { what, tone: 'watch', word: 'not yet', says: passed }
    : { what, tone: 'good', word: 'sound', says: passed.trim() };
}

/** The first entry that cannot be trusted, and why. */
export const badEntry = ({ seq, why }: NonNullable<UpkeepReport['check']['firstBad']>) =>
  `Entry ${seq} is the first that cannot be trusted: ${why}.`;

function disk({ disk: room }: UpkeepReport): SafetyFact {
  const what = 'Free disk';
  if (room === null)
    return { what, tone: 'watch', word: 'not yet', says: 'It is measured every few seconds.' };
  const { freeBytes, neededBytes } = room;
  const says = `${bytes(freeBytes)} free on the disk of the log; with less than ${bytes(neededBytes)} nothing more is written.`;
  if (freeBytes < neededBytes) return { what, tone: 'stop', word: 'full', says };
  return freeBytes < 3 * neededBytes
    ? { what, tone: 'watch', word: 'little', says }
    : { what, tone: 'good', word: 'enough', says };
}
