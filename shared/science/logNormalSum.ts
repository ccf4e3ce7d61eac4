import { normalCdf, Z_95 } from './normal.ts';
import { refuse, requireNotNegative } from './refusal.ts';

export type LogNormal = { median: number; logSd: number };

/**
 * One log-normal quantity standing for the sum of several independent ones.
 *
 *   mean M and variance V of the sum; s^2 = ln(1 + V/M^2), median = M / sqrt(1 + V/M^2)
 *
 * @param parts  median [any unit] >= 0 and standard deviation of the natural logarithm [-] >= 0
 * @returns median [same unit] and standard deviation of the logarithm [-]; exact for one part
 * @throws RangeError outside the bounds above
 *
 * Good to a percent in the 95 % limits while each logSd is below 0.5. Source: [Fenton1960], from memory.
 */
export function logNormalSum(parts: readonly LogNormal[]): LogNormal {
  for (const { median, logSd } of parts) {
    requireNotNegative('logNormalSum', 'median', median);
    requireNotNegative('logNormalSum', 'logSd', logSd);
  }
  const present = parts.filter(({ median }) => median > 0);
  const [only] = present;
  if (only === undefined) return { median: 0, logSd: 0 };
  if (present.length === 1) return only;
  // In units of the largest part, so that squares neither overflow nor vanish.
  const unit = Math.max(...present.map(({ median }) => median));
  let mean = 0;
  let variance = 0;
  for (const { median, logSd } of present) {
    const ownMean = (median / unit) * Math.exp(logSd ** 2 / 2);
    mean += ownMean;
    variance += ownMean ** 2 * Math.expm1(logSd ** 2);
  }
  const ratio = variance / mean ** 2;
  return { median: (unit * mean) / Math.sqrt(1 + ratio), logSd: Math.sqrt(Math.log1p(ratio)) };
}

/**
 * Chance that a log-normal quantity falls below a value.
 *
 *   Phi(ln(value / median) / logSd)
 *
 * @param quantity  median [any unit] >= 0 and logSd [-] >= 0
 * @param value  [same unit], > 0
 * @returns probability [-], 0 to 1
 *
 * Without any spread it is 0 or 1. Source: [AS1964], 26.2.
 */
export function chanceBelowValue({ median, logSd }: LogNormal, value: number): number {
  if (median === 0) return 1;
  if (logSd === 0) return median < value ? 1 : 0;
  return normalCdf(Math.log(value / median) / logSd);
}

/**
 * 95 % limits of a log-normal quantity.
 *
 *   median exp(∓1.96 logSd)
 *
 * @param quantity  median [any unit] and logSd [-]
 * @returns limits [same unit]
 *
 * Source: [AS1964], 26.2.
 */
export function logNormalLimits({ median, logSd }: LogNormal): { low: number; high: number } {
  const factor = Math.exp(Z_95 * logSd);
  return { low: median / factor, high: median * factor };
}

/**
 * Spread of a quantity whose range is read as 95 % of a log-normal.
 *
 *   ln(high / low) / (2 * 1.96)
 *
 * @param range  low and high [same unit], 0 < low <= high
 * @returns standard deviation of the natural logarithm [-]
 * @throws RangeError outside the bounds above
 *
 * Source: derived.
 */
export function logSdFromRange({ low, high }: { low: number; high: number }): number {
  if (!(low > 0 && low <= high && high < Infinity)) {
    refuse('logSdFromRange', 'low must be > 0 and at most high', `${low} to ${high}`);
  }
  return Math.log(high / low) / (2 * Z_95);
}
