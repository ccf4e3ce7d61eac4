import { sql } from 'drizzle-orm';
import type { Kin } from '#shared/lineage/family.ts';
import type {
  TracedFerment,
  TracedLot,
  TracedRack,
  TraceEvidence,
} from '#shared/lineage/traceEvidence.ts';
import type { PendingCheckPolicy } from '#shared/words.ts';
import type { Query } from '../database.ts';
import { manyRows } from '../manyRows.ts';
import { batchesIn } from './batchesIn.ts';
import { overridesOn } from './overrides.ts';

type Ids = ReturnType<typeof sql>;
export type TracedKeys = Record<Kin['kind'], number[]>;

export const idsOf = (records: readonly { id: string }[]) => records.map(({ id }) => id);
type Told = Pick<TraceEvidence, 'lots' | 'ferments' | 'racks' | 'overrides' | 'otherParents'>;

/** The records of a family as the trace tells them, each kind in one query. */
export async function tracedRecords(
  query: Query,
  { lot, ferment, casks }: TracedKeys,
  isKin: (key: number) => boolean,
): Promise<Told> {
  const lots = await lotsAmong(query, among(lot));
  const ferments = await fermentsAmong(query, among(ferment));
  const ids = idsOf([...lots, ...ferments]);
  const parents = await parentsOf(query, among(ids));
  return {
    lots,
    ferments,
    racks: await racksAmong(query, among(casks)),
    overrides: await overridesOn(query, ids),
    otherParents: parents.filter(({ parentKey }) => !isKin(parentKey)),
  };
}

const among = (those: readonly (number | string)[]) =>
  sql`(SELECT value FROM json_each(${JSON.stringify(those)}))`;

const iso = (ms: number) => new Date(ms).toISOString();

type LotRow = Omit<TracedLot, 'at' | 'pendingRoutineCheck'> & {
  happenedMs: number;
  policy: PendingCheckPolicy | null;
};

async function lotsAmong(query: Query, among: Ids): Promise<TracedLot[]> {
  const rows = await manyRows<LotRow>(
    query,
    [
      ...(['id', 'key', 'code', 'origin', 'strain', 'siteId', 'generation'] as const),
      ...(['happenedMs', 'unit', 'left', 'policy'] as const),
    ],
    sql`
    SELECT lot.id AS id, lot.seq AS key, lot.code AS code, lot.kind AS origin, strain.name AS strain,
      lot.site_id AS siteId, lot.generation AS generation, lot.happened_ms AS happenedMs,
      CASE WHEN lot.amount_l IS NULL THEN 'kg' ELSE 'L' END AS unit,
      coalesce(lot.left_l, lot.left_kg) AS "left", strain.pending_routine_check AS policy
    FROM lot JOIN strain ON strain.id = lot.strain_id
    WHERE lot.seq IN ${among}`,
  );
  return rows.map(({ happenedMs, policy, ...row }) => ({
    ...row,
    at: iso(happenedMs),
    pendingRoutineCheck: policy ?? undefined,
  }));
}

type FermentRow = Omit<TracedFerment, 'at' | 'state'> & {
  happenedMs: number;
  pitchedMs: number | null;
  chilledMs: number | null;
  rackedMs: number | null;
};

async function fermentsAmong(query: Query, among: Ids): Promise<TracedFerment[]> {
  const rows = await manyRows<FermentRow>(
    query,
    [
      ...(['id', 'key', 'gyle', 'beer', 'vessel', 'strain', 'siteId', 'happenedMs'] as const),
      ...(['pitchedMs', 'chilledMs', 'rackedMs', 'generation'] as const),
    ],
    sql`
    SELECT ferment.id AS id, ferment.seq AS key, ferment.gyle AS gyle, ferment.beer AS beer, vessel.name AS vessel,
      strain.name AS strain, ferment.site_id AS siteId, ferment.happened_ms AS happenedMs, ferment.pitched_ms AS pitchedMs,
      ferment.chilled_ms AS chilledMs, ferment.racked_ms AS rackedMs,
      (SELECT max(lot.generation) FROM pitch JOIN lot ON lot.id = pitch.lot_id
        WHERE pitch.ferment_id = ferment.id) AS generation
    FROM ferment JOIN vessel ON vessel.id = ferment.vessel_id
      JOIN strain ON strain.id = ferment.strain_id
    WHERE ferment.seq IN ${among}`,
  );
  return rows.map(({ happenedMs, pitchedMs, chilledMs, rackedMs, ...row }) => ({
    ...row,
    at: iso(pitchedMs ?? happenedMs),
    state:
      rackedMs !== null
        ? 'racked'
        : chilledMs !== null
          ? 'chilled'
          : pitchedMs !== null
            ? 'fermenting'
            : 'collected',
  }));
}

type RackRow = { id: string; key: number; fermentId: string; happenedMs: number; batches: string };

async function racksAmong(query: Query, among: Ids): Promise<TracedRack[]> {
  const rows = await manyRows<RackRow>(
    query,
    ['id', 'key', 'fermentId', 'happenedMs', 'batches'],
    sql`
    SELECT id, seq AS key, ferment_id AS fermentId, happened_ms AS happenedMs, batches
    FROM rack WHERE seq IN ${among}`,
  );
  return rows.map(({ happenedMs, batches, ...row }) => ({
    ...row,
    at: iso(happenedMs),
    batches: batchesIn(batches),
  }));
}

type Parent = { child: string; parentKey: number; code: string };

async function parentsOf(query: Query, ids: Ids): Promise<Parent[]> {
  return manyRows<Parent>(
    query,
    ['child', 'parentKey', 'code'],
    sql`
    SELECT pitch.ferment_id AS child, lot.seq AS parentKey, lot.code AS code
    FROM pitch JOIN lot ON lot.id = pitch.lot_id
    WHERE pitch.ferment_id IN ${ids}
    UNION SELECT lot_parent.lot_id, lot.seq, lot.code
    FROM lot_parent JOIN lot ON lot.id = lot_parent.parent_id
    WHERE lot_parent.lot_id IN ${ids}`,
  );
}
