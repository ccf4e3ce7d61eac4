import { type Problem, putEntry, type Saved } from '../apiClient.ts';
import { author, signInNeeded } from './author.ts';
import { markRefused, markTried, readQueue, takeOut } from './queue.ts';
import { nextToSend, type WaitingEntry } from './waitingEntry.ts';

export type Outcome = { saved: Saved } | { problem: Problem };

const listeners = new Map<string, (outcome: Outcome) => void>();

/** Tells, once, what the log said to an entry of the queue. */
export function whenAnswered(id: string): Promise<Outcome> {
  return new Promise((resolve) => listeners.set(id, resolve));
}

function tell(id: string, outcome: Outcome): void {
  listeners.get(id)?.(outcome);
  listeners.delete(id);
}

let running: Promise<boolean> | undefined;
let askedAgain = false;

/** Sends what waits, one by one and in order; true when nothing sendable was left behind. */
export function sendWaiting(): Promise<boolean> {
  if (running !== undefined) {
    askedAgain = true;
    return running;
  }
  running = oneTabAtATime(sendAll).finally(() => {
    running = undefined;
    if (!askedAgain) return;
    askedAgain = false;
    void sendWaiting();
  });
  return running;
}

// Plain http has no locks: two tabs may then send the same entry, and the log takes it once.
async function oneTabAtATime(work: () => Promise<boolean>): Promise<boolean> {
  const locks: LockManager | undefined = navigator.locks;
  return locks === undefined ? work() : locks.request('barmbook.sending', work);
}

async function sendAll(): Promise<boolean> {
  const setAside = new Set<string>();
  for (;;) {
    const item = nextToSend(await readQueue(), { author: author.value, setAside });
    if (item === undefined) return setAside.size === 0;
    const step = await sendOne(item);
    if (step === 'stop') return false;
    if (step === 'later') setAside.add(item.id);
  }
}

/** Sends one entry; it leaves the queue only when the log has acknowledged its id. */
async function sendOne(item: WaitingEntry): Promise<'done' | 'later' | 'stop'> {
  const result = await putEntry(item.id, item.entry);
  if ('saved' in result) {
    signInNeeded.value = false;
    await takeOut([item.id]);
    tell(item.id, result);
    return 'done';
  }
  const { status, code } = result.problem;
  if (status === 401) {
    signInNeeded.value = true;
    return 'stop';
  }
  if (busyOrAway.has(status) || code === 'unknown') {
    await markTried(item.id);
    return 'stop';
  }
  if (status >= 500) {
    await markTried(item.id);
    return 'later';
  }
  await markRefused(item.id, result.problem);
  tell(item.id, result);
  return 'done';
}

const busyOrAway = new Set([0, 408, 429, 502, 503, 504]);
