import { unhurriedMs } from '#shared/requestLimits.ts';
import { putEntry, type Saved } from '../apiClient.ts';
import type { Problem } from '../server.ts';
import { author, signInNeeded } from './author.ts';
import { noteSent } from './lastSent.ts';
import { markRefused, markTried, readQueue, roundsSent, takeOut } from './queue.ts';
import { nextToSend, type WaitingEntry } from './waitingEntry.ts';

export type Outcome = { saved: Saved } | { problem: Problem };

const listeners = new Map<string, (outcome: Outcome) => void>();

/** Tells, once, what the log said to an entry of the queue. */
export function whenAnswered(id: string): Promise<Outcome> {
  return new Promise((resolve) => listeners.set(id, resolve));
}

/** The form has gone on: what the log says to it later is news to every page. */
export function stopListening(ids: readonly string[]): void {
  for (const id of ids) listeners.delete(id);
}

function tell(id: string, outcome: Outcome): 'heard' | 'unheard' {
  const listener = listeners.get(id);
  listeners.delete(id);
  listener?.(outcome);
  return listener === undefined ? 'unheard' : 'heard';
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

/** Runs `work` while nothing is on its way, so that what it takes out of the queue stays out. */
export async function whileNothingIsSent<T>(work: () => Promise<T>): Promise<T> {
  await running?.catch(() => undefined);
  return oneTabAtATime(work);
}

// Plain http has no locks: two tabs may then send the same entry, and the log takes it once.
async function oneTabAtATime<T>(work: () => Promise<T>): Promise<T> {
  const locks: LockManager | undefined = navigator.locks;
  return locks === undefined ? work() : locks.request('barmbook.sending', work);
}

async function sendAll(): Promise<boolean> {
  const setAside = new Set<string>();
  let hasNews = false;
  for (let sent = 0; ; sent += 1) {
    if (sent >= inHaste) await pause(unhurriedMs);
    const item = nextToSend(await readQueue(), { author: author.value, setAside });
    const step = item === undefined ? 'stop' : await sendOne(item);
    hasNews ||= step === 'unheard';
    if (step === 'later' && item !== undefined) setAside.add(item.id);
    if (step !== 'stop') continue;
    if (hasNews) roundsSent.value += 1;
    return item === undefined && setAside.size === 0;
  }
}

/** So many go as fast as they are taken; a long queue then keeps below what the server allows. */
const inHaste = 50;
const longestPauseS = 60;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Sends one entry; it leaves the queue only when the log has acknowledged its id. */
async function sendOne(
  item: WaitingEntry,
): Promise<'heard' | 'unheard' | 'later' | 'again' | 'stop'> {
  const result = await putEntry(item.id, item.entry, item.author);
  if ('saved' in result) {
    signInNeeded.value = false;
    noteSent(Date.now());
    await takeOut([item.id]);
    return tell(item.id, result);
  }
  const { status, code, retryAfterS } = result.problem;
  if (status === 401) {
    signInNeeded.value = true;
    return 'stop';
  }
  if (status === 429 && retryAfterS !== undefined) {
    await pause(1000 * Math.min(retryAfterS, longestPauseS));
    return 'again';
  }
  // It waits for its author; who is signed in here is being asked.
  if (code === 'other_author') return 'stop';
  if (busyOrAway.has(status) || code === 'unknown') {
    await markTried(item.id);
    return 'stop';
  }
  if (status >= 500) {
    await markTried(item.id);
    return 'later';
  }
  await markRefused(item.id, result.problem);
  return tell(item.id, result);
}

const busyOrAway = new Set([0, 408, 429, 502, 503, 504]);
