import { normalQuantile } from './normal.ts';
import { degreesAt, type PlausibleFerment } from './plausibleFerments.ts';
import { requirePositive } from './refusal.ts';

export type FlagLine = {
  /** Gravity [SG] above which a reading at this hour flags the ferment. */
  at: (hours: number) => number;
  /** Chance that one reading of a healthy ferment lies above the line. */
  chancePerReading: number;
  falseAlarmRate: number;
};

/** A fall that must be usual by now before anything can be told: a judgement. */
export const TELLING_FALL_DEGREES = 3;

/** Looks the rate is stated for: every so many hours, to this many half times. */
export const LOOKS = { everyHours: 12, halfTimes: 3.5 } as const;

/**
 * Line above which a reading calls a ferment slow, with a stated rate of false alarms per ferment.
 *
 *   line(t) = quantile 1 - p of healthy gravity + reading error at t
 *   p such that a share a of healthy ferments goes above the line at any look
 *
 * @param healthy  plausible healthy ferments, equally likely, at least one
 * @param rule  readingSdDegrees, error of a reading and of the curve together [degrees] > 0;
 *   falseAlarmRate a, chance that a healthy ferment is ever flagged [-] > 0, below 1
 * @returns the line, and p
 * @throws RangeError outside the bounds above
 *
 * Looks every twelve hours from the first telling fall to 3.5 half times; with fewer readings fewer
 * alarms. The looks share the ferment's own pace: p is found from whole ferments, not from looks taken
 * as independent. Source: own rule; the spending of a rate over looks after [LanDeMets1983].
 */
export function flagLine(
  healthy: readonly PlausibleFerment[],
  rule: { readingSdDegrees: number; falseAlarmRate: number },
): FlagLine {
  const { readingSdDegrees, falseAlarmRate } = rule;
  requirePositive('flagLine', 'readingSdDegrees', readingSdDegrees);
  requirePositive('flagLine', 'falseAlarmRate', falseAlarmRate);
  const errors = evenErrors(healthy.length, readingSdDegrees);
  const readAt = (hours: number, look: number) =>
    Float64Array.from(healthy, (f, i) => degreesAt(f, hours) + errors(i, look));
  const smallest = new Float64Array(healthy.length).fill(1);
  for (const [look, hours] of lookHours(healthy).entries()) {
    const read = readAt(hours, look);
    const order = [...read.keys()].sort((a, b) => (read[b] ?? 0) - (read[a] ?? 0));
    for (const [rank, i] of order.entries()) {
      smallest[i] = Math.min(smallest[i] ?? 1, (rank + 0.5) / healthy.length);
    }
  }
  smallest.sort();
  const chancePerReading = quantile(smallest, falseAlarmRate);
  return {
    at: (hours) => 1 + quantile(readAt(hours, 0).sort(), 1 - chancePerReading) / 1000,
    chancePerReading,
    falseAlarmRate,
  };
}

function lookHours(healthy: readonly PlausibleFerment[]): number[] {
  const median = (values: Float64Array) => quantile(values.sort(), 0.5);
  const last = LOOKS.halfTimes * median(Float64Array.from(healthy, (f) => f.halfTimeHours));
  const hours: number[] = [];
  for (let hour: number = LOOKS.everyHours; hour <= last; hour += LOOKS.everyHours) {
    const fall = median(Float64Array.from(healthy, (f) => f.originalDegrees - degreesAt(f, hour)));
    if (fall >= TELLING_FALL_DEGREES) hours.push(hour);
  }
  return hours;
}

/** Normal errors in evenly spread order, another order at each look: powers of a generator. */
function evenErrors(count: number, sd: number): (place: number, look: number) => number {
  const table = Float64Array.from(
    { length: count },
    (_, i) => sd * normalQuantile((i + 0.5) / count),
  );
  const multipliers: number[] = [1];
  const generator = Math.max(1, Math.round(count * 0.38196601125));
  const multiplier = (look: number) => {
    while (multipliers.length <= look) {
      multipliers.push(((multipliers.at(-1) ?? 1) * generator) % count);
    }
    return multipliers[look] ?? 1;
  };
  return (place, look) => table[(place * multiplier(look + 1)) % count] ?? 0;
}

function quantile(sorted: Float64Array, share: number): number {
  const place = share * sorted.length - 0.5;
  const below = Math.min(Math.max(Math.floor(place), 0), sorted.length - 1);
  const above = Math.min(below + 1, sorted.length - 1);
  const low = sorted[below] ?? NaN;
  return low + Math.max(place - below, 0) * ((sorted[above] ?? NaN) - low);
}
