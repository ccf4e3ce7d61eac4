import type { Entry } from '#shared/entries/entry.ts';
import type { JournalRow } from '../../apiClient.ts';

/** An entry in force, as a form that corrects it needs it. */
export type Standing<E extends Entry = Entry> = { entryId: string; happenedAt: string; body: E };

export type HistoryRow = JournalRow & {
  /** Corrected or struck out by a later entry. */
  isStruck: boolean;
};

/** The history newest first, each entry with whether it still stands. */
export function historyRows(history: readonly JournalRow[]): HistoryRow[] {
  const replaced = new Set(history.map(({ supersedes }) => supersedes));
  return history.toReversed().map((row) => ({ ...row, isStruck: replaced.has(row.id) }));
}
