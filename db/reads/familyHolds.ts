import { sql } from 'drizzle-orm';
import type { FamilyHoldView } from '#shared/lineage/traceEvidence.ts';
import type { Query } from '../database.ts';

type Row = Omit<FamilyHoldView, 'at' | 'released'> & {
  happenedMs: number;
  liftedMs: number | null;
  liftedBy: string | null;
  liftedWhy: string | null;
};

/** These holds of families, the latest first. */
export async function familyHolds(query: Query, ids: readonly string[]): Promise<FamilyHoldView[]> {
  const rows = await query.all<Row>(sql`
    SELECT step.id AS id, step.entry_id AS entryId, step.why AS why, step.lot_id AS lotId,
      step.ferment_id AS fermentId, step.happened_ms AS happenedMs, journal.by_name AS "by",
      (SELECT count(*) FROM family_hold_lot WHERE hold_id = step.id) AS lots,
      (SELECT count(*) FROM family_hold_ferment WHERE hold_id = step.id) AS ferments,
      lifted.happened_ms AS liftedMs, lifted.why AS liftedWhy, lifter.by_name AS liftedBy
    FROM family_hold AS step JOIN journal ON journal.id = step.entry_id
      LEFT JOIN family_release AS lifted ON lifted.hold_id = step.id
      LEFT JOIN journal AS lifter ON lifter.id = lifted.entry_id
    WHERE step.id IN (SELECT value FROM json_each(${JSON.stringify(ids)}))
    ORDER BY step.happened_ms DESC`);
  return rows.map(({ happenedMs, liftedMs, liftedBy, liftedWhy, ...row }) => ({
    ...row,
    at: new Date(happenedMs).toISOString(),
    released:
      liftedMs === null
        ? null
        : { at: new Date(liftedMs).toISOString(), by: liftedBy ?? '', why: liftedWhy ?? '' },
  }));
}
