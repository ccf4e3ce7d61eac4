import type { EntryOf } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import type { EntryContext } from './entryContext.ts';

/** A held lot is pitched only for a reason; a correction may not lose the one that was given. */
export function heldRefusals(entry: EntryOf<'pitch'>, context: EntryContext): FieldError[] {
  const lot = context.lots.get(entry.lotId);
  const why = context.held.get(entry.lotId);
  if (lot === undefined || why === undefined || entry.override !== undefined) return [];
  const { before } = context;
  const isSameAsBefore =
    before?.kind === 'pitch' && before.lotId === entry.lotId && before.override === undefined;
  return isSameAsBefore ? [] : [sayWhy('override', lot.code, why, 'pitched')];
}

/**
 * What is mixed from a held lot would be held no more: it takes a reason too, and a correction may not
 * lose it.
 */
export function mixedRefusals(
  { parents, override }: EntryOf<'blend'>,
  { lots, held, before }: EntryContext,
): FieldError[] {
  const wasUnasked = before?.kind === 'blend' && before.override === undefined;
  if (override !== undefined || wasUnasked) return [];
  return parents.flatMap(({ lotId }) => {
    const lot = lots.get(lotId);
    const why = held.get(lotId);
    return lot === undefined || why === undefined
      ? []
      : [sayWhy('override', lot.code, why, 'mixed in')];
  });
}

export function washRefusals(
  { lotId, override }: EntryOf<'treatment'>,
  { lots, washObjections, before }: EntryContext,
): FieldError[] {
  const wasUnasked = before?.kind === 'treatment' && before.override === undefined;
  if (washObjections.length === 0 || override !== undefined || wasUnasked) return [];
  const code = lots.get(lotId)?.code ?? '';
  return [
    {
      path: 'override',
      message: `Lot ${code} should not be acid washed, for ${washObjections.join(', and ')}: replace it, or say why it is washed all the same`,
    },
  ];
}

export function liftingRefusals(
  { happenedAt }: EntryOf<'familyRelease'>,
  { familyHold, recordId }: EntryContext,
): FieldError[] {
  if (familyHold === undefined) return [];
  if (familyHold.releaseId !== null && familyHold.releaseId !== recordId)
    return [{ path: 'holdId', message: 'This hold is lifted already' }];
  return Date.parse(happenedAt) < familyHold.happenedMs
    ? [{ path: 'happenedAt', message: 'It was not yet on hold then' }]
    : [];
}

const sayWhy = (path: string, code: string, held: string, done: string): FieldError => ({
  path,
  message: `Lot ${code} is on hold (${held}): say why it is ${done} all the same`,
});
