import { sql } from 'drizzle-orm';
import type { Override } from '#shared/lots/overrides.ts';
import type { Query } from '../database.ts';

/**
 * What was done all the same to the yeast of these lots and ferments, oldest first: a pitch shows on
 * its lot and its ferment; mixing and washing show on the lot, on lots that took of it afterwards, and
 * on every ferment any of these went into.
 */
export async function overridesOn(query: Query, ids: readonly string[]): Promise<Override[]> {
  const among = sql`(SELECT value FROM json_each(${JSON.stringify(ids)}))`;
  // CROSS keeps the order of each join: the engine would begin at the whole table otherwise.
  const rows = await query.all<Omit<Override, 'at'> & { happenedMs: number }>(sql`
    WITH RECURSIVE
    -- What a record holds of a lot is of before the moment it was taken.
    taken (on_id, lot_id, until_ms) AS (
      SELECT id, id, 9e15 FROM lot WHERE id IN ${among}
      UNION SELECT ferment_id, lot_id, happened_ms FROM pitch WHERE ferment_id IN ${among}
      UNION SELECT taken.on_id, lot_parent.parent_id, child.happened_ms
        FROM taken CROSS JOIN lot_parent ON lot_parent.lot_id = taken.lot_id
        CROSS JOIN lot AS child ON child.id = taken.lot_id
    ),
    done (on_id, what, record_id, entry_id, lot_id, why, happened_ms) AS (
      SELECT lot_id, 'pitched', id, entry_id, lot_id, override, happened_ms
        FROM pitch WHERE override IS NOT NULL AND lot_id IN ${among}
      UNION SELECT ferment_id, 'pitched', id, entry_id, lot_id, override, happened_ms
        FROM pitch WHERE override IS NOT NULL AND ferment_id IN ${among}
      UNION SELECT taken.on_id, 'washed', treatment.id, treatment.entry_id, treatment.lot_id,
          treatment.override, treatment.happened_ms
        FROM taken CROSS JOIN treatment ON treatment.lot_id = taken.lot_id
        WHERE treatment.override IS NOT NULL AND treatment.happened_ms <= taken.until_ms
      UNION SELECT taken.on_id, 'mixed', lot.id, lot.entry_id, lot.id,
          json_extract(mixed.body, '$.override'), lot.happened_ms
        FROM taken CROSS JOIN lot ON lot.id = taken.lot_id AND lot.kind = 'blend'
        CROSS JOIN journal AS mixed ON mixed.id = lot.entry_id
        WHERE json_extract(mixed.body, '$.override') IS NOT NULL
    )
    SELECT done.on_id AS "on", done.what AS what, done.record_id AS recordId,
      done.lot_id AS lotId, lot.code AS lotCode, done.why AS why,
      done.happened_ms AS happenedMs, journal.by_name AS "by"
    FROM done CROSS JOIN lot ON lot.id = done.lot_id
      CROSS JOIN journal ON journal.id = done.entry_id
    ORDER BY done.happened_ms, done.record_id`);
  return rows.map(({ happenedMs, ...row }) => ({ ...row, at: new Date(happenedMs).toISOString() }));
}
