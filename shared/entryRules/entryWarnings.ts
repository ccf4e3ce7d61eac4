import type { EntryOf, RecordEntry } from '../entries/entry.ts';
import { isRise } from '../science/fermentReadings.ts';
import type { EntryContext } from './entryContext.ts';
import { otherStrainWarnings } from './plannedRules.ts';
import { sharedVesselWarnings } from './vesselRules.ts';

/** What to look at again though the entry stands: it was done, so it is recorded. */
export function warningsOf(entry: RecordEntry, context: EntryContext): string[] {
  const { lots, held, isCorrection } = context;
  if (isCorrection) return [];
  if (entry.kind === 'pitch' || entry.kind === 'discard' || entry.kind === 'transfer')
    return takenWarnings(entry, context);
  if (entry.kind === 'blend')
    return entry.parents.flatMap((parent) => takenWarnings(parent, context));
  if (entry.kind === 'allotment') {
    const lot = lots.get(entry.fromLotId ?? '');
    return lot === undefined || !held.has(entry.fromLotId ?? '')
      ? []
      : [`Lot ${lot.code} is on hold: the plan takes it only once it is released.`];
  }
  if (entry.kind === 'ferment')
    return [...sharedVesselWarnings(entry, context), ...otherStrainWarnings(entry, context)];
  return entry.kind === 'reading' ? gravityWarnings(entry, context) : [];
}

type Taken = { lotId: string; amountL?: number | undefined; amountKg?: number | undefined };

function takenWarnings({ lotId, amountL, amountKg }: Taken, { lots }: EntryContext): string[] {
  const lot = lots.get(lotId);
  return lot !== undefined && (amountL ?? amountKg ?? 0) > lot.left
    ? [`By the record only ${lot.left} ${lot.unit} of ${lot.code} were left: check the amounts.`]
    : [];
}

function gravityWarnings(
  { gravitySg, happenedAt }: EntryOf<'reading'>,
  { ferment, gravityBefore }: EntryContext,
): string[] {
  if (gravitySg === undefined || ferment === undefined) return [];
  if (gravitySg > ferment.originalGravitySg)
    return ['This gravity is above the original gravity: check it.'];
  if (gravityBefore === undefined) return [];
  if (gravityBefore.happenedMs === Date.parse(happenedAt))
    return ['A gravity is already written down for this very time: check the time.'];
  return isRise(gravityBefore.gravitySg, gravitySg)
    ? ['This gravity is higher than the one read before it: check it.']
    : [];
}
