import { and, desc, eq, gte, isNotNull, lt, lte, ne, sql } from 'drizzle-orm';
import type { EntryOf, RecordEntry } from '#shared/entries/entry.ts';
import type {
  Alongside,
  EntryContext,
  FermentFacts,
  GravityFacts,
} from '#shared/entryRules/entryContext.ts';
import type { Query } from '../database.ts';
import { prepared } from '../prepared.ts';
import { heldLots, lotFacts } from '../reads/lotFacts.ts';
import {
  brewery,
  familyHold,
  familyRelease,
  ferment,
  freshCulturePolicy,
  lot,
  microCheck,
  reading,
  strain,
  vessel,
} from '../schema/index.ts';
import { listSites } from '../sites/sites.ts';
import { neighbours } from './neighbours.ts';
import { plannedBrewFacts } from './plannedBrewFacts.ts';
import { firstResting } from './restsOn.ts';
import { objectionsToWash } from './washedYeast.ts';

type Known = {
  receivedMs: number;
  recordId: string;
  before: RecordEntry | undefined;
  alongside: Alongside | undefined;
};

/** Reads what the rules need to know about the records an entry speaks of. */
export async function entryContext(
  query: Query,
  entry: RecordEntry,
  { receivedMs, recordId, before, alongside }: Known,
): Promise<EntryContext> {
  const own = before === undefined ? undefined : recordId;
  const strainId = 'strainId' in entry ? entry.strainId : undefined;
  const lots = await lotFacts(query, lotsNamed(entry, own));
  return {
    receivedMs,
    recordId,
    before,
    isCorrection: before !== undefined,
    lots,
    held: usesYeast(entry) ? await heldLots(query, lots, Date.parse(entry.happenedAt)) : new Map(),
    ferment: await fermentFacts(query, fermentNamed(entry, own)),
    strain: await named(query, strain, strainId),
    vessel: await vesselFacts(query, vesselNamed(entry, own)),
    neighbours: await neighbours(query, entry, recordId),
    alongside,
    familyHold: entry.kind === 'familyRelease' ? await heldFacts(query, entry.holdId) : undefined,
    washObjections:
      entry.kind === 'treatment' && entry.treatment === 'acid wash'
        ? await objectionsToWash(query, entry.lotId, Date.parse(entry.happenedAt))
        : [],
    check: 'checkId' in entry ? await checkFacts(query, entry.checkId) : undefined,
    gravityBefore:
      entry.kind === 'reading' && entry.gravitySg !== undefined
        ? await gravityBefore(query, entry)
        : undefined,
    plannedBrews: await plannedBrewFacts(query, brewsNamed(entry, own)),
    policyId:
      entry.kind === 'freshCulturePolicy' ? await policyOf(query, entry.strainId) : undefined,
    firstResting: before === undefined ? undefined : await firstResting(query, entry, recordId),
    hasBrewery: entry.kind === 'brewery' && (await query.$count(brewery)) > 0,
    sites: namesSites(entry) ? await listSites(query) : [],
  };
}

// Each of these is where yeast on hold would be used.
const usesYeast = ({ kind }: RecordEntry) =>
  kind === 'pitch' || kind === 'blend' || kind === 'allotment';

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

// `own` is the record an entry corrects: a new one has nothing yet to be looked up.
function fermentNamed(entry: RecordEntry, own: string | undefined): string | undefined {
  if (entry.kind === 'allotment') return entry.fromFermentId;
  if (entry.kind === 'ferment') return own;
  return 'fermentId' in entry ? entry.fermentId : undefined;
}

function vesselNamed(entry: RecordEntry, own: string | undefined): string | undefined {
  if (entry.kind === 'vessel') return own;
  return 'vesselId' in entry ? entry.vesselId : undefined;
}

function lotsNamed(entry: RecordEntry, own: string | undefined): string[] {
  const made = own === undefined ? [] : [own];
  if (entry.kind === 'blend') return entry.parents.map((parent) => parent.lotId);
  if (entry.kind === 'freshCulture') return made;
  if (entry.kind === 'transfer') return [entry.lotId, ...made];
  if (entry.kind === 'allotment') return entry.fromLotId === undefined ? [] : [entry.fromLotId];
  return 'lotId' in entry && entry.lotId !== undefined ? [entry.lotId] : [];
}

function brewsNamed(entry: RecordEntry, own: string | undefined): string[] {
  if (entry.kind === 'plannedBrew') return own === undefined ? [] : [own];
  if (entry.kind === 'ferment') return entry.plannedBrewId == null ? [] : [entry.plannedBrewId];
  if (entry.kind !== 'allotment') return [];
  return [entry.plannedBrewId, ...(entry.fromBrewId === undefined ? [] : [entry.fromBrewId])];
}

const fermentById = prepared((query) =>
  query
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
    .where(eq(ferment.id, sql.placeholder('id')))
    .prepare(),
);

async function fermentFacts(
  query: Query,
  id: string | undefined,
): Promise<FermentFacts | undefined> {
  if (id === undefined) return undefined;
  const [row] = await fermentById(query).all({ id });
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
  return { ...row, hasFerments: row.hasFerments === 1 };
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

const gravityUpTo = prepared((query) =>
  query
    .select({ happenedMs: reading.happenedMs, gravitySg: sql<number>`${reading.gravitySg}` })
    .from(reading)
    .where(
      and(
        eq(reading.fermentId, sql.placeholder('fermentId')),
        lte(reading.happenedMs, sql.placeholder('atMs')),
        isNotNull(reading.gravitySg),
      ),
    )
    .orderBy(desc(reading.happenedMs))
    .limit(1)
    .prepare(),
);

async function gravityBefore(
  query: Query,
  { fermentId, happenedAt }: EntryOf<'reading'>,
): Promise<GravityFacts | undefined> {
  const [row] = await gravityUpTo(query).all({ fermentId, atMs: Date.parse(happenedAt) });
  return row;
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
    .where(and(gte(lot.code, prefix), lt(lot.code, `${prefix}\u{10ffff}`), ne(lot.id, recordId)));
  return new Set(rows.map((row) => row.code));
}
