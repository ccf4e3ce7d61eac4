import { desc, eq } from 'drizzle-orm';
import type { Entry, RecordEntry } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import { type EntryNow, StaleEntry } from '#shared/staleEntry.ts';
import type { Query } from '../database.ts';
import { journal } from '../schema/index.ts';
import type { JournalRow } from './hash.ts';
import { parsedEntry, recordEntry } from './parsedEntry.ts';

/** The row of an entry, if it was written down. */
export async function findEntry(query: Query, id: string): Promise<JournalRow | undefined> {
  const [row] = await query.select().from(journal).where(eq(journal.id, id));
  return row;
}

/**
 * The row a correction or a void speaks of.
 * @throws DomainError `invalid` when there is none, StaleEntry when it was corrected already
 */
export async function entryToCorrect(query: Query, id: string): Promise<JournalRow> {
  const row = await findEntry(query, id);
  if (row === undefined)
    throw new DomainError('invalid', 'There is nothing to correct under this id.', [
      { path: 'supersedes', message: 'There is no such entry in the log' },
    ]);
  const [later] = await query.select().from(journal).where(eq(journal.supersedes, id));
  if (later === undefined) return row;
  const current = await entryNow(query, row.recordId);
  throw new StaleEntry(
    `This entry was already ${current.body.kind === 'void' ? 'struck out' : 'corrected'} by ${current.by}: see how it stands now.`,
    current,
  );
}

/** The same entry again comes from whoever wrote it, with the same facts; nobody else is told them. */
export async function refuseOther(
  query: Query,
  earlier: JournalRow,
  sent: Pick<JournalRow, 'requestSha256' | 'actor'>,
): Promise<void> {
  if (earlier.actor !== sent.actor)
    throw new DomainError('conflict', 'Someone else wrote an entry under this id; take another.');
  if (earlier.requestSha256 !== sent.requestSha256)
    throw new StaleEntry(
      'An entry was already written under this id, with other facts: see both, then keep it or correct it.',
      await entryNow(query, earlier.recordId),
    );
}

async function entryNow(query: Query, recordId: string): Promise<EntryNow> {
  const [row] = await query
    .select()
    .from(journal)
    .where(eq(journal.recordId, recordId))
    .orderBy(desc(journal.seq))
    .limit(1);
  if (row === undefined) throw new Error(`Record ${recordId} has no entry.`);
  return {
    id: row.id,
    by: row.byName,
    happenedAt: row.happenedAt,
    receivedAt: new Date(row.receivedMs).toISOString(),
    reason: row.reason,
    body: parsedEntry(row),
  };
}

/**
 * What the record said before an entry and says after it; undefined where it says nothing.
 * @throws DomainError `invalid` for a correction of another kind, or a second void
 */
export async function changeOf(query: Query, entry: Entry, target: JournalRow | undefined) {
  const before = target === undefined || target.kind === 'void' ? undefined : recordEntry(target);
  if (entry.kind === 'void') {
    if (before === undefined)
      throw new DomainError('invalid', 'This entry is struck out already.', [
        { path: 'supersedes', message: 'An entry is struck out once' },
      ]);
    return { before, after: undefined };
  }
  const kind = before?.kind ?? (target && (await lastFacts(query, target.recordId)).kind);
  if (kind !== undefined && kind !== entry.kind)
    throw new DomainError('invalid', 'A correction is of the same kind as what it corrects.', [
      { path: 'kind', message: `The entry corrected is a ${kind}` },
    ]);
  return { before, after: entry };
}

/** What a record said when it last said anything; of one struck out, what was struck out. */
export async function lastFacts(query: Query, recordId: string): Promise<RecordEntry> {
  const rows = await query
    .select()
    .from(journal)
    .where(eq(journal.recordId, recordId))
    .orderBy(desc(journal.seq));
  const row = rows.find(({ kind }) => kind !== 'void');
  if (row === undefined) throw new Error(`Record ${recordId} has no facts.`);
  return recordEntry(row);
}
