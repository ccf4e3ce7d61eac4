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
export type TracedIds = Record<Kin['kind'], string[]>;
type Told = Pick<TraceEvidence, 'lots' | 'ferments' | 'racks' | 'overrides' | 'otherParents'>;

/** The records of a family as the trace tells them, each kind in one query. */
export async function tracedRecords(
  query: Query,
  { lot, ferment, casks }: TracedIds,
  isKin: (id: string) => boolean,
): Promise<Told> {
  const parents = await parentsOf(query, [...lot, ...ferment]);
  return {
    lots: await lotsAmong(query, among(lot)),
    ferments: await fermentsAmong(query, among(ferment)),
    racks: await racksAmong(query, among(casks)),
    overrides: await overridesOn(query, [...lot, ...ferment]),
    otherParents: parents.filter(({ parentId }) => !isKin(parentId)),
  };
}

const among = (ids: readonly string[]) =>
  sql`(SELECT value FROM json_each(${JSON.stringify(ids)}))`;

const iso = (ms: number) => new Date(ms).toISOString();

type LotRow = Omit<TracedLot, 'at' | 'pendingRoutineCheck'> & {
  happenedMs: number;
  policy: PendingCheckPolicy | null;
};

async function lotsAmong(query: Query, among: Ids): Promise<TracedLot[]> {
  const rows = await manyRows<LotRow>(
    query,
    [
      ...(['id', 'code', 'origin', 'strain', 'siteId', 'generation'] as const),
      ...(['happenedMs', 'unit', 'left', 'policy'] as const),
    ],
    sql`
    SELECT lot.id AS id, lot.code AS code, lot.kind AS origin, strain.name AS strain,
      lot.site_id AS siteId, lot.generation AS generation, lot.happened_ms AS happenedMs,
      CASE WHEN lot.amount_l IS NULL THEN 'kg' ELSE 'L' END AS unit,
      coalesce(lot.left_l, lot.left_kg) AS "left", strain.pending_routine_check AS policy
    FROM lot JOIN strain ON strain.id = lot.strain_id
    WHERE lot.id IN ${among}`,
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
      ...(['id', 'gyle', 'beer', 'vessel', 'strain', 'siteId', 'happenedMs'] as const),
      ...(['pitchedMs', 'chilledMs', 'rackedMs', 'generation'] as const),
    ],
    sql`
    SELECT ferment.id AS id, ferment.gyle AS gyle, ferment.beer AS beer, vessel.name AS vessel,
      strain.name AS strain, ferment.site_id AS siteId, ferment.happened_ms AS happenedMs, ferment.pitched_ms AS pitchedMs,
      ferment.chilled_ms AS chilledMs, ferment.racked_ms AS rackedMs,
      (SELECT max(lot.generation) FROM pitch JOIN lot ON lot.id = pitch.lot_id
        WHERE pitch.ferment_id = ferment.id) AS generation
    FROM ferment JOIN vessel ON vessel.id = ferment.vessel_id
      JOIN strain ON strain.id = ferment.strain_id
    WHERE ferment.id IN ${among}`,
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

type RackRow = { id: string; fermentId: string; happenedMs: number; batches: string };

async function racksAmong(query: Query, among: Ids): Promise<TracedRack[]> {
  const rows = await manyRows<RackRow>(
    query,
    ['id', 'fermentId', 'happenedMs', 'batches'],
    sql`
    SELECT id, ferment_id AS fermentId, happened_ms AS happenedMs, batches
    FROM rack WHERE id IN ${among}`,
  );
  return rows.map(({ happenedMs, batches, ...row }) => ({
    ...row,
    at: iso(happenedMs),
    batches: batchesIn(batches),
  }));
}

type Parent = { child: string; parentId: string; code: string };

async function parentsOf(query: Query, ids: readonly string[]): Promise<Parent[]> {
  return manyRows<Parent>(
    query,
    ['child', 'parentId', 'code'],
    sql`
    SELECT pitch.ferment_id AS child, lot.id AS parentId, lot.code AS code
    FROM pitch JOIN lot ON lot.id = pitch.lot_id
    WHERE pitch.ferment_id IN ${among(ids)}
    UNION SELECT lot_parent.lot_id, lot.id, lot.code
    FROM lot_parent JOIN lot ON lot.id = lot_parent.parent_id
    WHERE lot_parent.lot_id IN ${among(ids)}`,
  );
}
