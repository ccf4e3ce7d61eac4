import { canonicalJson } from '#shared/canonical.ts';
import { type Entry, entry as entrySchema } from '#shared/entries/entry.ts';
import type { Database } from './database.ts';
import { genesisHash, type JournalRow, journalHash, sha256 } from './hash.ts';
import { journalInsertion, type Source } from './journal.ts';
import { replayStatements } from './replay.ts';
import { journal } from './schema/index.ts';

const rowsPerStatement = 100;

/** `actor`, where it is another than that of the whole. */
export type BulkEntry = { id: string; entry: Entry; receivedMs: number; actor?: string };

/**
 * Fills an empty log with entries in one batch, all or nothing. The database's own rules hold; lots
 * must bring their codes. Entries come in the order they are to be sealed.
 * @throws Error when the log holds anything already
 */
export async function appendAll(
  database: Database,
  entries: readonly BulkEntry[],
  source: Omit<Source, 'receivedMs'>,
): Promise<void> {
  await database.alone(async (write) => {
    if ((await database.query.$count(journal)) > 0)
      throw new Error('The log holds entries already; nothing was added.');
    const rows = sealAll(entries, source);
    const insertions = [];
    for (let from = 0; from < rows.length; from += rowsPerStatement)
      insertions.push(journalInsertion(rows.slice(from, from + rowsPerStatement)));
    await write([...insertions, ...replayStatements(rows)]);
  });
}

function sealAll(entries: readonly BulkEntry[], source: Omit<Source, 'receivedMs'>): JournalRow[] {
  const recordIds = new Map<string, string>();
  let prevHash = genesisHash;
  return entries.map(({ id, entry: given, receivedMs, actor = source.actor }, index) => {
    const entry = entrySchema.parse(given);
    const { supersedes = null, reason = null } = entry;
    const recordId = (supersedes === null ? undefined : recordIds.get(supersedes)) ?? id;
    recordIds.set(id, recordId);
    const body = canonicalJson(entry);
    const row = {
      seq: index + 1,
      id,
      kind: entry.kind,
      recordId,
      supersedes,
      reason,
      byName: entry.by,
      actor,
      via: source.via,
      happenedAt: entry.happenedAt,
      happenedMs: Date.parse(entry.happenedAt),
      receivedMs,
      requestSha256: sha256(body),
      body,
      warnings: [],
      prevHash,
    };
    prevHash = journalHash(row);
    return { ...row, hash: prevHash };
  });
}
