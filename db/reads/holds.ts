import { sql } from 'drizzle-orm';
import type { CheckMade, HoldEvidence, HoldMade, ResultMade } from '#shared/lots/holding.ts';
import type { Query } from '../database.ts';

type Of<T> = T & { lotId: string };
type Row = { id: string; happenedMs: number; by: string };

/** What holds each lot and what lets it go, in four queries however many lots there are. */
export async function holdEvidence(
  query: Query,
  lotIds: readonly string[],
): Promise<(lotId: string) => HoldEvidence> {
  const ids = sql`(SELECT value FROM json_each(${JSON.stringify(lotIds)}))`;
  const holds = byLot(await holdsOf(query, ids));
  const releases = byLot(await releasesOf(query, ids));
  const checks = byLot(await checksOf(query, ids));
  const results = byLot(await resultsOf(query, ids));
  return (lotId) => ({
    holds: holds.get(lotId) ?? [],
    releases: releases.get(lotId) ?? [],
    checks: checks.get(lotId) ?? [],
    results: results.get(lotId) ?? [],
  });
}

type Ids = ReturnType<typeof sql>;

// A hold of a family also keeps what is cropped later from a ferment it marks.
async function holdsOf(query: Query, ids: Ids): Promise<Of<HoldMade>[]> {
  const rows = await query.all<Of<Row> & { why: string; liftedMs: number | null }>(sql`
    WITH held (lot_id, hold_id) AS (
      SELECT lot_id, hold_id FROM family_hold_lot WHERE lot_id IN ${ids}
      UNION
      SELECT lot.id, mark.hold_id FROM lot
        JOIN family_hold_ferment AS mark ON mark.ferment_id = lot.ferment_id
        JOIN family_hold ON family_hold.id = mark.hold_id
      WHERE lot.id IN ${ids} AND lot.happened_ms >= family_hold.happened_ms
    )
    SELECT hold.lot_id AS lotId, hold.id AS id, hold.why AS why, hold.happened_ms AS happenedMs,
      journal.by_name AS "by", NULL AS liftedMs
    FROM hold JOIN journal ON journal.id = hold.entry_id WHERE hold.lot_id IN ${ids}
    UNION ALL
    SELECT held.lot_id, step.id, step.why, step.happened_ms, journal.by_name, lifted.happened_ms
    FROM held JOIN family_hold AS step ON step.id = held.hold_id
      JOIN journal ON journal.id = step.entry_id
      LEFT JOIN family_release AS lifted ON lifted.hold_id = step.id
    ORDER BY happenedMs`);
  return rows.map(({ liftedMs, ...row }) => ({ ...told(row), liftedAt: isoOrNull(liftedMs) }));
}

async function releasesOf(query: Query, ids: Ids) {
  const rows = await query.all<{ lotId: string; happenedMs: number }>(sql`
    SELECT lot_id AS lotId, happened_ms AS happenedMs FROM release WHERE lot_id IN ${ids}`);
  return rows.map(told);
}

async function checksOf(query: Query, ids: Ids): Promise<Of<CheckMade>[]> {
  type Check = Of<Row> & Omit<CheckMade, 'happenedAt' | 'dueAt'> & { dueMs: number };
  const rows = await query.all<Nulled<Check, 'purpose' | 'cellsPlated'>>(sql`
    SELECT plate.lot_id AS lotId, plate.id AS id, plate.medium AS medium,
      coalesce(plate.looks_for, '') AS looksFor, plate.due_ms AS dueMs, plate.purpose AS purpose,
      plate.cells_plated AS cellsPlated, plate.happened_ms AS happenedMs, journal.by_name AS "by"
    FROM micro_check AS plate JOIN journal ON journal.id = plate.entry_id
    WHERE plate.lot_id IN ${ids} ORDER BY plate.happened_ms, plate.seq`);
  return rows.map(({ dueMs, purpose, cellsPlated, ...row }) => ({
    ...told(row),
    dueAt: new Date(dueMs).toISOString(),
    purpose: purpose ?? undefined,
    cellsPlated: cellsPlated ?? undefined,
  }));
}

async function resultsOf(query: Query, ids: Ids): Promise<Of<ResultMade>[]> {
  type Result = Of<Row> & Omit<ResultMade, 'happenedAt'>;
  const rows = await query.all<Nulled<Result, 'colonies' | 'ofColonies'>>(sql`
    SELECT plate.lot_id AS lotId, found.id AS id, found.check_id AS checkId,
      found.outcome AS outcome, found.colonies AS colonies,
      json_extract(journal.body, '$.ofColonies') AS ofColonies,
      found.happened_ms AS happenedMs, journal.by_name AS "by"
    FROM micro_check AS plate JOIN micro_result AS found ON found.check_id = plate.id
      JOIN journal ON journal.id = found.entry_id
    WHERE plate.lot_id IN ${ids} ORDER BY found.happened_ms, found.seq`);
  return rows.map(({ colonies, ofColonies, ...row }) => ({
    ...told(row),
    colonies: colonies ?? undefined,
    ofColonies: ofColonies ?? undefined,
  }));
}

type Nulled<T, K extends keyof T> = Omit<T, K> & { [P in K]: Exclude<T[P], undefined> | null };

type Attention = {
  recordId: string;
  entryId: string;
  why: string;
  at: string;
  by: string;
  released: { at: string; by: string; why: string } | null;
};

/** The holds of families that mark each ferment and its casks, lifted ones too. */
export async function attentionOf(
  query: Query,
  fermentIds: readonly string[],
): Promise<Map<string, Attention[]>> {
  const rows = await query.all<{
    fermentId: string;
    recordId: string;
    entryId: string;
    why: string;
    happenedMs: number;
    by: string;
    liftedMs: number | null;
    liftedBy: string | null;
    liftedWhy: string | null;
  }>(sql`
    SELECT mark.ferment_id AS fermentId, step.id AS recordId, step.entry_id AS entryId,
      step.why AS why, step.happened_ms AS happenedMs, journal.by_name AS "by",
      lifted.happened_ms AS liftedMs, lifted.why AS liftedWhy, lifter.by_name AS liftedBy
    FROM family_hold_ferment AS mark JOIN family_hold AS step ON step.id = mark.hold_id
      JOIN journal ON journal.id = step.entry_id
      LEFT JOIN family_release AS lifted ON lifted.hold_id = step.id
      LEFT JOIN journal AS lifter ON lifter.id = lifted.entry_id
    WHERE mark.ferment_id IN (SELECT value FROM json_each(${JSON.stringify(fermentIds)}))
    ORDER BY step.happened_ms`);
  const marks = new Map<string, Attention[]>();
  for (const { fermentId, happenedMs, liftedMs, liftedBy, liftedWhy, ...row } of rows) {
    const released =
      liftedMs === null
        ? null
        : { at: new Date(liftedMs).toISOString(), by: liftedBy ?? '', why: liftedWhy ?? '' };
    const mark = { ...row, at: new Date(happenedMs).toISOString(), released };
    marks.set(fermentId, [...(marks.get(fermentId) ?? []), mark]);
  }
  return marks;
}

const isoOrNull = (ms: number | null) => (ms === null ? null : new Date(ms).toISOString());

function told<T extends { happenedMs: number }>({ happenedMs, ...row }: T) {
  return { ...row, happenedAt: new Date(happenedMs).toISOString() };
}

function byLot<T extends { lotId: string }>(rows: readonly T[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(row.lotId);
    if (group === undefined) groups.set(row.lotId, [row]);
    else group.push(row);
  }
  return groups;
}
