import { eq } from 'drizzle-orm';
import type { Corrected } from '#shared/permissions.ts';
import type { Query } from '../database.ts';
import { journal } from '../schema/index.ts';

/** Who wrote an entry down, and when its record was made; undefined when there is no such entry. */
export async function authorshipOf(query: Query, entryId: string): Promise<Corrected | undefined> {
  const [row] = await query
    .select({ actor: journal.actor, recordId: journal.recordId })
    .from(journal)
    .where(eq(journal.id, entryId));
  if (row === undefined) return undefined;
  const [first] = await query
    .select({ receivedMs: journal.receivedMs })
    .from(journal)
    .where(eq(journal.id, row.recordId));
  return { actor: row.actor, recordReceivedMs: first?.receivedMs ?? 0 };
}
