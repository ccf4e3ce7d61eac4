import { entryNames } from '../../entryWords.ts';
import { waiting } from '../../outbox/queue.ts';
import { recordsNamed } from '../../outbox/waitingEntry.ts';

/** What waits on this device about a record, by what it is: "Not sent yet: counted, stained." */
export function NotSentYet({ about }: { about: string }) {
  const items = waiting.value.filter(
    ({ id, entry }) => id === about || recordsNamed(entry).includes(about),
  );
  if (items.length === 0) return null;
  const names = [...new Set(items.map(({ entry }) => entryNames[entry.kind]))];
  return (
    <p class="as-of">
      Not sent yet: <a href="/outbox">{names.join(', ').toLowerCase()}</a>. What only the log works
      out follows once it is sent.
    </p>
  );
}

/** Above what the log alone works out, while something waits. */
export function NotReckonedYet({ what }: { what: string }) {
  if (waiting.value.length === 0) return null;
  return (
    <p class="as-of">
      {what} does not know of <a href="/outbox">what waits on this device</a> yet.
    </p>
  );
}
