import type { Amount } from '../entries/amounts.ts';
import type { EntryOf } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import type { EntryContext, LotFacts } from './entryContext.ts';
import { heldRefusals } from './holdRules.ts';

/** Why this lot cannot be pitched into this gyle. */
export function pitchRefusals(entry: EntryOf<'pitch'>, context: EntryContext): FieldError[] {
  const lot = context.lots.get(entry.lotId);
  const { ferment } = context;
  if (lot === undefined || ferment === undefined) return [];
  const errors = unitRefusals('amount', entry, lot);
  if (
    ferment.rackedMs !== null &&
    Date.parse(entry.happenedAt) > ferment.rackedMs &&
    !context.isCorrection
  )
    errors.push({ path: 'fermentId', message: `Gyle ${ferment.gyle} was already racked then` });
  errors.push(...heldRefusals(entry, context));
  if (entry.override === undefined && lot.strainId !== ferment.strainId)
    errors.push({
      path: 'override',
      message: `Lot ${lot.code} is of another strain than the gyle: say why it is pitched all the same`,
    });
  return errors;
}

/** Why these lots are not blended: named twice, of two strains, in another unit. */
export function blendRefusals(
  entry: { parents: readonly (Amount & { lotId: string })[] },
  { lots, recordId }: EntryContext,
): FieldError[] {
  const strains = new Set<string>();
  const seen = new Set<string>();
  const errors = entry.parents.flatMap((parent, index): FieldError[] => {
    const lot = lots.get(parent.lotId);
    if (lot !== undefined) strains.add(lot.strainId);
    const twice = seen.has(parent.lotId);
    seen.add(parent.lotId);
    if (parent.lotId === recordId || twice)
      return [{ path: `parents.${index}.lotId`, message: 'Each lot of a blend is named once' }];
    return unitRefusals(`parents.${index}.amount`, parent, lot);
  });
  return strains.size > 1
    ? [...errors, { path: 'parents', message: 'Lots of two strains are not blended' }]
    : errors;
}

/** Why a planned brew cannot have this yeast: another strain, no crop by then, another unit. */
export function allotmentRefusals(
  entry: EntryOf<'allotment'>,
  { lots, ferment, plannedBrews }: EntryContext,
): FieldError[] {
  const brew = plannedBrews.get(entry.plannedBrewId);
  const lot = lots.get(entry.fromLotId ?? '');
  const earlier = plannedBrews.get(entry.fromBrewId ?? '');
  const [path, source] =
    entry.fromLotId !== undefined
      ? ['fromLotId', lot]
      : entry.fromFermentId !== undefined
        ? ['fromFermentId', ferment]
        : ['fromBrewId', earlier];
  if (source?.strainId !== brew?.strainId)
    return [{ path, message: `${brew?.beer ?? 'The brew'} is planned with another strain` }];
  if (earlier !== undefined && brew !== undefined && earlier.onDay >= brew.onDay)
    return [{ path, message: `${earlier.beer} is not brewed before it: there is no crop by then` }];
  const hasAmount = (entry.amountL ?? entry.amountKg) !== undefined;
  return hasAmount ? unitRefusals('amount', entry, lot) : [];
}

/** Why an amount cannot be of this lot: a lot is measured in litres or in kilograms throughout. */
export function unitRefusals(
  path: string,
  amount: Amount,
  lot: LotFacts | undefined,
): FieldError[] {
  if (lot === undefined) return [];
  const given = amount.amountL === undefined ? 'kg' : 'L';
  return given === lot.unit
    ? []
    : [
        {
          path: `${path}${lot.unit === 'L' ? 'L' : 'Kg'}`,
          message: `Lot ${lot.code} is measured in ${lot.unit === 'L' ? 'litres' : 'kilograms'}`,
        },
      ];
}
