import type { EntryOf, RecordEntry } from '../entries/entry.ts';
import type { EntryContext } from '../entryRules/entryContext.ts';
import type { FieldError } from '../errors.ts';
import { type SiteKey, siteAt, siteKey } from './site.ts';

/** Why records of two sites cannot meet in this entry, or one cannot change its site any more. */
export function siteRefusals(entry: RecordEntry, context: EntryContext): FieldError[] {
  const unknown = unknownSite(entry, context);
  if (unknown.length > 0) return unknown;
  switch (entry.kind) {
    case 'vessel':
      return movedFrom(context.vessel, keyOf(entry.siteId, context)) &&
        context.vessel?.hasFerments === true
        ? [{ path: 'siteId', message: 'The site stays: this fermenter has been filled there' }]
        : [];
    case 'freshCulture':
      return usedElsewhere(context, keyOf(entry.siteId, context), 'siteId');
    case 'ferment':
      return [...movedFerment(context), ...plannedElsewhere(entry, context)];
    case 'pitch':
      return pitchedElsewhere(entry, context);
    case 'blend':
      return mixedFromTwo(entry, context);
    case 'transfer':
      return sentNowhere(entry, context);
    case 'plannedBrew':
      return plannedRefusals(entry, context);
    case 'allotment':
      return allottedElsewhere(entry, context);
    default:
      return [];
  }
}

function unknownSite(entry: RecordEntry, { sites }: EntryContext): FieldError[] {
  const named =
    entry.kind === 'transfer'
      ? { path: 'toSiteId', id: entry.toSiteId }
      : { path: 'siteId', id: 'siteId' in entry ? entry.siteId : undefined };
  return named.id === undefined || sites.some((site) => site.id === named.id)
    ? []
    : [{ path: named.path, message: 'There is no such site in the log' }];
}

function keyOf(siteId: string | undefined, { sites }: EntryContext): SiteKey {
  const site = sites.find(({ id }) => id === siteId);
  return site === undefined ? null : siteKey(site);
}

const movedFrom = (stood: { siteId: SiteKey } | undefined, key: SiteKey) =>
  stood !== undefined && stood.siteId !== key;

function usedElsewhere({ lots, recordId }: EntryContext, key: SiteKey, path: string): FieldError[] {
  const own = lots.get(recordId);
  return movedFrom(own, key) && own?.isUsed === true
    ? [{ path, message: 'The site stays: this lot has already been used there' }]
    : [];
}

function movedFerment({ vessel, ferment }: EntryContext): FieldError[] {
  const isSettled = ferment !== undefined && (ferment.pitchedMs !== null || ferment.hasCrops);
  return isSettled && movedFrom(ferment, vessel?.siteId ?? null)
    ? [{ path: 'vesselId', message: 'The site stays: this gyle was pitched there' }]
    : [];
}

function plannedElsewhere(
  { plannedBrewId }: EntryOf<'ferment'>,
  { vessel, plannedBrews }: EntryContext,
): FieldError[] {
  const brew = plannedBrews.get(plannedBrewId ?? '');
  return brew === undefined || brew.siteId === (vessel?.siteId ?? null)
    ? []
    : [
        {
          path: 'plannedBrewId',
          message: `${brew.beer} is planned at another site: change its plan first, or choose another`,
        },
      ];
}

function plannedRefusals(entry: EntryOf<'plannedBrew'>, context: EntryContext): FieldError[] {
  const { vessel, plannedBrews, recordId } = context;
  const named = keyOf(entry.siteId, context);
  if (entry.siteId !== undefined && movedFrom(vessel, named))
    return [{ path: 'vesselId', message: `${vessel?.name ?? ''} stands at another site` }];
  const by = plannedBrews.get(recordId)?.carriedOutBy;
  return movedFrom(by, vessel === undefined ? named : vessel.siteId)
    ? [
        {
          path: vessel === undefined ? 'siteId' : 'vesselId',
          message: `The site stays: gyle ${by?.gyle} was collected for it there`,
        },
      ]
    : [];
}

function pitchedElsewhere({ lotId }: EntryOf<'pitch'>, context: EntryContext): FieldError[] {
  const { lots, ferment, sites } = context;
  const lot = lots.get(lotId);
  if (lot === undefined || ferment === undefined || lot.siteId === ferment.siteId) return [];
  const there = siteAt(sites, lot.siteId)?.name ?? 'another site';
  const here = siteAt(sites, ferment.siteId)?.name ?? 'this site';
  return [{ path: 'lotId', message: `Lot ${lot.code} is at ${there}: send it to ${here} first` }];
}

function mixedFromTwo({ parents }: EntryOf<'blend'>, { lots }: EntryContext): FieldError[] {
  const keys = new Set(
    parents.flatMap(({ lotId }) => lots.get(lotId) ?? []).map(({ siteId }) => siteId),
  );
  return keys.size > 1
    ? [{ path: 'parents', message: 'Lots of two sites are not mixed: send one there first' }]
    : [];
}

function sentNowhere(entry: EntryOf<'transfer'>, context: EntryContext): FieldError[] {
  const key = keyOf(entry.toSiteId, context);
  const lot = context.lots.get(entry.lotId);
  if (lot?.siteId === key)
    return [{ path: 'toSiteId', message: `Lot ${lot.code} is at this site already` }];
  const { before, lots, recordId } = context;
  if (before?.kind === 'transfer' && before.lotId !== entry.lotId && lots.get(recordId)?.isUsed)
    return [{ path: 'lotId', message: 'The lot stays: what arrived has already been used' }];
  return usedElsewhere(context, key, 'toSiteId');
}

function allottedElsewhere(
  { plannedBrewId, fromLotId, fromFermentId, fromBrewId }: EntryOf<'allotment'>,
  { lots, ferment, plannedBrews }: EntryContext,
): FieldError[] {
  const brew = plannedBrews.get(plannedBrewId);
  const [path, source] =
    fromLotId !== undefined
      ? ['fromLotId', lots.get(fromLotId)]
      : fromFermentId !== undefined
        ? ['fromFermentId', ferment]
        : ['fromBrewId', plannedBrews.get(fromBrewId ?? '')];
  return source === undefined || brew === undefined || source.siteId === brew.siteId
    ? []
    : [{ path, message: `${brew.beer} is planned at another site: send the yeast there first` }];
}
