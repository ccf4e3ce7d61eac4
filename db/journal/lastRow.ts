import { desc, sql } from 'drizzle-orm';
import type { Query } from '../database.ts';
import { prepared } from '../prepared.ts';
import { journal } from '../schema/index.ts';
import type { JournalRow } from './hash.ts';

/** The newest row of the journal, as far as the next one follows from it. */
export type LastRow = Pick<JournalRow, 'seq' | 'receivedMs' | 'hash'>;

const known = sql<number>`EXISTS (SELECT 1 FROM journal AS known WHERE known.id = ${sql.placeholder('id')})`;

const newest = prepared((query) =>
  query
    .select({ seq: journal.seq, receivedMs: journal.receivedMs, hash: journal.hash, known })
    .from(journal)
    .orderBy(desc(journal.seq))
    .limit(1)
    .prepare(),
);

/** The newest row of the journal, and whether an entry of this id is in it; undefined when empty. */
export async function lastRow(
  query: Query,
  id = '',
): Promise<(LastRow & { isKnown: boolean }) | undefined> {
  const [row] = await newest(query).all({ id });
  if (row === undefined) return undefined;
  const { known, ...last } = row;
  return { ...last, isKnown: known === 1 };
}
