import type { Entry, EntryOf, RecordKind } from '#shared/entries/entry.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { WaitingEntry } from './waitingEntry.ts';

/** The new records of a kind that wait; each has its place in the queue for its number. */
export function recordsOf<K extends RecordKind>(
  kind: K,
  queue: readonly WaitingEntry[],
): Recorded<K>[] {
  return queue.flatMap(({ id, seq, entry, madeMs }) => {
    if (entry.supersedes !== undefined || !isOf(kind, entry)) return [];
    const receivedAt = new Date(madeMs).toISOString();
    return [{ ...entry, id, entryId: id, seq, receivedAt, corrected: false }];
  });
}

const isOf = <K extends RecordKind>(kind: K, entry: Entry): entry is EntryOf<K> =>
  entry.kind === kind;

export const aboutLot = <T extends { lotId: string }>(records: readonly T[], id: string) =>
  records.filter(({ lotId }) => lotId === id);
