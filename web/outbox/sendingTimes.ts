import { effect, signal } from '@preact/signals';
import { minuteMs } from '#shared/durations.ts';
import { author } from './author.ts';
import { readQueue } from './queue.ts';
import { sendWaiting } from './sendWaiting.ts';

const shortestMs = 2_000;
const longestMs = minuteMs;
let delayMs = shortestMs;
let timer: ReturnType<typeof setTimeout> | undefined;

/** Sends what waits at once, and what is then left behind in a while. */
export async function sendNow(): Promise<void> {
  clearTimeout(timer);
  timer = undefined;
  const isDone = await sendWaiting().catch(() => false);
  if (isDone) delayMs = shortestMs;
  else sendLater();
}

/** Waits a little longer each time, and not in step with the other devices. */
function sendLater(): void {
  if (timer !== undefined) return;
  timer = setTimeout(() => void sendNow(), delayMs * (0.75 + Math.random() / 2));
  delayMs = Math.min(longestMs, delayMs * 2);
}

/** Sends whenever there is a chance: on arrival, back online, back in view, signed in anew. */
export function startSending(): void {
  const freshStart = () => {
    delayMs = shortestMs;
    void sendNow();
  };
  addEventListener('online', freshStart);
  addEventListener('focus', freshStart);
  addEventListener('pageshow', freshStart);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') freshStart();
  });
  readQueue().then(
    () => effect(() => void [author.value, freshStart()]),
    // Without storage nothing can wait; forms then hold what was typed.
    () => undefined,
  );
  void askToKeep();
}

/** Whether the browser has promised not to clear what waits; undefined where it cannot be asked. */
export const isKeptForGood = signal<boolean | undefined>(undefined);

/** Asks the browser not to clear what waits when space runs short; it decides by itself. */
async function askToKeep(): Promise<void> {
  const storage: StorageManager | undefined = navigator.storage;
  isKeptForGood.value = await storage?.persist?.().catch(() => false);
}
