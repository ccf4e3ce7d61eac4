import { minuteMs } from '../durations.ts';
import type { RecordEntry } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import type { EntryContext } from './entryContext.ts';

export const clockToleranceMs = 5 * minuteMs;
const earliestMs = Date.UTC(2000, 0, 1);

/** Why an entry of any kind cannot have happened then, by the clock alone. */
export function timeRefusals(happenedAt: string, nowMs: number): FieldError[] {
  const happenedMs = Date.parse(happenedAt);
  const refuse = (message: string) => [{ path: 'happenedAt', message }];
  if (happenedMs > nowMs + clockToleranceMs)
    return refuse('When it happened lies in the future: check the date and the clock');
  return happenedMs < earliestMs ? refuse('When it happened must be after 1 January 2000') : [];
}

/** Why an entry cannot have happened then, by what came before and after it. */
export function momentRefusals(entry: RecordEntry, context: EntryContext): FieldError[] {
  const happenedMs = Date.parse(entry.happenedAt);
  const refuse = (message: string) => [{ path: 'happenedAt', message }];
  if ('fermentId' in entry && context.ferment !== undefined) {
    if (happenedMs < context.ferment.happenedMs)
      return refuse(`Gyle ${context.ferment.gyle} was not yet collected then`);
    const { pitchedMs } = context.ferment;
    if (entry.kind === 'crop' && pitchedMs !== null && happenedMs < pitchedMs)
      return refuse(`Gyle ${context.ferment.gyle} was not yet pitched then`);
  }
  if ('lotId' in entry) {
    const lot = context.lots.get(entry.lotId ?? '');
    if (lot !== undefined && happenedMs < lot.happenedMs)
      return refuse(`Lot ${lot.code} was not yet there then`);
  }
  const { firstResting, before } = context;
  // What stays at its time was taken there: its figures may be put right.
  const isMoved = before?.happenedAt !== entry.happenedAt;
  return isMoved && firstResting !== undefined && happenedMs > firstResting.atMs
    ? refuse(`${subjectOf(entry)} was ${firstResting.what} before then: put that right first`)
    : [];
}

const subjectOf = ({ kind }: RecordEntry) =>
  kind === 'ferment' || kind === 'pitch' ? 'The gyle' : 'The lot';
