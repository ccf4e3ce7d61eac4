import { sql } from 'drizzle-orm';
import { DomainError } from '#shared/errors.ts';
import type {
  StepKind,
  TraceEvidence,
  TraceOrigin,
  WalkedEdge,
} from '#shared/lineage/traceEvidence.ts';
import { casksLabel } from '#shared/lineage/traceNodes.ts';
import type { Query } from '../database.ts';
import { manyRows } from '../manyRows.ts';
import { batchesIn } from './batchesIn.ts';
import { familyHoldsTouching } from './familyHolds.ts';
import { attentionOf, holdEvidence } from './holds.ts';
import { earlierSelves, holdsWithEarlier } from './sentLots.ts';
import { tracedRecords } from './traced.ts';

/** A family larger than this is told in part, the nearest records first. */
const mostTraced = 200_000;

/**
 * All that is known of the family of a record: a lot, a ferment, a racking, a plate, or anything
 * written about one of them.
 * @throws DomainError `not_found`
 */
export async function traceEvidence(
  query: Query,
  id: string,
  most = mostTraced,
): Promise<TraceEvidence> {
  const origin = await originOf(query, id);
  const edges = await stepsOf(query, origin.nodeId, most);
  const ids = [
    ...new Set([origin.nodeId, ...edges.flatMap(({ parent, child }) => [parent, child])]),
  ];
  return {
    origin,
    edges,
    isWhole: ids.length < most,
    ...(await tracedRecords(query, ids)),
    holding: await heldAmong(query, ids),
    marks: await attentionOf(query, ids),
    holds: await familyHoldsTouching(query, ids),
  };
}

// The parts of a family above a lot are told too, so what held the yeast before it was sent is there.
async function heldAmong(query: Query, ids: readonly string[]) {
  const selves = await earlierSelves(query, ids);
  const earlier = [...selves.values()].flatMap((lots) => lots.map(({ id }) => id));
  return holdsWithEarlier(await holdEvidence(query, [...new Set([...ids, ...earlier])]), selves);
}

type StepRow = { isUp: number; kind: StepKind; parent: string; child: string };

// Yeast goes from a lot into a ferment, from there into crops and casks, and from lots into mixed
// ones. Each walk is breadth first and takes every record once, so it ends even on a circle.
async function stepsOf(query: Query, id: string, most: number): Promise<WalkedEdge[]> {
  const rows = await manyRows<StepRow>(
    query,
    ['isUp', 'kind', 'parent', 'child'],
    sql`
    WITH RECURSIVE
    up (id) AS (
      SELECT ${id}
      UNION SELECT pitch.lot_id FROM up JOIN pitch ON pitch.ferment_id = up.id
      UNION SELECT lot.ferment_id FROM up JOIN lot ON lot.id = up.id WHERE lot.kind = 'crop'
      UNION SELECT lot_parent.parent_id FROM up JOIN lot_parent ON lot_parent.lot_id = up.id
      UNION SELECT rack.ferment_id FROM up JOIN rack ON rack.id = up.id
      LIMIT ${most}
    ),
    down (id) AS (
      SELECT ${id}
      UNION SELECT pitch.ferment_id FROM down JOIN pitch ON pitch.lot_id = down.id
      UNION SELECT lot.id FROM down JOIN lot ON lot.ferment_id = down.id
      UNION SELECT lot_parent.lot_id FROM down JOIN lot_parent ON lot_parent.parent_id = down.id
      UNION SELECT rack.id FROM down JOIN rack ON rack.ferment_id = down.id
      LIMIT ${most}
    )
    SELECT 1 AS isUp, 'pitch' AS kind, pitch.lot_id AS parent, up.id AS child
      FROM up JOIN pitch ON pitch.ferment_id = up.id
    UNION SELECT 1, 'crop', lot.ferment_id, up.id
      FROM up JOIN lot ON lot.id = up.id WHERE lot.kind = 'crop'
    UNION SELECT 1, lot.kind, lot_parent.parent_id, up.id
      FROM up JOIN lot_parent ON lot_parent.lot_id = up.id JOIN lot ON lot.id = up.id
    UNION SELECT 1, 'rack', rack.ferment_id, up.id FROM up JOIN rack ON rack.id = up.id
    UNION SELECT 0, 'pitch', down.id, pitch.ferment_id
      FROM down JOIN pitch ON pitch.lot_id = down.id
    UNION SELECT 0, 'crop', down.id, lot.id FROM down JOIN lot ON lot.ferment_id = down.id
    UNION SELECT 0, lot.kind, down.id, lot_parent.lot_id
      FROM down JOIN lot_parent ON lot_parent.parent_id = down.id
      JOIN lot ON lot.id = lot_parent.lot_id
    UNION SELECT 0, 'rack', down.id, rack.id FROM down JOIN rack ON rack.ferment_id = down.id`,
  );
  return rows.map(({ isUp, ...step }) => ({ ...step, isUp: isUp === 1 }));
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
