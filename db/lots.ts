import { eq, gt, inArray, or } from 'drizzle-orm';
import type { LotEvidence, LotRow } from '#shared/lots/lotStanding.ts';
import { mediaInUse } from '#shared/micro/media.ts';
import type { Recorded } from '#shared/views.ts';
import type { Query } from './database.ts';
import { holdEvidence } from './holds.ts';
import { allRecords, recordsWhere } from './records.ts';
import { ferment, lot } from './schema/index.ts';

/** Lots of which something is left. */
export async function lotIdsInStore(query: Query): Promise<string[]> {
  const rows = await query
    .select({ id: lot.id })
    .from(lot)
    .where(or(gt(lot.leftL, 0), gt(lot.leftKg, 0)))
    .orderBy(lot.happenedMs);
  return rows.map((row) => row.id);
}

/** What was recorded of each lot, in a handful of queries however many lots there are. */
export async function lotEvidence(query: Query, ids: readonly string[]): Promise<LotEvidence[]> {
  const rows = await lotRows(query, ids);
  const strains = new Map((await allRecords(query, 'strain')).map((strain) => [strain.id, strain]));
  const records = await lotRecords(query, ids);
  const counts = grouped(await recordsWhere(query, 'count', 'lot_id', ids));
  const stains = grouped(await recordsWhere(query, 'stain', 'lot_id', ids));
  const storeReadings = grouped(await recordsWhere(query, 'storeReading', 'lot_id', ids));
  const treatments = grouped(await recordsWhere(query, 'treatment', 'lot_id', ids));
  const holding = await holdEvidence(query, ids);
  const media = mediaInUse(await allRecords(query, 'medium'));
  return rows.flatMap((row) => {
    const record = records.get(row.id);
    const strain = strains.get(row.strainId);
    if (record === undefined || strain === undefined) return [];
    return [
      {
        row,
        record,
        strain,
        counts: counts.get(row.id) ?? [],
        stains: stains.get(row.id) ?? [],
        storeReadings: storeReadings.get(row.id) ?? [],
        treatments: treatments.get(row.id) ?? [],
        media,
        ...holding(row.id),
      },
    ];
  });
}

async function lotRows(query: Query, ids: readonly string[]): Promise<LotRow[]> {
  if (ids.length === 0) return [];
  const rows = await query
    .select({
      lot,
      gyle: ferment.gyle,
      beer: ferment.beer,
      sourceOriginalSg: ferment.originalGravitySg,
    })
    .from(lot)
    .leftJoin(ferment, eq(ferment.id, lot.fermentId))
    .where(inArray(lot.id, [...ids]))
    .orderBy(lot.happenedMs);
  return rows.map(({ lot: facts, gyle, beer, sourceOriginalSg }) => ({
    ...facts,
    sourceOriginalSg,
    fromFerment:
      facts.fermentId === null || gyle === null || beer === null
        ? null
        : { id: facts.fermentId, gyle, beer },
  }));
}

async function lotRecords(query: Query, ids: readonly string[]) {
  const kinds = ['freshCulture', 'crop', 'blend'] as const;
  const records = new Map<string, Recorded<(typeof kinds)[number]>>();
  for (const kind of kinds)
    for (const record of await recordsWhere(query, kind, 'id', ids)) records.set(record.id, record);
  return records;
}

function grouped<T extends { lotId: string }>(records: readonly T[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const record of records) {
    const group = groups.get(record.lotId);
    if (group === undefined) groups.set(record.lotId, [record]);
    else group.push(record);
  }
  return groups;
}
