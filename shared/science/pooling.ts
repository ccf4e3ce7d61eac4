import { betweenVariance, pooledMean } from './pooledMean.ts';
import { refuse, requireNotNegative, requirePositive } from './refusal.ts';
import { valueAt } from './valueAt.ts';

type PartialPool = {
  mean: number;
  meanStandardError: number;
  betweenSd: number;
  /** Each estimate pulled towards the mean, with what is left of its own: 1 keeps it, 0 is the mean. */
  estimates: { value: number; ownShare: number }[];
};

/**
 * Estimates of like things pulled towards their common mean as far as their own errors warrant.
 *
 *   theta_i = mu + B_i (y_i - mu),  B_i = tau^2 / (tau^2 + se_i^2)
 *
 * @param values  y [any unit], at least one
 * @param standardErrors  of each [unit], > 0
 * @param betweenSd  tau [unit] >= 0; by moments when left out
 * @returns pooled mean with standard error, tau, and the pulled estimates
 * @throws RangeError outside the bounds above
 *
 * tau = 0 makes all of them the mean. Source: [DerSimonianLaird1986]; [EfronMorris1977].
 */
export function partialPool(
  values: readonly number[],
  standardErrors: readonly number[],
  betweenSd?: number,
): PartialPool {
  if (betweenSd !== undefined) requireNotNegative('partialPool', 'betweenSd', betweenSd);
  const variances = standardErrors.map((error) => error * error);
  const between = betweenSd === undefined ? betweenVariance(values, variances) : betweenSd ** 2;
  const { mean, standardError } = pooledMean(values, variances, between);
  return {
    mean,
    meanStandardError: standardError,
    betweenSd: Math.sqrt(between),
    estimates: values.map((value, i) => {
      const ownShare = between / (between + valueAt(variances, i));
      return { value: mean + ownShare * (value - mean), ownShare };
    }),
  };
}

/**
 * Equally precise estimates shrunk to their mean by the spread they show.
 *
 *   theta_i = m + (1 - (k - 3) v / SS)+ (y_i - m),  SS = sum (y_i - m)^2
 *
 * @param values  y [any unit], at least four
 * @param variance  of each [unit^2], > 0
 * @returns the factor, 0 to 1, and the shrunk estimates
 * @throws RangeError outside the bounds above
 *
 * Source: [EfronMorris1977].
 */
export function shrunkEstimates(values: readonly number[], variance: number) {
  if (!(values.length >= 4 && values.every(Number.isFinite))) {
    refuse('shrunkEstimates', 'values must be at least four, finite', values);
  }
  requirePositive('shrunkEstimates', 'variance', variance);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const spread = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const factor = spread > 0 ? Math.max(0, 1 - ((values.length - 3) * variance) / spread) : 0;
  return { mean, factor, estimates: values.map((value) => mean + factor * (value - mean)) };
}
