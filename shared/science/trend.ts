import { type MannKendall, mannKendall } from './mannKendall.ts';
import { normalQuantile } from './normal.ts';
import { refuse, requireConfidence } from './refusal.ts';
import { valueAt } from './valueAt.ts';

export type Trend = MannKendall & {
  slope: number;
  slopeLow: number;
  slopeHigh: number;
  intercept: number;
};

/**
 * Trend of values over time: Mann-Kendall test, Theil-Sen slope with limits, and Conover's intercept.
 *
 *   slope = median of (y_j - y_i) / (t_j - t_i);  intercept = median y - slope x median t
 *   limits at ranks (N -+ z sqrt(var S)) / 2, the upper one + 1, interpolated
 *
 * @param points  t and y [any units], finite, at least three at different times
 * @param confidence  of the limits [-], between 0 and 1
 * @returns the test, the slope [y/t] with limits, and the intercept [y]
 * @throws RangeError outside the bounds above
 *
 * Half of the points may be wild without moving the slope far. With few points the limits are the
 * smallest and greatest slope. Source: [USEPA2009], 17.3; [Conover1999], from memory.
 */
export function trend(points: readonly { t: number; y: number }[], confidence = 0.95): Trend {
  requireConfidence('trend', confidence);
  if (!points.every(({ t }) => Number.isFinite(t))) refuse('trend', 't must be finite', points);
  const ordered = points.toSorted((a, b) => a.t - b.t);
  const test = mannKendall(ordered.map(({ y }) => y));
  const slopes: number[] = [];
  for (const [i, earlier] of ordered.entries()) {
    for (const later of ordered.slice(i + 1)) {
      if (later.t === earlier.t) refuse('trend', 'times must differ', later.t);
      slopes.push((later.y - earlier.y) / (later.t - earlier.t));
    }
  }
  slopes.sort((a, b) => a - b);
  const reach = normalQuantile((1 + confidence) / 2) * Math.sqrt(test.variance);
  const slope = atRank(slopes, (slopes.length + 1) / 2);
  return {
    ...test,
    slope,
    slopeLow: atRank(slopes, (slopes.length - reach) / 2),
    slopeHigh: atRank(slopes, (slopes.length + reach) / 2 + 1),
    intercept: median(ordered.map(({ y }) => y)) - slope * median(ordered.map(({ t }) => t)),
  };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return atRank(sorted, (sorted.length + 1) / 2);
}

/** Ranks from 1, interpolated, held within the list. */
function atRank(sorted: readonly number[], rank: number): number {
  const place = Math.min(Math.max(rank - 1, 0), sorted.length - 1);
  const below = valueAt(sorted, Math.floor(place));
  const above = valueAt(sorted, Math.ceil(place));
  return below + (place - Math.floor(place)) * (above - below);
}
