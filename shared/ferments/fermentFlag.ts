import type { FermentStanding, FermentState } from '#shared/views.ts';

/** The plain rule for a running ferment; figures from common practice, no source. */
export const fermentRule = {
  /** Before this a slow start says nothing yet. */
  tooEarlyHours: 18,
  /** Longest wait between two gravities while it works. */
  noReadingHours: 16,
  /** The part of the gravity an ale yeast is expected to take away. */
  expectedAttenuation: 0.75,
  /** Half of the fall is expected by here at the latest, 25 % beyond the slow end of 36 h. */
  latestHalfTimeHours: 45,
  ratePerHour: 0.08,
  /** Degrees above the expected end at which it counts as finished. */
  doneWithinDegrees: 2,
} as const;

type Running = {
  state: FermentState;
  points: readonly { hours: number; gravitySg: number }[];
  originalGravitySg: number;
  pitchedMs: number | null;
  nowMs: number;
};

/** Whether a ferment runs as it should, by its latest gravity against a late but sound curve. */
export function fermentFlag(running: Running): FermentStanding['flag'] {
  const { state, points, originalGravitySg, pitchedMs, nowMs } = running;
  if (state === 'racked' || state === 'chilled') return { status: 'done', why: `It is ${state}.` };
  if (pitchedMs === null) return { status: 'too early', why: 'It is not pitched yet.' };
  const last = points.at(-1);
  const hoursNow = (nowMs - pitchedMs) / 3_600_000;
  const silentHours = hoursNow - (last?.hours ?? 0);
  const drop = (originalGravitySg - 1) * fermentRule.expectedAttenuation;
  const endSg = originalGravitySg - drop;
  if (last !== undefined && (last.gravitySg - endSg) * 1000 <= fermentRule.doneWithinDegrees)
    return { status: 'done', why: 'The gravity is where the fall is expected to end.' };
  if (last !== undefined && last.hours >= fermentRule.tooEarlyHours) {
    const fall = (originalGravitySg - last.gravitySg) / drop;
    const least =
      1 / (1 + Math.exp(-fermentRule.ratePerHour * (last.hours - fermentRule.latestHalfTimeHours)));
    if (fall < least)
      return {
        status: 'slow',
        why: `At ${last.hours.toFixed(0)} h it had fallen ${percent(fall)} of the way; even a late ferment has ${percent(least)} by then.`,
      };
  }
  if (silentHours > fermentRule.noReadingHours)
    return { status: 'no reading', why: `No gravity for ${silentHours.toFixed(0)} h: take one.` };
  return hoursNow < fermentRule.tooEarlyHours
    ? { status: 'too early', why: `Only ${hoursNow.toFixed(0)} h since pitching.` }
    : { status: 'on course', why: 'The gravity falls as expected.' };
}

const percent = (fraction: number) => `${(Math.max(0, fraction) * 100).toFixed(0)} %`;
