import { refuse, requireNotNegative } from './refusal.ts';

/**
 * Mean of several estimates that differ by more than their own errors.
 *
 *   w = 1 / (v + tau^2),  mean = sum w y / sum w,  SE = 1 / sqrt(sum w)
 *
 * @param values  y [any unit], at least one
 * @param variances  v of each [unit²], > 0
 * @param between  tau^2 [unit²], >= 0
 * @returns mean [unit], its standard error, and sum w (y - mean)^2 [-]
 * @throws RangeError outside the bounds above
 *
 * Source: [DerSimonianLaird1986], from memory.
 */
export function pooledMean(values: readonly number[], variances: readonly number[], between = 0) {
  requireNotNegative('pooledMean', 'between', between);
  const points = values.map((value, i) => {
    const variance = variances[i] ?? Number.NaN;
    if (!Number.isFinite(value)) refuse('pooledMean', 'values must be finite', value);
    if (!(variance > 0 && variance < Infinity)) {
      refuse('pooledMean', 'variances must be > 0, one for each value', variance);
    }
    return { value, weight: 1 / (variance + between) };
  });
  if (points.length === 0) refuse('pooledMean', 'values must hold at least one', 0);
  const weights = points.reduce((sum, { weight }) => sum + weight, 0);
  const mean = points.reduce((sum, { value, weight }) => sum + weight * value, 0) / weights;
  const q = points.reduce((sum, { value, weight }) => sum + weight * (value - mean) ** 2, 0);
  return { mean, standardError: 1 / Math.sqrt(weights), q };
}

/**
 * Variance between estimates beyond their own errors, by moments.
 *
 *   tau^2 = max(0, (Q - (k - 1)) / (sum w - sum w^2 / sum w)),  w = 1 / v
 *
 * @param values  [any unit], at least one
 * @param variances  of each [unit²], > 0
 * @returns tau^2 [unit²]; 0 for one value or when they agree
 * @throws RangeError outside the bounds above
 *
 * Source: [DerSimonianLaird1986], from memory.
 */
export function betweenVariance(values: readonly number[], variances: readonly number[]): number {
  const { q } = pooledMean(values, variances);
  if (values.length === 1) return 0;
  const weights = variances.map((variance) => 1 / variance);
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const squares = weights.reduce((total, weight) => total + weight ** 2, 0);
  return Math.max(0, (q - (values.length - 1)) / (sum - squares / sum));
}
