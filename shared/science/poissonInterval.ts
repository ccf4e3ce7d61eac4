import { gammaQuantile } from './gammaFunctions.ts';
import { requireConfidence, requireCount, requireNotNegative } from './refusal.ts';

/**
 * Exact limits for the mean of a Poisson variable of which one count was seen.
 *
 *   low = chi2(alpha/2; 2k) / 2,  high = chi2(1 - alpha/2; 2k + 2) / 2,  low = 0 when k = 0
 *
 * @param count  k [cells], whole, >= 0
 * @param confidence  1 - alpha [-], between 0 and 1
 * @returns limits of the mean count [cells]
 * @throws RangeError outside the bounds above
 *
 * Valid while cells fall on the squares independently. Source: [Garwood1936].
 */
export function exactPoissonInterval(count: number, confidence = 0.95) {
  requireCount('exactPoissonInterval', 'count', count);
  return poissonIntervalOfWeight(count, confidence);
}

/**
 * The same limits for a count that weighs less than its cells, because clumps are not independent.
 *
 *   exactPoissonInterval with k = cells / inflation
 *
 * @param weight  count in independent cells [cells], >= 0, not always whole
 * @param confidence  1 - alpha [-], between 0 and 1
 * @returns limits of the mean count [cells]
 * @throws RangeError outside the bounds above
 *
 * Valid as exactPoissonInterval; between whole counts it interpolates. Source: [Garwood1936].
 */
export function poissonIntervalOfWeight(weight: number, confidence = 0.95) {
  requireNotNegative('poissonIntervalOfWeight', 'weight', weight);
  requireConfidence('poissonIntervalOfWeight', confidence);
  const tail = (1 - confidence) / 2;
  return {
    low: weight === 0 ? 0 : gammaQuantile(tail, weight),
    high: gammaQuantile(1 - tail, weight + 1),
  };
}
