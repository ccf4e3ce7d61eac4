import { eq } from 'drizzle-orm';
import type { RecordEntry } from '#shared/entries/entry.ts';
import type { PlannedBrewFacts } from '#shared/entryRules/entryContext.ts';
import { strikingRefusal } from '#shared/entryRules/plannedRules.ts';
import { DomainError } from '#shared/errors.ts';
import type { Query } from '../database.ts';
import { isAmong, prepared } from '../prepared.ts';
import { ferment, plannedBrew } from '../schema/index.ts';

const brewsById = prepared((query) => {
  const { id, beer, onDay, strainId, siteId } = plannedBrew;
  return query
    .select({
      ...{ id, beer, onDay, strainId, siteId },
      carriedOutBy: { id: ferment.id, gyle: ferment.gyle, siteId: ferment.siteId },
    })
    .from(plannedBrew)
    .leftJoin(ferment, eq(ferment.plannedBrewId, plannedBrew.id))
    .where(isAmong(id))
    .prepare();
});

/** Planned brews by id, each with the gyle that carries it out. */
export async function plannedBrewFacts(
  query: Query,
  ids: readonly string[],
): Promise<Map<string, PlannedBrewFacts>> {
  if (ids.length === 0) return new Map();
  const rows = await brewsById(query).all({ ids: JSON.stringify(ids) });
  return new Map(
    rows.map(({ id, carriedOutBy, ...facts }) => [
      id,
      { ...facts, carriedOutBy: carriedOutBy ?? undefined },
    ]),
  );
}

/**
 * Refuses to strike out a planned brew that a gyle names.
 * @throws DomainError `conflict`
 */
export async function refuseIfCarriedOut(
  query: Query,
  recordId: string,
  struck: RecordEntry | undefined,
): Promise<void> {
  if (struck?.kind !== 'plannedBrew') return;
  const brew = (await plannedBrewFacts(query, [recordId])).get(recordId);
  const why = strikingRefusal(brew?.carriedOutBy);
  if (why !== undefined) throw new DomainError('conflict', why);
}
