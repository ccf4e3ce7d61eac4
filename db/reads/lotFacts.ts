import { eq, sql } from 'drizzle-orm';
import type { LotFacts } from '#shared/entryRules/entryContext.ts';
import { heldBy, holdingsOf } from '#shared/lots/holding.ts';
import type { Query } from '../database.ts';
import { isAmong, prepared } from '../prepared.ts';
import { lot, strain } from '../schema/index.ts';
import { holdEvidence } from './holds.ts';
import { earlierSelves, holdsWithEarlier } from './sentLots.ts';

const isUsed = sql<number>`(
  EXISTS (SELECT 1 FROM pitch WHERE lot_id = lot.id)
  OR EXISTS (SELECT 1 FROM lot_parent WHERE parent_id = lot.id))`;

const lotsById = prepared((query) =>
  query
    .select({
      id: lot.id,
      code: lot.code,
      strainId: lot.strainId,
      happenedMs: lot.happenedMs,
      amountL: lot.amountL,
      leftL: lot.leftL,
      leftKg: lot.leftKg,
      policy: strain.pendingRoutineCheck,
      siteId: lot.siteId,
      isUsed,
    })
    .from(lot)
    .innerJoin(strain, eq(strain.id, lot.strainId))
    .where(isAmong(lot.id))
    .prepare(),
);

/** What the rules need to know of lots, and what their strain says of plates not yet read. */
type KnownLot = LotFacts & { pendingRoutineCheck: 'warn' | 'hold' | undefined };

export async function lotFacts(
  query: Query,
  ids: readonly string[],
): Promise<Map<string, KnownLot>> {
  if (ids.length === 0) return new Map();
  const rows = await lotsById(query).all({ ids: JSON.stringify(ids) });
  return new Map(
    rows.map(({ id, amountL, leftL, leftKg, policy, ...row }) => [
      id,
      {
        ...row,
        unit: amountL === null ? 'kg' : 'L',
        left: leftL ?? leftKg ?? 0,
        isUsed: row.isUsed === 1,
        pendingRoutineCheck: policy ?? undefined,
      },
    ]),
  );
}

/** Why each of these lots that was on hold at a moment was so. */
export async function heldLots(
  query: Query,
  lots: ReadonlyMap<string, KnownLot>,
  atMs: number,
): Promise<Map<string, string>> {
  const ids = [...lots.keys()];
  if (ids.length === 0) return new Map();
  const selves = await earlierSelves(query, ids);
  const earlier = [...selves.values()].flatMap((own) => own.map(({ id }) => id));
  const evidence = holdsWithEarlier(await holdEvidence(query, [...ids, ...earlier]), selves);
  return new Map(
    [...lots].flatMap(([id, { pendingRoutineCheck }]) => {
      const held = heldBy(holdingsOf(evidence(id), { pendingRoutineCheck, atMs }));
      return held === undefined ? [] : [[id, held.why] as const];
    }),
  );
}
