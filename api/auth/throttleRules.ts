import type { Database } from '#db/database.ts';
import { sha256 } from '#db/journal/hash.ts';
import {
  countAttempt,
  type Failures,
  nameSubject,
  type ThrottleRule,
} from '#db/people/throttle.ts';
import { dayMs, minuteMs } from '#shared/durations.ts';
import { RequestError } from '../problem.ts';

const freeFailures = 5;
const firstWaitMs = 30_000;
const longestWaitMs = 15 * minuteMs;
const mostFailures = 100;
const mostPerAddress = 30;
const addressWindowMs = 10 * minuteMs;
const codesPerMinute = 5;
const silenceMs = 7 * dayMs;

/**
 * Five failures are free, then each doubles the wait from half a minute to a quarter of an hour:
 * at most twelve guesses in the first hour. After a hundred, only a new code from the head brewer
 * or from the machine itself helps.
 */
function growingWait({ failures, lastMs }: Failures): number {
  if (failures < freeFailures) return 0;
  if (failures >= mostFailures) return lastMs + silenceMs;
  return lastMs + Math.min(longestWaitMs, firstWaitMs * 2 ** (failures - freeFailures));
}

const growing = (subject: string): ThrottleRule => ({
  subject,
  refusedUntilMs: growingWait,
  forgottenMs: ({ lastMs }) => lastMs + silenceMs,
});

const windowed = (subject: string, most: number, windowMs: number): ThrottleRule => ({
  subject,
  refusedUntilMs: ({ failures, firstMs }) => (failures < most ? 0 : firstMs + windowMs),
  forgottenMs: ({ firstMs }) => firstMs + windowMs,
});

export const byName = (userName: string) => growing(nameSubject(userName));
/** A device the person used before counts apart, so that strangers cannot lock its owner out. */
export const byKnownDevice = (token: string) => growing(`device:${sha256(token)}`);
export const bySession = (id: string) => growing(`session:${id}`);
export const byAddress = (address: string | null) =>
  windowed(`address:${address ?? ''}`, mostPerAddress, addressWindowMs);
export const byCode = () => windowed('welcome', codesPerMinute, minuteMs);

/** Counts one attempt under every rule. @throws RequestError `too_many`, with how long to wait */
export async function allowAttempt(
  database: Database,
  rules: readonly ThrottleRule[],
  nowMs: number,
): Promise<void> {
  const waitS = Math.ceil((await countAttempt(database, rules, nowMs)) / 1000);
  if (waitS > 0)
    throw new RequestError('too_many', `Too many attempts: try again in ${inWords(waitS)}.`, {
      waitS,
    });
}

function inWords(seconds: number): string {
  if (seconds < 120) return `${seconds} seconds`;
  const minutes = Math.ceil(seconds / 60);
  return minutes < 120 ? `${minutes} minutes` : 'some days, or ask the head brewer for a new code';
}
