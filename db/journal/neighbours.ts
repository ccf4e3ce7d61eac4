import { and, asc, desc, eq, gt, isNull, lte, ne, sql } from 'drizzle-orm';
import type { RecordEntry } from '#shared/entries/entry.ts';
import type { Neighbours } from '#shared/entryRules/entryContext.ts';
import type { Query } from '../database.ts';
import { prepared } from '../prepared.ts';
import { ferment, vessel } from '../schema/index.ts';

/** The gyles in the fermenter of a gyle, or of the one racked; undefined for other entries. */
export async function neighbours(
  query: Query,
  entry: RecordEntry,
  recordId: string,
): Promise<Neighbours | undefined> {
  const own =
    entry.kind === 'ferment'
      ? { id: recordId, vesselId: entry.vesselId, atMs: Date.parse(entry.happenedAt) }
      : entry.kind === 'rack'
        ? await placeOf(query, entry.fermentId)
        : undefined;
  if (own === undefined) return undefined;
  const [named] = await query
    .select({ name: vessel.name })
    .from(vessel)
    .where(eq(vessel.id, own.vesselId));
  const { running, before, next } = gylesBeside(query);
  const [runningGyle] = await running.all(own);
  const [gyleBefore] = await before.all(own);
  const [nextGyle] = await next.all(own);
  return { vessel: named?.name ?? '', running: runningGyle, before: gyleBefore, next: nextGyle };
}

async function placeOf(query: Query, id: string) {
  const [row] = await query
    .select({ id: ferment.id, vesselId: ferment.vesselId, atMs: ferment.happenedMs })
    .from(ferment)
    .where(eq(ferment.id, id));
  return row;
}

const gylesBeside = prepared((query) => {
  const { id, gyle, happenedMs, rackedMs, vesselId } = ferment;
  const inIt = and(eq(vesselId, sql.placeholder('vesselId')), ne(id, sql.placeholder('id')));
  const earlier = and(inIt, lte(happenedMs, sql.placeholder('atMs')));
  const later = and(inIt, gt(happenedMs, sql.placeholder('atMs')));
  const gyles = () => query.select({ gyle, happenedMs, rackedMs }).from(ferment);
  return {
    running: gyles()
      .where(and(earlier, isNull(rackedMs)))
      .orderBy(desc(happenedMs))
      .limit(1)
      .prepare(),
    before: gyles().where(earlier).orderBy(desc(happenedMs)).limit(1).prepare(),
    next: gyles().where(later).orderBy(asc(happenedMs)).limit(1).prepare(),
  };
});
