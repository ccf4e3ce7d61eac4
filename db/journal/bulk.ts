import { canonicalJson } from '#shared/canonical.ts';
import { type Entry, entry as entrySchema } from '#shared/entries/entry.ts';
import type { Database } from '../database.ts';
import { journal } from '../schema/index.ts';
import { insertions } from '../tableRows.ts';
import { type JournalRow, sha256 } from './hash.ts';
import { replayStatements } from './replay.ts';
import { journalRows, type Source, sealed } from './seal.ts';

/** `actor`, where it is another than that of the whole. */
export type BulkEntry = {
  id: string;
  entry: Entry;
  receivedMs: number;
  actor?: string;
  clockFastMs?: number | undefined;
};

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
    await write([...insertions(journalRows(rows)), ...replayStatements(rows)]);
  });
}

function sealAll(entries: readonly BulkEntry[], source: Omit<Source, 'receivedMs'>): JournalRow[] {
  const recordIds = new Map<string, string>();
  let last: JournalRow | undefined;
  return entries.map(({ id, entry: given, receivedMs, clockFastMs, actor = source.actor }) => {
    const entry = entrySchema.parse(given);
    const { supersedes } = entry;
    const recordId = (supersedes === undefined ? undefined : recordIds.get(supersedes)) ?? id;
    recordIds.set(id, recordId);
    const requestSha256 = sha256(canonicalJson(entry));
    const sealing = {
      id,
      recordId,
      receivedMs,
      actor,
      via: source.via,
      requestSha256,
      clockFastMs,
      warnings: [],
    };
    last = sealed(entry, sealing, last);
    return last;
  });
}
