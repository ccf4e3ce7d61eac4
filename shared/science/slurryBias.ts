import { studentTQuantile } from './betaFunctions.ts';
import { normalQuantile } from './normal.ts';
import { betweenVariance, pooledMean } from './pooledMean.ts';
import { requirePositive } from './refusal.ts';

/** A count in the FV after pitching beside what the slurry figures promised. */
export type PitchCheck = {
  expectedPerMl: number;
  expectedLogSd: number;
  foundPerMl: number;
  foundLogSd: number;
};

export type RunningBias = {
  /** Found over expected: above 1 the slurry figures run low. */
  ratio: number;
  low: number;
  high: number;
  pairs: number;
  /** Standard deviation of the logarithm from batch to batch beyond the counting [-]. */
  betweenBatchLogSd: number;
  distinguishable: boolean;
};

/**
 * How far a brewery's slurry figures run high or low, from counts made in the FV after pitching.
 *
 *   y = ln(found / expected), pooled with tau^2 between batches; exp(mean ± t SE sqrt(max(1, Q/(k-1))))
 *
 * @param pairs  concentrations [cells/mL] > 0 and logSds [-] > 0
 * @returns ratio with its 95 % interval, and whether the interval leaves 1 out; undefined without pairs
 * @throws RangeError outside the bounds above
 *
 * One pair has only its own stated error, so it never tells a bias. Count before growth begins.
 * Source: [DerSimonianLaird1986]; [HartungKnapp2001], both from memory.
 */
export function runningBias(pairs: readonly PitchCheck[]): RunningBias | undefined {
  if (pairs.length === 0) return undefined;
  const values = pairs.map(({ expectedPerMl, foundPerMl }) => {
    requirePositive('runningBias', 'expectedPerMl', expectedPerMl);
    requirePositive('runningBias', 'foundPerMl', foundPerMl);
    return Math.log(foundPerMl / expectedPerMl);
  });
  const variances = pairs.map(({ expectedLogSd, foundLogSd }) => {
    requirePositive('runningBias', 'expectedLogSd', expectedLogSd);
    requirePositive('runningBias', 'foundLogSd', foundLogSd);
    return expectedLogSd ** 2 + foundLogSd ** 2;
  });
  const between = betweenVariance(values, variances);
  const { mean, standardError, q } = pooledMean(values, variances, between);
  const freedom = pairs.length - 1;
  const half =
    freedom === 0
      ? normalQuantile(0.975) * standardError
      : studentTQuantile(0.975, freedom) * standardError * Math.sqrt(Math.max(1, q / freedom));
  return {
    ratio: Math.exp(mean),
    low: Math.exp(mean - half),
    high: Math.exp(mean + half),
    pairs: pairs.length,
    betweenBatchLogSd: Math.sqrt(between),
    distinguishable: freedom > 0 && Math.abs(mean) > half,
  };
}
