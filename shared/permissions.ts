import { hourMs } from './durations.ts';
import type { Entry, RecordKind } from './entries/entry.ts';
import type { Role } from './roles.ts';

const everyHand = ['cellar', 'lab', 'brewer', 'head'] as const;
const brewing = ['brewer', 'head'] as const;
const bench = ['lab', 'head'] as const;
const headOnly = ['head'] as const;

/** Who may write each kind of entry: the one table of it. */
export const writersOf: Readonly<Record<RecordKind, readonly Role[]>> = {
  brewery: headOnly,
  site: headOnly,
  strain: headOnly,
  vessel: brewing,
  freshCulture: ['lab', 'brewer', 'head'],
  ferment: brewing,
  pitch: brewing,
  reading: everyHand,
  chill: everyHand,
  rack: everyHand,
  crop: everyHand,
  blend: brewing,
  transfer: brewing,
  storeReading: everyHand,
  count: bench,
  stain: bench,
  medium: bench,
  microCheck: bench,
  microResult: bench,
  treatment: brewing,
  discard: everyHand,
  // Anyone may stop yeast from being pitched; only the head brewer lets it go again.
  hold: everyHand,
  familyHold: everyHand,
  release: headOnly,
  familyRelease: headOnly,
  plannedBrew: brewing,
  allotment: brewing,
  freshCulturePolicy: headOnly,
};

/** Everyone who may write anything at all. */
export const writers: readonly Role[] = everyHand;
/** Corrects what others wrote, or what was written long ago, and strikes out. */
const correctors: readonly Role[] = headOnly;
/** Pitches a held lot, or one of another strain, or mixes a held one into a blend that no hold marks. */
const overriders: readonly Role[] = headOnly;

/** How long a person may correct an entry of their own [h]. */
export const ownCorrectionHours = 24;

type Writer = { userName: string; roles: readonly Role[] };
/** The entry to be corrected: who wrote it down, and when its record was made. */
export type Corrected = { actor: string; recordReceivedMs: number };

export const isOneOf = (writer: Pick<Writer, 'roles'>, allowed: readonly Role[]) =>
  writer.roles.some((role) => allowed.includes(role));

export const mayStrikeOut = (writer: Pick<Writer, 'roles'>) => isOneOf(writer, correctors);

/** Why this person may not write this entry; undefined when they may. */
export function refusalToWrite(
  writer: Writer,
  entry: Entry,
  { corrected, nowMs }: { corrected: Corrected | undefined; nowMs: number },
): string | undefined {
  if (entry.kind === 'void')
    return mayStrikeOut(writer)
      ? undefined
      : `Striking an entry out needs the role ${inWords(correctors)}.`;
  const allowed = writersOf[entry.kind];
  if (!isOneOf(writer, allowed))
    return `Writing this down needs the role ${inWords(allowed)}; ${yours(writer.roles)}.`;
  if (
    (entry.kind === 'pitch' || entry.kind === 'blend') &&
    entry.override !== undefined &&
    !isOneOf(writer, overriders)
  )
    return `${entry.kind === 'pitch' ? 'Pitching' : 'Mixing it in'} all the same needs the role ${inWords(overriders)}.`;
  return corrected === undefined ? undefined : refusalToCorrect(writer, corrected, nowMs);
}

function refusalToCorrect(
  writer: Writer,
  { actor, recordReceivedMs }: Corrected,
  nowMs: number,
): string | undefined {
  if (isOneOf(writer, correctors)) return undefined;
  const needed = inWords(correctors);
  if (actor !== writer.userName) return `Correcting what another wrote needs the role ${needed}.`;
  return nowMs - recordReceivedMs < ownCorrectionHours * hourMs
    ? undefined
    : `Correcting an entry after ${ownCorrectionHours} hours needs the role ${needed}.`;
}

/** The roles someone holds where they were needed, for a refusal. */
export const yours = (held: readonly Role[]) =>
  held.length === 0 ? 'you hold none for this' : `yours is ${held.join(' and ')}`;

const inWords = (held: readonly Role[]) => held.join(' or ');
