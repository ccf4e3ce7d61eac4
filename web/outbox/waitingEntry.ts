import { dayMs } from '#shared/durations.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { Problem } from '../server.ts';

/** An entry made on this device that the log has not yet acknowledged. */
export type WaitingEntry = {
  /** Its place in the queue. */
  seq: number;
  id: string;
  entry: Entry;
  /** The account it was made under, and the name it goes by. */
  author: string;
  authorName: string;
  /** When it was put in the queue, by this device's clock. */
  madeMs: number;
  /** How far this device's clock was fast of the server's, as last known then [ms]. */
  clockFastMs: number | null;
  /** Entries of the same form that go first. */
  after: readonly string[];
  /** The page it was typed on. */
  page: { href: string; title: string };
  /** How often it was sent without an answer. */
  tries: number;
  /** Why the log refused it; it then stays until a person mends or removes it. */
  problem?: Problem;
};

type Held = {
  /** The account signed in now. */
  author: string | null;
  /** Sent in this round without success, though the server could be reached. */
  setAside: ReadonlySet<string>;
};

const idOf = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
// Named by very many entries: waiting behind one another for these would hold up the whole queue.
const setup = new Set(['strainId', 'vesselId']);

/** The records an entry speaks of, by id. */
export function recordsNamed(entry: object): string[] {
  return Object.entries(entry).flatMap(([name, value]): string[] => {
    if (typeof value === 'string') return idOf.test(value) && !setup.has(name) ? [value] : [];
    return typeof value === 'object' && value !== null ? recordsNamed(value) : [];
  });
}

/** Every id in an entry, those of strains and FVs too: it cannot go before what it rests on. */
function idsNamed(value: unknown): string[] {
  if (typeof value === 'string') return idOf.test(value) ? [value] : [];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(idsNamed) : [];
}

/** An entry goes under the account it was made under, never under another's. */
export const isOurs = ({ author }: WaitingEntry, signedIn: string | null) => author === signedIn;

/** Waiting for a day or more: a browser may clear what a page has kept for long. */
export const isOld = ({ madeMs }: WaitingEntry, nowMs: number) => nowMs - madeMs >= dayMs;

/**
 * The first entry that may go: neither refused nor someone else's, and resting on nothing that is
 * held back. One that failed for no fault of its own also holds back the later ones on its records,
 * so that each record keeps its order.
 */
export function nextToSend(
  queue: readonly WaitingEntry[],
  { author, setAside }: Held,
): WaitingEntry | undefined {
  const heldIds = new Set<string>();
  const heldRecords = new Set<string>();
  for (const item of queue) {
    const isBehind =
      [...idsNamed(item.entry), ...item.after].some((id) => heldIds.has(id)) ||
      recordsNamed(item.entry).some((id) => heldRecords.has(id));
    const isSetAside = setAside.has(item.id);
    if (!isBehind && !isSetAside && item.problem === undefined && isOurs(item, author)) return item;
    heldIds.add(item.id);
    if (isSetAside) for (const id of recordsNamed(item.entry)) heldRecords.add(id);
  }
  return undefined;
}

/** The earlier entries this one waits behind. */
export function entriesAhead(
  item: WaitingEntry,
  queue: readonly WaitingEntry[],
): readonly WaitingEntry[] {
  const named = new Set([...idsNamed(item.entry), ...item.after]);
  return queue.filter(({ id, seq }) => seq < item.seq && named.has(id));
}
