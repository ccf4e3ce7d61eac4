import { asc, desc, eq, gt, lt, or, sql } from 'drizzle-orm';
import type { Entry } from '#shared/entries/entry.ts';
import { timeRemarks } from '#shared/entryTiming.ts';
import { DomainError } from '#shared/errors.ts';
import type { Query } from '../database.ts';
import type { JournalRow } from '../journal/hash.ts';
import { parsedEntry } from '../journal/parsedEntry.ts';
import { account, deviceToken, journal } from '../schema/index.ts';

type JournalEntry = {
  id: string;
  seq: number;
  recordId: string;
  kind: Entry['kind'];
  supersedes: string | null;
  reason: string | null;
  by: string;
  /** Whoever or whatever wrote it down. */
  enteredBy: { via: JournalRow['via']; name: string };
  happenedAt: string;
  receivedAt: string;
  /** By how much the sender's clock ran ahead of the log's as it was sent [ms]; null: not told. */
  clockFastMs: number | null;
  /** What its times leave to be said, such as a clock that was off. */
  timeRemarks: string[];
  hash: string;
  body: Entry;
};

/** Every entry about a record, the first one first. */
export async function recordHistory(query: Query, recordId: string): Promise<JournalEntry[]> {
  const rows = await query
    .select()
    .from(journal)
    .where(eq(journal.recordId, recordId))
    .orderBy(asc(journal.seq));
  return journalEntries(query, rows);
}

/** Every entry about a lot or a ferment and what was done with it, struck out ones too. */
export async function entriesAbout(
  query: Query,
  what: 'lotId' | 'fermentId',
  id: string,
): Promise<JournalEntry[]> {
  // Written out, since only the very words of the index let it be used.
  const named = { lotId: sql`'$.lotId'`, fermentId: sql`'$.fermentId'` }[what];
  const about = sql`(SELECT record_id FROM journal
    WHERE json_extract(body, ${named}) = ${id} OR record_id = ${id})`;
  const checked = sql`(SELECT result.id FROM micro_check
    JOIN micro_result AS result ON result.check_id = micro_check.id WHERE micro_check.lot_id = ${id})`;
  const rows = await query
    .select()
    .from(journal)
    .where(
      or(
        sql`${journal.recordId} IN ${about}`,
        sql`${journal.recordId} IN ${checked}`,
        sql`${journal.recordId} IN ${familyHoldsOf(what, id)}`,
      ),
    )
    .orderBy(asc(journal.seq));
  return journalEntries(query, rows);
}

// Holds of whole families that ever named it, struck out ones too, and what lifted them.
function familyHoldsOf(what: 'lotId' | 'fermentId', id: string) {
  const members = { lotId: sql`'$.lotIds'`, fermentId: sql`'$.fermentIds'` }[what];
  const holds = sql`SELECT held.record_id FROM journal AS held
    WHERE held.kind IN ('familyHold', 'familyRelease') AND held.kind = 'familyHold'
      AND EXISTS (SELECT 1 FROM json_each(held.body, ${members}) WHERE value = ${id})`;
  return sql`(${holds}
    UNION SELECT lifted.record_id FROM journal AS lifted
    WHERE lifted.kind IN ('familyHold', 'familyRelease') AND lifted.kind = 'familyRelease'
      AND json_extract(lifted.body, '$.holdId') IN (${holds}))`;
}

export async function listEntries(
  query: Query,
  { limit, before }: { limit: number; before: number | undefined },
): Promise<{ items: JournalEntry[]; next: number | null }> {
  const rows = await query
    .select()
    .from(journal)
    .where(before === undefined ? undefined : lt(journal.seq, before))
    .orderBy(desc(journal.seq))
    .limit(limit + 1);
  const items = await journalEntries(query, rows.slice(0, limit));
  return { items, next: rows.length > limit ? (items.at(-1)?.seq ?? null) : null };
}

/** The entries after a place in the journal, in their order. */
export async function exportEntries(
  query: Query,
  afterSeq: number,
  limit: number,
): Promise<JournalEntry[]> {
  const rows = await query
    .select()
    .from(journal)
    .where(gt(journal.seq, afterSeq))
    .orderBy(asc(journal.seq))
    .limit(limit);
  return journalEntries(query, rows);
}

export async function getEntry(query: Query, id: string): Promise<JournalEntry> {
  const [row] = await query.select().from(journal).where(eq(journal.id, id));
  if (row === undefined) throw new DomainError('not_found', 'There is no such entry in the log.');
  return journalEntry(row, await writerNames(query));
}

type Names = ReadonlyMap<string, string>;

/** What accounts and devices are called, by how the journal knows them. */
async function writerNames(query: Query): Promise<Names> {
  const people = await query
    .select({ userName: account.userName, name: account.name })
    .from(account);
  const devices = await query
    .select({ id: deviceToken.id, name: deviceToken.sensor })
    .from(deviceToken);
  return new Map([
    ...people.map(({ userName, name }) => [userName, name] as const),
    ...devices.map(({ id, name }) => [`device ${id}`, name] as const),
  ]);
}

async function journalEntries(query: Query, rows: readonly JournalRow[]): Promise<JournalEntry[]> {
  const names = await writerNames(query);
  return rows.map((row) => journalEntry(row, names));
}

function journalEntry(row: JournalRow, names: Names): JournalEntry {
  const body = parsedEntry(row);
  return {
    id: row.id,
    seq: row.seq,
    recordId: row.recordId,
    kind: body.kind,
    supersedes: row.supersedes,
    reason: row.reason,
    by: row.byName,
    enteredBy: { via: row.via, name: names.get(row.actor) ?? row.actor },
    happenedAt: row.happenedAt,
    receivedAt: new Date(row.receivedMs).toISOString(),
    clockFastMs: row.clockFastMs,
    timeRemarks: timeRemarks({ ...row, isFirstHand: isFirstHand(body) }),
    hash: row.hash,
    body,
  };
}

const isFirstHand = (body: Entry) =>
  body.supersedes === undefined && (body.kind === 'void' || body.importId === undefined);
