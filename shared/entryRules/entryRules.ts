import type { RecordEntry } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import { siteRefusals } from '../sites/siteRules.ts';
import type { EntryContext } from './entryContext.ts';
import { liftingRefusals, mixedRefusals, washRefusals } from './holdRules.ts';
import { missingRecords } from './missingRecords.ts';
import { momentRefusals } from './momentRules.ts';
import { nameRefusals } from './nameRules.ts';
import { carriedOutTwice } from './plannedRules.ts';
import { rackRefusals, sharedVesselRefusals } from './vesselRules.ts';
import { allotmentRefusals, blendRefusals, pitchRefusals, unitRefusals } from './yeastRules.ts';

/** Why an entry cannot stand beside what is already recorded; empty when it can. */
export function refusals(entry: RecordEntry, context: EntryContext): FieldError[] {
  const missing = missingRecords(entry, context);
  if (missing.length > 0) return missing;
  return [
    ...momentRefusals(entry, context),
    ...nameRefusals(entry, context),
    ...kindRefusals(entry, context),
    ...siteRefusals(entry, context),
  ];
}

function kindRefusals(entry: RecordEntry, context: EntryContext): FieldError[] {
  switch (entry.kind) {
    case 'brewery':
      return context.hasBrewery && !context.isCorrection
        ? [{ path: 'kind', message: 'The brewery is set up already: correct it instead' }]
        : [];
    case 'ferment':
      return [
        ...sharedVesselRefusals(entry, context),
        ...strainRefusals(entry.strainId, context),
        ...carriedOutTwice(entry, context),
      ];
    case 'rack':
      return rackRefusals(entry, context);
    case 'freshCulture':
      return freshRefusals(entry.strainId, context);
    case 'pitch':
      return pitchRefusals(entry, context);
    case 'crop':
      return context.ferment?.pitchedMs === null
        ? [{ path: 'fermentId', message: `Gyle ${context.ferment.gyle} was never pitched` }]
        : [];
    case 'treatment':
      return washRefusals(entry, context);
    case 'familyRelease':
      return liftingRefusals(entry, context);
    case 'discard':
    case 'transfer':
      return unitRefusals('amount', entry, context.lots.get(entry.lotId));
    case 'blend':
      return [...blendRefusals(entry, context), ...mixedRefusals(entry, context)];
    case 'allotment':
      return allotmentRefusals(entry, context);
    case 'freshCulturePolicy':
      return context.policyId === undefined || context.policyId === context.recordId
        ? []
        : [{ path: 'strainId', message: 'This strain has its policy already: correct it instead' }];
    default:
      return [];
  }
}

function strainRefusals(strainId: string, { before, ferment }: EntryContext): FieldError[] {
  return before?.kind === 'ferment' && before.strainId !== strainId && ferment?.hasCrops
    ? [{ path: 'strainId', message: 'The strain stays: a crop was already taken' }]
    : [];
}

function freshRefusals(strainId: string, { before, lots, recordId }: EntryContext): FieldError[] {
  return before?.kind === 'freshCulture' &&
    before.strainId !== strainId &&
    lots.get(recordId)?.isUsed === true
    ? [{ path: 'strainId', message: 'The strain stays: this lot has already been used' }]
    : [];
}
