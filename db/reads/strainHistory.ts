import { and, desc, eq, inArray, isNotNull, sql } from 'drizzle-orm';
import { hourMs } from '#shared/durations.ts';
import {
  FV_COUNT_WITHIN_HOURS,
  type FvCount,
  type LotKind,
  lotOrigin,
  type StrainHistory,
} from '#shared/lots/strainHistory.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import type { Query } from '../database.ts';
import { prepared } from '../prepared.ts';
import { cellCount, ferment, lot, reading, stain } from '../schema/index.ts';
import { recordsWhere } from './records.ts';
import { type EarlierSelf, earlierSelves, withEarlier } from './sentLots.ts';

/** The latest of each that are looked back upon: older yeast may be another yeast by now. */
const most = { lots: 200, counts: 40, stainedLots: 24, ferments: 60 } as const;

/** What the log holds of a strain that its next lot can be judged by. */
export async function strainHistory(query: Query, strain: StrainView): Promise<StrainHistory> {
  return {
    storeHighC: strain.storeHighC,
    counts: await latestCounts(query, strain.id),
    stainedLots: await stainedLots(query, strain.id),
    fvCounts: await fvCounts(query, strain.id),
  };
}

// Read through the lots, so that a long log costs no more than a short one.
const latestLots = (query: Query) =>
  query
    .select({ id: lot.id })
    .from(lot)
    .where(eq(lot.strainId, sql.placeholder('strainId')))
    .orderBy(desc(lot.happenedMs))
    .limit(most.lots);

const countIds = prepared((query) =>
  query
    .select({ id: cellCount.id })
    .from(cellCount)
    .where(inArray(cellCount.lotId, latestLots(query)))
    .orderBy(desc(cellCount.happenedMs))
    .limit(most.counts)
    .prepare(),
);

const twiceStained = prepared((query) =>
  query
    .select({ lotId: stain.lotId })
    .from(stain)
    .where(inArray(stain.lotId, latestLots(query)))
    .groupBy(stain.lotId)
    .having(sql`count(*) > 1`)
    .orderBy(desc(sql`max(${stain.happenedMs})`))
    .limit(most.stainedLots)
    .prepare(),
);

async function latestCounts(query: Query, strainId: string): Promise<StrainHistory['counts']> {
  const rows = await countIds(query).all({ strainId });
  const counts = await recordsWhere(
    query,
    'count',
    'id',
    rows.map(({ id }) => id),
  );
  const lotIds = unique(counts.map(({ lotId }) => lotId));
  const kinds = await lotKinds(query, lotIds, await earlierSelves(query, lotIds));
  return counts.toReversed().flatMap((count) => {
    const kind = kinds.get(count.lotId);
    return kind === undefined ? [] : [{ lot: kind, count }];
  });
}

// Stains at two sites do not make a pair: how warm the yeast was on the road nobody wrote down.
async function stainedLots(query: Query, strainId: string): Promise<StrainHistory['stainedLots']> {
  const rows = await twiceStained(query).all({ strainId });
  const ids = rows.map(({ lotId }) => lotId);
  const stains = await recordsWhere(query, 'stain', 'lot_id', ids);
  const storeReadings = await recordsWhere(query, 'storeReading', 'lot_id', ids);
  const treatments = await recordsWhere(query, 'treatment', 'lot_id', ids);
  const of = <T extends { lotId: string }>(records: readonly T[], id: string) =>
    records.filter(({ lotId }) => lotId === id);
  return ids.map((id) => ({
    stains: of(stains, id),
    storeReadings: of(storeReadings, id),
    treatments: of(treatments, id),
  }));
}

async function fvCounts(query: Query, strainId: string): Promise<FvCount[]> {
  const rows = await soonAfterPitching(query).all({ strainId });
  const readingIds = rows.map(({ readingId }) => readingId);
  const fermentIds = unique(rows.map(({ fermentId }) => fermentId));
  const found = await recordsWhere(query, 'reading', 'id', readingIds);
  const pitches = await recordsWhere(query, 'pitch', 'ferment_id', fermentIds);
  const lotIds = unique(pitches.map(({ lotId }) => lotId));
  const selves = await earlierSelves(query, lotIds);
  const kinds = await lotKinds(query, lotIds, selves);
  const earlierIds = [...selves.values()].flatMap((lots) => lots.map(({ id }) => id));
  const counts = await recordsWhere(query, 'count', 'lot_id', unique([...lotIds, ...earlierIds]));
  const countsOf = withEarlier((id) => counts.filter(({ lotId }) => lotId === id), selves);
  return rows.flatMap(({ readingId, fermentId, volumeL }): FvCount[] => {
    const looked = found.find(({ id }) => id === readingId);
    if (looked === undefined) return [];
    const broughtIn = pitches
      .filter((pitch) => pitch.fermentId === fermentId && isBefore(pitch, looked))
      .flatMap((pitch) => {
        const lot = kinds.get(pitch.lotId);
        return lot === undefined ? [] : [{ pitch, lot, counts: countsOf(pitch.lotId) }];
      });
    return [{ found: looked, volumeL, pitches: broughtIn }];
  });
}

/** Readings of cells in suspension within hours of pitching, the latest first. */
const soonAfterPitching = prepared((query) => {
  const latest = query
    .select({ id: ferment.id })
    .from(ferment)
    .where(and(eq(ferment.strainId, sql.placeholder('strainId')), isNotNull(ferment.pitchedMs)))
    .orderBy(desc(ferment.seq))
    .limit(most.ferments);
  const sincePitching = sql`${reading.happenedMs} - ${ferment.pitchedMs}`;
  return query
    .select({ readingId: reading.id, fermentId: ferment.id, volumeL: ferment.volumeL })
    .from(reading)
    .innerJoin(ferment, eq(ferment.id, reading.fermentId))
    .where(
      and(
        inArray(ferment.id, latest),
        isNotNull(reading.cellsPerMl),
        sql`${sincePitching} BETWEEN 0 AND ${FV_COUNT_WITHIN_HOURS * hourMs}`,
      ),
    )
    .orderBy(desc(reading.happenedMs))
    .prepare();
});

const isBefore = (pitch: Recorded<'pitch'>, { happenedAt }: Recorded<'reading'>) =>
  Date.parse(pitch.happenedAt) <= Date.parse(happenedAt);

/** What each lot is like: one that was sent from another site is what it was before. */
async function lotKinds(
  query: Query,
  ids: readonly string[],
  selves: ReadonlyMap<string, readonly EarlierSelf[]>,
): Promise<Map<string, LotKind>> {
  const firstOf = (id: string) => selves.get(id)?.at(-1)?.id ?? id;
  const firsts = new Map<string, LotKind>();
  for (const kind of ['freshCulture', 'crop', 'blend'] as const)
    for (const record of await recordsWhere(query, kind, 'id', unique(ids.map(firstOf))))
      firsts.set(record.id, {
        origin: lotOrigin(record),
        unit: record.amountL === undefined ? 'kg' : 'L',
      });
  return new Map(
    ids.flatMap((id) => {
      const kind = firsts.get(firstOf(id));
      return kind === undefined ? [] : [[id, kind] as const];
    }),
  );
}

const unique = (ids: readonly string[]) => [...new Set(ids)];
