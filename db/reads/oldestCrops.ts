import { sql } from 'drizzle-orm';
import type { Query } from '../database.ts';

/**
 * When the oldest crop in each blend was taken [ms], wherever it was mixed or sent since; other lots
 * and blends of fresh cultures alone have no entry.
 */
export async function oldestCrops(
  query: Query,
  lotIds: readonly string[],
): Promise<Map<string, number>> {
  const rows = await query.all<{ lotId: string; takenMs: number }>(sql`
    WITH RECURSIVE part (lot_id, id, is_blended) AS (
      SELECT lot.id, lot.id, lot.kind = 'blend'
      FROM json_each(${JSON.stringify(lotIds)}) AS wanted
        CROSS JOIN lot ON lot.id = wanted.value AND lot.kind IN ('blend', 'transfer')
      UNION
      SELECT part.lot_id, lot_parent.parent_id, part.is_blended OR parent.kind = 'blend'
      FROM part CROSS JOIN lot ON lot.id = part.id AND lot.kind IN ('blend', 'transfer')
        CROSS JOIN lot_parent ON lot_parent.lot_id = lot.id
        CROSS JOIN lot AS parent ON parent.id = lot_parent.parent_id
    )
    SELECT part.lot_id AS lotId, min(lot.happened_ms) AS takenMs
    FROM part CROSS JOIN lot ON lot.id = part.id
    WHERE part.is_blended AND lot.kind = 'crop'
    GROUP BY part.lot_id`);
  return new Map(rows.map(({ lotId, takenMs }) => [lotId, takenMs]));
}
