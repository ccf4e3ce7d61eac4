import { sql } from 'drizzle-orm';
import type { EntryOf } from '#shared/entries/entry.ts';
import type { HoldEvidence } from '#shared/lots/holding.ts';
import type { Query } from '../database.ts';

/** The same yeast before it was sent, and until when what was written there is about it. */
export type EarlierSelf = { id: string; untilMs: number };

/** For each lot that was sent here, the lots it was, the latest first; others have no entry. */
export async function earlierSelves(
  query: Query,
  lotIds: readonly string[],
): Promise<Map<string, EarlierSelf[]>> {
  const rows = await query.all<EarlierSelf & { lotId: string }>(sql`
    WITH RECURSIVE before (lot_id, id, until_ms) AS (
      SELECT lot.id, lot_parent.parent_id, lot.happened_ms
      FROM lot JOIN lot_parent ON lot_parent.lot_id = lot.id
      WHERE lot.kind = 'transfer' AND lot.id IN (SELECT value FROM json_each(${JSON.stringify(lotIds)}))
      UNION ALL
      SELECT before.lot_id, lot_parent.parent_id, lot.happened_ms
      FROM before JOIN lot ON lot.id = before.id AND lot.kind = 'transfer'
        JOIN lot_parent ON lot_parent.lot_id = lot.id
    )
    SELECT lot_id AS lotId, id, until_ms AS untilMs FROM before`);
  const selves = new Map<string, EarlierSelf[]>();
  for (const { lotId, ...self } of rows) selves.set(lotId, [...(selves.get(lotId) ?? []), self]);
  return selves;
}

/** What was written of each lot together with what was written of it before it was sent. */
export function withEarlier<T extends { happenedAt: string }>(
  of: (lotId: string) => readonly T[],
  selves: ReadonlyMap<string, readonly EarlierSelf[]>,
): (lotId: string) => T[] {
  return (lotId) => [
    ...(selves.get(lotId) ?? [])
      .toReversed()
      .flatMap(({ id, untilMs }) => of(id).filter(isBy(untilMs))),
    ...of(lotId),
  ];
}

/** Holds and plates go with the yeast; a plate taken before may be read after. */
export function holdsWithEarlier(
  of: (lotId: string) => HoldEvidence,
  selves: ReadonlyMap<string, readonly EarlierSelf[]>,
): (lotId: string) => HoldEvidence {
  return (lotId) => {
    const checks = withEarlier((id) => of(id).checks, selves)(lotId);
    const own = new Set(checks.map(({ id }) => id));
    const ids = [...(selves.get(lotId) ?? []).map(({ id }) => id).reverse(), lotId];
    return {
      checks,
      holds: withEarlier((id) => of(id).holds, selves)(lotId),
      releases: withEarlier((id) => of(id).releases, selves)(lotId),
      results: ids.flatMap((id) => of(id).results.filter(({ checkId }) => own.has(checkId))),
    };
  };
}

const isBy = (untilMs: number) => (row: { happenedAt: string }) =>
  Date.parse(row.happenedAt) <= untilMs;

/** The code the yeast bore before it was ever sent, and the code of the site it goes to. */
export async function sentCodes(
  query: Query,
  { lotId, toSiteId }: EntryOf<'transfer'>,
): Promise<{ sentCode: string; siteCode: string }> {
  const earlier = (await earlierSelves(query, [lotId])).get(lotId) ?? [];
  const first = earlier.at(-1)?.id ?? lotId;
  const [row] = await query.all<{ sentCode: string; siteCode: string }>(sql`
    SELECT lot.code AS sentCode, site.code AS siteCode FROM lot, site
    WHERE lot.id = ${first} AND site.id = ${toSiteId}`);
  if (row === undefined) throw new Error('A lot sent nowhere passed the rules.');
  return row;
}
