import { type SQL, sql } from 'drizzle-orm';
import type { RecordEntry } from '#shared/entries/entry.ts';
import type { LaterFact } from '#shared/entryRules/entryContext.ts';
import type { Query } from '../database.ts';

/** The earliest fact that must not come before this record; undefined while nothing rests on it. */
export async function firstResting(
  query: Query,
  entry: RecordEntry,
  recordId: string,
): Promise<LaterFact | undefined> {
  const facts = factsOn(entry, recordId);
  if (facts === undefined) return undefined;
  const [first] = await query.all<{ atMs: number; what: LaterFact['what'] }>(
    sql`SELECT at_ms AS atMs, what FROM (${facts}) ORDER BY at_ms LIMIT 1`,
  );
  return first;
}

function factsOn(entry: RecordEntry, id: string): SQL | undefined {
  switch (entry.kind) {
    case 'freshCulture':
    case 'crop':
    case 'blend':
    case 'transfer':
      return factsOnLot(id);
    case 'ferment':
      return sql`SELECT happened_ms AS at_ms, 'pitched' AS what FROM pitch WHERE ferment_id = ${id}`;
    case 'pitch':
      return cropsOnlyThisPitchAllows(entry.fermentId, id);
    default:
      return undefined;
  }
}

const factsOnLot = (id: string) => sql`
  SELECT happened_ms AS at_ms, 'pitched' AS what FROM pitch WHERE lot_id = ${id}
  UNION ALL SELECT happened_ms, 'counted' FROM cell_count WHERE lot_id = ${id}
  UNION ALL SELECT happened_ms, 'stained' FROM stain WHERE lot_id = ${id}
  UNION ALL SELECT happened_ms, 'checked' FROM micro_check WHERE lot_id = ${id}
  UNION ALL SELECT happened_ms, 'treated' FROM treatment WHERE lot_id = ${id}
  UNION ALL SELECT happened_ms, 'taken from' FROM discard WHERE lot_id = ${id}
  UNION ALL SELECT lot.happened_ms, 'taken from'
    FROM lot_parent JOIN lot ON lot.id = lot_parent.lot_id WHERE lot_parent.parent_id = ${id}`;

const cropsOnlyThisPitchAllows = (fermentId: string, pitchId: string) => sql`
  SELECT happened_ms AS at_ms, 'cropped' AS what FROM lot WHERE ferment_id = ${fermentId}
    AND NOT EXISTS (
      SELECT 1 FROM pitch WHERE pitch.ferment_id = lot.ferment_id
        AND pitch.id <> ${pitchId} AND pitch.happened_ms <= lot.happened_ms)`;
