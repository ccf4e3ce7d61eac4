import type { Amount } from './entries/amounts.ts';
import type { EntryOf, RecordEntry } from './entries/entry.ts';
import type { FieldError } from './errors.ts';
import { heldRefusals, liftingRefusals, mixedRefusals, washRefusals } from './holdRules.ts';
import { isRise } from './science/fermentReadings.ts';
import type { Site } from './sites/site.ts';
import { siteRefusals } from './sites/siteRules.ts';

export type LotFacts = {
  code: string;
  strainId: string;
  happenedMs: number;
  unit: 'L' | 'kg';
  left: number;
  heldBecause: string | null;
  isUsed: boolean;
  /** Null for the first site. */
  siteId: string | null;
};

export type FermentFacts = {
  gyle: string;
  strainId: string;
  happenedMs: number;
  originalGravitySg: number;
  pitchedMs: number | null;
  rackedMs: number | null;
  hasCrops: boolean;
  siteId: string | null;
};

export type PlannedBrewFacts = {
  beer: string;
  onDay: string;
  strainId: string;
  siteId: string | null;
};

type VesselFacts = {
  name: string;
  siteId: string | null;
  hasFerments: boolean;
  heldBy: { fermentId: string; gyle: string } | null;
};

/** Something recorded that rests on the record of an entry, and so cannot come before it. */
export type LaterFact = {
  atMs: number;
  what: 'pitched' | 'cropped' | 'counted' | 'stained' | 'checked' | 'treated' | 'taken from';
};

export type GravityFacts = { happenedMs: number; gravitySg: number };

/** What is known about the records an entry speaks of; undefined when there is no such record. */
export type EntryContext = {
  receivedMs: number;
  isCorrection: boolean;
  /** The lots named, by id. */
  lots: ReadonlyMap<string, LotFacts>;
  ferment: FermentFacts | undefined;
  strain: { name: string } | undefined;
  vessel: VesselFacts | undefined;
  /** Every site, for the kinds of entry in which two could meet. */
  sites: readonly Site[];
  check: { happenedMs: number } | undefined;
  /** The gravity of the ferment last read up to the time of a reading. */
  gravityBefore: GravityFacts | undefined;
  /** The hold of a family that is to be lifted, and the release that lifted it already. */
  familyHold: { happenedMs: number; releaseId: string | null } | undefined;
  /** Why the lot should not be acid washed. */
  washObjections: readonly string[];
  /** The planned brews named, by id. */
  plannedBrews: ReadonlyMap<string, PlannedBrewFacts>;
  /** The record that already holds the policy on fresh culture of the strain. */
  policyId: string | undefined;
  /** The record corrected, as it stood. */
  before: RecordEntry | undefined;
  recordId: string;
  /** The earliest of what rests on the record; undefined while nothing does. */
  firstResting: LaterFact | undefined;
  hasBrewery: boolean;
};

export const clockToleranceMs = 5 * 60_000;
const earliestMs = Date.UTC(2000, 0, 1);

/** Why an entry cannot stand beside what is already recorded; empty when it can. */
export function refusals(entry: RecordEntry, context: EntryContext): FieldError[] {
  const missing = missingRecords(entry, context);
  if (missing.length > 0) return missing;
  return [
    ...momentRefusals(entry, context),
    ...kindRefusals(entry, context),
    ...siteRefusals(entry, context),
  ];
}

/** What to look at again though the entry stands: it was done, so it is recorded. */
export function warningsOf(entry: RecordEntry, context: EntryContext): string[] {
  const { lots, isCorrection } = context;
  if (isCorrection) return [];
  if (entry.kind === 'pitch' || entry.kind === 'discard' || entry.kind === 'transfer') {
    const lot = lots.get(entry.lotId);
    const taken = entry.amountL ?? entry.amountKg ?? 0;
    return lot !== undefined && taken > lot.left
      ? [`By the record only ${lot.left} ${lot.unit} of ${lot.code} were left: check the amounts.`]
      : [];
  }
  if (entry.kind === 'allotment') {
    const lot = lots.get(entry.fromLotId ?? '');
    return lot === undefined || lot.heldBecause === null
      ? []
      : [`Lot ${lot.code} is on hold: the plan takes it only once it is released.`];
  }
  return entry.kind === 'reading' ? gravityWarnings(entry, context) : [];
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

function missingRecords(entry: RecordEntry, context: EntryContext): FieldError[] {
  const errors: FieldError[] = [];
  const need = (path: string, known: unknown, what: string) => {
    if (known === undefined) errors.push({ path, message: `There is no such ${what} in the log` });
  };
  if ('lotId' in entry && entry.lotId !== undefined)
    need('lotId', context.lots.get(entry.lotId), 'lot');
  if ('fermentId' in entry && entry.fermentId !== undefined)
    need('fermentId', context.ferment, 'ferment');
  if ('strainId' in entry) need('strainId', context.strain, 'strain');
  if ('vesselId' in entry && entry.vesselId !== undefined)
    need('vesselId', context.vessel, 'fermenter');
  if ('checkId' in entry) need('checkId', context.check, 'check');
  if ('holdId' in entry) need('holdId', context.familyHold, 'hold');
  if (entry.kind === 'allotment') {
    const { plannedBrewId, fromLotId, fromFermentId, fromBrewId } = entry;
    need('plannedBrewId', context.plannedBrews.get(plannedBrewId), 'planned brew');
    if (fromLotId !== undefined) need('fromLotId', context.lots.get(fromLotId), 'lot');
    if (fromFermentId !== undefined) need('fromFermentId', context.ferment, 'ferment');
    if (fromBrewId !== undefined)
      need('fromBrewId', context.plannedBrews.get(fromBrewId), 'planned brew');
  }
  if (entry.kind === 'blend')
    entry.parents.forEach((parent, index) => {
      need(`parents.${index}.lotId`, context.lots.get(parent.lotId), 'lot');
    });
  return errors;
}

/** Why an entry of any kind cannot have happened then, by the clock alone. */
export function timeRefusals(happenedAt: string, nowMs: number): FieldError[] {
  const happenedMs = Date.parse(happenedAt);
  const refuse = (message: string) => [{ path: 'happenedAt', message }];
  if (happenedMs > nowMs + clockToleranceMs)
    return refuse('When it happened lies in the future: check the date and the clock');
  return happenedMs < earliestMs ? refuse('When it happened must be after 1 January 2000') : [];
}

function momentRefusals(entry: RecordEntry, context: EntryContext): FieldError[] {
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
  const { firstResting } = context;
  return firstResting !== undefined && happenedMs > firstResting.atMs
    ? refuse(`${subjectOf(entry)} was ${firstResting.what} before then: put that right first`)
    : [];
}

const subjectOf = ({ kind }: RecordEntry) =>
  kind === 'ferment' || kind === 'pitch' ? 'The gyle' : 'The lot';

function kindRefusals(entry: RecordEntry, context: EntryContext): FieldError[] {
  switch (entry.kind) {
    case 'brewery':
      return context.hasBrewery && !context.isCorrection
        ? [{ path: 'kind', message: 'The brewery is set up already: correct it instead' }]
        : [];
    case 'ferment':
      return fermentRefusals(entry.strainId, context);
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

function fermentRefusals(strainId: string, context: EntryContext): FieldError[] {
  const { before, vessel, ferment } = context;
  const errors: FieldError[] = [];
  if (vessel?.heldBy && vessel.heldBy.fermentId !== context.recordId)
    errors.push({
      path: 'vesselId',
      message: `${vessel.name} still holds gyle ${vessel.heldBy.gyle}: record its racking first`,
    });
  if (before?.kind === 'ferment' && before.strainId !== strainId && ferment?.hasCrops)
    errors.push({ path: 'strainId', message: 'The strain stays: a crop was already taken' });
  return errors;
}

function freshRefusals(strainId: string, { before, lots, recordId }: EntryContext): FieldError[] {
  return before?.kind === 'freshCulture' &&
    before.strainId !== strainId &&
    lots.get(recordId)?.isUsed === true
    ? [{ path: 'strainId', message: 'The strain stays: this lot has already been used' }]
    : [];
}

function pitchRefusals(entry: EntryOf<'pitch'>, context: EntryContext): FieldError[] {
  const lot = context.lots.get(entry.lotId);
  const { ferment } = context;
  if (lot === undefined || ferment === undefined) return [];
  const errors = unitRefusals('amount', entry, lot);
  if (ferment.rackedMs !== null && !context.isCorrection)
    errors.push({ path: 'fermentId', message: `Gyle ${ferment.gyle} is already racked` });
  errors.push(...heldRefusals(entry, context));
  if (entry.override === undefined && lot.strainId !== ferment.strainId)
    errors.push({
      path: 'override',
      message: `Lot ${lot.code} is of another strain than the gyle: say why it is pitched all the same`,
    });
  return errors;
}

function blendRefusals(
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

function allotmentRefusals(
  entry: Extract<RecordEntry, { kind: 'allotment' }>,
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

function unitRefusals(path: string, amount: Amount, lot: LotFacts | undefined): FieldError[] {
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
