import * as z from 'zod/mini';
import { allotted, atLeastOne, exactlyOne } from './amounts.ts';
import { count, medium, microCheck, microResult, stain } from './checkEntries.ts';
import { voiding } from './envelope.ts';
import { chill, ferment, pitch, rack, reading } from './fermentEntries.ts';
import { familyHold, familyRelease, hold, release } from './holdEntries.ts';
import {
  blend,
  crop,
  discard,
  freshCulture,
  storeReading,
  transfer,
  treatment,
} from './lotEntries.ts';
import { allotment, freshCulturePolicy, plannedBrew } from './planEntries.ts';
import { brewery, site, strain, vessel } from './setupEntries.ts';

/** The kinds that make or amend a record; a void only strikes one out. */
export const recordSchemas = {
  brewery,
  site,
  strain,
  vessel,
  freshCulture,
  ferment,
  pitch,
  reading,
  chill,
  rack,
  crop,
  blend,
  transfer,
  storeReading,
  count,
  stain,
  medium,
  microCheck,
  microResult,
  treatment,
  discard,
  hold,
  release,
  familyHold,
  familyRelease,
  plannedBrew,
  allotment,
  freshCulturePolicy,
} as const;

export type RecordKind = keyof typeof recordSchemas;

const anyEntry = z.discriminatedUnion('kind', [voiding, ...Object.values(recordSchemas)], {
  error: 'kind must name one of the kinds of entry',
});

/** Anything that can be written down, checked as a whole. */
export const entry = anyEntry.check((context) => {
  const value = context.value;
  for (const problem of [
    ...exactlyOne(value),
    ...atLeastOne(value),
    ...allotted(value),
    ...inOrder(value),
  ])
    context.issues.push({ code: 'custom', input: value, ...problem });
});

export type Entry = z.infer<typeof anyEntry>;
type VoidEntry = Extract<Entry, { kind: 'void' }>;
export type RecordEntry = Exclude<Entry, VoidEntry>;
export type EntryOf<K extends RecordKind> = Extract<Entry, { kind: K }>;

function inOrder(value: Entry) {
  const problems = [];
  if (value.kind !== 'void' && (value.supersedes === undefined) !== (value.reason === undefined))
    problems.push(
      value.supersedes === undefined
        ? { path: ['reason'], message: 'A reason is given only with a correction' }
        : { path: ['reason'], message: 'Say why it is corrected' },
    );
  if (value.kind === 'strain') {
    if (value.tempLowC > value.tempHighC)
      problems.push({
        path: ['tempHighC'],
        message: 'The warm end must not be below the cool end',
      });
    if (value.storeLowC > value.storeHighC)
      problems.push({
        path: ['storeHighC'],
        message: 'The warm end must not be below the cool end',
      });
  }
  if (value.kind === 'stain' && value.live + value.dead === 0)
    problems.push({ path: ['live'], message: 'Count one cell at least, live or dead' });
  if (value.kind === 'microResult' && value.ofColonies !== undefined) {
    if (value.colonies === undefined || value.colonies > value.ofColonies)
      problems.push({
        path: ['colonies'],
        message: 'Give how many of the colonies looked at were such, 0 for none',
      });
  }
  if (
    value.kind === 'familyHold' &&
    (value.lotId === undefined) === (value.fermentId === undefined)
  )
    problems.push({ path: ['lotId'], message: 'Name the lot or the ferment, one of the two' });
  if ((value.kind === 'ferment' || value.kind === 'plannedBrew') && value.originalGravitySg <= 1)
    problems.push({
      path: ['originalGravitySg'],
      message: 'Original gravity must be above 1.000 SG',
    });
  return problems;
}
