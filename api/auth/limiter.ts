import { minuteMs } from '#shared/durations.ts';
import type { RequestLimit } from '#shared/requestLimits.ts';
import { RequestError } from '../problem.ts';

/** What is left to one caller, as of a moment. */
type Bucket = { left: number; atMs: number };

/** Beyond this, those who have been quiet long enough to start afresh are forgotten. */
const mostRemembered = 5_000;

/**
 * Counts the requests of each caller in memory: a restart forgets them, and nothing is written for
 * a read. A clock that is set back neither gives nor takes.
 */
export function createLimiter(now: () => number) {
  const buckets = new Map<string, Bucket>();

  /** @throws RequestError `too_many`, with how long to wait */
  return function allow(caller: string, limit: RequestLimit): void {
    const nowMs = now();
    const subject = `${limit.words}: ${caller}`;
    const left = refilled(buckets.get(subject), limit, nowMs);
    if (buckets.size >= mostRemembered) forgetQuiet(buckets, nowMs);
    buckets.set(subject, { left: left < 1 ? left : left - 1, atMs: nowMs });
    if (left < 1) {
      const waitS = Math.max(1, Math.ceil(((1 - left) * 60) / limit.perMinute));
      throw new RequestError(
        'too_many',
        `More than ${limit.perMinute} ${limit.words} a minute: go on in ${waitS} ${waitS === 1 ? 'second' : 'seconds'}. Nothing was saved by this one.`,
        { waitS },
      );
    }
  };
}

export type Allow = ReturnType<typeof createLimiter>;

function refilled(
  bucket: Bucket | undefined,
  { perMinute, atOnce }: RequestLimit,
  nowMs: number,
): number {
  if (bucket === undefined) return atOnce;
  const minutes = Math.max(0, nowMs - bucket.atMs) / minuteMs;
  return Math.min(atOnce, bucket.left + minutes * perMinute);
}

const quietMs = 10 * minuteMs;

function forgetQuiet(buckets: Map<string, Bucket>, nowMs: number): void {
  for (const [subject, { atMs }] of buckets)
    if (Math.abs(nowMs - atMs) > quietMs) buckets.delete(subject);
}
