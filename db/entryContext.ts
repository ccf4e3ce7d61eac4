import { and, desc, eq, inArray, isNotNull, isNull, like, lte, ne, sql } from 'drizzle-orm';
import type { EntryOf, RecordEntry } from '#shared/entries/entry.ts';
import type {
  EntryContext,
  FermentFacts,
  GravityFacts,
  PlannedBrewFacts,
} from '#shared/entryRules/entryContext.ts';
import type { Query } from './database.ts';
import { lotFacts } from './lotFacts.ts';
import { firstResting } from './restsOn.ts';
import {
  brewery,
  familyHold,
  familyRelease,
  ferment,
  freshCulturePolicy,
  lot,
  microCheck,
  plannedBrew,
  reading,
  strain,
  vessel,
} from './schema/index.ts';
import { listSites } from './sites.ts';
import { objectionsToWash } from './washedYeast.ts';

type Known = { receivedMs: number; recordId: string; before: RecordEntry | undefined };

/** Reads what the rules need to know about the records an entry speaks of. */
export async function entryContext(
  query: Query,
  entry: RecordEntry,
  { receivedMs, recordId, before }: Known,
): Promise<EntryContext> {
  const fermentId = fermentNamed(entry) ?? recordId;
  const strainId = 'strainId' in entry ? entry.strainId : undefined;
  const vesselId =
    entry.kind === 'vessel' ? recordId : 'vesselId' in entry ? entry.vesselId : undefined;
  return {
    receivedMs,
    recordId,
    before,
    isCorrection: before !== undefined,
    lots: await lotFacts(query, lotsNamed(entry, recordId), Date.parse(entry.happenedAt)),
    ferment: await fermentFacts(query, fermentId),
    strain: await named(query, strain, strainId),
    vessel: await vesselFacts(query, vesselId),
    familyHold: entry.kind === 'familyRelease' ? await heldFacts(query, entry.holdId) : undefined,
    washObjections:
      entry.kind === 'treatment' && entry.treatment === 'acid wash'
        ? await objectionsToWash(query, entry.lotId, Date.parse(entry.happenedAt))
        : [],
    check: 'checkId' in entry ? await checkFacts(query, entry.checkId) : undefined,
    gravityBefore: entry.kind === 'reading' ? await gravityBefore(query, entry) : undefined,
    plannedBrews: await plannedBrewFacts(query, entry),
    policyId:
      entry.kind === 'freshCulturePolicy' ? await policyOf(query, entry.strainId) : undefined,
    firstResting: before === undefined ? undefined : await firstResting(query, entry, recordId),
    hasBrewery: (await query.$count(brewery)) > 0,
    sites: namesSites(entry) ? await listSites(query) : [],
  };
}

// Each of these is where records of two sites may meet.
const namesSites = ({ kind }: RecordEntry) =>
  kind === 'vessel' ||
  kind === 'freshCulture' ||
  kind === 'ferment' ||
  kind === 'pitch' ||
  kind === 'blend' ||
  kind === 'transfer' ||
  kind === 'plannedBrew' ||
  kind === 'allotment';

function fermentNamed(entry: RecordEntry): string | undefined {
  if (entry.kind === 'allotment') return entry.fromFermentId;
  return 'fermentId' in entry ? entry.fermentId : undefined;
}

function lotsNamed(entry: RecordEntry, recordId: string): string[] {
  if (entry.kind === 'blend') return entry.parents.map((parent) => parent.lotId);
  if (entry.kind === 'freshCulture') return [recordId];
  if (entry.kind === 'transfer') return [entry.lotId, recordId];
  if (entry.kind === 'allotment') return entry.fromLotId === undefined ? [] : [entry.fromLotId];
  return 'lotId' in entry && entry.lotId !== undefined ? [entry.lotId] : [];
}

async function fermentFacts(query: Query, id: string): Promise<FermentFacts | undefined> {
  const [row] = await query
    .select({
      gyle: ferment.gyle,
      strainId: ferment.strainId,
      originalGravitySg: ferment.originalGravitySg,
      happenedMs: ferment.happenedMs,
      siteId: ferment.siteId,
      pitchedMs: ferment.pitchedMs,
      rackedMs: ferment.rackedMs,
      crops: sql<number>`EXISTS (SELECT 1 FROM lot WHERE ferment_id = ferment.id)`,
    })
    .from(ferment)
    .where(eq(ferment.id, id));
  if (row === undefined) return undefined;
  const { crops, ...facts } = row;
  return { ...facts, hasCrops: crops === 1 };
}

async function named(query: Query, table: typeof strain, id: string | undefined) {
  if (id === undefined) return undefined;
  const [row] = await query.select({ name: table.name }).from(table).where(eq(table.id, id));
  return row;
}

async function vesselFacts(query: Query, id: string | undefined) {
  if (id === undefined) return undefined;
  const [row] = await query
    .select({
      name: vessel.name,
      siteId: vessel.siteId,
      hasFerments: sql<number>`EXISTS (SELECT 1 FROM ferment WHERE vessel_id = vessel.id)`,
    })
    .from(vessel)
    .where(eq(vessel.id, id));
  if (row === undefined) return undefined;
  const [holder] = await query
    .select({ fermentId: ferment.id, gyle: ferment.gyle })
    .from(ferment)
    .where(and(eq(ferment.vesselId, id), isNull(ferment.rackedMs)));
  return { ...row, hasFerments: row.hasFerments === 1, heldBy: holder ?? null };
}

async function heldFacts(query: Query, id: string) {
  const [row] = await query
    .select({ happenedMs: familyHold.happenedMs, releaseId: familyRelease.id })
    .from(familyHold)
    .leftJoin(familyRelease, eq(familyRelease.holdId, familyHold.id))
    .where(eq(familyHold.id, id));
  return row;
}

async function checkFacts(query: Query, id: string) {
  const [row] = await query
    .select({ happenedMs: microCheck.happenedMs })
    .from(microCheck)
    .where(eq(microCheck.id, id));
  return row;
}

async function gravityBefore(
  query: Query,
  { fermentId, happenedAt }: EntryOf<'reading'>,
): Promise<GravityFacts | undefined> {
  const { happenedMs, gravitySg } = reading;
  const [row] = await query
    .select({ happenedMs, gravitySg: sql<number>`${gravitySg}` })
    .from(reading)
    .where(
      and(
        eq(reading.fermentId, fermentId),
        lte(happenedMs, Date.parse(happenedAt)),
        isNotNull(gravitySg),
      ),
    )
    .orderBy(desc(happenedMs))
    .limit(1);
  return row;
}

async function plannedBrewFacts(
  query: Query,
  entry: RecordEntry,
): Promise<Map<string, PlannedBrewFacts>> {
  if (entry.kind !== 'allotment') return new Map();
  const ids = [entry.plannedBrewId, ...(entry.fromBrewId === undefined ? [] : [entry.fromBrewId])];
  const { id, beer, onDay, strainId, siteId } = plannedBrew;
  const rows = await query
    .select({ id, beer, onDay, strainId, siteId })
    .from(plannedBrew)
    .where(inArray(id, ids));
  return new Map(rows.map(({ id, ...facts }) => [id, facts]));
}

async function policyOf(query: Query, strainId: string): Promise<string | undefined> {
  const [row] = await query
    .select({ id: freshCulturePolicy.id })
    .from(freshCulturePolicy)
    .where(eq(freshCulturePolicy.strainId, strainId));
  return row?.id;
}

/** The codes that begin like this one, save the record's own. */
export async function codesLike(query: Query, prefix: string, recordId: string) {
  const rows = await query
    .select({ code: lot.code })
    .from(lot)
    .where(and(like(lot.code, `${prefix}%`), ne(lot.id, recordId)));
  return new Set(rows.map((row) => row.code));
}
