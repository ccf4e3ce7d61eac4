import { and, eq, gt, or } from 'drizzle-orm';
import { grouped } from '#shared/grouped.ts';
import type { LotEvidence, LotRow } from '#shared/lots/lotStanding.ts';
import { mediaInUse } from '#shared/micro/media.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Query } from '../database.ts';
import { isAmong, prepared } from '../prepared.ts';
import { ferment, lot } from '../schema/index.ts';
import { atSite, everySite, type SiteScope } from '../sites/siteScope.ts';
import { holdEvidence } from './holds.ts';
import { oldestCrops } from './oldestCrops.ts';
import { allRecords, recordsWhere } from './records.ts';
import { type EarlierSelf, earlierSelves, holdsWithEarlier, withEarlier } from './sentLots.ts';

/** Lots of which something is left. */
export async function lotIdsInStore(query: Query, at: SiteScope = everySite): Promise<string[]> {
  const rows = await query
    .select({ id: lot.id })
    .from(lot)
    .where(and(or(gt(lot.leftL, 0), gt(lot.leftKg, 0)), atSite(lot.siteId, at)))
    .orderBy(lot.happenedMs);
  return rows.map((row) => row.id);
}

/** What was recorded of each lot, in a handful of queries however many lots there are. */
export async function lotEvidence(query: Query, ids: readonly string[]): Promise<LotEvidence[]> {
  const rows = await lotRows(query, ids);
  const selves = await earlierSelves(query, ids);
  const firsts = await firstOnes(query, selves);
  const oldest = await oldestCrops(query, ids);
  const all = [...ids, ...[...selves.values()].flatMap((lots) => lots.map(({ id }) => id))];
  const strains = new Map((await allRecords(query, 'strain')).map((strain) => [strain.id, strain]));
  const records = await lotRecords(query, all);
  const told = <T extends { lotId: string; happenedAt: string }>(written: readonly T[]) => {
    const groups = grouped(written, ({ lotId }) => lotId);
    return withEarlier((id) => groups.get(id) ?? [], selves);
  };
  const counts = told(await recordsWhere(query, 'count', 'lot_id', all));
  const stains = told(await recordsWhere(query, 'stain', 'lot_id', all));
  const storeReadings = told(await recordsWhere(query, 'storeReading', 'lot_id', all));
  const treatments = told(await recordsWhere(query, 'treatment', 'lot_id', all));
  const holding = holdsWithEarlier(await holdEvidence(query, all), selves);
  const media = mediaInUse(await allRecords(query, 'medium'));
  return rows.flatMap((row) => {
    const record = records.get(row.id);
    const strain = strains.get(row.strainId);
    if (record === undefined || strain === undefined) return [];
    return [
      {
        row: { ...row, ...firsts.get(row.id), ...takenAt(oldest.get(row.id)) },
        record,
        first: records.get(selves.get(row.id)?.at(-1)?.id ?? ''),
        strain,
        counts: counts(row.id),
        stains: stains(row.id),
        storeReadings: storeReadings(row.id),
        treatments: treatments(row.id),
        media,
        ...holding(row.id),
      },
    ];
  });
}

// Yeast that was sent is as old as it was before, and came from the same gyle.
async function firstOnes(query: Query, selves: ReadonlyMap<string, readonly EarlierSelf[]>) {
  const firstIds = new Map([...selves].map(([lotId, lots]) => [lotId, lots.at(-1)?.id ?? '']));
  const rows = new Map((await lotRows(query, [...firstIds.values()])).map((row) => [row.id, row]));
  return new Map(
    [...firstIds].flatMap(([lotId, firstId]) => {
      const first = rows.get(firstId);
      if (first === undefined) return [];
      const { happenedMs, fromFerment, sourceOriginalSg = null } = first;
      return [[lotId, { happenedMs, fromFerment, sourceOriginalSg }] as const];
    }),
  );
}

const takenAt = (happenedMs: number | undefined) =>
  happenedMs === undefined ? {} : { happenedMs };

async function lotRows(query: Query, ids: readonly string[]): Promise<LotRow[]> {
  if (ids.length === 0) return [];
  const rows = await lotsWithSource(query).all({ ids: JSON.stringify(ids) });
  return rows.map(({ lot: facts, gyle, beer, sourceOriginalSg }) => ({
    ...facts,
    sourceOriginalSg,
    fromFerment:
      facts.fermentId === null || gyle === null || beer === null
        ? null
        : { id: facts.fermentId, gyle, beer },
  }));
}

const lotsWithSource = prepared((query) =>
  query
    .select({
      lot,
      gyle: ferment.gyle,
      beer: ferment.beer,
      sourceOriginalSg: ferment.originalGravitySg,
    })
    .from(lot)
    .leftJoin(ferment, eq(ferment.id, lot.fermentId))
    .where(isAmong(lot.id))
    .orderBy(lot.happenedMs)
    .prepare(),
);

async function lotRecords(query: Query, ids: readonly string[]) {
  const kinds = ['freshCulture', 'crop', 'blend', 'transfer'] as const;
  const records = new Map<string, Recorded<(typeof kinds)[number]>>();
  for (const kind of kinds)
    for (const record of await recordsWhere(query, kind, 'id', ids)) records.set(record.id, record);
  return records;
}
