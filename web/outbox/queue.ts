import { computed, signal } from '@preact/signals';
import { canonicalJson } from '#shared/canonical.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { Problem } from '../server.ts';
import { type Holder, holder } from './author.ts';
import { clockFastMs } from './deviceClock.ts';
import { withStore } from './deviceStore.ts';
import type { WaitingEntry } from './waitingEntry.ts';

/** What waits on this device, in the order it was made; the same in every open tab. */
export const waiting = signal<readonly WaitingEntry[]>([]);
export const refused = computed(() => waiting.value.filter(({ problem }) => problem !== undefined));

/** Rounds of sending that brought news no form waited for; what is shown is then out of date. */
export const roundsSent = signal(0);

const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel('barmbook.queue') : null;
channel?.addEventListener('message', () => void readQueue());

export async function readQueue(): Promise<readonly WaitingEntry[]> {
  waiting.value = await withStore((store) => store.getAll('waiting'));
  return waiting.value;
}

let firstReading: Promise<unknown> | undefined;

/** What waits, known for sure: a page that has just opened has not read it yet. */
export async function knownWaiting(): Promise<readonly WaitingEntry[]> {
  firstReading ??= readQueue().catch(() => undefined);
  await firstReading;
  return waiting.value;
}

async function changed(): Promise<void> {
  await readQueue();
  channel?.postMessage('changed');
}

/** What waits was made under another account, which alone may change it. */
export class AnotherPersons extends Error {
  constructor(authorName: string) {
    super(`${authorName} made this entry: only ${authorName} can change it.`);
  }
}

type Made = { id: string; entry: Entry };

/**
 * Puts entries in the queue, safely written before it returns. An entry that waits already keeps
 * its place: the same again changes nothing, other facts under its id replace it.
 * @throws Error while nobody has signed in, AnotherPersons where the entry that waits is not theirs
 */
export async function enqueue(made: readonly Made[]): Promise<void> {
  const by = holder.value;
  if (by === null) throw new Error('Nobody has signed in: an entry needs its author.');
  await withStore(async (store) => {
    const write = store.transaction('waiting', 'readwrite', { durability: 'strict' });
    const last = await write.store.openKeyCursor(null, 'prev');
    let seq = last?.key ?? 0;
    for (const [index, { id, entry }] of made.entries()) {
      const known = await write.store.index('id').get(id);
      if (known === undefined) {
        seq += 1;
        const after = made.slice(0, index).map((earlier) => earlier.id);
        await write.store.add({ seq, ...fresh({ id, entry }, after, by) });
      } else if (known.author !== by.id) throw new AnotherPersons(known.authorName);
      else if (known.problem !== undefined || isOther(known.entry, entry))
        await write.store.put({ ...withoutProblem(known), entry });
    }
    await write.done;
  });
  await changed();
}

const isOther = (a: Entry, b: Entry) => canonicalJson(a) !== canonicalJson(b);

function withoutProblem({ problem: _problem, ...item }: WaitingEntry): WaitingEntry {
  return item;
}

function fresh(
  { id, entry }: Made,
  after: readonly string[],
  by: Holder,
): Omit<WaitingEntry, 'seq'> {
  return {
    id,
    entry,
    author: by.id,
    authorName: by.name,
    madeMs: Date.now(),
    clockFastMs: clockFastMs.value,
    after,
    page: {
      href: `${location.pathname}${location.search}`,
      title: document.title.replace(/^Error: /, '').replace(/ · Barmbook$/, ''),
    },
    tries: 0,
  };
}

/** Takes entries out: acknowledged by the log, or given up by a person. */
export async function takeOut(ids: readonly string[]): Promise<void> {
  await change(ids, () => undefined);
}

export const markTried = (id: string) =>
  change([id], (item) => ({ ...item, tries: item.tries + 1 }));

export const markRefused = (id: string, problem: Problem) =>
  change([id], (item) => ({ ...item, problem, tries: item.tries + 1 }));

/** Lets a refused entry be sent once more as it is. */
export const sendAgain = (id: string) => change([id], withoutProblem);

async function change(
  ids: readonly string[],
  to: (item: WaitingEntry) => WaitingEntry | undefined,
): Promise<void> {
  await withStore(async (store) => {
    const write = store.transaction('waiting', 'readwrite', { durability: 'strict' });
    for (const id of ids) {
      const item = await write.store.index('id').get(id);
      if (item === undefined) continue;
      const next = to(item);
      await (next === undefined ? write.store.delete(item.seq) : write.store.put(next));
    }
    await write.done;
  });
  await changed();
}
