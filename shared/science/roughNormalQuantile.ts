import { refuse } from './refusal.ts';

/**
 * A starting value for the exact quantiles: the normal quantile to 4.5e-4 absolute.
 *
 *   t = sqrt(-2 ln p),  z = t - (c0 + c1 t + c2 t^2) / (1 + d1 t + d2 t^2 + d3 t^3)
 *
 * @param p  probability [-], above 0 and below 1
 * @returns standard normal quantile [-]
 * @throws RangeError outside the bounds above
 *
 * Never used for a result, only to start an iteration. Source: [AS1964], 26.2.23, from memory.
 */
export function roughNormalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) refuse('roughNormalQuantile', 'p must be between 0 and 1', p);
  if (p > 0.5) return -roughNormalQuantile(1 - p);
  const t = Math.sqrt(-2 * Math.log(p));
  const above = 2.515517 + t * (0.802853 + t * 0.010328);
  const below = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  return above / below - t;
}
