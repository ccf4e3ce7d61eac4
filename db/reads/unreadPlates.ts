import { sql } from 'drizzle-orm';
import type { UnreadPlate } from '#shared/today/plateActions.ts';
import type { Query } from '../database.ts';
import { andAtSite, type SiteScope } from '../sites/siteScope.ts';

type Row = Omit<UnreadPlate, 'purpose' | 'isLotLeft' | 'dueDay'> & {
  purpose: UnreadPlate['purpose'] | null;
  isLotLeft: number;
  dueMs: number;
};

/** A plate left so long can no longer be read: it is not asked for any more. A judgement. */
const readableMs = 180 * 86_400_000;

/** Plates not yet read and due before a moment, the longest due first. */
export async function unreadPlates(
  query: Query,
  dueBeforeMs: number,
  dayOf: (ms: number) => string,
  at?: SiteScope,
): Promise<UnreadPlate[]> {
  const rows = await query.all<Row>(sql`
    SELECT plate.id AS id, lot.id AS lotId, lot.code AS lotCode, plate.medium AS medium,
      coalesce(plate.looks_for, '') AS looksFor, plate.purpose AS purpose,
      coalesce(lot.left_l, lot.left_kg) > 0 AS isLotLeft, plate.due_ms AS dueMs
    FROM micro_check AS plate JOIN lot ON lot.id = plate.lot_id
    WHERE plate.due_ms < ${dueBeforeMs} AND plate.due_ms >= ${dueBeforeMs - readableMs}
      ${andAtSite(sql`lot.site_id`, at)}
      AND NOT EXISTS (SELECT 1 FROM micro_result WHERE check_id = plate.id)
    ORDER BY plate.due_ms, plate.seq`);
  return rows.map(({ purpose, isLotLeft, dueMs, ...row }) => ({
    ...row,
    purpose: purpose ?? 'routine',
    isLotLeft: isLotLeft === 1,
    dueDay: dayOf(dueMs),
  }));
}
