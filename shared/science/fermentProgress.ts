import { requirePositive } from './refusal.ts';

/** How fast a ferment runs: hours to half of its fall, and the rate of the logistic. */
export type FermentPace = { halfTimeHours: number; ratePerHour: number };

/**
 * Share of the fall from the original gravity to the end gravity done at a time.
 *
 *   f(t) = (1 - exp(-bt)) / (1 + K exp(-bt)),  K = exp(bh) - 2
 *
 * @param pace  half time h [h] > 0 and rate b [1/h] > 0
 * @param hours  time since the pitch [h]
 * @returns share [-], 0 at the pitch and before, 1/2 at h, rising to 1
 * @throws RangeError for a pace outside the bounds above
 *
 * The falling logistic set to start exactly at the original gravity; f / (1 - f) is
 * (exp(bt) - 1) / (exp(bh) - 1). Source: derived from [ASBCYeast14].
 */
export function fermentProgress(
  { halfTimeHours, ratePerHour }: FermentPace,
  hours: number,
): number {
  requirePositive('fermentProgress', 'halfTimeHours', halfTimeHours);
  requirePositive('fermentProgress', 'ratePerHour', ratePerHour);
  if (!(hours > 0)) return 0;
  const left = Math.exp(-ratePerHour * hours);
  const halfLeft = Math.exp(ratePerHour * (halfTimeHours - hours));
  return (1 - left) / (1 + halfLeft - 2 * left);
}

/**
 * Time at which a share of the fall is done.
 *
 *   t = ln(1 + f / (1 - f) (exp(bh) - 1)) / b
 *
 * @param pace  half time h [h] > 0 and rate b [1/h] > 0
 * @param share  f [-], 0 to 1
 * @returns time since the pitch [h]; Infinity at a share of 1 or more, 0 at 0 or less
 * @throws RangeError for a pace outside the bounds above
 *
 * Source: inverse of the above.
 */
export function hoursToProgress(
  { halfTimeHours, ratePerHour }: FermentPace,
  share: number,
): number {
  requirePositive('hoursToProgress', 'halfTimeHours', halfTimeHours);
  requirePositive('hoursToProgress', 'ratePerHour', ratePerHour);
  if (!(share < 1)) return Infinity;
  if (!(share > 0)) return 0;
  return Math.log1p((share / (1 - share)) * Math.expm1(ratePerHour * halfTimeHours)) / ratePerHour;
}
