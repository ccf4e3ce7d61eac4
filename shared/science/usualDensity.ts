import { studentTQuantile } from './betaFunctions.ts';
import { Z_95 } from './normal.ts';
import { refuse, requirePositive } from './refusal.ts';

/** Fewer counts than these say nothing of their own spread worth going by. */
export const LEAST_COUNTS = 3;

/**
 * What the next lot of a kind will hold, judged by those counted before.
 *
 *   exp(m ± t s sqrt(1 + 1/n)),  m and s mean and standard deviation of the ln of n counts
 *
 * @param concentrations  counted before [cells/mL or cells/g], > 0, at least LEAST_COUNTS
 * @returns median and 95 % range of one more [same unit], and the logSd of a log-normal as wide [-]
 * @throws RangeError outside the bounds above
 *
 * The spread holds the counting errors of the past too, so it is a little wide. Takes lots as alike
 * and log-normal. Source: prediction interval of one more value, standard statistics.
 */
export function usualDensity(concentrations: readonly number[]) {
  const n = concentrations.length;
  if (!(n >= LEAST_COUNTS)) {
    refuse('usualDensity', `concentrations must hold at least ${LEAST_COUNTS}`, n);
  }
  const logs = concentrations.map((value) => {
    requirePositive('usualDensity', 'concentrations', value);
    return Math.log(value);
  });
  const mean = logs.reduce((sum, log) => sum + log, 0) / n;
  const variance = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / (n - 1);
  const half = studentTQuantile(0.975, n - 1) * Math.sqrt(variance * (1 + 1 / n));
  return {
    value: Math.exp(mean),
    low: Math.exp(mean - half),
    high: Math.exp(mean + half),
    logSd: half / Z_95,
  };
}
