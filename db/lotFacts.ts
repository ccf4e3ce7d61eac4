import { eq, inArray, sql } from 'drizzle-orm';
import type { LotFacts } from '#shared/entryRules/entryContext.ts';
import { heldBy, holdingsOf } from '#shared/lots/holding.ts';
import type { Query } from './database.ts';
import { holdEvidence } from './holds.ts';
import { lot, strain } from './schema/index.ts';
import { earlierSelves, holdsWithEarlier } from './sentLots.ts';

const isUsed = sql<number>`(
  EXISTS (SELECT 1 FROM pitch WHERE lot_id = lot.id)
  OR EXISTS (SELECT 1 FROM lot_parent WHERE parent_id = lot.id))`;

/** What the rules need to know of lots, and whether each was on hold at a moment. */
export async function lotFacts(
  query: Query,
  ids: readonly string[],
  atMs: number,
): Promise<Map<string, LotFacts>> {
  if (ids.length === 0) return new Map();
  const rows = await query
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
    .where(inArray(lot.id, [...ids]));
  const selves = await earlierSelves(query, ids);
  const earlier = [...selves.values()].flatMap((lots) => lots.map(({ id }) => id));
  const evidence = holdsWithEarlier(await holdEvidence(query, [...ids, ...earlier]), selves);
  return new Map(
    rows.map(({ id, amountL, leftL, leftKg, policy, ...row }) => {
      const pendingRoutineCheck = policy ?? undefined;
      const holdings = holdingsOf(evidence(id), { pendingRoutineCheck, atMs });
      return [
        id,
        {
          ...row,
          unit: amountL === null ? 'kg' : 'L',
          left: leftL ?? leftKg ?? 0,
          heldBecause: heldBy(holdings)?.why ?? null,
          isUsed: row.isUsed === 1,
        },
      ];
    }),
  );
}
