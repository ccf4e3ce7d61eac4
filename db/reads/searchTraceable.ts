import { sql } from 'drizzle-orm';
import type { SiteKey } from '#shared/sites/site.ts';
import type { Query } from '../database.ts';

const mostFound = 20;

export type Traceable = {
  id: string;
  kind: 'lot' | 'ferment' | 'casks';
  label: string;
  detail: string;
  siteId: SiteKey;
  at: string;
};

/** Lots by code, ferments by gyle, rackings by cask batch: an exact match first, then the latest. */
export async function searchTraceable(query: Query, text: string): Promise<Traceable[]> {
  const wanted = text.trim();
  const like = `%${wanted.replace(/[\\%_]/g, '\\$&')}%`;
  const rows = await query.all<Omit<Traceable, 'at'> & { happenedMs: number }>(sql`
    SELECT id, kind, label, detail, siteId, happenedMs FROM (
      SELECT lot.id AS id, 'lot' AS kind, lot.code AS label, strain.name AS detail,
        lot.site_id AS siteId, lot.happened_ms AS happenedMs
      FROM lot JOIN strain ON strain.id = lot.strain_id WHERE lot.code LIKE ${like} ESCAPE '\\'
      UNION ALL
      SELECT id, 'ferment', gyle, beer, site_id, happened_ms FROM ferment
      WHERE gyle LIKE ${like} ESCAPE '\\'
      UNION ALL
      SELECT rack.id, 'casks', batch.value, ferment.beer, ferment.site_id, rack.happened_ms
      FROM rack JOIN json_each(rack.batches) AS batch
        JOIN ferment ON ferment.id = rack.ferment_id
      WHERE batch.value LIKE ${like} ESCAPE '\\'
    )
    ORDER BY lower(label) <> lower(${wanted}), happenedMs DESC LIMIT ${mostFound}`);
  return rows.map(({ happenedMs, ...row }) => ({ ...row, at: new Date(happenedMs).toISOString() }));
}
