import { and, desc, eq, gt, gte, isNull, lt, lte, or, sql } from 'drizzle-orm';
import type { FermentEvidence } from '#shared/ferments/fermentEvidence.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Query } from '../database.ts';
import { isAmong, prepared } from '../prepared.ts';
import { ferment, lot, plannedBrew, vessel } from '../schema/index.ts';
import { atSite, everySite, type SiteScope } from '../sites/siteScope.ts';
import { allRecords, recordsWhere } from './records.ts';

/** Ferments not yet racked, and those racked since a moment; the latest collected first. */
export async function currentFermentIds(
  query: Query,
  rackedSinceMs: number,
  at: SiteScope = everySite,
): Promise<string[]> {
  const rows = await query
    .select({ id: ferment.id })
    .from(ferment)
    .where(
      and(
        or(isNull(ferment.rackedMs), gt(ferment.rackedMs, rackedSinceMs)),
        atSite(ferment.siteId, at),
      ),
    )
    // Sorted afterwards (+): in the order of an index the whole log would be read.
    .orderBy(desc(sql`+${ferment.happenedMs}`));
  return rows.map((row) => row.id);
}

type Collected = { brewIds: readonly string[]; sinceMs: number; at?: SiteScope };

/** The gyles that planned brews may have become: those that name one, and those collected lately. */
export async function gylesFor(
  query: Query,
  { brewIds, sinceMs, at }: Collected,
): Promise<Recorded<'ferment'>[]> {
  const naming = await gylesNaming(query).all({ ids: JSON.stringify(brewIds) });
  const late = await query
    .select({ id: ferment.id })
    .from(ferment)
    .where(and(gte(ferment.happenedMs, sinceMs), atSite(ferment.siteId, at ?? everySite)));
  const ids = new Set([...naming, ...late].map(({ id }) => id));
  return recordsWhere(query, 'ferment', 'id', [...ids]);
}

const gylesNaming = prepared((query) =>
  query.select({ id: ferment.id }).from(ferment).where(isAmong(ferment.plannedBrewId)).prepare(),
);

type PastAsked = { strainId: string; beforeMs: number; most: number; at?: SiteScope };

/** The latest ferments of a strain that were racked before a moment, the latest first. */
export async function rackedFermentIds(
  query: Query,
  { strainId, beforeMs, most, at }: PastAsked,
): Promise<string[]> {
  const rows = await query
    .select({ id: ferment.id })
    .from(ferment)
    .where(
      and(
        eq(ferment.strainId, strainId),
        lt(ferment.rackedMs, beforeMs),
        atSite(ferment.siteId, at ?? everySite),
      ),
    )
    .orderBy(desc(ferment.rackedMs))
    .limit(most);
  return rows.map((row) => row.id);
}

/** What was recorded of each ferment, in a handful of queries however many there are. */
export async function fermentEvidence(
  query: Query,
  ids: readonly string[],
): Promise<FermentEvidence[]> {
  if (ids.length === 0) return [];
  const strains = byId(await allRecords(query, 'strain'));
  const vessels = byId(await allRecords(query, 'vessel'));
  const pitches = await pitchesOf(query, ids);
  const readings = await recordsWhere(query, 'reading', 'ferment_id', ids);
  const crops = await cropsOf(query, ids);
  const chills = await recordsWhere(query, 'chill', 'ferment_id', ids);
  const racks = await recordsWhere(query, 'rack', 'ferment_id', ids);
  const records = byId(await recordsWhere(query, 'ferment', 'id', ids));
  const places = byId(await siteIdsOf(query).all({ ids: JSON.stringify(ids) }));
  return ids.flatMap((id) => {
    const record = records.get(id);
    const strain = strains.get(record?.strainId ?? '');
    if (record === undefined || strain === undefined) return [];
    return [
      {
        record,
        strain,
        siteId: places.get(id)?.siteId ?? null,
        vessel: vessels.get(record.vesselId)?.name ?? '',
        pitches: pitches.filter((pitch) => pitch.fermentId === id),
        readings: readings.filter((reading) => reading.fermentId === id),
        crops: crops.filter((crop) => crop.fermentId === id).map(({ crop }) => crop),
        chill: chills.find((chill) => chill.fermentId === id) ?? null,
        rack: racks.find((rack) => rack.fermentId === id) ?? null,
      },
    ];
  });
}

const siteIdsOf = prepared((query) =>
  query
    .select({ id: ferment.id, siteId: ferment.siteId })
    .from(ferment)
    .where(isAmong(ferment.id))
    .prepare(),
);

const lotsPitched = prepared((query) =>
  query
    .select({
      id: lot.id,
      code: lot.code,
      generation: lot.generation,
      takenMs: lot.happenedMs,
    })
    .from(lot)
    .where(isAmong(lot.id))
    .prepare(),
);

async function pitchesOf(
  query: Query,
  ids: readonly string[],
): Promise<FermentStanding['pitches']> {
  const records = await recordsWhere(query, 'pitch', 'ferment_id', ids);
  const lotIds = [...new Set(records.map((record) => record.lotId))];
  if (lotIds.length === 0) return [];
  const lots = await lotsPitched(query).all({ ids: JSON.stringify(lotIds) });
  const known = byId(lots);
  const stains = await recordsWhere(query, 'stain', 'lot_id', lotIds);
  return records.flatMap((record) => {
    const from = known.get(record.lotId);
    if (from === undefined) return [];
    return [
      {
        ...record,
        lotCode: from.code,
        generation: from.generation,
        lotTakenAt: new Date(from.takenMs).toISOString(),
        viabilityPercent: stainedBefore(stains, record),
      },
    ];
  });
}

function stainedBefore(
  stains: readonly Recorded<'stain'>[],
  { lotId, happenedAt }: Recorded<'pitch'>,
): number | undefined {
  const stain = stains.findLast(
    (one) => one.lotId === lotId && Date.parse(one.happenedAt) <= Date.parse(happenedAt),
  );
  return stain === undefined ? undefined : (100 * stain.live) / (stain.live + stain.dead);
}

async function cropsOf(query: Query, ids: readonly string[]) {
  const records = await recordsWhere(query, 'crop', 'ferment_id', ids);
  return records.map((record) => ({
    fermentId: record.fermentId,
    crop: { lotId: record.id, code: record.code ?? '', cut: record.cut, at: record.happenedAt },
  }));
}

function byId<T extends { id: string }>(items: readonly T[]): Map<string, T> {
  return new Map(items.map((item) => [item.id, item]));
}

const runningGyles = prepared((query) =>
  query
    .select({ fermentId: ferment.id, gyle: ferment.gyle, vesselId: ferment.vesselId })
    .from(ferment)
    .where(isNull(ferment.rackedMs))
    .orderBy(desc(ferment.happenedMs))
    .prepare(),
);

/** The fermenters, each with the gyle it holds. */
export async function vesselsInUse(
  query: Query,
  at: SiteScope = everySite,
): Promise<(Recorded<'vessel'> & { holds: { fermentId: string; gyle: string } | null })[]> {
  const vessels = await allRecords(query, 'vessel', at);
  const running = await runningGyles(query).all();
  return vessels.map((vessel) => {
    const holder = running.find((row) => row.vesselId === vessel.id);
    return {
      ...vessel,
      holds: holder === undefined ? null : { fermentId: holder.fermentId, gyle: holder.gyle },
    };
  });
}

/** Brews planned for a day or later, the earliest first. */
export async function plannedFrom(
  query: Query,
  day: string,
  at: SiteScope = everySite,
): Promise<Recorded<'plannedBrew'>[]> {
  const rows = await query
    .select({ id: plannedBrew.id })
    .from(plannedBrew)
    .where(and(gte(plannedBrew.onDay, day), atSite(plannedBrew.siteId, at)));
  const ids = rows.map(({ id }) => id);
  const records = await recordsWhere(query, 'plannedBrew', 'id', ids);
  return records.sort((a, b) => (a.onDay < b.onDay ? -1 : 1));
}

/** The ferment a fermenter held at a moment. */
export async function fermentIn(
  query: Query,
  vesselId: string,
  atMs: number,
): Promise<string | undefined> {
  const [row] = await query
    .select({ id: ferment.id })
    .from(ferment)
    .where(
      and(
        eq(ferment.vesselId, vesselId),
        lte(ferment.happenedMs, atMs),
        or(isNull(ferment.rackedMs), gt(ferment.rackedMs, atMs)),
      ),
    )
    .orderBy(desc(ferment.happenedMs))
    .limit(1);
  return row?.id;
}

/** The FVs of a name, one at most at each site. */
export async function vesselsNamed(
  query: Query,
  name: string,
): Promise<{ id: string; siteId: SiteKey }[]> {
  return query
    .select({ id: vessel.id, siteId: vessel.siteId })
    .from(vessel)
    .where(sql`lower(${vessel.name}) = lower(${name})`);
}
