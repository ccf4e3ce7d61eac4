import { sql } from 'drizzle-orm';
import type { PastCrop } from '#shared/plan/cropYield.ts';
import type { PastBrews } from '#shared/plan/failureChance.ts';
import type { Query } from '../database.ts';
import { andAtSite, everySite, type SiteScope } from '../sites/siteScope.ts';

/** Ferments of each strain looked back on, the newest first: so many, however long the log. */
const cropsLookedAt = 40;
const brewsLookedAt = 400;

const newest = (most: number, at: SiteScope) => sql`
  SELECT ferment.* FROM strain JOIN ferment ON ferment.id IN (
    SELECT latest.id FROM ferment AS latest WHERE latest.strain_id = strain.id
      AND latest.pitched_ms IS NOT NULL ${andAtSite(sql`latest.site_id`, at)}
    ORDER BY latest.seq DESC LIMIT ${most})`;

/** What was kept of the latest ferments against what was pitched, where both are in one unit. */
export async function pastCrops(query: Query, at = everySite): Promise<PastCrop[]> {
  return query.all<PastCrop>(sql`
    WITH looked_at AS MATERIALIZED (${newest(2 * cropsLookedAt, at)}), pitched AS (
      SELECT ferment_id, sum(amount_l) AS l, sum(amount_kg) AS kg,
        count(amount_l) AS in_l, count(amount_kg) AS in_kg
      FROM pitch WHERE ferment_id IN (SELECT id FROM looked_at) GROUP BY ferment_id
    ), cropped AS (
      SELECT ferment_id, sum(amount_l) AS l, sum(amount_kg) AS kg, min(happened_ms) AS first_ms,
        count(amount_l) AS in_l, count(amount_kg) AS in_kg
      FROM lot WHERE ferment_id IN (SELECT id FROM looked_at) GROUP BY ferment_id
    ), ratios AS (
      SELECT ferment.id, ferment.strain_id, ferment.pitched_ms, cropped.first_ms,
        CASE WHEN pitched.in_kg = 0 AND cropped.in_kg = 0 THEN cropped.l / pitched.l
          WHEN pitched.in_l = 0 AND cropped.in_l = 0 THEN cropped.kg / pitched.kg END AS ratio,
        row_number() OVER (PARTITION BY ferment.strain_id ORDER BY ferment.pitched_ms DESC) AS place
      FROM looked_at AS ferment JOIN pitched ON pitched.ferment_id = ferment.id
        JOIN cropped ON cropped.ferment_id = ferment.id
    )
    SELECT strain_id AS strainId, ratio, (first_ms - pitched_ms) / 3600000.0 AS hours, (
        SELECT 1.0 * stain.live / (stain.live + stain.dead)
        FROM lot JOIN stain ON stain.lot_id = lot.id
        WHERE lot.ferment_id = ratios.id ORDER BY stain.happened_ms, stain.seq LIMIT 1
      ) AS viability
    FROM ratios WHERE ratio > 0 AND first_ms > pitched_ms AND place <= ${cropsLookedAt}
    ORDER BY pitched_ms`);
}

/**
 * The latest brews by strain and generation pitched, and those whose yeast a plate found something in: in what
 * was pitched into them, or in what was cropped from them.
 */
export async function pastBrews(query: Query, at = everySite): Promise<PastBrews[]> {
  return query.all<PastBrews>(sql`
    WITH looked_at AS MATERIALIZED (${newest(brewsLookedAt, at)}), brewed AS (
      SELECT ferment.id, ferment.strain_id, max(lot.generation) AS generation,
        max(${isSpoilt}) AS is_from_spoilt
      FROM looked_at AS ferment CROSS JOIN pitch ON pitch.ferment_id = ferment.id
        JOIN lot ON lot.id = pitch.lot_id
      GROUP BY ferment.id
    )
    SELECT strain_id AS strainId, generation, count(*) AS brews, sum(
        is_from_spoilt
        OR EXISTS (SELECT 1 FROM lot WHERE lot.ferment_id = brewed.id AND ${isSpoilt})
      ) AS lost
    FROM brewed GROUP BY strain_id, generation ORDER BY strain_id, generation`);
}

// Asked of the lots looked at alone: plates are many.
const isSpoilt = sql`EXISTS (
  SELECT 1 FROM micro_check JOIN micro_result ON micro_result.check_id = micro_check.id
  WHERE micro_check.lot_id = lot.id AND micro_result.outcome <> 'clear')`;
