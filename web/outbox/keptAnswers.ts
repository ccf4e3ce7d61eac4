import { signal } from '@preact/signals';
import { compareClocks } from './deviceClock.ts';
import { withStore } from './deviceStore.ts';

/** Whether the server answered when last asked; null before the first try. */
export const isReachable = signal<boolean | null>(null);

const patienceMs = 6_000;
const mostAnswers = 120;
// What the work needs; never who is signed in, nor accounts, tokens and what else is looked after.
const worthKeeping =
  /^\/api\/(today|setup|lots|ferments|lines|plan|crops|counts|stains|media)(\/|\?|$)/;
const keptSince = new WeakMap<AbortSignal, number>();

/** When the oldest kept answer given under this signal was fetched; undefined when all are fresh. */
export const oldestKept = (signal: AbortSignal): number | undefined => keptSince.get(signal);

type Fetch = (input: RequestInfo | URL, init?: RequestInit) => Promise<Response>;

/** A fetch that keeps each good answer, and gives the kept one when the server cannot be reached. */
export function keeping(send: Fetch): Fetch {
  return async (input, init) => {
    const path = new URL(input instanceof Request ? input.url : input, location.href);
    const name = `${path.pathname}${path.search}`;
    if ((init?.method ?? 'GET') !== 'GET' || !worthKeeping.test(name))
      return watched(send, input, init);
    const fresh = watched(send, input, init).then((answer) => {
      if (isUnreachable(answer)) throw new TypeError('Not the answer of the log');
      if (answer.ok) void keepAnswer(name, answer.clone());
      return answer;
    });
    // A fetch left behind by a kept answer must not be reported as unhandled.
    fresh.catch(() => undefined);
    const first = await Promise.race([fresh, patience()]).catch(() => undefined);
    if (first !== undefined) return first;
    if (init?.signal?.aborted) return fresh;
    return (await keptAnswer(name, init?.signal ?? undefined)) ?? fresh;
  };
}

async function watched(send: Fetch, input: RequestInfo | URL, init?: RequestInit) {
  const sentMs = Date.now();
  try {
    const answer = await send(input, init);
    isReachable.value = !isUnreachable(answer) || isOfLog(answer);
    if (isReachable.value) compareClocks(answer.headers.get('date'), sentMs, Date.now());
    return answer;
  } catch (error) {
    if (!init?.signal?.aborted || isTimeout(init.signal.reason)) isReachable.value = false;
    throw error;
  }
}

const isTimeout = (reason: unknown) =>
  reason instanceof DOMException && reason.name === 'TimeoutError';

const patience = () =>
  new Promise<undefined>((resolve) => setTimeout(() => resolve(undefined), patienceMs));

/** A gateway, or a captive portal with a page of its own, answers in place of the log. */
function isUnreachable(answer: Response): boolean {
  const type = answer.headers.get('content-type') ?? '';
  return [502, 503, 504].includes(answer.status) || type.startsWith('text/html');
}

/** The log itself says that it cannot do it just now. */
const isOfLog = (answer: Response) =>
  (answer.headers.get('content-type') ?? '').startsWith('application/problem+json');

async function keepAnswer(path: string, answer: Response): Promise<void> {
  try {
    const body = await answer.text();
    await withStore(async (store) => {
      await store.put('answers', { path, atMs: Date.now(), body });
      const surplus = (await store.count('answers')) - mostAnswers;
      if (surplus <= 0) return;
      for (const old of await store.getAllKeysFromIndex('answers', 'atMs', null, surplus))
        await store.delete('answers', old);
    });
  } catch {
    // Without storage the pages work as long as the server does.
  }
}

async function keptAnswer(
  path: string,
  signal: AbortSignal | undefined,
): Promise<Response | undefined> {
  const kept = await withStore((store) => store.get('answers', path)).catch(() => undefined);
  if (kept === undefined) return undefined;
  if (signal !== undefined)
    keptSince.set(signal, Math.min(kept.atMs, keptSince.get(signal) ?? kept.atMs));
  return new Response(kept.body, { headers: { 'content-type': 'application/json' } });
}

/** Forgets what was read, as when someone else signs in; what waits to be sent stays. */
export const forgetAnswers = () => withStore((store) => store.clear('answers'));
