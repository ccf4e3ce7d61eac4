import { sql } from 'drizzle-orm';
import type { Query } from '../database.ts';

/**
 * What people call the lots, gyles, fermenters, strains and planned brews among some ids: an id that
 * is none of these is left out.
 */
export async function calledBy(
  query: Query,
  ids: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  if (ids.length === 0) return new Map();
  const among = sql`(SELECT value FROM json_each(${JSON.stringify(ids)}))`;
  const rows = await query.all<{ id: string; name: string }>(sql`
    SELECT id, code AS name FROM lot WHERE id IN ${among}
    UNION ALL SELECT id, gyle FROM ferment WHERE id IN ${among}
    UNION ALL SELECT id, name FROM vessel WHERE id IN ${among}
    UNION ALL SELECT id, name FROM strain WHERE id IN ${among}
    UNION ALL SELECT id, beer || ', ' || on_day FROM planned_brew WHERE id IN ${among}`);
  return new Map(rows.map(({ id, name }) => [id, name]));
}
