import { type Entry, entry as entrySchema, type RecordEntry } from '#shared/entries/entry.ts';
import { remembered } from '#shared/remembered.ts';
import type { JournalRow } from './hash.ts';

/** Entries that screens of the present read again and again. */
const mostRemembered = 20_000;
const parsedBody = remembered(
  (body: string) => entrySchema.parse(JSON.parse(body)),
  mostRemembered,
);

/** The entry of a row. What was written never changes, so the latest are kept as they were read. */
export function parsedEntry(row: Pick<JournalRow, 'body'>): Entry {
  return parsedBody(row.body);
}

/** The facts a row holds; a void holds none. */
export function recordEntry(row: JournalRow): RecordEntry {
  const kept = parsedEntry(row);
  if (kept.kind === 'void') throw new Error(`Entry ${row.id} is a void and holds no facts.`);
  return kept;
}
