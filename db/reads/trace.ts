import { sql } from 'drizzle-orm';
import { DomainError } from '#shared/errors.ts';
import {
  type Family,
  familyOf,
  type Part,
  sourcesOf,
  toldOf,
  wholeFamily,
} from '#shared/lineage/family.ts';
import type { TraceEvidence, TraceOrigin } from '#shared/lineage/traceEvidence.ts';
import { casksLabel } from '#shared/lineage/traceNodes.ts';
import type { Query } from '../database.ts';
import { batchesIn } from './batchesIn.ts';
import { familyHolds } from './familyHolds.ts';
import { attentionOf, holdEvidence } from './holds.ts';
import { earlierSelves, holdsWithEarlier } from './sentLots.ts';
import { idsOf, type TracedKeys, tracedRecords } from './traced.ts';
import { walkFrom } from './walk.ts';

/** Casks racked since a moment may still be in the trade. */
type Asked = Part & { sinceMs: number };

/**
 * What is known of the family of a record: a lot, a ferment, a racking, a plate, or anything written
 * about one of them. Told is all of it, or the part asked for and what may still be acted upon.
 *
 * @throws DomainError `not_found`
 */
export async function traceEvidence(
  query: Query,
  id: string,
  asked?: Asked,
): Promise<TraceEvidence> {
  const { key, ...origin } = await originOf(query, id);
  const { walked, holdIds, grewKeys } = await walkFrom(query, origin.nodeId, key);
  const family = familyOf({ key, kind: origin.kind }, walked);
  const part = asked ?? wholeFamily;
  const always = [
    ...sourcesOf(family),
    ...grewKeys,
    ...(asked === undefined ? [] : await presentKeys(query, asked.sinceMs)),
  ];
  const told = keysByKind(family, toldOf(family, part, always));
  const records = await tracedRecords(query, told, (parent) => family.byKey.has(parent));
  return {
    origin,
    family,
    part,
    ...records,
    holding: await heldAmong(query, idsOf(records.lots)),
    marks: await attentionOf(query, idsOf(records.ferments)),
    holds: await familyHolds(query, holdIds),
  };
}

function keysByKind({ byKey }: Family, told: Iterable<number>): TracedKeys {
  const keys: TracedKeys = { lot: [], ferment: [], casks: [] };
  for (const key of told) {
    const kind = byKey.get(key)?.kind;
    if (kind !== undefined) keys[kind].push(key);
  }
  return keys;
}

// The parts of a family above a lot are told too, so what held the yeast before it was sent is there.
async function heldAmong(query: Query, lotIds: readonly string[]) {
  const selves = await earlierSelves(query, lotIds);
  const earlier = [...selves.values()].flatMap((lots) => lots.map(({ id }) => id));
  return holdsWithEarlier(await holdEvidence(query, [...new Set([...lotIds, ...earlier])]), selves);
}

/** Lots in store, ferments in FV and casks racked since a moment: few, however long the log. */
async function presentKeys(query: Query, sinceMs: number): Promise<number[]> {
  const rows = await query.all<{ key: number }>(sql`
    SELECT seq AS key FROM lot WHERE left_l > 0 OR left_kg > 0
    UNION ALL SELECT seq FROM ferment WHERE racked_ms IS NULL
    UNION ALL SELECT rack.seq FROM ferment JOIN rack ON rack.ferment_id = ferment.id
      WHERE ferment.racked_ms >= ${sinceMs}`);
  return rows.map(({ key }) => key);
}

type OriginRow = {
  key: number;
  kind: TraceOrigin['kind'];
  nodeId: string;
  label: string;
  gyle: string;
  batches: string | null;
};

async function originOf(query: Query, id: string): Promise<TraceOrigin & { key: number }> {
  const [row] = await query.all<OriginRow>(sql`
    SELECT 'lot' AS kind, seq AS key, id AS nodeId, code AS label, '' AS gyle, NULL AS batches
      FROM lot WHERE id = ${id}
    UNION ALL SELECT 'ferment', seq, id, gyle, gyle, NULL FROM ferment WHERE id = ${id}
    UNION ALL SELECT 'casks', rack.seq, rack.id, '', ferment.gyle, rack.batches
      FROM rack JOIN ferment ON ferment.id = rack.ferment_id WHERE rack.id = ${id}
    UNION ALL SELECT 'plate', lot.seq, lot.id, plate.medium || ' plate of ' || lot.code, '', NULL
      FROM micro_check AS plate JOIN lot ON lot.id = plate.lot_id
      WHERE plate.id = ${id}
        OR plate.id = (SELECT check_id FROM micro_result WHERE id = ${id})`);
  if (row === undefined)
    throw new DomainError(
      'not_found',
      'There is no lot, ferment, racking or plate of this id in the log.',
    );
  const { kind, key, nodeId, label, gyle, batches } = row;
  const words = batches === null ? label : casksLabel(gyle, batchesIn(batches));
  return { id, key, kind, nodeId, label: words };
}

/** What a hold of a family touches: lots still in store and ferments, at and below a record. */
export async function familyBelow(
  query: Query,
  id: string,
): Promise<{ lotIds: string[]; fermentIds: string[] }> {
  const rows = await query.all<{ id: string; isLot: number }>(sql`
    WITH RECURSIVE down (id) AS (
      SELECT ${id}
      UNION SELECT pitch.ferment_id FROM down JOIN pitch ON pitch.lot_id = down.id
      UNION SELECT lot.id FROM down JOIN lot ON lot.ferment_id = down.id
      UNION SELECT lot_parent.lot_id FROM down JOIN lot_parent ON lot_parent.parent_id = down.id
    )
    SELECT lot.id AS id, 1 AS isLot FROM down JOIN lot ON lot.id = down.id
      WHERE lot.left_l > 0 OR lot.left_kg > 0
    UNION ALL SELECT ferment.id, 0 FROM down JOIN ferment ON ferment.id = down.id`);
  const those = (isLot: number) => rows.filter((row) => row.isLot === isLot).map((row) => row.id);
  return { lotIds: those(1), fermentIds: those(0) };
}
