import type { EntryOf, RecordEntry } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import type { Query } from '../database.ts';
import { familyBelow } from '../reads/trace.ts';

/**
 * A hold of a family with what it touches filled in, once and for all: a correction of its reason
 * touches what the first entry touched.
 * @throws DomainError `invalid` when it touches nothing
 */
export async function filledHold(
  query: Query,
  entry: EntryOf<'familyHold'>,
  before: RecordEntry | undefined,
): Promise<EntryOf<'familyHold'>> {
  const { lotIds, fermentIds } = await touchedBy(query, entry, before);
  if (lotIds.length + fermentIds.length === 0)
    throw new DomainError('invalid', 'Nothing is left of it, and nothing came from it.', [
      { path: 'lotId', message: 'Nothing in store and no ferment comes from this' },
    ]);
  return { ...entry, lotIds, fermentIds };
}

async function touchedBy(
  query: Query,
  entry: EntryOf<'familyHold'>,
  before: RecordEntry | undefined,
) {
  const { lotId, fermentId } = entry;
  if (entry.lotIds !== undefined || entry.fermentIds !== undefined)
    return { lotIds: entry.lotIds ?? [], fermentIds: entry.fermentIds ?? [] };
  if (before?.kind === 'familyHold' && before.lotId === lotId && before.fermentId === fermentId)
    return { lotIds: before.lotIds ?? [], fermentIds: before.fermentIds ?? [] };
  return familyBelow(query, lotId ?? fermentId ?? '');
}
