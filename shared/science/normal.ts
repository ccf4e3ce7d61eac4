import { regularisedGamma } from './gammaFunctions.ts';
import { refuse, requireFraction } from './refusal.ts';
import { roughNormalQuantile } from './roughNormalQuantile.ts';

const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);

/**
 * Chance that a standard normal variable is at most z, accurate in the lower tail.
 *
 *   Phi(z) = Q(1/2, z^2/2) / 2 for z < 0
 *
 * @param z  value [-], finite or infinite
 * @returns probability [-], 0 to 1
 * @throws RangeError when z is not a number
 *
 * Source: [AS1964], 26.2.
 */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) refuse('normalCdf', 'z must be a number', z);
  const { lower, upper } = regularisedGamma(0.5, (z * z) / 2);
  return z < 0 ? upper / 2 : 0.5 + lower / 2;
}

/**
 * Quantile of the standard normal distribution.
 *
 *   z such that Phi(z) = p
 *
 * @param p  probability [-], 0 to 1
 * @returns quantile [-]; infinite at 0 and 1
 * @throws RangeError outside the bounds above
 *
 * Newton steps on the tail, or on the distance from 1/2 in the middle. Source: [AS1964], 26.2.
 */
export function normalQuantile(p: number): number {
  requireFraction('normalQuantile', 'p', p);
  if (p === 0.5) return 0;
  if (p > 0.5) return -normalQuantile(1 - p);
  if (p === 0) return -Infinity;
  const inTheMiddle = p > 0.25;
  let z = -roughNormalQuantile(p);
  for (let step = 0; step < 20; step++) {
    const { lower, upper } = regularisedGamma(0.5, (z * z) / 2);
    const density = Math.exp((-z * z) / 2) / SQRT_TWO_PI;
    const change = inTheMiddle
      ? (0.5 - p - lower / 2) / density
      : ((upper / 2) * Math.log(upper / 2 / p)) / density;
    z += change;
    if (Math.abs(change) < 1e-16 * z) break;
  }
  return -z;
}

/** Half a 95 % interval in standard deviations [-], 1.96. Source: [AS1964], 26.2. */
export const Z_95 = normalQuantile(0.975);
