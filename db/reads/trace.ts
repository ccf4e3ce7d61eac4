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
import { type TracedIds, tracedRecords } from './traced.ts';
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
  const origin = await originOf(query, id);
  const { walked, holdIds, grewIds } = await walkFrom(query, origin.nodeId);
  const family = familyOf(origin, walked);
  const part = asked ?? wholeFamily;
  const always = [
    ...sourcesOf(family),
    ...grewIds,
    ...(asked === undefined ? [] : await presentIds(query, asked.sinceMs)),
  ];
  const ids = idsByKind(family, toldOf(family, part, always));
  return {
    origin,
    family,
    part,
    ...(await tracedRecords(query, ids, (parentId) => family.byId.has(parentId))),
    holding: await heldAmong(query, ids.lot),
    marks: await attentionOf(query, ids.ferment),
    holds: await familyHolds(query, holdIds),
  };
}

function idsByKind({ byId }: Family, told: Iterable<string>): TracedIds {
  const ids: TracedIds = { lot: [], ferment: [], casks: [] };
  for (const id of told) {
    const kind = byId.get(id)?.kind;
    if (kind !== undefined) ids[kind].push(id);
  }
  return ids;
}

// The parts of a family above a lot are told too, so what held the yeast before it was sent is there.
async function heldAmong(query: Query, lotIds: readonly string[]) {
  const selves = await earlierSelves(query, lotIds);
  const earlier = [...selves.values()].flatMap((lots) => lots.map(({ id }) => id));
  return holdsWithEarlier(await holdEvidence(query, [...new Set([...lotIds, ...earlier])]), selves);
}

/** Lots in store, ferments in FV and casks racked since a moment: few, however long the log. */
async function presentIds(query: Query, sinceMs: number): Promise<string[]> {
  const rows = await query.all<{ id: string }>(sql`
    SELECT id FROM lot WHERE left_l > 0 OR left_kg > 0
    UNION ALL SELECT id FROM ferment WHERE racked_ms IS NULL
    UNION ALL SELECT rack.id FROM ferment JOIN rack ON rack.ferment_id = ferment.id
      WHERE ferment.racked_ms >= ${sinceMs}`);
  return rows.map(({ id }) => id);
}

type OriginRow = {
  kind: TraceOrigin['kind'];
  nodeId: string;
  label: string;
  gyle: string;
  batches: string | null;
};

async function originOf(query: Query, id: string): Promise<TraceOrigin> {
  const [row] = await query.all<OriginRow>(sql`
    SELECT 'lot' AS kind, id AS nodeId, code AS label, '' AS gyle, NULL AS batches
      FROM lot WHERE id = ${id}
    UNION ALL SELECT 'ferment', id, gyle, gyle, NULL FROM ferment WHERE id = ${id}
    UNION ALL SELECT 'casks', rack.id, '', ferment.gyle, rack.batches
      FROM rack JOIN ferment ON ferment.id = rack.ferment_id WHERE rack.id = ${id}
    UNION ALL SELECT 'plate', lot.id, plate.medium || ' plate of ' || lot.code, '', NULL
      FROM micro_check AS plate JOIN lot ON lot.id = plate.lot_id
      WHERE plate.id = ${id}
        OR plate.id = (SELECT check_id FROM micro_result WHERE id = ${id})`);
  if (row === undefined)
    throw new DomainError(
      'not_found',
      'There is no lot, ferment, racking or plate of this id in the log.',
    );
  const { kind, nodeId, label, gyle, batches } = row;
  const words = batches === null ? label : casksLabel(gyle, batchesIn(batches));
  return { id, kind, nodeId, label: words };
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
