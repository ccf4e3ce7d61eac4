import { refuse } from './refusal.ts';

/** What a measure can be at the least and at the most [its unit]; left out where nothing stops it. */
export type MeasureBounds = { floor?: number | undefined; ceiling?: number | undefined };

/**
 * Limits of a chart, no further out than the measure itself can go.
 *
 *   lower = max(lower, floor), upper = min(upper, ceiling)
 *
 * @param limits  lower <= upper [any unit]
 * @param bounds  floor < ceiling [same unit]
 * @returns the limits with those bounds, and at which side the bound stands in place of a limit: there
 *   no value can be out
 * @throws RangeError outside the bounds above
 *
 * Limits of k sigma are symmetric and know nothing of bounds: a share near 0 % or 100 % gets limits that
 * it cannot reach. Source: derived.
 */
export function withinBounds<L extends { lower: number; upper: number }>(
  limits: L,
  { floor = Number.NEGATIVE_INFINITY, ceiling = Number.POSITIVE_INFINITY }: MeasureBounds,
): L & { isAtFloor: boolean; isAtCeiling: boolean } {
  const { lower, upper } = limits;
  if (!(lower <= upper)) refuse('withinBounds', 'lower must not be above upper', lower);
  if (!(floor < ceiling)) refuse('withinBounds', 'floor must be below ceiling', floor);
  return {
    ...limits,
    lower: Math.min(ceiling, Math.max(floor, lower)),
    upper: Math.max(floor, Math.min(ceiling, upper)),
    isAtFloor: lower < floor,
    isAtCeiling: upper > ceiling,
  };
}
