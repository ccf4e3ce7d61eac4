import type { Saved } from '../../apiClient.ts';
import type { Attempt, SentEntry } from './drafts.ts';

/** The entries of an attempt that are still to be sent. */
export const openEntries = ({ entries }: Attempt) =>
  entries.filter(({ isSettled, saved }) => isSettled !== true && saved === undefined);

/** The attempt with some of its entries changed or left out; it is then another attempt. */
export const withEntries = (
  { entries }: Attempt,
  to: (entry: SentEntry) => SentEntry | false,
): Attempt => ({ about: '', entries: entries.map(to).filter((entry) => entry !== false) });

/** What was taken is noted, so that it is not sent again. */
export const withSaved = (attempt: Attempt, answers: readonly Saved[]): Attempt =>
  answers.length === 0
    ? attempt
    : withEntries(attempt, (entry) => {
        const saved = answers.find(({ id }) => id === entry.id);
        return saved === undefined ? entry : { ...entry, saved };
      });

/**
 * The attempt after the log refused one of its entries: that one and those behind it are not in the
 * log, so each is made anew, under its id, from what stands in the form by then.
 */
export const afterRefusal = (attempt: Attempt): Attempt =>
  withEntries(attempt, (entry) =>
    openEntries(attempt).includes(entry) ? { ...entry, same: '' } : entry,
  );

/** The answers of all entries of an attempt, once the last of them is taken. */
export function allSaved({ entries }: Attempt, answers: readonly Saved[]): Saved[] {
  return entries.flatMap(({ id, entry, isSettled, saved }) => {
    if (isSettled === true) return [{ id, recordId: id, kind: entry.kind, warnings: [] }];
    return saved ?? answers.filter((answer) => answer.id === id);
  });
}
