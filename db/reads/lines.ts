import { type SQL, sql } from 'drizzle-orm';
import { grouped } from '#shared/grouped.ts';
import type { LineFerment } from '#shared/lines/linePoint.ts';
import type { LineEvidence } from '#shared/lines/lineStanding.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import type { Query } from '../database.ts';
import { andAtSite, type SiteScope } from '../sites/siteScope.ts';
import { allRecords } from './records.ts';

/** Ferments read of one line at most: the earliest, which set the limits, and the latest. */
export const lineReach = { earliest: 40, latest: 80 } as const;

type LineRow = {
  id: string;
  code: string;
  strainId: string;
  startedMs: number;
  highestGeneration: number;
  aliveGeneration: number | null;
  lotsInStore: number;
  running: number;
};

/** That a line, its fresh culture called `lot`, has been at the site, to stand behind `AND`. */
const andIsAt = (at: SiteScope): SQL =>
  at === undefined
    ? sql``
    : sql`AND EXISTS (SELECT 1 FROM lot AS member
        WHERE member.line_id = lot.id ${andAtSite(sql`member.site_id`, at)})`;

/** The fresh cultures of lines still alive, and of the newest others, newest first. */
export async function lineIds(query: Query, limit: number, at?: SiteScope): Promise<string[]> {
  const inScope = andIsAt(at);
  const rows = await query.all<{ id: string }>(sql`
    WITH alive AS MATERIALIZED (
      SELECT line_id AS id FROM lot
      WHERE (left_l > 0 OR left_kg > 0) ${andAtSite(sql`lot.site_id`, at)}
    ), newest AS (
      SELECT id FROM lot WHERE kind = 'freshCulture' ${inScope}
      ORDER BY happened_ms DESC LIMIT ${limit}
    )
    SELECT id FROM lot
    WHERE id IN (SELECT id FROM alive UNION SELECT id FROM newest) ${inScope}
    ORDER BY id IN (SELECT id FROM alive) DESC, happened_ms DESC LIMIT ${limit}`);
  return rows.map(({ id }) => id);
}

/** A line and the newest others of its strain, which tell how much the measures of it vary. */
export async function lineIdsBeside(
  query: Query,
  id: string,
  limit: number,
  at?: SiteScope,
): Promise<string[]> {
  const rows = await query.all<{ id: string }>(sql`
    SELECT id FROM lot WHERE kind = 'freshCulture'
      AND strain_id = (SELECT strain_id FROM lot WHERE id = ${id} AND kind = 'freshCulture')
      ${andIsAt(at)}
    ORDER BY id = ${id} DESC, happened_ms DESC
    LIMIT ${limit}`);
  return rows.map((row) => row.id);
}

/** The sites a line has been at, the first one first. */
export async function sitesOfLine(query: Query, id: string): Promise<SiteKey[]> {
  const rows = await query.all<{ key: SiteKey }>(sql`
    SELECT DISTINCT site_id AS key FROM lot WHERE line_id = ${id} ORDER BY site_id`);
  return rows.map(({ key }) => key);
}

/**
 * What the log holds of each line, in five reads however many lines there are. Of one site it is what
 * the line did there: other FVs, water and hands would be taken for a change in the yeast.
 */
export async function lineEvidence(
  query: Query,
  ids: readonly string[],
  at?: SiteScope,
): Promise<LineEvidence[]> {
  if (ids.length === 0) return [];
  const lines = await query.all<LineRow>(lineSql(ids, at));
  const ferments = await lineFerments(query, ids, at);
  const strains = new Map((await allRecords(query, 'strain')).map((strain) => [strain.id, strain]));
  const known = new Map(lines.map((line) => [line.id, line]));
  return ids.flatMap((id) => {
    const line = known.get(id);
    const strain = strains.get(line?.strainId ?? '');
    if (line === undefined || strain === undefined) return [];
    const { strainId: _, ...facts } = line;
    return [{ ...facts, strain, ferments: ferments.get(id) ?? [] }];
  });
}

const listed = (ids: readonly string[]): SQL =>
  sql`(SELECT value FROM json_each(${JSON.stringify(ids)}))`;

const lineSql = (ids: readonly string[], at: SiteScope) => sql`
  WITH member AS (
    SELECT line_id, generation, left_l > 0 OR left_kg > 0 AS in_store FROM lot
    WHERE line_id IN ${listed(ids)} ${andAtSite(sql`lot.site_id`, at)}
  ), alive AS (
    SELECT lot.line_id, lot.generation, ferment.id
    FROM ferment JOIN pitch ON pitch.ferment_id = ferment.id JOIN lot ON lot.id = pitch.lot_id
    WHERE ferment.racked_ms IS NULL AND lot.line_id IN ${listed(ids)}
      ${andAtSite(sql`ferment.site_id`, at)}
  )
  SELECT source.id AS id, source.code AS code, source.strain_id AS strainId,
    source.happened_ms AS startedMs,
    (SELECT max(generation) FROM member WHERE line_id = source.id) AS highestGeneration,
    (SELECT count(*) FROM member WHERE line_id = source.id AND in_store) AS lotsInStore,
    (SELECT count(DISTINCT alive.id) FROM alive WHERE line_id = source.id) AS running,
    (SELECT max(generation) FROM (
      SELECT generation FROM member WHERE line_id = source.id AND in_store
      UNION ALL SELECT generation FROM alive WHERE line_id = source.id)) AS aliveGeneration
  FROM lot AS source WHERE source.kind = 'freshCulture' AND source.id IN ${listed(ids)}`;

type FermentRow = Omit<LineFerment, 'pitches' | 'crops' | 'readings' | 'stain' | 'petites'> & {
  lineId: string;
  rackGravitySg: number | null;
  live: number | null;
  dead: number | null;
  petites: number | null;
  colonies: number | null;
};

/** The ferments of each line within reach, in the order they were pitched. */
async function lineFerments(query: Query, ids: readonly string[], at: SiteScope) {
  const rows = await query.all<FermentRow>(fermentSql(ids, at));
  const fermentIds = [...new Set(rows.map(({ id }) => id))];
  const amounts = await amountsOf(query, fermentIds);
  const readings = await readingsOf(query, fermentIds);
  const lines = new Map<string, LineFerment[]>();
  for (const { lineId, live, dead, petites, colonies, rackGravitySg, ...facts } of rows) {
    const read = readings.get(facts.id) ?? [];
    const ferment = {
      ...facts,
      ...(amounts.get(facts.id) ?? { pitches: [], crops: [] }),
      readings: [...read, ...rackReading(facts.rackedMs, rackGravitySg)],
      stain: live === null || dead === null ? null : { live, dead },
      petites:
        petites === null || colonies === null ? null : { found: petites, examined: colonies },
    };
    lines.set(lineId, [...(lines.get(lineId) ?? []), ferment]);
  }
  return lines;
}

type Reading = LineFerment['readings'][number];

// Thousands: told as one value a ferment they come out of the driver three times as fast.
async function readingsOf(query: Query, fermentIds: readonly string[]) {
  const rows = await query.all<{ fermentId: string; told: string }>(sql`
    SELECT ferment_id AS fermentId,
      json_group_array(json_array(happened_ms, gravity_sg, cells_per_ml)) AS told
    FROM (SELECT ferment_id, happened_ms, gravity_sg, cells_per_ml FROM reading
      WHERE ferment_id IN ${listed(fermentIds)} ORDER BY ferment_id, happened_ms)
    GROUP BY ferment_id`);
  return new Map<string, Reading[]>(
    rows.map(({ fermentId, told }) => [fermentId, JSON.parse(told).map(reading)]),
  );
}

type Told = [number, number | null, number | null];
const reading = ([happenedMs, gravitySg, cellsPerMl]: Told): Reading => ({
  happenedMs,
  gravitySg,
  cellsPerMl,
});

const rackReading = (rackedMs: number | null, gravitySg: number | null) =>
  rackedMs === null || gravitySg === null
    ? []
    : [{ happenedMs: rackedMs, gravitySg, cellsPerMl: null }];

// The first lot pitched and, where it was sent, the lots it was before; what was written of those
// counts until it was sent.
const beforeSent = (untilMs: SQL) => sql`
  WITH RECURSIVE self (id, until_ms) AS (
    SELECT first.lot_id, ${untilMs}
    UNION ALL SELECT lot_parent.parent_id, lot.happened_ms
    FROM self JOIN lot ON lot.id = self.id AND lot.kind = 'transfer'
      JOIN lot_parent ON lot_parent.lot_id = lot.id
  )`;

// The first lot pitched speaks for the yeast: its last stain before the pitch, and its petites.
const fermentSql = (ids: readonly string[], at: SiteScope) => sql`
  WITH pitched AS (
    SELECT lot.line_id, pitch.ferment_id, min(pitch.happened_ms) AS pitched_ms
    FROM lot JOIN pitch ON pitch.lot_id = lot.id
    WHERE lot.line_id IN ${listed(ids)} ${andAtSite(sql`lot.site_id`, at)}
    GROUP BY lot.line_id, pitch.ferment_id
  ), placed AS (
    SELECT *, row_number() OVER (PARTITION BY line_id ORDER BY pitched_ms) AS from_start,
      row_number() OVER (PARTITION BY line_id ORDER BY pitched_ms DESC) AS from_end
    FROM pitched
  ), first AS (
    SELECT placed.*, (SELECT lot_id FROM pitch WHERE pitch.ferment_id = placed.ferment_id
      ORDER BY happened_ms, seq LIMIT 1) AS lot_id
    FROM placed WHERE from_start <= ${lineReach.earliest} OR from_end <= ${lineReach.latest}
  )
  SELECT first.line_id AS lineId, ferment.id AS id, ferment.gyle AS gyle, ferment.beer AS beer,
    ferment.original_gravity_sg AS originalGravitySg, ferment.pitched_ms AS pitchedMs,
    ferment.chilled_ms AS chilledMs, ferment.racked_ms AS rackedMs,
    rack.gravity_sg AS rackGravitySg, stain.live AS live, stain.dead AS dead,
    (SELECT max(lot.generation) FROM pitch JOIN lot ON lot.id = pitch.lot_id
      WHERE pitch.ferment_id = ferment.id) AS generation,
    json_extract(petite.body, '$.colonies') AS petites,
    json_extract(petite.body, '$.ofColonies') AS colonies
  FROM first JOIN ferment ON ferment.id = first.ferment_id
    LEFT JOIN rack ON rack.ferment_id = ferment.id
    LEFT JOIN stain ON stain.id = (
      ${beforeSent(sql`ferment.pitched_ms`)} SELECT earlier.id
      FROM self JOIN stain AS earlier
        ON earlier.lot_id = self.id AND earlier.happened_ms <= self.until_ms
      ORDER BY earlier.happened_ms DESC, earlier.seq DESC LIMIT 1)
    LEFT JOIN journal AS petite ON petite.id = (${petiteEntry})
  ORDER BY first.line_id, first.pitched_ms`;

// What a plate looks for stands in the entries only.
const petiteEntry = sql`
  ${beforeSent(sql`9e15`)} SELECT result.entry_id
  FROM self JOIN micro_check AS made
      ON made.lot_id = self.id AND made.happened_ms <= self.until_ms
    JOIN journal AS asked ON asked.id = made.entry_id
    JOIN micro_result AS result ON result.check_id = made.id
    JOIN journal AS answered ON answered.id = result.entry_id
  WHERE json_extract(answered.body, '$.ofColonies') IS NOT NULL
    AND (json_extract(asked.body, '$.looksFor') LIKE '%petite%' OR made.medium LIKE '%TTC%')
  ORDER BY result.happened_ms DESC, result.seq DESC LIMIT 1`;

type AmountRow = LineFerment['pitches'][number] & { fermentId: string; isCrop: number };

async function amountsOf(query: Query, fermentIds: readonly string[]) {
  const rows = await query.all<AmountRow>(sql`
    SELECT ferment_id AS fermentId, 0 AS isCrop, amount_l AS amountL, amount_kg AS amountKg
    FROM pitch WHERE ferment_id IN ${listed(fermentIds)}
    UNION ALL
    SELECT ferment_id, 1, amount_l, amount_kg FROM lot WHERE ferment_id IN ${listed(fermentIds)}`);
  return new Map(
    [...grouped(rows, ({ fermentId }) => fermentId)].map(([fermentId, amounts]) => [
      fermentId,
      {
        pitches: amounts.filter(({ isCrop }) => isCrop === 0),
        crops: amounts.filter(({ isCrop }) => isCrop === 1),
      },
    ]),
  );
}
